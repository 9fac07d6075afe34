"""Finding the tables in a text, whatever they are laid out with."""

from __future__ import annotations

import re
from collections.abc import Callable

from larkshead.conventions import Convention
from larkshead.reading import Notice, Source, Span
from larkshead_table.aligned import align, fields_of, is_spaced
from larkshead_table.columns import is_head, is_side_head
from larkshead_table.delimited import choose_mark, read_delimited
from larkshead_table.grid import MOST_COLUMNS, Grid, Row, Sheet, lines_of
from larkshead_table.pipes import find_pipe_tables, is_rule

# Counts with marks between them, the sign of a line that tells work.
_WORK = re.compile(r"\d\s*(?:ds\s*)?(?:[-–—−·+,/]|[pj]\b|[a-z]{0,3}p\d)\s*\d|\b\d+\s+\d+\s+\d+\b", re.IGNORECASE)
_FAR = 80
# Words without a table are read up to this length.
_WORDS = 100_000


def take_apart(source: Source, convention: Convention) -> Sheet:
    """The tables of a text and what stands around them. A text without any is one stretch, with a notice."""
    text = source.text
    lines = lines_of(text)
    tables = find_pipe_tables(text, lines)
    sheet = Sheet()
    if tables:
        _between(sheet, text, lines, tables)
        return sheet
    mark, alike = choose_mark(text, lines, lambda cells: is_head(cells, convention))
    mark = mark or _mark_of_head(text, lines, convention)
    spaced = sum(1 for line in lines if is_spaced(text, line))
    if mark and (mark == "\t" or alike >= spaced):
        _separated(sheet, source, lines, mark, convention)
    else:
        tables = _aligned_tables(text, lines, convention) or _aligned_tables(text, lines, convention, least=1)
        _between(sheet, text, lines, tables)
    if not sheet.grids:
        sheet.blocks = [Span(0, len(text))] if text.strip() and len(text) <= _WORDS else []
        message = "there is no table here" if text.strip() else "there is nothing in this file"
        sheet.notices.append(
            Notice("no-table", "error", message, Span(0, min(len(text), lines[0].end if lines else 0)))
        )
    return sheet


def _mark_of_head(text: str, lines: list[Span], convention: Convention) -> str:
    """The mark that parts a line of heads with nothing beneath it."""
    for line in lines[:_FAR]:
        words = text[line.start : min(line.end, line.start + 500)]
        for mark in ("\t", ";", ","):
            if mark in words and is_head([cell.strip() for cell in words.split(mark)], convention):
                return mark
    return ""


def _between(sheet: Sheet, text: str, lines: list[Span], tables: list[tuple[int, int, Grid]]) -> None:
    """The tables and the stretches of text between them, in order."""
    at = 0
    for first, behind, grid in [*tables, (len(lines), len(lines), None)]:
        start = lines[at].start if at < len(lines) else len(text)
        end = lines[first].start if first < len(lines) else len(text)
        if text[start:end].strip():
            sheet.blocks.append(Span(start, end))
        if grid is not None:
            sheet.blocks.append(grid)
        at = behind


# --- separated values ------------------------------------------------------------------------------------------


def _separated(sheet: Sheet, source: Source, lines: list[Span], mark: str, convention: Convention) -> None:
    """A table of separated values: it begins at its head, or at the first line that is parted as most are."""
    text = source.text
    first = _first_separated(text, lines, mark, convention)
    if first is None:
        return
    rows, notices = read_delimited(text, mark, lines[first].start)
    last = max((n for n, row in enumerate(rows) if len(row.cells) > 1), default=-1)
    if last < 0:
        return
    table = [row for row in rows[: last + 1] if row.filled()]
    behind = rows[last + 1].span.start if last + 1 < len(rows) else len(text)
    sheet.notices += [n for n in notices if n.span is None or n.span.start < behind]
    if text[: lines[first].start].strip():
        sheet.blocks.append(Span(0, lines[first].start))
    sheet.blocks.append(Grid(table, Span(table[0].span.start, table[-1].span.end)))
    if text[behind:].strip():
        sheet.blocks.append(Span(behind, len(text)))


def _first_separated(text: str, lines: list[Span], mark: str, convention: Convention) -> int | None:
    counts: dict[int, int] = {}
    candidates: list[tuple[int, int]] = []
    for number, line in enumerate(lines):
        if not 0 < text.count(mark, line.start, line.end) < MOST_COLUMNS * 2:
            continue
        rows, _ = read_delimited(text[line.start : line.end], mark)
        cells = rows[0].cells if rows else []
        if len(candidates) < _FAR:
            quoted = [" ".join(text[line.start + s.start : line.start + s.end] for s in cell.spans) for cell in cells]
            if is_head(quoted, convention):
                return number
        counts[len(cells)] = counts.get(len(cells), 0) + 1
        candidates.append((number, len(cells)))
        if len(candidates) > _FAR * 2:
            break
    counts.pop(1, None)
    if not counts:
        return None
    width = max(counts, key=lambda n: (counts[n], n))
    return next(number for number, cells in candidates if cells == width)


