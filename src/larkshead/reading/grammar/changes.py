"""What is different on some element or pass: joins told apart from the element they belong to.

``each joined by its first picot to the last picot of the ring before``, ``the last ring joins to the first as well``,
``with a join in place of the first picot``, ``from the second ring on the first picot is a join``. A change names which
elements (or passes), which picot, what it becomes, and where the join goes.
"""

from __future__ import annotations

from larkshead.model import Place
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.places import ELEMENTS, PICOTS, read_place
from larkshead.reading.grammar.said import Change
from larkshead.reading.grammar.tokens import Token
from larkshead.reading.source import Span

JOIN_WORDS = frozenset({"join", "joining", "folded_join", "lock_join", "fasten"})
CLAUSE_STOPS = frozenset({"STOP", "SEMI", "PARA", "END"})
_LOCKED = frozenset({"base", "between"})
_REACH = 400


def clause_end(c: Cursor, stops: frozenset[str] = CLAUSE_STOPS, reach: int = _REACH) -> int:
    """Where the clause at the position ends: at a full stop, a semicolon or a blank line; or at the first of ``stops``."""
    tokens = c.tokens
    for at in range(c.at, min(c.limit, c.at + reach)):
        if tokens[at].kind in CLAUSE_STOPS or tokens[at].kind in stops:
            return at
    return min(c.limit, c.at + reach)


def read_changes(c: Cursor, end: int, element_kind: str = "") -> list[Change]:
    """The changes told between the position and token ``end``; the position moves to ``end`` where there are any."""
    changes: list[Change] = []
    for start, stop in _segments(c.tokens, c.at, end):
        change = _one_change(c.tokens, start, stop)
        if change is not None:
            change.element_kind = change.element_kind or element_kind
            changes.append(change)
    if changes:
        c.at = end
    return changes


def _segments(tokens: list[Token], begin: int, end: int) -> list[tuple[int, int]]:
    """Stretches with one change each: a new one begins where, after a target, other elements are chosen."""
    if not any(tokens[i].kind in JOIN_WORDS for i in range(begin, end)):
        return []
    cuts = [begin]
    # A target begins at "to", and is told once what is joined to is named.
    targeted = aimed = False
    for i in range(begin, end):
        kind = tokens[i].kind
        if kind == "to" or (kind in JOIN_WORDS and _joins_at_once(tokens, i + 1, end)):
            aimed = True
        elif aimed and (kind in ELEMENTS or kind in PICOTS or kind in _LOCKED or kind in ("label", "pronoun", "ORD")):
            targeted = True
        elif targeted and kind in ("COMMA", "glue") and _chooses(tokens, i + 1, end):
            cuts.append(i)
            targeted = aimed = False
    return [(a, b) for a, b in zip(cuts, [*cuts[1:], end], strict=True) if b > a]


def _joins_at_once(tokens: list[Token], at: int, end: int) -> bool:
    """Whether what is joined to stands behind the word at once: ``joins ring 1``, ``joins the first as well``."""
    kinds = [token.kind for token in tokens[at : min(at + 2, end)]]
    return kinds[:1] in (["label"], *([kind] for kind in ELEMENTS)) or kinds == ["glue", "ORD"]


def _chooses(tokens: list[Token], at: int, end: int) -> bool:
    """Whether ``the last ring``, ``the sixth``, ``end of last chain`` stands here with a target behind."""
    kinds = [tokens[i].kind for i in range(at, min(at + 8, end))]
    if not kinds or "to" not in [tokens[i].kind for i in range(at, min(at + 22, end))]:
        return False
    for i, kind in enumerate(kinds[:4]):
        if kind in ("glue", "WORD", "of", "COMMA"):
            continue
        following = kinds[i + 1] if i + 1 < len(kinds) else ""
        if kind in ("last", "ORD", "each"):
            return following not in PICOTS
        # "..., and chain 4 ends in a join to the base of ring 1"
        return kind in ELEMENTS and following in ("NUM", "label") and bool(JOIN_WORDS & set(kinds[i + 2 :]))
    return False


def _one_change(tokens: list[Token], start: int, stop: int) -> Change | None:
    """One change from a stretch: what is chosen and which picot on the left of the target, what else is told behind it."""
    join = next((i for i in range(start, stop) if tokens[i].kind in JOIN_WORDS), start)
    left, place, rest = _target(tokens, start, join, stop)
    change = Change(span=Span(tokens[start].start, tokens[stop - 1].end))
    change.elements, change.passes, change.element_kind = _selector(tokens, start, left)
    change.start = _from_number(tokens, start, left)
    if change.start > 2:
        change.elements, change.passes = "later", ""
    change.which, change.by_passage = _in_passage(tokens, start, left)
    if change.by_passage and change.elements == "number" and change.passes == "first" and change.which > 1:
        change.passes = 1
    if change.elements == "last" and isinstance(change.passes, int):
        change.number, change.passes = change.passes, "last"
    change.size = next(
        (
            tokens[i - 1].kind
            for i in range(start + 1, left)
            if tokens[i].kind in (*ELEMENTS, "pronoun") and tokens[i - 1].kind in ("large", "small")
        ),
        "",
    )
    item = _item(tokens, start, left) or _item(tokens, rest, stop)
    if place is None and item is None and change.elements == "":
        return None
    if place is not None:
        change.places = [place]
        change.into = "lock" if place.spot in _LOCKED or tokens[join].kind == "lock_join" else "join"
    if item is None:
        change.item_told = False
        item = "last" if _to_the_first(place) and (change.passes not in ("", "first", 1)) else "first"
    change.item = item
    return change


