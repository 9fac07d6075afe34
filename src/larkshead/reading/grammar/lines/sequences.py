"""Lines named by letters and worked in an order told: ``A B A C``, ``abab``, ``(a b) x 4, a``."""

from __future__ import annotations

from string import ascii_letters

from larkshead.reading.grammar.lines.repeats import LineRepeats
from larkshead.reading.grammar.lines.state import KINDS
from larkshead.reading.grammar.said import SaidRepeat, SaidSequence

_MOST = 10**9
# What may lead to the letters, and stand between them.
_LEADS = frozenset({"glue", "go_on", "WORD", "COLON", "repeat"})
_BETWEEN = frozenset({"COMMA", "DASH", "PLUS", "SLASH"})
_LONGEST = 200


class LineSequences(LineRepeats):
    """A layer of Lines."""

    def sequence(self) -> bool:
        """Letters of lines told before, in the order they are worked; stepped over."""
        c = self.c
        start = c.at
        if not (self.fresh or self.clause_start == start):
            return False
        # Very many lines are named by numbers.
        names = self.step_labels if len(self.step_labels) < _LONGEST else ascii_letters
        known = {label for label in names if len(label) == 1 and label.isalpha() and label in self.step_labels}
        if len(known) < 2:
            return False
        at = start
        while at - start < 3 and self.kind_at(at) in _LEADS and not self._letters(at, known):
            at += 1
        groups: list[tuple[list[str], int]] = []
        while at < c.limit and len(groups) < _LONGEST:
            shut = self.match[at] if self.kind_at(at) == "OPEN" else -1
            if shut >= 0:
                inside = self._run(at + 1, known)
                if inside[1] != shut or not inside[0]:
                    break
                c.at = shut + 1
                times, how = self._times_told()
                groups.append((inside[0], (times or 1) + (how == "more")))
                at = c.at
            else:
                labels, end = self._run(at, known)
                if not labels:
                    break
                groups.append((labels, 1))
                at = end
            if self.kind_at(at) in _BETWEEN and (self.kind_at(at + 1) == "OPEN" or self._letters(at + 1, known)):
                at += 1
        c.at = at
        times, how = self._times_told()
        letters = [label for labels, _ in groups for label in labels]
        # Each letter once and in order is the lines as they stand, told to be repeated.
        told = len(letters) > len(set(letters)) or any(number > 1 for _, number in groups)
        if not told or len(letters) < 2 or self.kind_at(c.at) not in ("COMMA", "STOP", "SEMI", "NL", "PARA", "END"):
            c.at = start
            return False
        self.said.append(SaidSequence(groups, c.span(start), min((times or 1) + (how == "more"), _MOST)))
        return True

    def elements_again(self) -> bool:
        """``(R2 C2) x 5``: elements told by their numbers just before, so often in all; stepped over."""
        c = self.c
        start = c.at
        end = self.match[start]
        inside = [t for t in self.tokens[start + 1 : end] if t.kind not in ("COMMA", "glue", "PLUS", "reverse_work")]
        if end < 0 or len(inside) < 2 or len(inside) % 2 or len(inside) > _LONGEST:
            return False
        pairs = list(zip(inside[::2], inside[1::2], strict=True))
        if any(
            noun.kind not in KINDS or number.kind != "NUM" or number.spaced or number.text not in self.element_labels
            for noun, number in pairs
        ):
            return False
        c.at = end + 1
        times, how = self._times_told()
        if times is None:
            c.at = start
            return False
        (first, number), (last, upto) = pairs[0], pairs[-1]
        said = SaidRepeat("steps", c.span(start), times=times, how=how or "all")
        said.element_kind, said.first = KINDS[first.kind], number.text
        said.last_kind, said.last = KINDS[last.kind], upto.text
        self.said.append(said)
        return True

    def _run(self, at: int, known: set[str]) -> tuple[list[str], int]:
        """The letters from ``at`` on, and where they end."""
        labels: list[str] = []
        while len(labels) < _LONGEST:
            here = self._letters(at, known)
            if not here:
                if labels and self.kind_at(at) in _BETWEEN | {"glue"} and self._letters(at + 1, known):
                    at += 1
                    continue
                break
            labels += here
            at += 1
        return labels, at

    def _letters(self, at: int, known: set[str]) -> list[str]:
        """The labels a token spells: one letter, or several written as one word."""
        text = self.tokens[at].text if 0 <= at < self.c.limit else ""
        spelt = text.isalpha() and (len(text) == 1 or self.kind_at(at) in ("WORD", "label")) and set(text) <= known
        return list(text) if spelt else []
