"""Large and small rings by their abbreviations, which share one with split rings."""

from __future__ import annotations

from collections.abc import Iterable

from larkshead.reading import Notice, Span
from larkshead.reading.grammar.tokens import Token

_SIZED = {"large_ring": "large", "small_ring": "small"}
# An abbreviation; the kind written out is never a small ring.
_LONGEST = 3


def tell_sizes(rows: Iterable[list[list[Token]]], notices: list[Notice]) -> None:
    """Large and small rings become a size and a ring. Beside large rings ``SR`` is a small ring, unless its row has two
    sides."""
    rows = list(rows)
    told = any(token.kind in _SIZED for cells in rows for cell in cells for token in cell)
    if not told:
        return
    noted = False
    for cells in rows:
        split = any(token.kind in ("SLASH", "second_side") for cell in cells for token in cell)
        for at, cell in enumerate(cells):
            out: list[Token] = []
            for token in cell:
                size = _SIZED.get(token.kind, "")
                if token.kind == "split_ring" and len(token.text) <= _LONGEST and not split:
                    size = "small"
                    if not noted:
                        span = Span(token.start, token.end)
                        notices.append(
                            Notice("assumed", "note", f"beside large rings {token.text} is read as small ring", span)
                        )
                        noted = True
                if size:
                    out += [
                        token._replace(kind=size, value=None),
                        token._replace(kind="ring", value=None, spaced=False),
                    ]
                else:
                    out.append(token)
            cells[at] = out
