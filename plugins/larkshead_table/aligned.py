"""Columns aligned by spaces: where the cells of a line lie says which columns they belong to."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections import Counter
from itertools import islice

from larkshead.reading import Span
from larkshead_table.grid import MOST_COLUMNS, Cell, Grid, Row, trim
from larkshead_table.pipes import is_rule

_FIELD = re.compile(r"\S+(?: \S+)*")
# A cell may begin this many characters before its column does in the lines that fill every column.
_SLACK = 1


def fields_of(text: str, line: Span) -> list[Span]:
    """The stretches of a line that two or more spaces part."""
    return [Span(*found.span()) for found in islice(_FIELD.finditer(text, line.start, line.end), MOST_COLUMNS)]


def is_spaced(text: str, line: Span) -> bool:
    """A line of two or more fields."""
    return len(fields_of(text, line)) > 1


def align(text: str, lines: list[Span]) -> Grid:
    """The rows of aligned lines; lines that only draw are left out, the one above the first of them is the head."""
    rows = [(line, fields_of(text, line)) for line in lines]
    ruled = len(rows) > 1 and not is_rule(_quote(text, rows[0][0])) and is_rule(_quote(text, rows[1][0]))
    rows = [(line, fields) for line, fields in rows if fields and not is_rule(_quote(text, line))]
    starts = _column_starts(rows)
    out: list[Row] = []
    for line, fields in rows:
        cells = [Cell() for _ in starts]
        for field, column in zip(fields, _columns(line, fields, starts), strict=True):
            trimmed = trim(text, *field)
            if trimmed is None:
                continue
            cell = cells[column]
            cell.spans = [cell.spans[0].join(trimmed)] if cell.spans else [trimmed]
        out.append(Row(cells, line))
    return Grid(out, Span(lines[0].start, lines[-1].end), ruled, aligned=True)


def _quote(text: str, span: Span) -> str:
    return text[span.start : span.end]


def _column_starts(rows: list[tuple[Span, list[Span]]]) -> list[int]:
    """Where the columns begin, in characters from the line's start: told by the lines that fill most of them."""
    counts = Counter(len(fields) for _, fields in rows)
    common = max(counts.values())
    width = (
        max(n for n, lines in counts.items() if n > 1 and (lines * 3 >= common or n == len(rows[0][1])))
        if any(n > 1 for n in counts)
        else 1
    )
    full = [(line, fields) for line, fields in rows if len(fields) == width]
    return [min(fields[column].start - line.start for line, fields in full) for column in range(width)]


def _columns(line: Span, fields: list[Span], starts: list[int]) -> list[int]:
    """The column of each field: the one it begins in, each further right than the one before where there is room."""
    if len(fields) == len(starts):
        return list(range(len(starts)))
    out: list[int] = []
    for field in fields:
        column = max(0, bisect_right(starts, field.start - line.start + _SLACK) - 1)
        if out and column <= out[-1] and len(fields) <= len(starts):
            column = min(out[-1] + 1, len(starts) - 1)
        out.append(max(column, out[-1]) if out else column)
    return out
