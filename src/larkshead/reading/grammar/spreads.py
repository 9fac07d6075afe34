"""Picots told by how they lie: so many with so many stitches between, equal groups, one in the middle, one after every third.

Facts: N picots separated by M give N - 1 groups of M between them; a count evenly divided by N picots has N + 1 equal groups
(habits of printed patterns, see the convention's sources).
"""

from __future__ import annotations

from larkshead.model import Picot, Stitches
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.places import ELEMENTS, PICOTS
from larkshead.reading.grammar.said import Piece
from larkshead.reading.grammar.tokens import Token
from larkshead.reading.source import Span

_LIMIT = 2000
_SURROUNDS = 40
# Words that say where the stitches counted before them stand among the picots.
_ROLES = {
    "previous": "before",
    "at_start": "before",
    "between": "between",
    "after": "after",
    "at_finish": "after",
    "ends": "ends",
}
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
            while c.kind() in ("between", "each", "glue", "this", "WORD", "next") or _names_one(c.tokens, c.at):
                if c.kind() in ("glue", "WORD") and c.kind(1) not in (
                    "between",
                    "each",
                    "this",
                    "WORD",
                    "previous",
                    "next",
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
    """``with three between one and the next, two before the first and one after the last``: (before, between, after).

    What stands at either end is both before and after. Nothing stepped over where the two are not told.
    """
    start = c.at
    found: dict[str, int] = {}
    end = c.at
    at = c.at + (c.kind() == "COLON")
    while at < min(start + _SURROUNDS, c.limit):
        kind = c.tokens[at].kind
        if kind in ("STOP", "SEMI", "PARA", "COLON", "close", "join") or kind in ELEMENTS:
            break
        if kind == "NUM" and not _names_one(c.tokens, at):
            role, upto = _role(c, at)
            if role:
                found.setdefault(role, int(c.tokens[at].value))
                end = at = upto
                continue
            if not (found and c.tokens[min(at + 1, c.limit - 1)].kind in PICOTS):
                break
        at += 1
    if "ends" in found:
        found.setdefault("before", found["ends"])
        found.setdefault("after", found["ends"])
    if "before" not in found or "after" not in found:
        c.at = start
        return None, None, None
    c.at = end
    while c.kind() in ("glue", "ORD", "last", "pronoun", "next", "this", *PICOTS, "WORD") and c.at - end < 5:
        c.next()
    return found["before"], found.get("between"), found["after"]


def _names_one(tokens: list[Token], at: int) -> bool:
    """``between one and the next``: the number counts nothing."""
    return 0 < at < len(tokens) and tokens[at].value == 1 and tokens[at - 1].kind == "between"


def _role(c: Cursor, at: int) -> tuple[str, int]:
    """Where the stitches counted at ``at`` stand (before, between, after, ends), and how far the words that say so reach."""
    ahead = at + 1
    while ahead < c.limit and ahead - at < 5:
        token = c.tokens[ahead]
        if token.kind in _ROLES or token.value in _ROLES:
            return _ROLES.get(token.kind) or _ROLES[token.value], ahead + 1
        if token.kind not in ("double_stitch", "glue", "to", "WORD", "pronoun", "of"):
            break
        ahead += 1
    for token in reversed(c.tokens[max(0, at - 4) : at]):
        if token.kind == "ends":
            return "ends", at + 1
        if token.kind == "separated":
            return "between", at + 1
        if token.value in ("at_start", "at_finish"):
            return _ROLES[token.value], at + 1
        if token.kind not in ("glue", "with", "by", "WORD", "of", "only"):
            break
    return "", at


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
    if number is not None and _groups_told(kinds, first):
        # "into five equal groups by picots"
        number -= 1
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
    elif "after" in cues and "each" not in cues and (told := _counts_after(c, kinds, total)):
        used = max(used, told[-1] + 1)
        groups = [
            b - a
            for a, b in zip(
                [0, *(int(c.tokens[c.at + i].value) for i in told)],
                [*(int(c.tokens[c.at + i].value) for i in told), total],
                strict=True,
            )
        ]
    elif "between" in cues and "half_stitch" in cues:
        used = max(used, max(i for i, k in enumerate(kinds) if k == "half_stitch") + 1)
        groups = [total - total // 2, total // 2]
    elif "after" in cues and "each" in cues and (_each_after(kinds) is not None or "ORD" in kinds):
        at = _each_after(kinds) or kinds.index("ORD")
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


def _counts_after(c: Cursor, kinds: list[str], total: int) -> list[int]:
    """``a picot after three``, ``with picots after three, six and nine``: which tokens are the numbers."""
    told: list[int] = []
    reached = 0
    for at in range(kinds.index("after") + 1, len(kinds)):
        if kinds[at] == "NUM":
            count = int(c.tokens[c.at + at].value)
            following = kinds[at + 1] if at + 1 < len(kinds) else "END"
            if not reached < count < total or following in (*ELEMENTS, *PICOTS):
                break
            told.append(at)
            reached = count
        elif kinds[at] not in ("COMMA", "glue", "double_stitch", "after", "of", "this"):
            break
    return told


def _groups_told(kinds: list[str], picot: int) -> bool:
    """Whether the number before the picots counts the groups that they part."""
    at = next((i for i in range(picot - 1, -1, -1) if kinds[i] == "NUM"), None)
    if at is None or kinds[at + 1 : at + 2] not in (["evenly"], ["WORD"]):
        return False
    return "by" in kinds[at:picot] or "with" in kinds[at:picot]


def _each_after(kinds: list[str]) -> int | None:
    """``with four picots among them, each after five stitches``: which token is the number."""
    if "after" not in kinds:
        return None
    at = kinds.index("after") + 1
    return at if kinds[at : at + 1] == ["NUM"] and "each" in kinds[:at] else None


def _only_loose(kinds: list[str], until: int) -> bool:
    """Between the count and the picots stand only words that lead from one to the other, with a cue among all."""
    for i, kind in enumerate(kinds[:until]):
        if kind in _LOOSE or kind in ("separated", "in_all", "small", "long", "half_stitch", "only"):
            continue
        if kind == "NUM" and (
            i + 1 < len(kinds) and kinds[i + 1] in ("evenly", "WORD", "glue", "separated", "by", *PICOTS)
        ):
            continue
        return False
    if "evenly" in kinds[until + 1 : until + 2]:
        return True
    if not {"with", "separated", "evenly", "by"} & set(kinds[:until]):
        # "sixteen stitches and one picot halfway"
        if kinds[until + 1 : until + 2] == ["after"] and "ORD" in kinds[until + 2 : until + 5]:
            # "fourteen, a picot after the fourth and another after the tenth"
            return True
        return bool({"halfway", "middle"} & set(kinds[until + 1 : until + 4])) and "COMMA" not in kinds[: until + 4]
    return bool({"separated", "evenly"} & set(kinds[:until])) or any(
        k in ("middle", "halfway", "after", "FRACTION", "evenly", "half_stitch") for k in kinds[until : until + 15]
    )
