"""The work of an element as tables tell it: a count string, groups and what is between, two sides, beads."""

from __future__ import annotations

from larkshead.model import Beads, Halves, Join, Picot, SideChange, Stitches
from larkshead.reading import Notice, Span
from larkshead.reading.grammar.counts.positions import read_positions
from larkshead.reading.grammar.counts.work import CountSyntax, read_counts, read_times
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.meanings import JOINS, Meaning, Varying, copies
from larkshead.reading.grammar.places import PICOTS
from larkshead.reading.grammar.said import Piece
from larkshead.reading.grammar.tokens import Token

_PARTING = frozenset({"COMMA", "SLASH", "STOP", "SEMI", "glue", "double_stitch", "NL"})
_MOST_BEADS = 99
_MOST_GROUPS = 500


def matches(tokens: list[Token]) -> list[int]:
    """For each token the bracket that answers it, or -1."""
    out = [-1] * len(tokens)
    stack: list[int] = []
    for at, token in enumerate(tokens):
        if token.kind == "OPEN":
            stack.append(at)
        elif token.kind == "SHUT" and stack:
            start = stack.pop()
            out[start], out[at] = at, start
    return out


def read_work_cell(c: Cursor, kind: str, notices: list[Notice]) -> list[Piece]:
    """The work at the position, stepped over; empty, and nothing stepped over, where none stands there."""
    groups = _bare_groups(c, kind)
    if groups:
        return groups
    start = c.at
    # A bracket round the whole of the count says nothing.
    syntax = CountSyntax(matches(c.tokens), kind.startswith("split"), kind == "josephine ring", notices=notices)
    pieces = read_counts(c, syntax)
    if pieces and kind == "josephine ring":
        pieces = [(Halves(1, item.count) if isinstance(item, Stitches) else item, span) for item, span in pieces]
    if pieces and c.kind() == "double_stitch":
        c.next()
    if not pieces:
        c.at = start
    return pieces


def _bare_groups(c: Cursor, kind: str) -> list[Piece]:
    """``5, 5, 5`` or ``5 5 5``: groups with nothing but room between them; a picot stands between each two."""
    tokens = c.tokens[c.at : c.limit]
    numbers = [token for token in tokens if token.kind == "NUM"]
    if len(numbers) < 2 or kind == "josephine ring" or any(t.kind != "NUM" and t.kind not in _PARTING for t in tokens):
        return []
    if kind.startswith("split") and any(t.kind == "SLASH" for t in tokens):
        return []
    pieces: list[Piece] = []
    for before, token in zip([None, *numbers], numbers, strict=False):
        if before is not None:
            pieces.append((Picot(), Span(before.end, token.start)))
        pieces.append((Stitches(int(token.value)), Span(token.start, token.end)))
    c.at = c.limit
    return pieces


def between_items(tokens: list[Token]) -> list[Piece]:
    """What stands between the groups, told in a column of its own, mark by mark."""
    pieces: list[Piece] = []
    for token in tokens:
        span = Span(token.start, token.end)
        if isinstance(token.value, Meaning) and token.value.items:
            pieces.extend((item, span) for item in copies(token.value))  # type: ignore[misc]
        elif token.kind in PICOTS:
            pieces.append((Picot(PICOTS[token.kind]), span))  # type: ignore[arg-type]
        elif token.kind in JOINS or token.kind == "PLUS":
            place = token.value.place if isinstance(token.value, Meaning) else None
            pieces.append((Join([place] if place else [], JOINS.get(token.kind, "picot")), span))  # type: ignore[arg-type]
        elif token.kind in ("DASH", "DOT"):
            pieces.append((Picot(), span))
        elif token.kind == "PLUSMINUS":
            pieces.append((Picot("small"), span))
        elif token.kind == "bead":
            pieces.append((Beads(1), span))
    return pieces


def lay_between(pieces: list[Piece], items: list[Piece], notices: list[Notice], span: Span) -> list[Piece]:
    """The groups of ``pieces`` with ``items`` between them, one for each two groups or one kind for all."""
    groups = [piece for piece in pieces if isinstance(piece[0], Stitches | Halves)]
    wanted = len(groups) - 1
    if wanted < 1 or not items:
        return pieces
    if len(items) == 1:
        items = items * wanted
    if len(items) != wanted:
        message = (
            f"{len(groups)} groups have {wanted} places between them, but {len(items)} things are told to stand there"
        )
        notices.append(Notice("unclear-count", "warning", message, span))
        items = (items + [(Picot(), span)] * wanted)[:wanted]
    out = [groups[0]]
    for item, group in zip(items, groups[1:], strict=True):
        out += [item, group]
    return out


def two_sides(one: list[Piece], two: list[Piece], span: Span) -> list[Piece]:
    """The work of a split element from its two sides."""
    return [*one, (SideChange(), span), *two]


