"""Statements as shorthand writes them: lines of abbreviations and marks, read into what is said.

Grammar (kinds of tokens; every alternative is a method of the same name, here or in the modules mixed in)::

    text     = { line }
    line     = [heading] [step label] { clause (, ; .) }
    clause   = element | name | action | bracket | mark | repeat | copy | remark
    element  = [NUM | ORD] [size] KIND [label] [( remark )] [: = , of] (work | like ...) [close] { targets | total }
    [times] bracket  = ( steps ) times | NUM times ( steps ) | ( places ) | ( total ) | ( remark )
    mark     = * steps * times | * steps ... repeat from * times | * at the head of every line: a bullet
    action   = turn | no turn | bare thread | lock join place | mock picot | shuttle | switch | attach place | cut |
    hide ends

What is no step (a remark, a total, a sentence that covers joins or turns) is told apart by its first word: a clause
that begins with a word the trade does not know is passed over up to the next element, mark or repeat in it.
"""

from __future__ import annotations

from larkshead.reading.grammar.lines.labels import LineLabels
from larkshead.reading.grammar.places import PARTS
from larkshead.reading.grammar.said import (
    Said,
    SaidHeading,
    SaidLine,
    SaidMark,
    SaidNote,
    SaidPlain,
)
from larkshead.reading.grammar.shapes import (
    NOUNS,
)

ENDS = frozenset({"STOP", "SEMI", "NL", "PARA", "END", "ELLIPSIS"})
SEPARATORS = frozenset({"NL", "PARA", "STOP", "SEMI", "COMMA", "COLON", "ELLIPSIS", "QUOTE"})
_BEHIND_HEADING = frozenset(
    {"COLON", "COMMA", "OPEN", "DASH", "of", "glue", "with", "MARK", "ITEM", "label", "NAME", "shuttle", "attach"}
    | {"small", "large"}
)


