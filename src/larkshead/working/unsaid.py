"""What a join is made into where the text says little or nothing: the neighbour, judged by what has been worked."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice
from typing import TYPE_CHECKING

from larkshead.model import ElementRef, Place
from larkshead.working.names import name_of
from larkshead.working.worked import WorkedElement, WorkedJoin

if TYPE_CHECKING:
    from larkshead.working.places import Places

_PREVIOUS_RING = ElementRef("ring", "previous")
_NEXT = Place(picot="next")
# How many rings back one with free picots is looked for.
_BACK = 8


class Unsaid:
    """Joins whose place is not said, or only in part (common practice, no source).

    A ring's first join goes to the last free picot on the near side of the ring before it; its last join, in the
    ring that ends a round, to the first picot of the first. A join on top, or a lock join of a round of chains,
    goes to the next picot of the round before. The last chain of a round of rings is locked to the base of the
    first ring; another to the one free picot of the ring it goes round, else to that ring's base.
    """

    def __init__(self, places: Places) -> None:
        self._places = places

    def resolve(self, join: WorkedJoin) -> None:
        """A join whose place is not said at all."""
        by = join.by
        if by is None or (not by.is_ring and join.item == len(by.step.work) - 1):
            self._fasten(join)
        elif by.is_ring:
            self._side(join, by)
        elif not self._next_of_round(join):
            join.reason = "the text does not say what the chain is joined to"

    # Rings

    def _side(self, join: WorkedJoin, by: WorkedElement) -> None:
        places = self._places
        marks = by.plan.marks
        if marks > 1 and join.position == marks and self._closing(join) and self._to_first(join, by):
            return
        free_seen = 0
        for element, _ in places.elements.previous(_PREVIOUS_RING, "ring", join):
            if element.index < places.scopes.stretches[-1].start:
                continue
            free = [picot for picot in islice(reversed(element.picots), 64) if not picot.uses][::-1]
            free_seen = free_seen or len(free)
            near = places.picots.near(join, element, free)
            if near is not None:
                join.picot = near
                join.candidates = len(places.picots.later_half(element, free))
                join.assumed = f"the last free picot of {name_of(element)} is meant"
                return
        if self._next_of_round(join) or self._hub(join, marks):
            return
        join.reason, join.candidates = "the text does not say which picot is meant", free_seen

    def _to_first(self, join: WorkedJoin, by: WorkedElement) -> bool:
        first = self.first_ring()
        if first is None or first is by or not first.picots or first.picots[0].uses:
            return False
        join.picot = first.picots[0]
        join.assumed = f"the first picot of {name_of(first)} is meant, which closes the round"
        return True

    def _hub(self, join: WorkedJoin, marks: int) -> bool:
        """Rings with nothing but one join all meet in the picot of the first."""
        first = self.first_ring()
        if marks != 1 or first is None or first is join.by or len(first.picots) != 1:
            return False
        join.picot = first.picots[0]
        join.assumed = f"the picot of {name_of(first)} is meant"
        return True

    def first_ring(self) -> WorkedElement | None:
        """The first ring of what is being worked, since the part began or the thread was last cut."""
        scopes = self._places.scopes
        for scope in (scopes.stretches[-1], scopes.current):
            found, low, high = self._places.record.within(scope, "ring")
            if high > low:
                return found[low]
        return None

    def _closing(self, join: WorkedJoin) -> bool:
        """Whether this is said for the end: outside every repeat, or for its last pass alone."""
        around = [frame for frame in self._places.scopes.frames if frame.last > 1]
        if not around:
            return True
        return id(join.step) in self._places.record.written.instead and all(f.number == f.last for f in around)

    # Chains and lock joins

    def _fasten(self, join: WorkedJoin) -> None:
        """A lock join, or a join at the end of a chain."""
        places = self._places
        ring = self._ring_before()
        here = places.scopes.stretches[-1]
        rings, low, high = places.record.within(here, "ring")
        if high == low and self._next_of_round(join):
            return
        if high - low >= 2 and self._closing(join):
            join.spot, join.element = "base", rings[low]
            join.assumed = f"the base of {name_of(rings[low])} is meant, which closes the round"
            return
        if places.elements.active is not None and self._next_of_round(join):
            return
        if ring is None:
            join.reason = "the text does not say what is joined to"
            return
        free = [picot for picot in islice(ring.picots, 64) if not picot.uses]
        start = max((frame.start for frame in places.scopes.frames if frame.last > 1), default=0)
        if len(free) > 1 and (ring.index < start or (high - low == 1 and places.picots.taken.get(id(ring)))):
            places.picots.take(join, ring, _NEXT)
            join.candidates = len(free)
            join.assumed = f"the next free picot of {name_of(ring)} is meant"
        elif len(free) == 1:
            join.picot = free[0]
            join.assumed = f"the free picot of {name_of(ring)} is meant"
        elif not free:
            join.spot, join.element = "base", ring
            join.assumed = f"the base of {name_of(ring)} is meant"
        else:
            join.reason, join.candidates = f"the text does not say which picot of {name_of(ring)} is meant", len(free)

    def _ring_before(self) -> WorkedElement | None:
        rings = self._places.record.lists["ring"]
        return rings[-1] if rings and rings[-1].index >= self._places.scopes.current.start else None

    def _next_of_round(self, join: WorkedJoin) -> bool:
        """The next picot of the round that joins go into, else of the round before."""
        places = self._places
        active = places.elements.active
        if isinstance(active, WorkedElement):
            if places.picots.take(join, active, _NEXT):
                join.assumed = f"the next picot of {name_of(active)} is meant"
            return join.picot is not None
        scope = active or places.scopes.before_this()
        if scope is None or scope.end is None:
            return False
        picot = places.next_of(scope, "element", "")
        if picot is None:
            return False
        join.picot = picot
        join.assumed = f"the next picot of {scope.name} is meant"
        places.note(join, scope)
        return True

    # Places said in part

    def element_unsaid(self, join: WorkedJoin, place: Place) -> None:
        """A picot is named, and not the element it belongs to."""
        if not self._places.try_each(join, self._elements(join, place), place) and not join.reason:
            join.reason = "the text does not say of which ring or chain"

    def _elements(self, join: WorkedJoin, place: Place) -> Iterator[tuple[WorkedElement, str]]:
        places, by = self._places, join.by
        rings = places.record.lists["ring"]
        hosts = places.elements.hosts
        if place.picot in ("next", "any", "free"):
            for ring in islice(reversed(rings), _BACK):
                if ring not in hosts and any(not picot.uses for picot in islice(ring.picots, 64)):
                    yield ring, ""
                    return
        first = self.first_ring()
        if by is not None and by.is_ring and place.picot in (1, "first") and first is not None and first is not by:
            # "... and to the first": what closes a round.
            marks = by.plan.marks
            if marks > 1 and join.position == marks:
                yield first, f"{name_of(first)} is meant"
        for element, assumed in places.elements.previous(_PREVIOUS_RING, "ring", join):
            yield element, assumed or f"{name_of(element)} is meant"
        if by is None or not by.is_ring:
            for element in islice(reversed(places.record.lists["chain"]), 1, 3):
                yield element, f"{name_of(element)} is meant"
        for element in (*islice(reversed(rings), 1, _BACK), *([first] if first is not None else [])):
            if element not in hosts:
                yield element, f"{name_of(element)} is meant"

    def that_picot(self, join: WorkedJoin, place: Place) -> bool:
        """``That picot``, where a ring with just one free picot has been worked since the last join, or nothing
        has been joined: the ring's. Where it is not the same picot again, a text often means this.
        """
        elements = self._places.elements
        for ring in islice(reversed(self._places.record.lists["ring"]), 2):
            if ring in elements.hosts:
                continue
            if ring.index < elements.worked_at_last or ring.index < self._places.scopes.current.start:
                return False
            free = [p for p in islice(ring.picots, 64) if not p.uses and not (place.size and p.mock)]
            free = [p for p in free if not place.size or (p.made is not None and p.made.size == place.size)]
            if len(free) == 1:
                join.picot, join.assumed = free[0], f"the free picot of {name_of(ring)} is meant"
                return True
            return elements.last is None and self._places.try_each(
                join, iter(((ring, f"{name_of(ring)} is meant"),)), Place(size=place.size)
            )
        return False

    def base(self, join: WorkedJoin) -> tuple[WorkedElement | None, str]:
        """The element whose base (or top) is meant where none is named: the first ring's to close a round, else the one
        just worked."""
        first = self.first_ring()
        ring = self._ring_before() or first
        if first is not None and ring is not first and self._closing(join):
            return first, f"{name_of(first)} is meant"
        if ring is None:
            every = self._places.record.lists["element"]
            ring = next((one for one in islice(reversed(every), 3) if one not in self._places.elements.hosts), None)
        return ring, f"{name_of(ring)} is meant" if ring is not None else ""
