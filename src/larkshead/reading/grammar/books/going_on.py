"""Going on: ``and so on``, ``continue thus until``, ``in all``, ``by turns``."""

from __future__ import annotations

from itertools import pairwise

from larkshead.model import Attach, BareThread, Element, Note, Picot, Repeat, Turn
from larkshead.reading.grammar.books.repeating import CLAUSE, LENGTH, REACH, Repeating
from larkshead.reading.grammar.books.replacing import shape_of
from larkshead.reading.grammar.books.told import NOUNS
from larkshead.reading.grammar.places import PICOTS
from larkshead.reading.grammar.tokens import Token


class GoingOn(Repeating):
    """Going on with what was told."""

    def go_on(self) -> bool:
        """``and so on``, ``continue thus until``: what was told since the mark, or all of it."""
        c = self.c
        start = c.at
        end = start + 1
        while end < len(c.tokens) and c.tokens[end].kind not in CLAUSE and end - start < 60:
            end += 1
        said = c.tokens[start + 1 : end]
        if self.told is not None and not self.told.closed and self._pairs_until(said):
            while c.kind() not in PICOTS:
                c.next()
            c.next()
            return True
        c.at = end
        self.flush()
        if not any(isinstance(s, Element | Repeat) for s in self.steps):
            return True
        begin = min(self.marks.values()) if self.marks else self._unit_start(True)
        times, _more = self._times(said)
        span = c.span(start)
        wanted = self._until_counts(said)
        begun = self.since_its_like(begin)
        if wanted and begun is not None and self._passes(begun, wanted) is not None:
            begin = begun
        else:
            begin = self._period(begin)
        counted = next((int(a.value) for a, b in pairwise(said) if a.kind == "NUM" and b.kind == "in_all"), None)
        times = counted if counted is not None else times
        total = self._passes(begin, wanted) if wanted else None if times is None else times
        self._neighbours(begin)
        repeat = Repeat(self.steps[begin:], total, "" if total else LENGTH)
        if not self.wrap(begin, repeat, span):
            return True
        self.repeated = repeat
        self.marks.clear()
        return True

    def _pairs_until(self, said: list[Token]) -> bool:
        """``1 double, 1 purl, and so on until there are 12 purl``: the pair goes on inside the element."""
        told = self.told
        wanted = next((int(a.value) for a, b in pairwise(said) if a.kind == "NUM" and b.kind in PICOTS), None)
        if told is None or wanted is None or not any(t.kind == "until" for t in said):
            return False
        have = sum(isinstance(item, Picot) for item, _ in told.pieces)
        pair = told.pieces[-2:]
        if len(pair) < 2 or not 0 < wanted - have < REACH or sum(isinstance(item, Picot) for item, _ in pair) != 1:
            return False
        told.pieces += pair * (wanted - have)
        return True

    def in_number(self) -> bool:
        """``and are 16 in number``: the element told last, so many times."""
        c = self.c
        start = c.at
        c.next()
        number = c.tokens[start - 1] if start else None
        self.flush()
        last = self.steps[-1] if self.steps else None
        if number is None or number.kind != "NUM" or number.value < 2:
            return True
        self.counted["ring"] = (int(number.value), start)
        if isinstance(last, Repeat) and last.times is None:
            last.times, last.until = int(number.value), ""
        elif isinstance(last, Element):
            repeat = Repeat([last], int(number.value))
            if self.wrap(len(self.steps) - 1, repeat, c.span(start - 1)):
                self.repeated = repeat
        return True

    def in_all(self) -> bool:
        """``make in all 4 rings in this way``: what was told goes on until there are so many."""
        c = self.c
        start = c.at
        end = start + 1
        while end < len(c.tokens) and c.tokens[end].kind not in (*CLAUSE, "COMMA") and end - start < 12:
            end += 1
        begin = start
        while begin > self.clause_start and c.tokens[begin - 1].kind not in ("COMMA", "COLON") and start - begin < 6:
            begin -= 1
        wanted = self._numbers_of(c.tokens[begin:end])
        c.next()
        if not wanted or self.told is not None:
            return True
        first = self._unit_start(True)
        since = self.since_its_like(first)
        for at in (since, first):
            passes = self._passes(at, wanted) if at is not None else None
            if at is not None and passes is not None and passes > 1:
                repeat = Repeat(self.steps[at:], passes)
                self._neighbours(at)
                if self.wrap(at, repeat, c.span(begin, end)):
                    self.repeated = repeat
                    c.at = end
                return True
        return True

    def alternately(self) -> bool:
        """``work alternately a large and a small leaf``: what is told here goes on by turns."""
        c = self.c
        c.next()
        if c.kind() == "glue" and c.find({*NOUNS, "large", "small"}, {"STOP", "SEMI", "NUM", "COMMA"}, 4) is not None:
            self.flush()
            self.by_turns = len(self.steps)
        return True

    by_turns: int | None = None

    def _period(self, begin: int) -> int:
        """Where the pass that goes on begins: a pass told twice over, or begun anew, is one."""
        at = [i for i in range(begin, len(self.steps)) if isinstance(self.steps[i], Element)]
        if len(at) < 2:
            return begin
        shapes = [shape_of(self.steps[i]) for i in at]  # type: ignore[arg-type]
        last = shapes[-1]
        back = next((k for k in range(1, len(at)) if shapes[-1 - k] == last), None)
        if back is None:
            return begin
        if at[-1] == len(self.steps) - 1:
            second = self.steps[at[-1]]
            first = self.steps[at[-1 - back]]
            assert isinstance(second, Element) and isinstance(first, Element)
            if second.work == first.work:
                del self.steps[at[-1] :]
                return at[-1 - back] if back < len(at) - 1 else at[0]
            between = [
                self.copied(s) for s in self.steps[at[-1 - back] + 1 : at[-1]] if not isinstance(s, Attach | Note)
            ]
            at_last = len(self.steps) - 1
            if back == 1:
                i = at_last - 1
                while i > at[-2] and isinstance(self.steps[i], BareThread | Turn):
                    i -= 1
                return i + 1
            self.steps += between
            return at_last
        return at[-back] if back < len(at) else begin
