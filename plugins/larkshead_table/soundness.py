"""What is wrong with a table as a whole: rows with too many cells, no rows, no column that tells what is worked."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from larkshead.conventions import Convention
from larkshead.reading import Notice, Span
from larkshead.reading.grammar.places import ELEMENTS
from larkshead.reading.grammar.tokens import Token
from larkshead_table.columns import LOOKS, Column
from larkshead_table.grid import Cell, Row
from larkshead_table.looks import looks
from larkshead_table.plans import Plan

_KINDS = frozenset(ELEMENTS)


def mend_row(
    row: Row, columns: Sequence[Column], text: str, tokens: Callable[[Row], list[list[Token]]], convention: Convention
) -> tuple[Row, Notice] | None:
    """A row with more cells than the table has columns, as it is most likely meant: the parts of one cell put together
    again. None for a row that fits, or whose further cells are empty."""
    width = len(columns)
    over = len(row.cells) - width
    if over < 1 or width < 2 or not any(cell.spans for cell in row.cells[width:]):
        return None
    choices = [_merged(row, at, over, text) for at in range(width)] if over <= 40 else []
    fits = [_fit(choice, columns, text, tokens(choice), convention) for choice in choices]
    best = max(range(len(fits)), key=lambda at: fits[at], default=None)
    first = row.cells[width].span or row.span
    message = f"this row has {len(row.cells)} cells, the table has {width} columns"
    if best is None or fits[best] < 0.75 or sum(1 for fit in fits if fit == fits[best]) > 1:
        return row, Notice("ragged-row", "error", f"{message}; what goes where cannot be told", first)
    cell = choices[best].cells[best].span or first
    name = columns[best].head or f"column {best + 1}"
    return choices[best], Notice("ragged-row", "warning", f"{message}; this is taken for one cell, under {name}", cell)


def _merged(row: Row, at: int, over: int, text: str) -> Row:
    parts = [span for cell in row.cells[at : at + over + 1] for span in cell.spans]
    whole = Cell([parts[0].join(parts[-1])]) if parts else Cell()
    return Row([*row.cells[:at], whole, *row.cells[at + over + 1 :]], row.span)


def _fit(row: Row, columns: Sequence[Column], text: str, tokens: list[list[Token]], convention: Convention) -> float:
    """The share of filled cells that look like what their column holds."""
    fitting = filled = 0.0
    for cell, found, column in zip(row.cells, tokens, columns, strict=False):
        wanted = LOOKS.get(column.role)
        if not cell.spans or wanted is None:
            continue
        words = " ".join(text[span.start : span.end] for span in cell.spans)
        look = looks(found, words, convention)
        filled += 1
        fitting += bool(look & wanted)
        if column.role == "work" and look & {"number", "place"}:
            fitting -= 0.5
    return fitting / filled if filled else 0.0


def empty_table(span: Span) -> Notice:
    """A table of heads alone, or of nothing."""
    return Notice("empty-table", "error", "this table has no rows", span)


def missing_columns(
    head: Row | None, columns: Sequence[Column], tokens: Sequence[list[list[Token]]], around: bool, span: Span
) -> Notice | None:
    """A table that does not tell which elements are worked. ``around`` when the words about it name some."""
    named = any(column.kind for column in columns) or any(
        token.kind in _KINDS for row in tokens for cell in row for token in cell
    )
    if named:
        return None
    heads = ", ".join(column.head for column in columns if column.head)
    told = f" (the heads are {heads})" if heads else ""
    message = f"no column of this table tells what is worked, a ring or a chain{told}"
    return Notice("missing-column", "warning" if around else "error", message, head.span if head is not None else span)


def no_counts(plans: Sequence[Plan], notices: list[Notice], span: Span) -> None:
    """A table of elements without any counts gets one notice in place of one for each."""
    elements = [element for plan in plans for element in plan.elements]
    if not elements or any(element.pieces or element.alike for element in elements):
        return
    spans = {element.span for element in elements}
    notices[:] = [n for n in notices if not (n.kind == "unclear-count" and n.span in spans)]
    notices.append(Notice("missing-column", "error", "no column of this table tells the counts of its elements", span))
