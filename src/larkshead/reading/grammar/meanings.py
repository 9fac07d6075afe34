"""What an entry of the pattern's own list means: ``sp  space, 4 mm of bare thread``, ``(+) = picot the first time,
then join``.

The explanation is read with the convention's words; what comes out is a kind of token and what it carries, so that the
grammar meets the form as if the convention had known it.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from larkshead.model import Beads, Join, Length, Picot, Place, WorkItem
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.lengths import read_length
from larkshead.reading.grammar.places import ELEMENTS, PICOTS, places_between
from larkshead.reading.grammar.tokens import Token
from larkshead.records import dataclass, field

JOINS = {"join": "picot", "joining": "picot", "folded_join": "folded", "lock_join": "lock"}
_ADJECTIVES = {"small": "small", "large": "large", "long": "long"}
_PASS_WORDS = frozenset({"ORD", "last", "each", "all", "after", "other", "again", "once"})
# What an abbreviation can stand for, besides elements, picots, joins and beads.
_PLAIN = frozenset(
    {
        "double_stitch",
        "half_stitch",
        "first_half",
        "second_half",
        "mock_picot",
        "close",
        "reverse_work",
        "no_turn",
        "bare_thread",
        "space",
        "leave",
        "switch",
        "shuttle",
        "ball",
        "tail",
        "thread",
        "cut",
        "attach",
        "hide_ends",
        "round",
        "row",
        "motif",
        "step",
        "repeat",
        "continuous",
        "half_closed",
        "separated",
        "previous",
        "next",
        "middle",
        "centre",
        "times",
    }
)


@dataclass(slots=True)
class Meaning:
    """What a form of the pattern's own carries besides its kind.

    ``items`` what it puts into the work; ``passes`` what it is instead on some passes (first, last, a number);
    ``place`` where its joins go; ``length`` of a picot or of bare thread; ``size`` and ``label`` of an element;
    ``unturned``
    when the work is not turned about it; ``steps`` the tokens of the steps it stands for.
    """

    items: tuple[WorkItem, ...] = ()
    passes: dict[str | int, tuple[WorkItem, ...]] = field(default_factory=dict)
    place: Place | None = None
    length: Length | None = None
    size: str = ""
    label: str | None = None
    unturned: bool = False
    same_size: bool = False


@dataclass(slots=True)
class Varying:
    """A work item that is another on some passes of the repeat it stands in; none of the model, gone once a text is
    read.
    """

    item: WorkItem
    passes: dict[str | int, WorkItem]


def interpret(tokens: list[Token], form: str) -> tuple[str, Any] | None:
    """The kind of token a form is by its explanation, and what it carries; None where no word of the trade explains
    it.
    """
    kinds = [t.kind for t in tokens]
    if "second_side" in kinds:
        return "second_side", form
    picot = _first(kinds, PICOTS)
    join = _first(kinds, JOINS)
    bead = _first(kinds, ("bead",))
    if bead is not None and bead <= (_first(kinds, _PLAIN | set(ELEMENTS)) or len(kinds)):
        return _beaded(tokens, kinds, picot, join, bead)
    other = _made_picot(kinds)
    if other is not None and join is not None and not _denied(tokens, other):
        varying = _varying(tokens, other, join)
        if varying is not None:
            return "ITEM", varying
    if other is not None and join is None and "+" in form:
        # "(+) is a picot the first time": a join by its sign, and a picot on the pass told.
        which = _pass(tokens)
        if which is not None and which[0] != "" and not which[1]:
            return "ITEM", Meaning(items=(Join(),), passes={which[0]: (Picot(PICOTS[kinds[other]]),)})  # type: ignore[arg-type]
    if not form[0].isalnum() and {"switch", "shuttle"} & set(kinds):
        # A mark in the counts for the other shuttle: the other side of a split element.
        return "second_side", form
    first = _first(kinds, _PLAIN | set(ELEMENTS) | set(PICOTS) | set(JOINS) | {"bead", "element"})
    if first is None:
        return _one_like_it(tokens, form)
    kind = kinds[first]
    if (
        kind in ("double_stitch", "ring")
        and kinds[first + 1 : first + 2] == ["of"]
        and kinds[first + 2 : first + 3] in (["first_half"], ["half_stitch"])
    ):
        return "josephine_ring", None
    if kind in ELEMENTS:
        return _element(tokens, kinds, first)
    if kind in PICOTS and form == "+" and ({"last", "previous", "next", "ORD"} & set(kinds[:first]) or "of" in kinds):
        # "+ = last p of the ring before": where it joins.
        return "ITEM", Meaning(items=(Join(places_between(tokens, 0, len(tokens))[:1]),))
    if kind in PICOTS:
        return _marked(form, Picot(_picot_size(kinds, first), _length_in(tokens)), kind)
    if kind in JOINS:
        return _joined(form, tokens, first)
    if kind in ("space", "bare_thread", "leave"):
        return "bare_thread", Meaning(length=_length_in(tokens))
    if kind == "element":
        return ("SEMI", form) if not form[0].isalnum() else None
    if kind == "bead":
        return _beaded(tokens, kinds, picot, join, first)
    return kind, None


def _first(kinds: list[str], wanted: Any) -> int | None:
    return next((i for i, kind in enumerate(kinds) if kind in wanted), None)


def _made_picot(kinds: list[str]) -> int | None:
    """The first picot that is made, and not the place a join goes to: ``join to the last p``."""
    return next((i for i, kind in enumerate(kinds) if kind in PICOTS and "to" not in kinds[max(0, i - 3) : i]), None)


def _denied(tokens: list[Token], at: int) -> bool:
    return at > 0 and tokens[at - 1].kind == "deny"


def _picot_size(kinds: list[str], at: int) -> Any:
    told = PICOTS[kinds[at]]
    if told:
        return told
    for kind in kinds[:at]:
        if kind in ("small", "long", "large"):
            return "small" if kind == "small" else "long"
    return ""


def _length_in(tokens: list[Token]) -> Length | None:
    c = Cursor(tokens)
    while c.at < c.limit:
        if c.kind() in ("NUM", "FRACTION", "about", "ORD"):
            length = read_length(c)
            if length is not None:
                return length
        c.next()
    return None


def _place_in(tokens: list[Token], start: int) -> Place | None:
    c = Cursor(tokens, start)
    while c.at < c.limit and c.kind() in ("WORD", "glue", "to", "this", "OPEN", "each", "all", "double_stitch", "then"):
        c.next()
    found = places_between(tokens, c.at, len(tokens))
    return found[0] if found else None


def _marked(form: str, picot: Picot, kind: str) -> tuple[str, Any]:
    """A picot of its kind: written with a letter, or with a mark between the counts."""
    if form[0].isalpha() and form[-1].isalpha():
        kind = {"": "picot", "small": "small_picot", "long": "long_picot"}[picot.size]
        return kind, Meaning(length=picot.length) if picot.length else None
    return _mark_kind(form), Meaning(items=(picot,))


def _mark_kind(form: str) -> str:
    return "DASH" if all(c in "-–—−‐‑‒" for c in form) else "ITEM"


def _joined(form: str, tokens: list[Token], at: int) -> tuple[str, Any]:
    place = _place_in(tokens, at + 1)
    kind = tokens[at].kind
    kinds = [t.kind for t in tokens]
    same_size = "size" in kinds and "same" in kinds
    if form[0].isalpha():
        return kind, Meaning(place=place, same_size=same_size) if place else None
    return "ITEM", Meaning(items=(Join([], JOINS[kind]),), place=place)  # type: ignore[arg-type]


def _element(tokens: list[Token], kinds: list[str], at: int) -> tuple[str, Any]:
    kind = kinds[at]
    if kind == "ring" and "thrown" in kinds:
        kind = "thrown_ring"
    size = next((k for k in kinds[:at] if k in ("small", "large")), "")
    if size or "no_turn" in kinds:
        return kind, Meaning(size=size, unturned="no_turn" in kinds)
    return kind, None


def _beaded(tokens: list[Token], kinds: list[str], picot: int | None, join: int | None, bead: int) -> tuple[str, Any]:
    """``bead slid up between two ds``, ``picot with two beads``, ``bead hooked over the picot first, then join``."""
    count = 1
    for i in range(max(0, bead - 3), bead):
        if kinds[i] == "NUM":
            count = int(tokens[i].value)
    for i in range(bead, len(tokens)):
        if (
            kinds[i] in ("with", "WORD")
            and i + 1 < len(kinds)
            and kinds[i + 1] == "NUM"
            and i + 2 < len(kinds)
            and kinds[i + 2] == "bead"
        ):
            count = int(tokens[i + 1].value)
    if join is not None:
        return "ITEM", Meaning(items=(Join([], JOINS[kinds[join]], min(count, 99)),))  # type: ignore[arg-type]
    if picot is not None and not _denied(tokens, picot):
        return "ITEM", Meaning(items=(Picot(_picot_size(kinds, picot), beads=min(count, 99)),))
    if count == 1:
        return "bead", None
    return "ITEM", Meaning(items=(Beads(min(count, 99)),))


def _varying(tokens: list[Token], picot: int, join: int) -> Meaning | None:
    """A picot on some passes and a join on the others: ``a p on ring one, on all others a join to ...``."""
    if not any(
        t.kind in _PASS_WORDS or (t.kind in ELEMENTS and i + 1 < len(tokens) and tokens[i + 1].kind == "NUM")
        for i, t in enumerate(tokens)
    ):
        return None
    cut = max(picot, join)
    while cut > min(picot, join) + 1 and tokens[cut - 1].kind not in ("COMMA", "SEMI", "STOP"):
        cut -= 1
    if cut == min(picot, join) + 1:
        cut = max(picot, join)
    place = _place_in(tokens[: cut if join < cut else len(tokens)], join + 1)
    made: dict[str, WorkItem] = {
        "picot": Picot(PICOTS[tokens[picot].kind]),  # type: ignore[arg-type]
        "join": Join([place] if place else [], JOINS[tokens[join].kind]),  # type: ignore[arg-type]
    }
    order = ("picot", "join") if picot < join else ("join", "picot")
    said = {order[0]: _pass(tokens[:cut]), order[1]: _pass(tokens[cut:])}
    for name, other in (order, order[::-1]):
        which, plain = said[name], said[other]
        if which is not None and not which[1] and (plain is None or plain[1] or plain[0] != which[0]):
            return Meaning(items=(made[other],), passes={which[0]: (made[name],)})
    for name, other in (order, order[::-1]):
        which = said[name]
        if which is not None and which[1] and which[0] != "":
            # "on every ring but the sixth, which ...": the other stands on the pass left out.
            return Meaning(items=(made[name],), passes={which[0]: (made[other],)})
    return None


def _pass(tokens: list[Token]) -> tuple[str | int, bool] | None:
    """The pass a clause speaks of, and whether it is the one left out of all."""
    every = False
    which: str | int = ""
    for i, token in enumerate(tokens):
        after = tokens[i + 1] if i + 1 < len(tokens) else None
        if token.kind in ("each", "all", "other"):
            every = True
        elif token.kind == "after":
            return "", True
        elif token.kind in ("ORD", "last") and (after is None or after.kind not in PICOTS):
            if which == "":
                which = token.value if token.kind == "ORD" else "last"
        elif token.kind in ELEMENTS and after is not None and after.kind == "NUM" and which == "":
            which = int(after.value)
        elif token.kind in JOINS:
            break
    if which == 1:
        which = "first"
    return (which, every) if which != "" or every else None


def _one_like_it(tokens: list[Token], form: str) -> tuple[str, Any] | None:
    """``-- is a long one``: a picot, by the size told."""
    size = next((t.kind for t in tokens if t.kind in _ADJECTIVES), None)
    if size is None or form[0].isalnum():
        return None
    return _mark_kind(form), Meaning(items=(Picot("small" if size == "small" else "long"),))


def copies(meaning: Meaning) -> list[WorkItem | Varying]:
    """Fresh work items of what a form stands for, its place in its joins."""
    out: list[WorkItem | Varying] = []
    for i, item in enumerate(meaning.items):
        fresh = copy_item(item, meaning.place)
        others = {
            which: copy_item(items[i], meaning.place) for which, items in meaning.passes.items() if i < len(items)
        }
        out.append(Varying(fresh, others) if others else fresh)
    return out


def copy_item(item: WorkItem, place: Place | None = None) -> WorkItem:
    """A work item of its own, like the one given."""
    if isinstance(item, Join):
        return Join([replace(p) for p in item.places] or ([replace(place)] if place else []), item.kind, item.beads)
    return replace(item)
