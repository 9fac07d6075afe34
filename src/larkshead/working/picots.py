"""Which picot of an element is meant."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Sequence
from itertools import islice
from operator import attrgetter

from larkshead.model import Place
from larkshead.working.names import counted, name_of, ordinal
from larkshead.working.record import Record
from larkshead.working.worked import WorkedElement, WorkedJoin, WorkedPicot

# How far a free picot is looked for, so that a join to a ring of a million picots costs no more than another.
_AHEAD = 64
_number = attrgetter("number")
_place = attrgetter("place")
_position = attrgetter("position")


class Picots:
    """Chooses picots. ``joined_counted``: numbers that the pattern gives picots count the joined ones too;
    ``found_joined_counted`` is set when a number fits only so."""

    def __init__(self, record: Record, joined_counted: bool) -> None:
        self._record = record
        self.joined_counted = joined_counted
        self.found_joined_counted = False
        # The picot last taken of an element that joins go round.
        self.taken: dict[int, WorkedPicot] = {}
        self._by_size: dict[tuple[int, str], tuple[int, list[WorkedPicot]]] = {}

    def take(self, join: WorkedJoin, element: WorkedElement, place: Place) -> bool:
        """Choose the picot of an element that a place means; on failure the join has the reason."""
        own = element.picots
        if place.size:
            own = self._sized(join, element, place.size)
        which = place.picot
        if not own and which != "same":
            return self._none(join, element, which, place.size)
        if which == "last":
            join.picot = own[-1]
        elif which == "first":
            join.picot = own[0]
        elif isinstance(which, int):
            return self._numbered(join, element, own, which)
        else:
            chooser = _CHOOSERS.get(which or "", Picots._unnamed)
            return chooser(self, join, element, own)
        return True

    def _sized(self, join: WorkedJoin, element: WorkedElement, size: str) -> Sequence[WorkedPicot]:
        made, own = self._by_size.get((id(element), size), (-1, []))
        if made != len(element.picots):
            own = [picot for picot in element.picots if picot.made is not None and picot.made.size == size]
            if len(element.picots) > _AHEAD:
                self._by_size[id(element), size] = (len(element.picots), own)
        if own or any(picot.made is not None and picot.made.size for picot in islice(element.picots, _AHEAD)):
            return own
        if element.picots:
            join.assumed = f"no picot of {name_of(element)} is said to be {size}: any is taken for one"
        return element.picots

    def _none(self, join: WorkedJoin, element: WorkedElement, which: object, size: str) -> bool:
        name = name_of(element)
        if element.joins and which in (None, "only", "middle") and not size:
            # The place where it is joined stands for the picot it has not.
            shared = [one for one in islice(element.joins, 3) if one.picot is not None]
            if len(shared) == 1:
                join.picot = shared[0].picot
                join.assumed = f"{name} has no picot of its own: the picot it is joined to is meant"
                return True
        if self._to_come(element):
            join.reason = f"the picots of {name} are not made yet"
        elif size and element.picots:
            join.reason = f"{name} has no {size} picot"
        else:
            join.reason = f"{name} has no picots"
        return False

    def _to_come(self, element: WorkedElement) -> int:
        """Picots of an element in work that are not made yet."""
        return max(element.plan.picots - len(element.picots), 0)

    def _numbered(self, join: WorkedJoin, element: WorkedElement, own: Sequence[WorkedPicot], number: int) -> bool:
        if number < 0:
            if -number <= len(own):
                join.picot = own[number]
                return True
        elif not self.joined_counted and 0 < number <= len(own):
            join.picot = own[number - 1]
            return True
        elif number > 0 and self._at_place(join, element, own, number):
            return True
        name = name_of(element)
        if number > 0 and number <= len(element.picots) + self._to_come(element) and own is element.picots:
            join.reason = f"the {ordinal(number)} picot of {name} is not made yet"
        else:
            join.reason = f"{name} has {counted(len(own), 'picot')}; there is no {ordinal(number)}"
        return False

    def _at_place(self, join: WorkedJoin, element: WorkedElement, own: Sequence[WorkedPicot], number: int) -> bool:
        """The picot at a place counted with the joined picots."""
        if own is not element.picots:
            return False
        found = _at(own, number)
        if found is None:
            at = bisect_left(element.joins, number, key=_position)
            if at < len(element.joins) and element.joins[at].position == number:
                found = element.joins[at].picot
        if found is None:
            return False
        if not self.joined_counted:
            self.found_joined_counted = True
        if found.element is not element or found.number != number:
            join.assumed = f"the joined picots of {name_of(element)} are counted with the others"
        join.picot = found
        return True

    # Picots by words

    def _middle(self, join: WorkedJoin, element: WorkedElement, own: Sequence[WorkedPicot]) -> bool:
        places = places_of(element)
        joins = element.joins
        if len(own) == len(element.picots) and places % 2:
            middle = _at(own, (places + 1) // 2)
            if middle is not None:
                join.picot = middle
                return True
        if len(own) % 2:
            join.picot = own[len(own) // 2]
            if joins:
                join.assumed = f"the middle one of the free picots of {name_of(element)} is meant"
            return True
        join.reason = f"{name_of(element)} has {counted(len(own), 'picot')}; none of them is in the middle"
        join.candidates = 2
        return False

    def _only(self, join: WorkedJoin, element: WorkedElement, own: Sequence[WorkedPicot]) -> bool:
        if len(own) == 1:
            join.picot = own[0]
            return True
        free = _free(own)
        if len(free) == 1:
            join.picot = free[0]
            join.assumed = f"the one picot of {name_of(element)} that is free is meant"
            return True
        join.reason = f"{name_of(element)} has {counted(len(own), 'picot')}, not one"
        join.candidates = len(free)
        return False

    def _unnamed(self, join: WorkedJoin, element: WorkedElement, own: Sequence[WorkedPicot]) -> bool:
        """The element is named and the picot is not: its one picot, its one free one, or the nearest free one."""
        if len(own) == 1:
            join.picot = own[0]
            return True
        free = _free(own)
        name = name_of(element)
        join.candidates = len(free)
        if len(free) == 1:
            join.picot = free[0]
            join.assumed = f"the one picot of {name} that is free is meant"
            return True
        if not free:
            join.reason = f"every picot of {name} is joined already, and the text does not say which is meant"
            join.candidates = len(own)
            return False
        near = self.near(join, element, free)
        if near is not None:
            join.picot = near
            join.assumed = f"the free picot of {name} that lies nearest is meant"
            return True
        join.reason = f"{name} has {counted(len(free), 'free picot')}, and the text does not say which is meant"
        return False

    def near(self, join: WorkedJoin, element: WorkedElement, free: Sequence[WorkedPicot]) -> WorkedPicot | None:
        """The free picot of an earlier element that lies next to this one: on its later half, the last; where the
        join is the last thing that closes on to an element worked before all others, on its earlier half, the
        first.
        """
        by = join.by
        if by is None or by is element or by.is_ring != element.is_ring or not free:
            return None
        marks = by.plan.marks
        if marks > 1 and join.position == marks:
            half = [picot for picot in free if 2 * picot.place <= places_of(element)]
            return half[0] if half else None
        if marks > 2 and join.position != 1:
            return None
        half = self.later_half(element, free)
        return half[-1] if half else None

    @staticmethod
    def later_half(element: WorkedElement, free: Sequence[WorkedPicot]) -> list[WorkedPicot]:
        """The free picots past the middle of an element, or its only one."""
        places = places_of(element)
        return [picot for picot in free if 2 * picot.place > places + 1 or places == 1]

    def _next(self, join: WorkedJoin, element: WorkedElement, own: Sequence[WorkedPicot]) -> bool:
        """The picot after the one last taken of this element, round again at the end."""
        before = self.taken.get(id(element))
        at = -1
        if before is not None:
            at = bisect_right(own, before.number, key=_number) - 1
        count = len(own)
        ahead = (own[(at + step) % count] for step in range(1, min(count, _AHEAD) + 1))
        first = own[(at + 1) % count]
        picot = first if not first.uses else next((one for one in ahead if not one.uses), first)
        self.taken[id(element)] = join.picot = picot
        return True

    def _same(self, join: WorkedJoin, element: WorkedElement, own: Sequence[WorkedPicot]) -> bool:
        before = self.taken.get(id(element))
        if before is None:
            before = next((one.picot for one in reversed(element.joins) if one.picot is not None), None)
        if before is None:
            return self._unnamed(join, element, own) if own else self._none(join, element, None, "")
        join.picot = before
        return True

    def _corresponding(self, join: WorkedJoin, element: WorkedElement, own: Sequence[WorkedPicot]) -> bool:
        """The picot at the same place of its element as the join has in its own."""
        found = _at(own, join.position)
        if found is None:
            return self._unnamed(join, element, own)
        join.picot = found
        return True


def places_of(element: WorkedElement) -> int:
    """Picots and picot joins of an element, together."""
    return max(element.picots[-1].place if element.picots else 0, element.joins[-1].position if element.joins else 0)


def _at(own: Sequence[WorkedPicot], place: int) -> WorkedPicot | None:
    """The picot at a place counted with the joined picots."""
    at = bisect_left(own, place, key=_place)
    return own[at] if at < len(own) and own[at].place == place else None


def _free(own: Sequence[WorkedPicot]) -> list[WorkedPicot]:
    """The free picots; of very many, those near either end."""
    some = own if len(own) <= 2 * _AHEAD else [*own[:_AHEAD], *own[-_AHEAD:]]
    return [picot for picot in some if not picot.uses]


_Chooser = Callable[[Picots, WorkedJoin, WorkedElement, Sequence[WorkedPicot]], bool]
_CHOOSERS: dict[object, _Chooser] = {
    "middle": Picots._middle,
    "only": Picots._only,
    "free": Picots._unnamed,
    "next": Picots._next,
    "any": Picots._next,
    "same": Picots._same,
    "corresponding": Picots._corresponding,
    "opposite": Picots._corresponding,
}
