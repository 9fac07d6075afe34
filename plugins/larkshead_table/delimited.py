"""Separated values: commas, semicolons or tabs between cells, quotation marks round cells that hold them."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable

from larkshead.reading import Notice, Span
from larkshead_table.grid import MOST_COLUMNS, Row, cell_at

# A quoted cell that runs on longer than this was never closed.
_LONGEST_CELL = 20_000
# How far a table with broken quoting is looked through for more of it.
_ENOUGH = 20_000
# Heads stand so far down at most.
_FAR = 80
_QUOTED = re.compile(r'"(?:[^"]++|"")*+')


def read_delimited(text: str, mark: str, start: int = 0) -> tuple[list[Row], list[Notice]]:
    """The rows of ``text`` from ``start`` on with ``mark`` between cells, and what is wrong with its quotation marks.

    A quoted cell may hold marks and line ends. Where a quotation mark is not closed as it should be, the cell is read
    up to the next mark or line end as if there were no quoting.
    """
    rows: list[Row] = []
    broken: list[tuple[Span, bool]] = []
    at, size = start, len(text)
    while at < size:
        begin = at
        cells = []
        while True:
            cell_start, at = at, _cell_end(text, at, mark, broken)
            inner = _unquoted(text, cell_start, at)
            cells.append(cell_at(text, *inner))
            if at < size and text[at] == mark:
                at += 1
                continue
            break
        rows.append(Row(cells, Span(begin, at - 1 if at > begin and text[at - 1] == "\r" else at)))
        at += 1
        if broken and at - broken[0][0].start > _ENOUGH:
            # Nothing of the table is read then; the first few places are all that is told.
            break
    notices = []
    if broken:
        others = [(span, "and here") for span, _ in broken[1:10]]
        span, closed = broken[0]
        message = (
            "more stands behind the quotation mark that closes this cell"
            if closed
            else "the quotation mark that opens this cell is not closed"
        )
        notices.append(Notice("broken-quoting", "error", message, span, others))
    return rows, notices


def _cell_end(text: str, at: int, mark: str, broken: list[tuple[Span, bool]]) -> int:
    """Where the cell that begins at ``at`` ends: at the next mark or line end outside quotation marks."""
    begin = at
    while begin < len(text) and text[begin] == " ":
        begin += 1
    if text.startswith('"', begin):
        found = _QUOTED.match(text, begin, min(len(text), begin + _LONGEST_CELL))
        end = found.end() if found else begin
        if text.startswith('"', end):
            end += 1
            while end < len(text) and text[end] in " \r":
                end += 1
            if end == len(text) or text[end] in (mark, "\n"):
                return end
        stop = _plain_end(text, begin, mark)
        if mark != "\t" or text.count('"', begin, stop) % 2:
            broken.append((Span(begin, stop), text.startswith('"', end - 1) and end <= stop))
        return stop
    return _plain_end(text, at, mark)


def _plain_end(text: str, at: int, mark: str) -> int:
    line = text.find("\n", at)
    line = len(text) if line < 0 else line
    found = text.find(mark, at, line)
    return line if found < 0 else found


def _unquoted(text: str, start: int, end: int) -> tuple[int, int]:
    """The stretch inside the quotation marks of a quoted cell."""
    while start < end and text[start] == " ":
        start += 1
    while end > start and text[end - 1] in " \r":
        end -= 1
    if end - start >= 2 and text[start] == '"' == text[end - 1]:
        return start + 1, end - 1
    if end > start and text[start] == '"':
        return start + 1, end
    return start, end


def choose_mark(text: str, lines: list[Span], heads: Callable[[list[str]], bool]) -> tuple[str, int]:
    """The mark that parts the cells of most lines alike and how many lines it parts so; ``("", 0)`` where none does.

    A mark that parts a line into ``heads`` goes before others, then one that makes more cells.
    """
    best: tuple[bool, int, str, int] = (False, 0, "", 0)
    filled = [text[s.start : s.end] for s in lines if s.end > s.start]
    for mark in ("\t", ";", ","):
        counts = Counter(_count(line, mark) for line in filled)
        counts.pop(0, None)
        for number in [n for n in counts if n >= MOST_COLUMNS]:
            del counts[number]
        if not counts:
            continue
        cells = max(counts, key=lambda n: (counts[n], n))
        rows = sum(counts.values()) if mark == "\t" else counts[cells]
        if rows < 2:
            continue
        if mark == "\t":
            return mark, rows
        headed = any(mark in line and heads([c.strip(' "') for c in line.split(mark)]) for line in filled[:_FAR])
        best = max(best, (headed, rows * cells, mark, rows))
    return best[2], best[3]


def _count(line: str, mark: str) -> int:
    """How many cell marks stand in a line, outside quotation marks."""
    if '"' not in line:
        return line.count(mark)
    return re.sub(r'"[^"]*"', "", line).count(mark)
