"""Picots told by how they lie: so many with so many stitches between, equal groups, one in the middle, one after every third.

Facts: N picots separated by M give N - 1 groups of M between them; a count evenly divided by N picots has N + 1 equal groups
(habits of printed patterns, see the convention's sources).
"""

from __future__ import annotations

from larkshead.model import Picot, Stitches
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.places import ELEMENTS, PICOTS
from larkshead.reading.grammar.said import Piece
from larkshead.reading.source import Span

_LIMIT = 2000
_LOOSE = frozenset({"WORD", "glue", "COMMA", "with", "of", "by", "this", "each", "evenly", "again", "between", "to"})
_ENDS = frozenset({"STOP", "SEMI", "PARA", "END", "COLON", "OPEN", "SHUT", *ELEMENTS})


def read_gap(c: Cursor) -> tuple[int | None, int | None]:
    """What stands between the picots just named, and at either end where that is told; nothing stepped over where neither is."""
    start = c.at
    gap: int | None = None
    told = False
    passed = 0
    while (
        c.kind()
        in ("COMMA", "with", "glue", "by", "separated", "WORD", "of", "each", "this", "between", "only", "from")
        and passed < 7
    ):
        told = told or c.kind() in ("separated", "between")
        c.next()
        passed += 1
    if c.kind() == "NUM":
        number = int(c.next().value)
        c.skip({"double_stitch", "glue", "WORD", "each"} if c.kind() in ("double_stitch",) or _between_near(c) else ())
        c.take("double_stitch")
        if c.kind() == "between" or _between_near(c):
            while c.kind() in ("between", "each", "glue", "this", "WORD") and c.kind() != "NUM":
                if c.kind() in ("glue", "WORD") and c.kind(1) not in (
                    "between",
                    "each",
                    "this",
                    "WORD",
                    "previous",
                    *_ENDS,
                ):
                    break
                c.next()
            if c.kind() in ("previous",) or (
                c.kind() in PICOTS and c.tokens[c.at - 1].kind in ("this", "each", "between", "glue")
            ):
                c.next()
            gap = number
        elif told:
            gap = number
    if gap is None:
        c.at = start
        return None, None
    return gap, _either_end(c)


def read_surrounds(c: Cursor) -> tuple[int | None, int | None, int | None]:
    """``with three between one and the next, two before the first and one after the last``: (before, between, after)."""
    start = c.at
    found: dict[str, int] = {}
    end = c.at
    for at in range(c.at, min(c.at + 34, c.limit)):
        kind = c.tokens[at].kind
        if kind in ("STOP", "SEMI", "PARA", "COLON") or kind in ELEMENTS or kind in ("close", "join"):
            break
        if kind == "NUM":
            ahead = at + 1
            while (
                ahead < c.limit and c.tokens[ahead].kind in ("double_stitch", "glue", "to", "WORD") and ahead - at < 4
            ):
                ahead += 1
            name = c.tokens[ahead].kind if ahead < c.limit else ""
            if name in ("previous", "between", "after"):
                found.setdefault(name, int(c.tokens[at].value))
                end = ahead + 1
            elif not (found and name in PICOTS):
                break
    if "previous" not in found or "after" not in found:
        c.at = start
        return None, None, None
    c.at = end
    while c.kind() in ("glue", "ORD", "last", "pronoun", "next", "this", *PICOTS, "WORD") and c.at - end < 5:
        c.next()
    return found["previous"], found.get("between"), found["after"]


def _between_near(c: Cursor) -> bool:
    return c.find({"between"}, ("STOP", "SEMI", "COMMA", "NL", "PARA", "NUM", *PICOTS), 5) is not None


def _either_end(c: Cursor) -> int | None:
    """``one at either end``, ``beginning and ending with 1 double``: the count before the first and after the last picot."""
    start = c.at
    while c.kind() in ("COMMA", "glue", "with", "WORD", "ends", "this"):
        c.next()
        if c.at - start > 7:
            break
    ends_before = any(t.kind == "ends" for t in c.tokens[start : c.at])
    if c.kind() == "NUM":
        count = int(c.next().value)
        if ends_before:
            c.take("double_stitch")
            return count
        c.skip({"double_stitch", "glue", "to", "each"})
        if c.take("ends"):
            return count
    c.at = start
    return None


