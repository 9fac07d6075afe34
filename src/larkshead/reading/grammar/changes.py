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
from larkshead.reading.source import Span

JOIN_WORDS = frozenset({"join", "joining", "folded_join", "lock_join", "fasten"})
CLAUSE_STOPS = frozenset({"STOP", "SEMI", "PARA", "END"})
# Words that put a picot in the role of the item that is changed.
_ITEM_CUES = frozenset({"instead", "by", "for", "where", "with", "this", "without", "from"})
_ITEM_NAMES = frozenset({"last", "middle", "only", "each", "small", "long"})


def read_changes(c: Cursor, end: int, element_kind: str = "") -> list[Change]:
    """The changes told between the position and token ``end``; the position moves to ``end`` where there are any."""
    changes: list[Change] = []
    for start, stop in _segments(c, end):
        change = _one_change(c, start, stop, element_kind)
        if change is not None:
            changes.append(change)
    if changes:
        c.at = end
    return changes


def clause_end(c: Cursor) -> int:
    """Where the clause at the position ends: at a full stop, a semicolon or a blank line."""
    at = c.at
    while at < c.limit and c.tokens[at].kind not in CLAUSE_STOPS:
        at += 1
    return at


def _segments(c: Cursor, end: int) -> list[tuple[int, int]]:
    """Stretches with one join each: a new one begins at the selector (``and the last ...``) before the next join."""
    joins = [i for i in range(c.at, end) if c.tokens[i].kind in JOIN_WORDS]
    if not joins:
        return []
    cuts = [c.at]
    for before, after in zip(joins, joins[1:], strict=False):
        cut = after
        for i in range(after, before, -1):
            if c.tokens[i].kind in ("COMMA", "glue") and c.tokens[i].text.lower() in (",", "and", "&"):
                cut = i
                break
        cuts.append(cut)
    return list(zip(cuts, [*cuts[1:], end], strict=True))


def _one_change(c: Cursor, start: int, stop: int, element_kind: str) -> Change | None:
    tokens = c.tokens
    join = next((i for i in range(start, stop) if tokens[i].kind in JOIN_WORDS), None)
    if join is None:
        return None
    change = Change(span=Span(tokens[start].start, tokens[stop - 1].end))
    item: str | int | None = None
    target: Place | None = None
    at = join + 1
    # The place stands behind the join, unless the changed picot stands there first ("joined by its first picot to ...").
    i = start
    while i < stop:
        if i == join:
            i += 1
            continue
        kind = tokens[i].kind
        if kind in ("to", "from") and i > join or (kind == "to" and i < join and target is None and _to_place(tokens, i)):
            probe = Cursor(tokens, i + 1, stop)
            place = read_place(probe)
            if place is not None and target is None and not _names_item(tokens, i, probe.at):
                target = place
                i = probe.at
                continue
        if kind in PICOTS and item is None and (target is None or i < join or _cued(tokens, i, start)):
            item = _item_name(tokens, i, start)
        i += 1
    if target is None:
        probe = Cursor(tokens, at, stop)
        place = read_place(probe)
        if place is not None and (item is None or place.element is not None):
            target = place
    selector, passes, kind = _selector(c, start, join, stop)
    change.elements, change.passes, change.element_kind = selector, passes, kind or element_kind
    if target is not None:
        change.places = [target]
    if item is None:
        to_first = target is not None and target.element is not None and target.element.which in (1, "first") or (
            target is not None and target.element is not None and target.element.label in ("1", "A", "I")
        )
        item = "last" if to_first and (passes not in ("", "first") or selector == "last") else "first"
    change.item = item
    change.into = "lock" if target is not None and target.spot in ("base", "between") else "join"
    return change


def _to_place(tokens: list, i: int) -> bool:  # type: ignore[type-arg]
    return i + 1 < len(tokens) and tokens[i + 1].kind in ("glue", "last", "previous", "first", "ORD", "middle", *PICOTS, *ELEMENTS)


def _names_item(tokens: list, start: int, end: int) -> bool:  # type: ignore[type-arg]
    return False


def _cued(tokens: list, i: int, start: int) -> bool:  # type: ignore[type-arg]
    return any(tokens[j].kind in _ITEM_CUES for j in range(max(start, i - 6), i))


def _item_name(tokens: list, i: int, start: int) -> str | int:  # type: ignore[type-arg]
    """The picot named at ``i``: first, last, a number."""
    for j in range(i - 1, max(start - 1, i - 4), -1):
        token = tokens[j]
        if token.kind == "ORD":
            return "first" if token.value == 1 else int(token.value)
        if token.kind in ("last", "middle", "only"):
            return str(token.kind)
        if token.kind in ("COMMA", "to"):
            break
    return "only"


def _selector(c: Cursor, start: int, join: int, stop: int) -> tuple[str, str | int, str]:
    """Which elements are spoken of: (all | later | last | number, pass, kind)."""
    tokens = c.tokens
    selector, passes, kind = "", "", ""
    number: str | int = ""
    for i in range(start, join):
        token = tokens[i]
        if token.kind in ELEMENTS and i < join:
            if not kind:
                kind = ELEMENTS[token.kind]
            before = tokens[i - 1] if i > start else None
            after = tokens[i + 1] if i + 1 < stop else None
            if before is not None and before.kind == "ORD" and selector == "":
                number = int(before.value)
            elif before is not None and before.kind == "last":
                selector = "last"
            elif after is not None and after.kind == "NUM":
                number = int(after.value)
        elif token.kind == "each":
            selector = selector or "all"
        elif token.kind in ("after", "from") and any(t.kind == "ORD" for t in tokens[i : i + 5]):
            selector = "later"
        elif token.kind == "last" and not kind and (i + 1 >= stop or tokens[i + 1].kind not in PICOTS):
            selector = "last"
        elif token.kind == "ORD" and not kind and (i + 1 >= stop or tokens[i + 1].kind not in PICOTS) and selector not in ("later",):
            number = int(token.value)
    if selector == "last":
        passes = "last"
    elif number != "" and selector != "later":
        passes, selector = number, selector or "number"
    return selector, passes, kind


