"""Picots and joins told by the stitches they stand behind: ``12 ds, p after 4 and 8``, ``join after 4 (last p), p after 8``."""

from __future__ import annotations

from larkshead.model import Join, Picot, Stitches, WorkItem
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.meanings import JOINS
from larkshead.reading.grammar.places import PICOTS, places_between
from larkshead.reading.grammar.said import Piece

_LEADS = ("COMMA", "SEMI", "with", "glue", "COLON")
_AND = ("COMMA", "glue")
_MOST = 200
# No bracket that tells a place is longer.
_LONGEST_PLACE = 40


def read_positions(c: Cursor, total: int, start: int, pieces: list[Piece]) -> bool:
    """After a count of stitches: what stands behind which of them. False, and nothing stepped over, where that is not told."""
    back = c.at
    found: list[tuple[int, WorkItem, int, int]] = []
    while len(found) < _MOST:
        at = c.at
        c.skip(_LEADS)
        told = _told_behind(c)
        if not told:
            c.at = at
            break
        found += told
    numbers = [number for number, *_ in found]
    if not found or len(set(numbers)) < len(numbers) or max(numbers) > total:
        c.at = back
        return False
    done = 0
    span = c.span(start, back)
    for number, item, first, last in sorted(found, key=lambda each: each[0]):
        if number > done:
            pieces.append((Stitches(number - done), span))
        pieces.append((item, c.span(first, last)))
        done = number
    if total > done:
        pieces.append((Stitches(total - done), span))
    return True


def _told_behind(c: Cursor) -> list[tuple[int, WorkItem, int, int]]:
    """``p after 4 and 8``, ``a join after 4 (to the last p)``, ``ps at 4, 8, 12``: the items with the stitch each stands behind."""
    start = c.at
    if c.kind() == "NUM" and c.kind(1) in PICOTS:
        c.next()
    kind = c.next().kind
    if kind not in PICOTS and kind not in JOINS and kind != "PLUS":
        c.at = start
        return []
    numbers: list[tuple[int, int]] = []
    if c.kind() == "after" or (c.kind() == "to" and c.kind(1) == "NUM"):
        c.next()
        while c.kind() in ("NUM", "ORD"):
            numbers.append((int(c.peek().value), c.at))
            c.next()
            c.take("double_stitch")
            ahead = 2 if c.kind() == "COMMA" and c.kind(1) == "glue" else 1
            if c.kind() not in _AND or c.kind(ahead) not in ("NUM", "ORD") or c.kind(ahead + 1) in PICOTS:
                break
            c.at += ahead
    if not numbers or c.kind() in PICOTS or c.kind() in JOINS or c.kind() in ("DASH", "PLUS"):
        c.at = start
        return []
    if kind in PICOTS:
        size = PICOTS[kind]
        return [(number, Picot(size), at, at + 1) for number, at in numbers]  # type: ignore[arg-type]
    joins = [Join([], JOINS.get(kind, "picot")) for _ in numbers]  # type: ignore[arg-type]
    if c.kind() == "OPEN":
        end = next((i for i in range(c.at, min(c.at + _LONGEST_PLACE, c.limit)) if c.tokens[i].kind == "SHUT"), None)
        if end is not None:
            for join, place in zip(joins, places_between(c.tokens, c.at + 1, end), strict=False):
                join.places.append(place)
            c.at = end + 1
    return [(number, join, at, at + 1) for (number, at), join in zip(numbers, joins, strict=True)]