def lay_picots(
    kind: str, picot: Picot, count: int, gap: int | None, ends: int | None, span: Span, pieces: list[Piece]
) -> None:
    """So many picots with ``gap`` stitches between and ``ends`` outside."""
    if ends:
        pieces.append((Stitches(ends), span))
    for number in range(min(count, _LIMIT)):
        if number and gap:
            pieces.append((Stitches(gap), span))
        pieces.append((picot, span))
    if ends:
        pieces.append((Stitches(ends), span))


def read_division(c: Cursor, total: int, start: int, pieces: list[Piece]) -> bool:
    """After a count of stitches: how picots part it. False, and nothing stepped over, where that is not told."""
    back = c.at
    reach = c.find(_ENDS, (), 28)
    limit = c.at + (28 if reach is None else reach)
    kinds = [t.kind for t in c.tokens[c.at : min(limit, len(c.tokens))]]
    picots = [i for i, k in enumerate(kinds) if k in PICOTS]
    if not picots or not _only_loose(kinds, picots[0]):
        return False
    first = picots[0]
    cues = set(kinds)
    picot = Picot(PICOTS[kinds[first]])  # type: ignore[arg-type]
    groups: list[int] | None = None
    number = next((int(c.tokens[c.at + i].value) for i in range(first - 1, -1, -1) if kinds[i] == "NUM"), None)
    used = first + 1
    ordinals = [int(c.tokens[c.at + i].value) for i, k in enumerate(kinds) if k == "ORD"]
    if (
        "after" in cues
        and "each" not in cues
        and ordinals
        and ordinals == sorted(set(ordinals))
        and ordinals[0] > 0
        and ordinals[-1] < total
    ):
        used = max(used, max(i for i, k in enumerate(kinds) if k == "ORD") + 1)
        groups = [b - a for a, b in zip([0, *ordinals], [*ordinals, total], strict=True)]
    elif "between" in cues and "half_stitch" in cues:
        used = max(used, max(i for i, k in enumerate(kinds) if k == "half_stitch") + 1)
        groups = [total - total // 2, total // 2]
    elif "after" in cues and "each" in cues and "ORD" in kinds:
        at = kinds.index("ORD")
        every = int(c.tokens[c.at + at].value)
        used = max(used, at + 1)
        if every > 0:
            groups = [every] * (total // every)
            if total % every:
                groups.append(total % every)
    elif ("evenly" in cues or "separated" in cues) and number is not None and number > 0:
        low, over = divmod(total, number + 1)
        groups = [low + (1 if i < over else 0) for i in range(number + 1)]
    elif ("middle" in cues or "halfway" in cues or "FRACTION" in cues) and (number or 1) == 1:
        at = next(i for i, k in enumerate(kinds) if k in ("middle", "halfway", "FRACTION"))
        used = max(used, at + 1)
        groups = [total - total // 2, total // 2]
    if groups is None or len(groups) > _LIMIT:
        c.at = back
        return False
    c.at += used
    while c.kind() in ("WORD", "glue", "double_stitch", "of", "this", "evenly", "by", "separated", "to", "only") or (
        c.kind() in ("NUM", "COMMA")
        and c.kind(1) in ("evenly", "WORD", "separated")
        and "evenly" in cues
        and c.kind(1) != "WORD"
    ):
        if c.kind() in ("glue", "WORD") and c.kind(1) not in (*_LOOSE, "double_stitch", *_ENDS):
            break
        c.next()
    span = c.span(start)
    for i, group in enumerate(groups):
        if i:
            pieces.append((picot, span))
        if group:
            pieces.append((Stitches(group), span))
    return True


def _only_loose(kinds: list[str], until: int) -> bool:
    """Between the count and the picots stand only words that lead from one to the other, with a cue among all."""
    for i, kind in enumerate(kinds[:until]):
        if kind in _LOOSE or kind in ("separated", "in_all", "small", "long", "half_stitch", "only"):
            continue
        if kind == "NUM" and (i + 1 < len(kinds) and kinds[i + 1] in ("evenly", "WORD", "glue", "separated", *PICOTS)):
            continue
        return False
    if "evenly" in kinds[until + 1 : until + 2]:
        return True
    if not {"with", "separated", "evenly", "by"} & set(kinds[:until]):
        return False
    return bool({"separated", "evenly"} & set(kinds[:until])) or any(
        k in ("middle", "halfway", "after", "FRACTION", "evenly", "half_stitch") for k in kinds[until : until + 15]
    )