def _target(tokens: list[Token], start: int, join: int, stop: int) -> tuple[int, Place | None, int]:
    """Where the target's words begin, the place, and where what follows it begins."""
    for i in [*range(join + 1, stop), *range(join - 1, start, -1)]:
        if tokens[i].kind != "to":
            continue
        probe = Cursor(tokens, i + 1, stop)
        place = read_place(probe)
        if place is not None:
            return i, place, probe.at
    probe = Cursor(tokens, join + 1, stop)
    if tokens[join].kind != "joining":
        place = read_place(probe)
        if place is not None and (place.element is not None or place.picot is not None):
            return join, place, probe.at
    return stop, None, stop


def _item(tokens: list[Token], start: int, stop: int) -> str | int | None:
    """The picot named in a stretch: first, last, middle, only, or a number; None where none is."""
    for i in range(start, stop):
        if tokens[i].kind not in PICOTS:
            continue
        for j in range(i - 1, max(start - 1, i - 4), -1):
            token = tokens[j]
            if token.kind == "ORD":
                return "first" if token.value == 1 else int(token.value)
            if token.kind in ("last", "middle", "only"):
                return str(token.kind)
        return "only"
    return None


def _to_the_first(place: Place | None) -> bool:
    if place is None:
        return False
    element = place.element
    return place.picot == 1 if element is None else element.which in (1, "first") or element.label in ("1", "A", "I")


def _from_number(tokens: list[Token], start: int, stop: int) -> int:
    """``from ring 3 onwards``, ``from the third ring on``: the number of the first that is meant; 2 where none is told."""
    for i in range(start, stop - 2):
        if tokens[i].kind != "from":
            continue
        if tokens[i + 1].kind in ELEMENTS and tokens[i + 2].kind == "NUM":
            return max(int(tokens[i + 2].value), 2)
        ordinal = next((j for j in range(i + 1, min(i + 3, stop - 1)) if tokens[j].kind == "ORD"), None)
        if ordinal is not None and tokens[ordinal + 1].kind in (*ELEMENTS, "pronoun"):
            return max(int(tokens[ordinal].value), 2)
    return 2


def _in_passage(tokens: list[Token], start: int, stop: int) -> tuple[int, bool]:
    """``from the second arm on the first ring``: which of its elements, and whether the number before is that of a passage."""
    passage = False
    for i in range(start, stop - 1):
        following = tokens[i + 1].kind
        if tokens[i].kind not in ("ORD", "last"):
            continue
        if not passage and following in ("WORD", "passage", "motif"):
            passage = True
        elif passage and tokens[i].kind == "ORD" and following in ELEMENTS:
            return int(tokens[i].value), True
    return 0, passage


def _selector(tokens: list[Token], start: int, stop: int) -> tuple[str, str | int, str]:
    """Which elements are spoken of: (all | later | last | number | "", pass, kind)."""
    selector: str = ""
    passes: str | int = ""
    kind = ""
    for i in range(start, stop):
        token = tokens[i]
        before = tokens[i - 1].kind if i > start else ""
        after = tokens[i + 1] if i + 1 < stop else None
        following = after.kind if after is not None else ""
        if token.kind in ELEMENTS:
            kind = kind or ELEMENTS[token.kind]
            if following == "NUM" and after is not None and selector == "":
                passes, selector = int(after.value), "number"
        elif token.kind in ("each", "all"):
            selector = selector or "all"
        elif token.kind == "but" and any(t.kind == "ORD" and t.value == 1 for t in tokens[i + 1 : i + 4]):
            # "every ring but the first", "all save the first"
            selector, passes = "later", ""
        elif (
            token.kind in ("after", "from")
            and any(t.kind == "ORD" for t in tokens[i + 1 : i + 5])
            and following not in PICOTS
        ) or (token.kind == "from" and following in ELEMENTS and i + 2 < stop and tokens[i + 2].kind == "NUM"):
            selector, passes = "later", ""
        elif token.kind == "last" and isinstance(passes, int) and following not in PICOTS:
            # "the eighth and last": its number is the number of all
            selector = "last"
        elif token.kind == "last" and following not in PICOTS and following not in ("small_picot",):
            if selector != "later":
                selector, passes = "last", "last"
        elif (
            token.kind == "ORD"
            and following not in PICOTS
            and selector in ("", "all")
            and before not in ("after", "from", "small", "long")
        ):
            if (
                after is not None
                and following in ("small", "long", "WORD")
                and i + 2 < stop
                and tokens[i + 2].kind in PICOTS
            ):
                continue
            passes, selector = int(token.value), "number"
    if selector == "number" and passes == 1:
        passes = "first"
    return selector, passes, kind