# --- columns aligned by spaces ---------------------------------------------------------------------------------


def _aligned_tables(
    text: str, lines: list[Span], convention: Convention, least: int = 2
) -> list[tuple[int, int, Grid]]:
    """Blocks of lines whose cells lie beneath one another and tell work; a later block may go on with the columns."""
    tables: list[tuple[int, int, Grid]] = []
    at = 0
    for first, behind in _blocks(text, lines):
        head = _aligned_head(text, lines, first, behind, convention)
        start = first if head is None else head
        if head is None:
            while start < behind and not is_spaced(text, lines[start]):
                start += 1
        end = behind
        while end > start + 1 and not is_spaced(text, lines[end - 1]) and _is_sentence(text, lines[end - 1]):
            end -= 1
        block = lines[start:end]
        spaced = [line for line in block if is_spaced(text, line)]
        working = sum(1 for line in spaced if _WORK.search(text, line.start, line.end))
        goes_on = bool(tables) and head is None and tables[-1][1] == at and (working or len(spaced) * 2 >= len(block))
        if goes_on and start == first and spaced:
            begin = tables[-1][0]
            tables[-1] = (begin, end, align(text, lines[begin:end]))
        elif spaced and ((head is not None and len(block) > 1) or (working >= least and working * 2 >= len(spaced))):
            tables.append((start, end, align(text, block)))
        else:
            continue
        at = end + _blank_lines(text, lines, end)
        tables[-1] = (tables[-1][0], at, tables[-1][2])
    return tables


def _is_sentence(text: str, line: Span) -> bool:
    """A line of words behind a table that begins where the lines begin, and no cell that runs on."""
    words = text[line.start : line.end]
    return len(words.split()) > 4 and len(words) - len(words.lstrip()) <= 2 and not words.strip()[0].isdigit()


def _blank_lines(text: str, lines: list[Span], at: int) -> int:
    count = 0
    while at + count < len(lines) and not text[lines[at + count].start : lines[at + count].end].strip():
        count += 1
    return count


def _blocks(text: str, lines: list[Span]) -> list[tuple[int, int]]:
    """Stretches of lines with no blank line between them."""
    blocks: list[tuple[int, int]] = []
    start: int | None = None
    for number, line in enumerate([*lines, Span(0, 0)]):
        if number < len(lines) and text[line.start : line.end].strip():
            start = number if start is None else start
        elif start is not None:
            blocks.append((start, number))
            start = None
    return blocks


def _aligned_head(text: str, lines: list[Span], first: int, behind: int, convention: Convention) -> int | None:
    """The line of heads in a block: one that is ruled off, or whose fields the convention knows as heads."""
    for number in range(first, min(behind, first + 12)):
        if number + 1 < behind and is_rule(text[lines[number + 1].start : lines[number + 1].end]):
            return number
        fields = fields_of(text, lines[number])
        if len(fields) > 1 and is_head([text[f.start : f.end] for f in fields], convention):
            return number
    return None


# --- heads and transposed tables -------------------------------------------------------------------------------


def part_head(grid: Grid, words: Callable[[Row], list[str]], convention: Convention) -> tuple[Row | None, list[Row]]:
    """The row of heads, if there is one, and the rows beneath it; a table that lies on its side is set upright."""
    if not grid.rows:
        return None, []
    first = grid.rows[0]
    named = is_head(words(first), convention)
    if not named and len(grid.rows) > 1 and grid.width > 2:
        side = [_first_cell(row, words) for row in grid.rows]
        if is_side_head([cell for cell in side if cell], convention):
            upright = _upright(grid)
            return upright.rows[0], upright.rows[1:]
    telling = any(_WORK.search(cell) for cell in words(first))
    if named or (grid.ruled and not telling):
        return first, grid.rows[1:]
    return None, grid.rows


def _first_cell(row: Row, words: Callable[[Row], list[str]]) -> str:
    cells = words(row)
    return cells[0] if cells else ""


def _upright(grid: Grid) -> Grid:
    """The table with its columns as rows."""
    rows = []
    for column in range(grid.width):
        cells = [row.cell(column) for row in grid.rows]
        spans = [cell.span for cell in cells if cell.span]
        span = spans[0].join(spans[-1]) if spans else grid.span
        rows.append(Row(cells, span))
    return Grid(rows, grid.span, True)