def spread_picots(pieces: list[Piece], count: int, span: Span, notices: list[Notice]) -> list[Piece]:
    """A plain number of stitches that another column parts by so many picots: equal groups where it comes out even."""
    if len(pieces) != 1 or not isinstance(pieces[0][0], Stitches) or count < 1:
        return pieces
    total = pieces[0][0].count
    low, over = divmod(total, count + 1)
    if over or not low:
        message = f"{count} picots do not part {total} stitches evenly; where they stand is not said"
        notices.append(Notice("unclear-count", "warning", message, span))
        return pieces
    notices.append(Notice("assumed", "note", f"{count} picots taken to part {total} stitches evenly", span))
    out: list[Piece] = []
    for number in range(count + 1):
        if number:
            out.append((Picot(), span))
        out.append((Stitches(low), pieces[0][1]))
    return out


def told_where(tokens: list[Token]) -> bool:
    """Whether a cell tells where the picots of a plain count stand: ``after 6 and 12``, ``3, evenly spaced``."""
    kinds = [token.kind for token in tokens]
    return bool({"evenly", "middle", "halfway"} & set(kinds)) or ("after" in kinds and "NUM" in kinds)


def lay_told(pieces: list[Piece], tokens: list[Token]) -> bool:
    """Part the plain count of stitches by picots where the words say. False where there is no such count, or they do
    not fit it."""
    if len(pieces) != 1 or not isinstance(pieces[0][0], Stitches):
        return False
    total, count_span = pieces[0][0].count, pieces[0][1]
    kinds = [token.kind for token in tokens]
    out: list[Piece] = []
    at = next((token for token in tokens if token.kind in PICOTS), None)
    picot = at or Token("picot", None, tokens[0].start, tokens[-1].end, True, "")
    if "after" in kinds:
        behind = tokens[kinds.index("after") :]
        if not read_positions(Cursor([picot, *behind]), total, 0, out):
            return False
        out = [(item, count_span if isinstance(item, Stitches) else span) for item, span in out]
    else:
        span = Span(tokens[0].start, tokens[-1].end)
        number = next((int(token.value) for token in tokens if token.kind == "NUM"), 1)
        parted = 2 if {"middle", "halfway"} & set(kinds) else number + 1
        if parted > total or parted > _MOST_GROUPS:
            return False
        low, over = divmod(total, parted)
        for group in range(parted):
            if group:
                out.append((Picot(PICOTS[picot.kind]), span))  # type: ignore[arg-type]
            out.append((Stitches(low + (1 if group < over else 0)), count_span))
    pieces[:] = out
    return True


# --- beads -----------------------------------------------------------------------------------------------------


def lay_beads(tokens: list[Token], pieces: list[Piece], span: Span, notices: list[Notice]) -> bool:
    """``1 on each p``, ``3 on the p``, ``2``: beads laid on the picots and joins they are told for. False where the
    cell tells none that can be laid."""
    count = next((int(t.value) for t in tokens if t.kind == "NUM"), 0 if not tokens else 1)
    if count == 0:
        return True
    count = min(count, _MOST_BEADS)
    kinds = {t.kind for t in tokens}
    there = sum(_beads_in(item) for item, _ in pieces)
    if there:
        if there != count and kinds <= {"NUM", "bead"}:
            notices.append(
                Notice("contradiction", "warning", f"{count} beads are told here, the work has {there}", span)
            )
        return True
    picots = [item for item, _ in pieces if isinstance(item, Picot)]
    joins = [item for item, _ in pieces if isinstance(item, Join)]
    chosen: list[Picot | Join] = list(picots)
    if kinds & set(JOINS) or "PLUS" in kinds:
        chosen = list(joins) if not kinds & set(PICOTS) else [*picots, *joins]
    number = next((int(t.value) for t in tokens if t.kind == "ORD"), None)
    if number is not None and chosen:
        chosen = chosen[number - 1 : number]
    elif "last" in kinds:
        chosen = chosen[-1:]
    elif kinds & {"middle", "centre"}:
        chosen = chosen[len(chosen) // 2 : len(chosen) // 2 + 1]
    if not chosen:
        return False
    if kinds <= {"NUM", "bead", "in_all"} and len(chosen) > 1:
        each, over = divmod(count, len(chosen))
        if over or not each:
            return False
        notices.append(
            Notice("assumed", "note", f"{count} beads taken as {each} on each of {len(chosen)} picots", span)
        )
        count = each
    for item in chosen:
        item.beads = count
    return True


def _beads_in(item: object) -> int:
    return item.count if isinstance(item, Beads) else item.beads if isinstance(item, Picot | Join) else 0


# --- sums ------------------------------------------------------------------------------------------------------


def sums(pieces: list[Piece]) -> dict[str, int]:
    """Double stitches, picots, joins and beads of the work."""
    found = {"ds": 0, "picots": 0, "joins": 0, "beads": 0}
    for piece, _ in pieces:
        item = piece.item if isinstance(piece, Varying) else piece
        if isinstance(item, Stitches):
            found["ds"] += item.count
        elif isinstance(item, Picot):
            found["picots"] += 1
        elif isinstance(item, Join):
            found["joins"] += 1
        found["beads"] += _beads_in(item)
    return found


__all__ = [
    "between_items",
    "lay_beads",
    "lay_between",
    "lay_told",
    "matches",
    "read_times",
    "read_work_cell",
    "spread_picots",
    "sums",
    "told_where",
    "two_sides",
]
