"""Reads tables as ``writer`` writes them, row by row; None for a text with any line that is not written so."""

from __future__ import annotations

import re
from collections.abc import Callable

from larkshead.conventions import Convention
from larkshead.model import Part, Pattern
from larkshead.reading import Origins, Reading, Source
from larkshead.reading.source import Span
from larkshead.reading.written.around import AroundReader
from larkshead.reading.written.book import WrittenBook
from larkshead.reading.written.lines import Line, before_steps, lines_of
from larkshead.reading.written.steps import NotWritten
from larkshead_table.rows import COLUMNS
from larkshead_table.writtenrows import RowSteps, WrittenRow

_ESCAPED = re.compile(r"\\([\\|])")
_CELL = re.compile(r"(?:\\.|[^\\|])*")
_RULE = re.compile(r"-+(?:  -+)*")
_FAR = 200
_WIDEST = 1000


def read_written(source: Source, convention: Convention) -> Reading | None:
    """The reading of a table that larkshead wrote, in any of its layouts."""
    book = WrittenBook.of(convention, "table", "shorthand")
    if not book.sections or not book.has("columns.step"):
        return None
    reading = Reading(source, Pattern(), Origins(), style="table", convention=convention.name)
    reading.origins.heard.append(Span(0, len(source.text)))
    try:
        lines = lines_of(source.text)
        layout = _layout(book, lines)
        if layout is None:
            return None
        layout(_Table(book, reading), lines)
    except NotWritten:
        return None
    return reading


def _layout(book: WrittenBook, lines: list[Line]) -> Callable[[_Table, list[Line]], None] | None:
    """What reads the table, by the line that heads it; None where no such line stands near the top."""
    names = [book.fill(f"columns.{name}") for name in COLUMNS]
    for line in lines[:_FAR]:
        if len(line.text) > _WIDEST:
            continue
        for count in (len(names), len(names) - 1):
            heads = names[:count]
            if line.text == f"| {' | '.join(heads)} |":
                return _Table.markdown
            for mark in (",", "\t"):
                if line.text == mark.join(heads):
                    return _Table.commas if mark == "," else _Table.tabs
            if re.split("  +", line.text) == heads:
                return _Table.columns
    return None


