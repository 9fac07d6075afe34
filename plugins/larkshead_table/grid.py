"""A table as found in a text: rows of cells, every cell with its places in the source."""

from __future__ import annotations

from typing import TypeAlias

from larkshead.reading import Notice, Source, Span
from larkshead.records import dataclass, field


@dataclass(slots=True)
class Cell:
    """One cell: the stretches of text it is made of, without white space and emphasis at their ends; none if empty."""

    spans: list[Span] = field(default_factory=list)

    def text(self, source: Source) -> str:
        """The words of the cell, its lines parted by a space."""
        return " ".join(source.quote(span) for span in self.spans)

    @property
    def span(self) -> Span | None:
        """From the first word to the last."""
        return self.spans[0].join(self.spans[-1]) if self.spans else None


@dataclass(slots=True)
class Row:
    """A row of cells; ``span`` the whole of it in the source."""

    cells: list[Cell]
    span: Span

    def cell(self, column: int) -> Cell:
        """The cell of a column; an empty one where the row is too short."""
        return self.cells[column] if column < len(self.cells) else Cell()

    def filled(self) -> list[int]:
        """The columns in which something stands."""
        return [i for i, cell in enumerate(self.cells) if cell.spans]


@dataclass(slots=True)
class Grid:
    """A table: its rows. ``ruled`` when the layout itself marks the first row as the head; ``aligned`` when the cells
    lie in columns by their place, so that a long cell may run on in the next line."""

    rows: list[Row]
    span: Span
    ruled: bool = False
    aligned: bool = False

    @property
    def width(self) -> int:
        """The number of columns."""
        return max((len(row.cells) for row in self.rows), default=0)


# No table has more columns; a line with more cells is no row of one.
MOST_COLUMNS = 200

Block: TypeAlias = "Grid | Span"


@dataclass(slots=True)
class Sheet:
    """A text taken apart: tables and the text around them in order, and what is wrong with the layout."""

    blocks: list[Block] = field(default_factory=list)
    notices: list[Notice] = field(default_factory=list)

    @property
    def grids(self) -> list[Grid]:
        return [block for block in self.blocks if isinstance(block, Grid)]


def lines_of(text: str) -> list[Span]:
    """The lines of a text, without their ends."""
    lines: list[Span] = []
    start = 0
    while start <= len(text):
        end = text.find("\n", start)
        if end < 0:
            if start < len(text):
                lines.append(Span(start, len(text)))
            break
        lines.append(Span(start, end - 1 if end > start and text[end - 1] == "\r" else end))
        start = end + 1
    return lines


def trim(text: str, start: int, end: int) -> Span | None:
    """The stretch without white space and paired emphasis marks at its ends; None where nothing is left."""
    while True:
        while start < end and text[start].isspace():
            start += 1
        while end > start and text[end - 1].isspace():
            end -= 1
        for mark in ("***", "**", "__", "`", "*", "_"):
            size = len(mark)
            if end - start > 2 * size and text.startswith(mark, start) and text.startswith(mark, end - size):
                inner = text[start + size : end - size]
                if mark not in inner and (mark[0] not in "*_" or (not inner[0].isspace() and not inner[-1].isspace())):
                    start, end = start + size, end - size
                    break
        else:
            return Span(start, end) if end > start else None


def cell_at(text: str, start: int, end: int) -> Cell:
    """A cell of one stretch of text."""
    span = trim(text, start, end)
    return Cell([span] if span else [])
