"""What heads a line of shorthand: the number, letter or name of a step."""

from __future__ import annotations

from larkshead.reading.grammar.lines.names import LineNames
from larkshead.reading.grammar.said import SaidStepLabel
from larkshead.reading.grammar.shapes import MARKS as COUNT_MARKS
from larkshead.reading.grammar.shapes import NOUNS, letter_at

# What a name of two words may begin with: ``Left ear:``, ``Upper leaf:``, ``Second wing:``.
_FIRST_WORDS = frozenset({"WORD", "label", "leave", "glue", "small", "large", "ORD", "last", "middle", "centre", "tip"})


class LineLabels(LineNames):
    """A layer of Lines."""

    def _on_STEPNUM(self) -> bool:
        return self.step_label()

    def step_label(self) -> bool:
        """``1.``, ``2)``, ``[3]``, ``A.``, ``Step 4:``, ``Side:`` at the head of a line."""
        c = self.c
        start = c.at
        first, second, third = c.kind(), c.kind(1), c.kind(2)
        if first == "STEPNUM" or (first == "step" and second == "NUM" and self.strong_start(c.at + 2)):
            c.take("step")
            label = c.next().text
        elif (
            first == "NUM"
            and second == "COLON"
            and (
                self.strong_start(c.at + 2)
                or (third == "NUM" and c.kind(3) in COUNT_MARKS and self.closes)
                or (third == "WORD" and c.kind(3) == "COLON")
            )
        ):
            label = c.peek().text
            c.at += 2
        elif (first == "step" and second in ("NUM", "label", "ORD") and third in ("STOP", "COLON", "SHUT", "DASH")) or (
            first == "OPEN"
            and (second in ("NUM", "label", "WORD") or letter_at(self.tokens, c.at + 1))
            and third == "SHUT"
            and len(c.peek(1).text) <= 2
            and c.kind(3) != "times"
        ):
            label = c.peek(1).text
            c.at += 3
        elif (
            len(c.peek().text) <= 3
            and first in ("NUM", "label", "WORD", "NAME", "ITEM", "bead", "chain", "double_stitch", "glue")
            and (second == "SHUT" or (second == "STOP" and c.peek(2).spaced and third not in ("NL", "PARA", "END")))
            and (first == "NUM" or len(c.peek().text) == 1)
        ):
            if first == "NUM" and second == "STOP" and third == "NUM" and not self.listed():
                return False
            label = c.peek().text
            c.at += 2
        elif (
            (first in _FIRST_WORDS or letter_at(self.tokens, c.at))
            and second == "WORD"
            and third == "COLON"
            and (self.strong_start(c.at + 3) or c.kind(3) in ("like", "same"))
        ):
            label = self.words_between(c.at, c.at + 2).lower()
            c.at += 3
        elif (
            (
                first == "WORD"
                or (len(c.peek().text) == 1 and c.peek().text.isupper() and (first not in NOUNS or third in NOUNS))
            )
            and second == "COLON"
            and (
                self.strong_start(c.at + 2)
                or c.kind(2) in ("OPEN", "MARK", "mock_picot", "lock_join")
                or (third == "NUM" and c.kind(3) in COUNT_MARKS and self.closes)
            )
        ):
            label = c.peek().text if len(c.peek().text) == 1 else c.peek().text.lower()
            c.at += 2
        else:
            return False
        self.said.append(SaidStepLabel(label, c.span(start)))
        self.step_labels[label] = len(self.said)
        self.step = label
        self.head_goes_on = (c.kind() in ("WORD", "label", "centre", "motif") and c.kind(1) == "COLON") or (
            c.kind() in ("round", "row", "motif") and c.kind(1) == "NUM"
        )
        self.fresh = False
        self.clause_start = c.at
        return True
