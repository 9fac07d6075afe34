"""What settles a repeat whose number is not told: the places that the passage before it offers.

``all round`` means as many passes as use every place of the class joined to. Places are counted on the pattern as written, every
repeat multiplied out: picots of rings or chains, or one to an element where the place names one picot of each.
"""

from __future__ import annotations

from larkshead.model import Attach, ByPass, Cut, Element, Join, LockJoin, MockPicot, Part, Picot, Place, Repeat, Step
from larkshead.records import dataclass, field

ALL_ROUND = "all round"


@dataclass(slots=True)
class _Round:
    """What one stretch between cuts offers: elements and picots of each kind."""

    elements: dict[str, int] = field(default_factory=dict)
    picots: dict[str, int] = field(default_factory=dict)
    mock: int = 0
    known: bool = True


@dataclass(slots=True)
class Settled:
    """A repeat settled: so many passes, because the passage before offers so many places."""

    repeat: Repeat
    passes: int
    places: int


def settle_rounds(parts: list[Part]) -> list[Settled]:
    """Give every repeat told to go all round its number where the stretch before it says so."""
    settled: list[Settled] = []
    before: _Round | None = None
    here = _Round()
    for part in parts:
        worked = False
        for step in part.steps:
            if isinstance(step, Repeat) and step.times is None and step.until == ALL_ROUND and before is not None:
                places = _places_used(step, before)
                if places is not None:
                    each, offered = places
                    if each and offered % each == 0 and offered:
                        step.times = offered // each
                        step.until = ""
                        settled.append(Settled(step, step.times, offered))
            if isinstance(step, Cut | MockPicot | Attach) and worked:
                here.mock += isinstance(step, MockPicot)
                before, here, worked = here, _Round(), False
            _count(step, 1, here)
            worked = worked or isinstance(step, Element | Repeat | ByPass)
        if worked:
            before, here = here, _Round()
    return settled


def _count(step: Step, times: int, here: _Round) -> None:
    if isinstance(step, ByPass):
        _count(step.step, times, here)
    elif isinstance(step, Repeat):
        if step.times is None:
            here.known = False
        for inner in step.steps:
            _count(inner, times * (step.times or 1), here)
    elif isinstance(step, Element):
        picots = sum(1 for item in step.work if isinstance(item, Picot))
        for kind in (_family(step.kind), ""):
            here.elements[kind] = here.elements.get(kind, 0) + times
            here.picots[kind] = here.picots.get(kind, 0) + times * picots


def _places_used(repeat: Repeat, before: _Round) -> tuple[int, int] | None:
    """How many places one pass joins to, and how many the stretch before offers of that class."""
    joins = [place for step in repeat.steps for place in _joined(step)]
    outward = [p for p in joins if _is_outward(p)]
    if not outward or not before.known:
        return None
    place = outward[0]
    kind = _family(place.element.kind) if place.element is not None else ""
    single = place.element is not None and (
        place.picot in ("middle", "only", "any") or isinstance(place.picot, int) or place.picot is None
    )
    offered = before.elements.get(kind, 0) if single else before.picots.get(kind, 0) + before.mock
    if not kind and not single and before.elements.get("chain") and before.picots.get("chain"):
        offered = before.picots["chain"]
    return len({id(p) for p in outward}), offered


def _joined(step: Step) -> list[Place]:
    if isinstance(step, LockJoin):
        return step.places
    if isinstance(step, Element):
        return [p for item in step.work if isinstance(item, Join) for p in item.places]
    if isinstance(step, ByPass):
        return _joined(step.step)
    return []


def _is_outward(place: Place) -> bool:
    """Not a neighbour of the same round, nor a base."""
    if place.spot != "picot" and place.spot != "mock picot":
        return False
    return (
        not (place.element is not None and place.element.which in ("previous", "first", 1, "same"))
        or place.part is not None
    )


def _family(kind: str) -> str:
    return "ring" if kind.endswith("ring") else "chain" if kind.endswith("chain") else kind
