"""Tables drawn with lines: Markdown, grids of ``+---+`` and ``|``, and box characters."""

from __future__ import annotations

import re

from larkshead.reading import Span
from larkshead_table.grid import MOST_COLUMNS, Cell, Grid, Row, cell_at

_BARS = "|│┃║"
_RULE = re.compile(r"[\s|+\-=:_─━═│┃║┌┐└┘├┤┬┴┼╔╗╚╝╠╣╦╩╬╒╕╘╛╞╡╤╧╪]+")
_BREAK = re.compile(r"<br\s*/?>", re.IGNORECASE)


def is_rule(line: str) -> bool:
    """A line that only draws: ``|---|:-:|``, ``+----+``, ``├──┼──┤``."""
    return bool(_RULE.fullmatch(line)) and any(
        mark in line for mark in ("--", "==", "──", "━━", "══", ":-", "-:", "|-", "-|")
    )


def is_barred(line: str) -> bool:
    """A line of cells with bars between."""
    return any(bar in line for bar in _BARS) and sum(map(line.count, _BARS)) <= MOST_COLUMNS


def find_pipe_tables(text: str, lines: list[Span]) -> list[tuple[int, int, Grid]]:
    """The drawn tables: first line, line behind the last, and the table."""
    tables: list[tuple[int, int, Grid]] = []
    single: list[tuple[int, int]] = []
    at = 0
    while at < len(lines):
        end = at
        bars = 0
        while end < len(lines):
            line = text[lines[end].start : lines[end].end]
            if is_barred(line):
                bars += not is_rule(line)
            elif not (is_rule(line) and ("+" in line or "┼" in line or "┌" in line or "└" in line or bars)):
                break
            end += 1
        if bars >= 2 or (bars and any(is_rule(text[s.start : s.end]) for s in lines[at:end])):
            tables.append((at, end, _grid(text, lines[at:end])))
        elif bars and _barred_about(text, lines[at]):
            single.append((at, end))
        at = max(end, at + 1)
    if tables and single:
        # Beside other tables one row with bars at both ends is a table of its own.
        tables += [(first, behind, _grid(text, lines[first:behind])) for first, behind in single]
        tables.sort(key=lambda table: table[0])
    return tables


def _barred_about(text: str, span: Span) -> bool:
    """Whether a line begins and ends with a bar and has another one between."""
    line = text[span.start : span.end].strip()
    return line[:1] in tuple(_BARS) and line[-1:] in tuple(_BARS) and sum(map(line.count, _BARS)) > 2


def _grid(text: str, lines: list[Span]) -> Grid:
    """The rows of a drawn table. Where rules stand between rows, lines between two of them are one row."""
    groups: list[list[Row]] = [[]]
    rules = 0
    for span in lines:
        line = text[span.start : span.end]
        if is_rule(line):
            rules += 1
            if groups[-1]:
                groups.append([])
        else:
            groups[-1].append(Row(_cells(text, span), span))
    groups = [group for group in groups if group]
    if all(not row.cells[0].spans and _leads(text, row.span) for group in groups for row in group):
        for group in groups:
            for row in group:
                del row.cells[0]
    many_lined = len(groups) > 2
    rows: list[Row] = []
    for group in groups:
        for number, row in enumerate(group):
            if many_lined and number and rows and not row.cells[0].spans:
                _add_line(rows[-1], row)
            else:
                rows.append(row)
    ruled = rules > 0 and len(groups) > 1 and len(groups[0]) == 1
    return Grid(rows, Span(lines[0].start, lines[-1].end), ruled)


def _add_line(above: Row, row: Row) -> None:
    """Lay a further line of the same row under it, cell by cell."""
    for column, cell in enumerate(row.cells):
        if column < len(above.cells):
            above.cells[column].spans.extend(cell.spans)
    above.span = above.span.join(row.span)


def _leads(text: str, span: Span) -> bool:
    """Whether a line begins with a bar."""
    return text[span.start : span.end].lstrip()[:1] in tuple(_BARS)


def _cells(text: str, span: Span) -> list[Cell]:
    """The cells of a line; a bar behind a backslash belongs to its cell."""
    bars = [
        at
        for at in range(span.start, span.end)
        if text[at] in _BARS and not (text[at] == "|" and at > span.start and text[at - 1] == "\\")
    ]
    edges = [span.start - 1, *bars, span.end]
    if len(edges) > 2 and not text[bars[-1] + 1 : span.end].strip():
        edges = edges[:-1]
    return [_cell(text, edges[i] + 1, edges[i + 1]) for i in range(len(edges) - 1)]


def _cell(text: str, start: int, end: int) -> Cell:
    """A cell, its lines parted where the text breaks them."""
    cell = Cell()
    at = start
    for found in _BREAK.finditer(text, start, end):
        cell.spans.extend(cell_at(text, at, found.start()).spans)
        at = found.end()
    cell.spans.extend(cell_at(text, at, end).spans)
    return cell