class Lines(LineLabels):
    """Reads the tokens of a shorthand text. ``names`` are the tokens of the steps that own abbreviations stand for."""

    def run(self) -> list[Said]:
        """Everything said, in order."""
        c = self.c
        self.said.append(SaidLine())
        while c.at < c.limit:
            kind = c.kind()
            if kind == "PLAIN":
                self._plain()
                continue
            if (
                kind in SEPARATORS
                or (kind == "DOT" and self.fresh)
                or (kind == "SLASH" and self.slash_parts)
                or (kind == "OTHER" and c.peek().text in "|¦")
                or (kind == "DASH" and c.peek().spaced and c.peek(1).spaced and c.kind(1) != "NUM")
            ):
                self._separate(kind)
                continue
            start = c.at
            if kind == "glue" and not self.fresh and self.begins(c.kind(1)):
                c.next()
                self.heard.append(c.span(c.at - 1))
                continue
            if kind == "DASH" and c.kind(1) == "SHUT" and c.peek(1).text == ">" and not c.peek(1).spaced:
                # An arrow parts steps.
                c.at += 2
                continue
            fresh = self.fresh
            if not self.statement():
                c.at = start
                told, default = len(self.said), self.default
                self.remark()
                if self.default != default or any(not isinstance(said, SaidNote) for said in self.said[told:]):
                    self.heard.append(c.span(start))
                # "Directions: Rnd 1 ..." begins anew behind its colon.
                fresh = fresh and c.at == start + 2 and c.tokens[start + 1].kind == "COLON"
            else:
                self.heard.append(c.span(start, max(c.at, start + 1)))
                fresh = self.head_goes_on
                self.head_goes_on = False
            if c.at == start:
                c.next()
            self.fresh = fresh
        if self.default is not None and self.depth == 0:
            self.place_all([self.default], [join for join in self.joins.every() if join.kind == "picot"])
        return self.said

    def _plain(self) -> None:
        """A line of one element and its turn, understood already."""
        c = self.c
        token = c.tokens[c.at]
        said = SaidPlain(token.value, token.start)
        self.said.append(said)
        self.last = said
        if said.line.label is not None:
            self.element_labels.add(said.line.label)
        for index in said.line.joins:
            self.joins.add(said.work[index], self.line, said)  # type: ignore[arg-type]
        c.at += 1
        if c.at < c.limit and c.tokens[c.at].kind == "NL":
            c.at += 1
            self.line += 1
            self.fresh = True
        else:
            self.fresh = False
        self.clause_start = c.at

    def _separate(self, kind: str) -> None:
        c = self.c
        c.next()
        if kind in ("NL", "PARA"):
            self.line += 1
            self.fresh = True
            self.said.append(SaidLine(kind == "PARA"))
        elif kind == "SEMI":
            self.said.append(SaidMark(";", c.span(c.at - 1)))
        elif kind in ("STOP", "COLON", "ELLIPSIS"):
            self.fresh = self.fresh or kind == "STOP"
        if kind != "COMMA":
            self.clause_start = c.at

    def statement(self) -> bool:
        """One statement at the position, stepped over; False where none stands."""
        kind = self.c.kind()
        if self.fresh and (self.heading() or self.step_label()):
            return True
        if len(self.step_labels) > 1 and self.sequence():
            return True
        if (self.bare and self.named_only()) or (self.fresh and self.named_times()):
            return True
        if kind in NOUNS or kind in ("label", "small", "large", "split", "thrown", "half_closed"):
            if self.element():
                return True
            return kind in ("half_closed",) and self.skip()
        if kind == "OPEN" and self.element_labels and self.elements_again():
            return True
        handler = getattr(self, "_on_" + kind, None)
        return bool(handler()) if handler is not None else False

    def _numbers_listed(self, first: int | None) -> list[int]:
        """``Rows 1, 3, 5:``, ``Rnds 2 and 4:``: several parts told at once, stepped over; empty for a single one."""
        c = self.c
        numbers = [first or 0]
        at = c.at
        while self.kind_at(at) in ("COMMA", "glue") and self.kind_at(at + 1) == "NUM":
            numbers.append(int(self.tokens[at + 1].value))
            at += 2
        if len(numbers) == 1 or self.kind_at(at) != "COLON" or self.kind_at(at + 1) in ("like", "same"):
            return []
        if numbers != sorted(set(numbers)) or len(numbers) > 100:
            return []
        c.at = at
        return numbers

    def heading(self) -> bool:
        """``Round 1``, ``2nd row:``, ``Rnd 3.``, ``Round 2, chains of SH2 over SH1``: a part and what is said of it."""
        c = self.c
        start = c.at
        number: int | None = None
        letter = ""
        times = 1
        c.skip(("glue",))
        kind = c.kind()
        if kind == "ORD" and c.kind(1) in PARTS and c.kind(1) != "step":
            number = int(c.next().value)
            part = PARTS[c.next().kind]
        elif (
            kind in PARTS
            and kind != "step"
            and (
                c.kind(1) in ("NUM", "ORD")
                or (c.kind(1) == "STOP" and c.kind(2) == "NUM" and not c.peek(1).spaced and len(c.peek().text) < 4)
            )
        ):
            part = PARTS[c.next().kind]
            c.take("STOP")
            number = int(c.next().value)
        elif kind in ("motif", "centre") and (
            c.kind(1) in ("COLON", "NL", "PARA", "STOP")
            or (kind == "motif" and len(c.peek(1).text) == 1 and c.peek(1).text.isupper())
        ):
            part = "motif" if kind == "motif" else "centre"
            c.next()
            if len(c.peek().text) == 1 and c.peek().text.isupper():
                letter = c.next().text
        else:
            c.at = start
            return False
        listed = self._numbers_listed(number)
        if (
            c.kind() in ("DASH", "to", "glue", "COMMA")
            and c.kind(1) == "NUM"
            and c.kind(2) in ("COLON", "like", "same", "glue", "STOP")
        ):
            return self.copied_parts(part, number, start)
        after = c.kind()
        if after in ("like", "same"):
            return self.copied_parts(part, number, start)
        if after in ("COLON", "DASH", "EQUALS") and c.kind(1) in ("like", "same"):
            c.next()
            return self.copied_parts(part, number, start)
        if after == "EQUALS" and c.kind(1) in PARTS and c.kind(2) == "NUM":
            return self.copied_parts(part, number, start)
        if after == "times" and c.kind(1) == "NUM" and c.kind(2) in ("COLON", *ENDS):
            times = min(max(int(c.peek(1).value), 1), 10**9)
            c.at += 2
            after = c.kind()
        if after not in ENDS and after not in NOUNS and after not in _BEHIND_HEADING:
            c.at = start
            return False
        if after == "OPEN" and self.match[c.at] >= 0 and not self.is_group(c.at):
            numbers = [t.value for t in self.tokens[c.at : self.match[c.at]] if t.kind == "NUM"]
            if (
                len(numbers) == 1
                and self.match[c.at] - c.at <= 4
                and not any(t.kind in PARTS or t.kind == "UNIT" for t in self.tokens[c.at : self.match[c.at]])
            ):
                # "(make 3)"
                times = min(max(int(numbers[0]), 1), 10**9)
            c.at = self.match[c.at] + 1
        if c.kind() in ("of", "with", "COMMA", "glue") and not self.strong_start(c.at + 1):
            end = self.clause_end(c.at, ("COLON",))
            strong = self.next_strong(c.at, end)
            c.at = end if strong is None else strong
        told = c.at - start > 3 and times == 1 and not listed
        name = letter or (self.words_between(start, c.at) if told else "")
        self.said.append(SaidHeading(part, c.span(start), number, name, times * max(len(listed), 1), numbers=listed))
        c.take("COLON", "STOP", "DASH", "COMMA")
        self.fresh = True
        self.open_marks.clear()
        self.step_labels.clear()
        self.clause_start = c.at
        return True
