"""How many, told in words: ``make five more like it``, ``six times in all``, ``until there are seven rings and seven chains``.

Every form ends in a SaidRepeat: so many passes of what stands before, in all or on top, or so many elements in the end.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.places import ELEMENTS, PICOTS
from larkshead.reading.grammar.said import Said, SaidRepeat
from larkshead.reading.source import Span

if TYPE_CHECKING:
    from larkshead.reading.grammar.items import WorkSyntax

STOPS = frozenset({"STOP", "SEMI", "PARA", "END", "COLON"})
_LOOSE = frozenset({"WORD", "glue", "this", "of", "to", "with", "from", "large", "small", "free", "again", "repeat", "COMMA", "in_all", "until", "only"})


class Counts:
    """Statements of number. Mixed into Statements, which gives the cursor and the list of what is said."""

    c: Cursor
    said: list[Said]
    syntax: WorkSyntax

    def count(self) -> bool:
        """A statement of number at the position."""
        return self._more_like_it() or self._so_many_times() or self._so_many_there_are()

    def _say_repeat(self, repeat: SaidRepeat, start: int) -> bool:
        repeat.span = self.c.span(start)
        self.said.append(repeat)
        return True

    def _more_like_it(self) -> bool:
        """``five more like it``, ``two more rings exactly like the second``, ``one more``."""
        c = self.c
        start = c.at
        c.skip({"glue"})
        if c.kind() != "NUM" or c.kind(1) not in ("more", "WORD"):
            c.at = start
            return False
        count = int(c.next().value)
        more = c.take("more")
        kind = ""
        c.skip({"glue", "of", "this", "small", "large"})
        if c.kind() in ELEMENTS:
            kind = ELEMENTS[c.next().kind]
            if c.kind() == "COLON" or (c.kind() == "of" and c.kind(1) == "NUM"):
                c.at = start
                return False
        if not more or c.kind() == "times":
            c.at = start
            return False
        while c.kind() in ("WORD", "glue", "like", "same", "this", "ORD", "of", "previous", *ELEMENTS):
            c.next()
        repeat = SaidRepeat("alike", Span(0, 0), times=count, how="more")
        if kind:
            repeat.counts = {kind: count}
        return self._say_repeat(repeat, start)

    def _so_many_times(self) -> bool:
        """``six times in all``, ``do this eight times``, ``twice more``, ``five times:`` before what is meant."""
        c = self.c
        start = c.at
        while c.kind() in ("glue", "this", "again", "repeat", "WORD") and c.at - start < 6:
            if c.kind() == "repeat" and c.find({"MARK", "step", "row", "label"}, STOPS, 8) is not None:
                break
            c.next()
        if c.kind() in ("twice", "once"):
            times = 2 if c.next().kind == "twice" else 1
        elif c.kind() == "NUM" and c.kind(1) == "times" and len(c.peek(1).text) > 1:
            times = int(c.next().value)
            c.next()
        else:
            c.at = start
            return False
        how = ""
        while c.kind() in ("in_all", "more", "glue", "this", "WORD") and c.at - start < 16:
            if c.kind() in ("in_all", "more"):
                how = "all" if c.kind() == "in_all" else "more"
            elif c.kind(1) not in ("in_all", "more", "WORD", "COLON") or c.kind() == "glue":
                break
            c.next()
        if c.take("COLON"):
            return self._say_repeat(SaidRepeat("ahead", Span(0, 0), times=times, how="all"), start)
        repeated = any(t.kind == "repeat" for t in c.tokens[start : c.at])
        return self._say_repeat(SaidRepeat("unit", Span(0, 0), times=times, how=how or ("more" if repeated and False else "all")), start)

    def _so_many_there_are(self) -> bool:
        """``six rings and six chains in all``, ``until there are ten large rings``, ``five chains in all``."""
        c = self.c
        start = c.at
        until = False
        if c.find({"until"}, STOPS, 8) is not None and c.kind() in ("glue", "repeat", "WORD", "to", "until", "like", "this", "again", *ELEMENTS):
            ahead = c.find({"until"}, STOPS, 8) or 0
            between = [t.kind for t in c.tokens[c.at : c.at + ahead]]
            if not any(k in ("NUM", "COMMA") or k in PICOTS for k in between):
                c.at += ahead + 1
                until = True
        counts = self._element_counts()
        if not counts:
            c.at = start
            return False
        total = until or any(t.kind in ("in_all", "until") for t in c.tokens[start : c.at])
        if not total and len(counts) < 2:
            c.at = start
            return False
        return self._say_repeat(SaidRepeat("counts", Span(0, 0), how="all", counts=counts), start)

    def _element_counts(self) -> dict[str, int]:
        """``NUM [size] ELEMENT {and NUM ELEMENT}``; only where no work follows the element's name."""
        c = self.c
        counts: dict[str, int] = {}
        back = c.at
        while True:
            c.skip(_LOOSE)
            if c.kind() == "in_all":
                c.next()
                back = c.at
                continue
            if c.kind() != "NUM":
                break
            ahead = 1
            while c.kind(ahead) in ("small", "large", "glue", "of", "this", "more"):
                ahead += 1
            if c.kind(ahead) not in ELEMENTS or c.kind(ahead + 1) in ("COLON", "NUM", "OPEN") or (
                c.kind(ahead + 1) == "of" and c.kind(ahead + 2) == "NUM"
            ):
                break
            counts[ELEMENTS[c.kind(ahead)]] = int(c.peek().value)
            c.at += ahead + 1
            back = c.at
        c.at = back
        c.take("in_all")
        return counts
