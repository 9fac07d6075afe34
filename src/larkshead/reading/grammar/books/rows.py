"""Whole rows and rounds told by reference: ``work a similar row``, ``like the 1st row``, ``in the following 3 rows each circle ...``."""

from __future__ import annotations

from larkshead.model import Element, Note, Repeat, Step
from larkshead.reading.grammar.books.going_on import GoingOn
from larkshead.reading.grammar.books.told import NOUNS


class Rows(GoingOn):
    """Whole rows and rounds told by reference."""

    # The row told last by reference, so that the next one copies it and not both.
    row_start = 0

    def row(self) -> bool:
        c = self.c
        start = c.at
        said = self.modifiers(start)
        kind = c.next().kind
        likened = said.alike and (said.number is not None or said.article or self._previous_said(start))
        led = self._led(start)
        if not likened and not (led and ((said.number or 1) > 1 or self._next_said(start))):
            return True
        times = said.count if said.count and self._next_said(start) else 1
        steps = self._steps_of(kind, said.number if said.alike and not said.article else None)
        if not steps:
            return True
        self.flush()
        begin = len(self.steps)
        copies = [self.copied(step) for step in steps if not isinstance(step, Note)]
        for step in copies:
            self.origins.record(step, c.span(start))
        if times > 1:
            repeat = Repeat(copies, times)
            self.origins.record(repeat, c.span(start))
            copies = [repeat]
        self.steps += copies
        self.row_start = begin
        last = next((s for s in reversed(copies) if isinstance(s, Repeat | Element)), None)
        self.placed = last
        self.repeated = last if isinstance(last, Repeat) else None
        self.alike_row = True
        return True

    def _previous_said(self, at: int) -> bool:
        return any(t.kind in ("previous", "last") for t in self.c.tokens[max(at - 3, 0) : at])

    def _next_said(self, at: int) -> bool:
        return any(t.kind == "next" for t in self.c.tokens[max(at - 3, 0) : at])

    def _led(self, at: int) -> bool:
        """``In the second row each circle ...``: the row heads its sentence, and elements of it are spoken of."""
        c = self.c
        if at - self.sentence_start > 4 or c.tokens[self.sentence_start].kind not in ("to", "with", "for"):
            return False
        ahead = c.find({"each", *NOUNS}, {"STOP", "SEMI", "COLON", "consisting", "work"}, 4)
        return ahead is not None

    def _steps_of(self, kind: str, number: int | None) -> list[Step]:
        """The steps of the row with this number, else of the one told last."""
        if number is not None:
            for part in reversed(self.pattern.parts):
                if part.number == number and part.kind == kind:
                    return part.steps
        self.flush()
        here = self.steps[self.row_start :]
        if any(isinstance(s, Element | Repeat) for s in here):
            return here
        told = next((p for p in reversed(self.pattern.parts) if p.steps), None)
        return told.steps if told is not None else []