class _Table:
    """One table of one layout."""

    def __init__(self, book: WrittenBook, reading: Reading) -> None:
        self.book = book
        self.pattern = reading.pattern
        self.origins = reading.origins
        self.around = AroundReader(book)
        self.rows = RowSteps(book, self.around, reading.origins)
        self.names = [book.fill(f"columns.{name}") for name in COLUMNS]

    def part(self, heading: str, start: int) -> None:
        """A part begins; the first may have no heading."""
        part = self.around.heading(heading) if heading else Part()
        if part is None or (not heading and self.pattern.parts):
            raise NotWritten(heading)
        self.pattern.parts.append(part)
        self.origins.record(part, Span(start, start + len(heading)))
        self.rows.begin(part)

    def before(self, line: str) -> None:
        """One line before the rows."""
        fresh = self.pattern == Pattern()
        if fresh and self.around.is_title(line):
            self.pattern.title = line
        elif not self.around.before(line, self.pattern):
            raise NotWritten(line)

    def row(self, row: WrittenRow) -> None:
        if not self.pattern.parts:
            self.part("", row.span.start)
        self.rows.row(row)

    def notes(self, lines: list[str]) -> bool:
        """The notes, to the end of the text, where they begin."""
        found = self.around.notes([line for line in lines if line])
        if found is not None:
            self.pattern.notes = found
        return found is not None

    # Markdown

    def markdown(self, lines: list[Line]) -> None:
        at = 0
        while at < len(lines):
            text, start = lines[at]
            if text.startswith("| "):
                at = self._markdown_table(lines, at)
                continue
            plain = _ESCAPED.sub(r"\1", text)
            if text.startswith("## "):
                self.part(plain[3:], start + 3)
            elif plain and self.notes([_ESCAPED.sub(r"\1", line.text) for line in lines[at:]]):
                return
            elif plain and self.pattern.parts:
                raise NotWritten(text)
            elif plain:
                self.before(plain[2:] if text.startswith("# ") else plain)
            at += 1

    def _markdown_table(self, lines: list[Line], at: int) -> int:
        """The rows under a head and the rule beneath it; where they end."""
        self._is_head(_markdown_row(lines[at]).cells)
        at += 2
        while at < len(lines) and lines[at].text.startswith("| "):
            self.row(_markdown_row(lines[at]))
            at += 1
        return at

    def _is_head(self, cells: list[str]) -> None:
        if cells not in (self.names, self.names[:-1]):
            raise NotWritten(" ".join(cells))

    # Separated values

    def commas(self, lines: list[Line]) -> None:
        self._separated(lines, ",")

    def tabs(self, lines: list[Line]) -> None:
        self._separated(lines, "\t")

    def _separated(self, lines: list[Line], mark: str) -> None:
        rows = [_separated_row(line, mark) for line in lines]
        head = next(at for at, row in enumerate(rows) if row.cells in (self.names, self.names[:-1]))
        for row in rows[:head]:
            self.before(_only(row))
        for at, row in enumerate(rows[head + 1 :], head + 1):
            if len(row.cells) == 1 and row.cells[0].startswith(self.book.fill("notes_heading")):
                self._note_rows(rows[at:])
                return
            if row.cells[0][:1].isdecimal():
                self.row(row)
            else:
                self.part(_only(row), row.span.start)

    def _note_rows(self, rows: list[WrittenRow]) -> None:
        heading = self.book.fill("notes_heading")
        for row in rows:
            text = _only(row)
            if not text.startswith(heading + " "):
                raise NotWritten(text)
            self.pattern.notes.append(self.book.unquote(text[len(heading) + 1 :]))

    # Columns

    def columns(self, lines: list[Line]) -> None:
        left = before_steps(lines, self.around, self.pattern)
        at = 0
        while at < len(left):
            text, start = left[at]
            if at + 1 < len(left) and _RULE.fullmatch(left[at + 1].text):
                self._is_head(re.split("  +", text))
                at = self._column_rows(left, at + 1)
            elif not text:
                at += 1
            elif self.notes([line.text for line in left[at:]]):
                return
            else:
                self.part(text, start)
                at += 1

    def _column_rows(self, lines: list[Line], at: int) -> int:
        """The rows under a rule that shows where the columns lie; where they end."""
        spans = [rule.span() for rule in re.finditer("-+", lines[at].text)]
        at += 1
        while at < len(lines) and lines[at].text:
            text, start = lines[at]
            cells = [text[first:last].rstrip() for first, last in spans]
            self.row(WrittenRow(cells, [start + first for first, _ in spans], Span(start, start + len(text))))
            at += 1
        return at


def _only(row: WrittenRow) -> str:
    """The text of a row that has but one cell filled."""
    if any(row.cells[1:]):
        raise NotWritten(row.cells[0])
    return row.cells[0]


def _markdown_row(line: Line) -> WrittenRow:
    cells: list[str] = []
    starts: list[int] = []
    at = 2
    while at < len(line.text):
        found = _CELL.match(line.text, at)
        end = found.end() if found else at
        cells.append(_ESCAPED.sub(r"\1", line.text[at:end]).rstrip())
        starts.append(line.start + at)
        at = end + 2
    return WrittenRow(cells, starts, Span(line.start, line.start + len(line.text)))


def _separated_row(line: Line, mark: str) -> WrittenRow:
    cells: list[str] = []
    starts: list[int] = []
    text = line.text
    at = 0
    while at <= len(text):
        if text.startswith('"', at):
            end = at + 1
            while end < len(text) and (text[end] != '"' or text[end + 1 : end + 2] == '"'):
                end += 2 if text[end] == '"' else 1
            cells.append(text[at + 1 : end].replace('""', '"'))
            starts.append(line.start + at + 1)
            end += 1
        else:
            end = text.find(mark, at)
            end = len(text) if end < 0 else end
            cells.append(text[at:end])
            starts.append(line.start + at)
        at = end + 1
    return WrittenRow(cells, starts, Span(line.start, line.start + len(text)))
