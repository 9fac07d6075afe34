"""The rows of a table that larkshead wrote, made steps again."""

from __future__ import annotations

import re
from dataclasses import replace

from larkshead.model import ByPass, Element, Part, Repeat, Step
from larkshead.reading import Origins
from larkshead.reading.source import Span
from larkshead.reading.written.around import AroundReader
from larkshead.reading.written.book import WrittenBook
from larkshead.reading.written.steps import LONGEST, NotWritten, StepReader
from larkshead.records import dataclass

_CLOSED = frozenset(("ring", "split ring", "mock ring", "josephine ring"))
STEP, ELEMENT, STITCHES, JOIN_TO, THEN, TIMES = range(6)


@dataclass(slots=True)
class WrittenRow:
    """The cells of a row, where each begins in the text, and the stretch of the whole row."""

    cells: list[str]
    starts: list[int]
    span: Span

    def cell(self, column: int) -> str:
        """The text of a cell; empty where the row has no such column."""
        return self.cells[column] if column < len(self.cells) else ""


class RowSteps:
    """Reads rows into the steps of the part they stand in; rows are numbered through the whole pattern."""

    def __init__(self, book: WrittenBook, around: AroundReader, origins: Origins) -> None:
        self.book = book
        self.around = around
        self.origins = origins
        self.reader = StepReader(book, origins)
        self.mark = book.fill("between_steps")
        self.steps: list[Step] = []
        self.heads: dict[str, Element | None] = {}
        # Where among the steps each row's first one stands.
        self.first: dict[int, int] = {}
        number = r"\d+"
        named = f"(?:{book.unnamed('steps_named', {'first': number, 'last': number})}"
        named += f"|{book.unnamed('step_named', {'first': number})})"
        counts = {"steps": named, "n": number, "total": number}
        self.repeats = [
            book.known("repeat_steps", counts),
            book.known("steps_once", counts),
            book.known("repeat_steps_until", {"steps": named, "until": lambda: book.words}),
            book.known("repeat_steps_open", {"steps": named}),
        ]
        self.on_pass = book.compiled("step_on_pass", {"n": number, "on_pass": self.reader.passes})

    def begin(self, part: Part) -> None:
        """The rows that follow are those of a part."""
        self.steps = part.steps
        self.first = {}

    def row(self, row: WrittenRow) -> None:
        """One row; NotWritten for one that is not written so."""
        step = row.cell(STEP)
        passed = self.on_pass.fullmatch(step)
        if passed:
            self._instead(passed["on_pass"], row)
            return
        if not step.isdecimal():
            raise NotWritten(step)
        start = len(self.steps)
        self.first[int(step)] = start
        then, at = row.cell(THEN), self._start(row, THEN)
        if row.cell(ELEMENT):
            self._element_row(row, then, at)
        elif then and not self._alone(then, row):
            for piece in self.book.split(then, self.mark):
                self.steps += self.reader.step(piece, at)
                at += len(piece) + len(self.mark)
        if times := row.cell(TIMES):
            repeat = Repeat(self.steps[start:], int(times))
            self.origins.record(repeat, row.span)
            self.steps[start:] = [repeat]

    @staticmethod
    def _start(row: WrittenRow, column: int) -> int:
        return row.starts[column] if column < len(row.starts) else row.span.start

    def _element_row(self, row: WrittenRow, then: str, at: int) -> None:
        """An element and what comes then."""
        element = self._element(row)
        self.steps.append(element)
        pieces = self.book.split(then, self.mark) if then else []
        if element.kind in _CLOSED or (pieces and pieces[0] == self.book.fill("half_closed")):
            if not pieces or pieces[0] not in (self.book.fill("closed"), self.book.fill("half_closed")):
                raise NotWritten(then)
            element.half_closed = pieces[0] == self.book.fill("half_closed")
            at += len(pieces[0]) + len(self.mark)
            pieces = pieces[1:]
        for piece in pieces:
            self.steps += self.reader.step(piece, at)
            at += len(piece) + len(self.mark)

    def _element(self, row: WrittenRow) -> Element:
        element = self._head(row.cell(ELEMENT))
        places = self.book.split(row.cell(JOIN_TO), self.mark) if row.cell(JOIN_TO) else []
        fits = len(row.cell(STITCHES)) <= LONGEST
        work = self.reader.work(row.cell(STITCHES), places) if element and fits else None
        if element is None or work is None:
            raise NotWritten(row.cell(ELEMENT))
        element.work = list(work[0])
        self.origins.record(element, row.span, work[1], self._start(row, STITCHES))
        return element

    def _head(self, text: str) -> Element | None:
        """The element a cell names; alike cells are read once."""
        if text not in self.heads:
            self.heads[text] = self.reader.head(text, "cell_head")
        known = self.heads[text]
        return replace(known) if known else None

    def _alone(self, then: str, row: WrittenRow) -> bool:
        """A row that holds one thing: a note, a total, a repeat of rows."""
        alone = self.around.alone(then)
        if alone is not None:
            self.origins.record(alone, row.span)
            self.steps.append(alone)
            return True
        for expression in self.repeats:
            found = expression.fullmatch(then)
            if found:
                groups = found.groupdict()
                number = re.search(r"\d+", groups["steps"])
                start = self.first.get(int(number.group())) if number else None
                if start is None:
                    raise NotWritten(then)
                times = int(groups["total"]) if "total" in groups else None
                repeat = Repeat(self.steps[start:], times, self.book.unquote(groups.get("until") or ""))
                self.origins.record(repeat, row.span)
                self.steps[start:] = [repeat]
                self.first = {n: min(i, start) for n, i in self.first.items()}
                return True
        return False

    def _instead(self, which: str, row: WrittenRow) -> None:
        if not self.steps:
            raise NotWritten(which)
        instead: list[Step]
        if row.cell(ELEMENT):
            outer, self.steps = self.steps, []
            try:
                self._element_row(row, row.cell(THEN), self._start(row, THEN))
                instead = self.steps
            finally:
                self.steps = outer
        else:
            instead = self.reader.instead(row.cell(THEN), self._start(row, THEN))
        last = self.steps[-1]
        if not isinstance(last, ByPass):
            last = self.steps[-1] = ByPass(last)
        last.passes[self.reader.on_pass(which)] = instead
        self.origins.record(last, row.span)
