"""What a join goes into: every place as said, resolved to one picot of one element, or to a spot."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator
from itertools import islice

from larkshead.model import ElementRef, Pattern, Place
from larkshead.working.elements import Elements, Found, key_of
from larkshead.working.names import counted, ordinal
from larkshead.working.picots import Picots
from larkshead.working.record import Scope
from larkshead.working.unsaid import Unsaid
from larkshead.working.worked import Position, WorkedElement, WorkedJoin, WorkedPicot
from larkshead.working.written import Written

_WALKING = frozenset(("next", "any", "free", "corresponding", "opposite"))
# How many repeats outwards a group's own first ring is looked for.
_FRAMES = 8
_NO_ELEMENT = frozenset(("fabric", "loop"))


class Places:
    """Resolves the places of joins as they are made. ``stood`` tells where the thread stands."""

    def __init__(self, pattern: Pattern, written: Written, joined_counted: bool = False) -> None:
        self.pattern = pattern
        self.elements = Elements(pattern, written)
        self.record = self.elements.record
        self.scopes = self.elements.scopes
        self.picots = Picots(self.record, joined_counted)
        self.unsaid = Unsaid(self)
        self.stood: Position | WorkedElement = Position("start")
        self.last_element: WorkedElement | None = None
        self._walked: dict[int, WorkedPicot] = {}

    @property
    def position(self) -> Position:
        """Where the thread stands."""
        stood = self.stood
        return stood if isinstance(stood, Position) else stood.position

    def stand(self, at: Position | WorkedElement) -> None:
        """The thread stands here: at a place, or where an element ends."""
        self.stood = at
        if isinstance(at, WorkedElement):
            self.last_element = at

    def begin_walks(self) -> None:
        """Going round earlier work begins anew, in a new part and after a cut."""
        self.elements.begin_walks()
        self._walked.clear()

    def resolve(self, join: WorkedJoin) -> None:
        """Find what a join is made into; enter it with the picot it uses."""
        place = join.place
        if place.unsaid:
            self.unsaid.resolve(join)
        elif place.spot != "picot":
            self._spot(join)
        else:
            self._picot(join, place)
        picot = join.picot
        if picot is not None:
            join.reason = ""
            if join.kind != "attach":
                if picot.uses:
                    picot.uses.append(join)  # type: ignore[attr-defined]
                else:
                    picot.uses = [join]
            self.elements.made(join)
        elif join.spot:
            join.reason = ""
            self.elements.made(join)
        elif not join.reason:
            join.reason = "the text does not say which picot is meant"

    # A picot of an element

    def _picot(self, join: WorkedJoin, place: Place) -> None:
        scope = None
        called = self.elements.called_by_part(place)
        if called is not None:
            self.try_each(join, self.elements.candidates(called, None, join), place)
            return
        if place.part is not None:
            found = self.scopes.find(place.part)
            if isinstance(found, str):
                join.reason = found
                if not found:
                    join.spot = "motif"
                return
            scope = found if found is not self.scopes.current else None
            if scope is not None and place.element is not None and place.element.label is None:
                scope = self.elements.where_any(scope, key_of(place.element))
        ref = place.element
        if place.picot == "same" and (ref is None or ref.which in (None, "same", "any")):
            if (ref is None and self.unsaid.that_picot(join, place)) or self._again(join):
                return
            join.candidates, join.element = 0, None
            if ref is None:
                join.reason = "no picot has been joined before this"
                return
        if ref is None:
            self._of_scope(join, scope, place, "element")
            return
        if scope is not None and ref.label is None and ref.which is None and place.picot in _WALKING:
            self._of_scope(join, scope, place, key_of(ref))
            return
        if (
            ref.which in _WALKING
            and ref.label is None
            and place.picot is None
            and self._picot_by_picot(join, ref, scope)
        ):
            return
        self.try_each(join, self.elements.candidates(ref, scope, join), place, scope)
        if join.picot is not None and ref.label is None and (ref.which == "first" or isinstance(ref.which, int)):
            self._of_this_pass(join, ref, scope, place)

    def _picot_by_picot(self, join: WorkedJoin, ref: ElementRef, scope: Scope | None) -> bool:
        """``The next chain``, no picot named, of chains with several: taken picot by picot where the passes of
        the repeat are as many as the picots.
        """
        scope = scope or (
            self.elements.active if isinstance(self.elements.active, Scope) else self.scopes.before_this()
        )
        frames = self.scopes.frames
        if scope is None or scope.end is None or not frames:
            return False
        key = key_of(ref)
        walk = self.record.walk(scope, key, join.place.size)
        if walk is None or len(walk.picots) == walk.elements or frames[-1].last != len(walk.picots):
            return False
        join.picot = self.next_of(scope, key, join.place.size)
        join.assumed = f"the {len(walk.picots)} passes take the {len(walk.picots)} picots one after the other"
        self.note(join, scope)
        return True

    def _again(self, join: WorkedJoin) -> bool:
        if self.elements.last is None:
            return False
        join.picot, join.spot, join.element = (
            self.elements.last.picot,
            self.elements.last.spot,
            self.elements.last.element,
        )
        return True

    def try_each(self, join: WorkedJoin, candidates: Iterator[Found], place: Place, scope: Scope | None = None) -> bool:
        """Take the picot of the first element that has such a one; else keep the first reason why not."""
        reason, count = "", 0
        for element, assumed in candidates:
            join.assumed = ""
            if self.picots.take(join, element, place):
                join.element = None
                if assumed:
                    join.assumed = f"{assumed}; {join.assumed}" if join.assumed else assumed
                self.note(join, scope)
                return True
            if not reason:
                reason, count, join.element = join.reason, join.candidates, element
        join.assumed = ""
        join.reason, join.candidates = reason or join.reason, count
        return False

    def note(self, join: WorkedJoin, scope: Scope | None) -> None:
        """Remember where a join went, so that the next one can go on from there."""
        picot = join.picot
        if picot is None:
            return
        element = picot.element
        ref = join.place.element
        if scope is None and ref is not None and ref.which in _WALKING:
            self.elements.point(self.scopes.current, element)
        if scope is None and join.kind != "attach" and (ref is None or ref.which in ("previous", "last")):
            return
        self.picots.taken[id(element)] = picot
        if scope is None and (join.kind == "attach" or element.index < self.scopes.stretches[-1].start):
            before = self.scopes.before_this()
            if before is not None and before.holds(element):
                scope = before
            else:
                self.elements.active = element
        if scope is not None:
            self.elements.point(scope, element)
            self._walked[scope.start] = picot
            _, low, high = self.record.within(scope, "element")
            self.elements.active = scope if high - low > 1 or scope.end is None else element

    def _of_scope(self, join: WorkedJoin, scope: Scope | None, place: Place, key: str) -> None:
        """A picot of a part (of its elements of one kind), no element named; or of whatever is being gone round."""
        which = place.picot
        if scope is None and place.part is None:
            if isinstance(self.elements.active, WorkedElement) and (which in _WALKING or which is None):
                self.try_each(join, iter(((self.elements.active, ""),)), place)
                return
            if which in _WALKING:
                scope = self.elements.active if isinstance(self.elements.active, Scope) else self.scopes.before_this()
        if scope is None or scope.end is None:
            self.unsaid.element_unsaid(join, place)
            if which in ("opposite", "corresponding") and join.picot is None and place.part is None:
                join.spot, join.element, join.candidates = "motif", None, 0
                join.assumed = "it lies opposite, in work that is not told here"
            return
        found, low, high = self.record.within(scope, key)
        if high - low == 1 and which not in _WALKING and which is not None:
            self.try_each(join, iter(((found[low], ""),)), place, scope)
            return
        if which == "middle":
            self.try_each(join, self.elements.walk(scope, key, "next", join), place, scope)
            return
        walk = self.record.walk(scope, key, place.size)
        if walk is None:
            join.reason = f"{scope.name} has no picots"
            return
        if which == "first":
            join.picot = walk.picots[0]
        elif which == "last":
            join.picot = walk.picots[-1]
        elif isinstance(which, int):
            if not -len(walk.picots) <= which <= len(walk.picots) or which == 0:
                join.reason = f"{scope.name} has {counted(len(walk.picots), 'picot')}; there is no {ordinal(which)}"
                return
            join.picot = walk.picots[which - 1 if which > 0 else which]
        elif which == "only" and len(walk.picots) > 1:
            join.reason, join.candidates = f"{scope.name} has {len(walk.picots)} picots, not one", len(walk.picots)
            return
        else:
            join.picot = self.next_of(scope, key, place.size)
        self.note(join, scope)

    def next_of(self, scope: Scope, key: str, size: str) -> WorkedPicot | None:
        """The picot of a finished scope after the one last joined to, round again at the end."""
        walk = self.record.walk(scope, key, size)
        return walk.after(self._walked.get(scope.start) or self._stand(scope)) if walk is not None else None

    def _stand(self, scope: Scope) -> WorkedPicot | None:
        """The picot of a scope where the thread came out of it: the walk begins after that."""
        picot = self.position.picot
        if picot is not None and self.position.at == "tip" and scope.holds(picot.element):
            return picot
        return None

    def _of_this_pass(self, join: WorkedJoin, ref: ElementRef, scope: Scope | None, place: Place) -> None:
        """In a repeated group, ``first ring`` means the group's own, where the part's first is joined already."""
        picot = join.picot
        if scope is not None or picot is None or not picot.uses or not self.scopes.frames:
            return
        number = 1 if ref.which == "first" else int(ref.which or 0)
        for frame in islice(reversed(self.scopes.frames), _FRAMES):
            if picot.element.index >= frame.start:
                return
            found, low, high = self.record.within(Scope(frame.start, self.scopes.current.part), key_of(ref))
            if 0 < number <= high - low and found[low + number - 1] not in self.elements.hosts:
                assumed, join.picot = join.assumed, None
                if self.picots.take(join, found[low + number - 1], place) and join.picot and not join.picot.uses:
                    join.assumed = f"the {ordinal(number)} {ref.kind or 'element'} of this pass is meant"
                else:
                    join.picot, join.assumed, join.reason = picot, assumed, ""
                return

    # Spots that are no picot

    def _spot(self, join: WorkedJoin) -> None:
        place = join.place
        spot = place.spot
        if spot in _NO_ELEMENT:
            join.spot = spot
            return
        if spot == "join":
            if not self._again(join):
                join.spot = spot
            return
        scope = None
        called = self.elements.called_by_part(place)
        if called is None and place.part is not None:
            found = self.scopes.find(place.part)
            if isinstance(found, str):
                join.reason, join.spot = found, "" if found else "motif"
                return
            scope = found if found is not self.scopes.current else None
        if spot == "mock picot":
            self._mock_picot(join, scope)
        elif spot == "bare thread":
            if self.record.bare_within(scope or Scope(0, 0)):
                join.spot = spot
            else:
                join.reason = f"no bare thread is left {f'in {scope.name}' if scope else 'before this'}"
        elif spot == "between" and place.element is None:
            found_all, low, high = self.record.within(scope or self.scopes.current, "element")
            if high - low >= 2:
                join.spot, join.element = spot, found_all[high - 1 - (found_all[high - 1] in self.elements.hosts)]
            else:
                join.reason = "there are no two elements to join between"
        else:
            self._spot_of_element(join, spot, scope, called or place.element)

    def _spot_of_element(self, join: WorkedJoin, spot: str, scope: Scope | None, ref: ElementRef | None) -> None:
        if ref is None:
            mocks = self.record.mocks
            if spot == "start" or scope is not None:
                ref = ElementRef("", "first")
            elif spot == "top" and mocks and not mocks[-1].uses:
                join.picot, join.assumed = mocks[-1], "the tip of the mock picot is meant"
                return
            else:
                join.spot, join.element, join.assumed = spot, *self.unsaid.base(join)
                if join.element is None:
                    join.spot, join.reason = "", f"nothing is worked yet whose {spot} could be meant"
                return
        for element, assumed in self.elements.candidates(ref, scope, join):
            join.spot, join.element, join.assumed = spot, element, assumed
            if scope is not None:
                self.elements.point(scope, element)
                self.elements.active = scope
            return

    def _mock_picot(self, join: WorkedJoin, scope: Scope | None) -> None:
        mocks = self.record.mocks
        ref = join.place.element
        if ref is not None:
            for element, assumed in self.elements.candidates(ref, scope, join):
                if element.picots and element.picots[-1].mock:
                    join.picot, join.assumed = element.picots[-1], assumed
                    return
            join.reason = join.reason or "that element has no mock picot"
            return
        low, high = 0, len(mocks)
        if scope is not None:
            low = bisect_left(mocks, scope.start, key=_index_of)
            high = bisect_left(mocks, scope.end, low, key=_index_of) if scope.end is not None else high
        number = join.place.picot
        at = low if number == "first" else low + number - 1 if isinstance(number, int) and number > 0 else high - 1
        if low <= at < high:
            join.picot = mocks[at]
        elif low < high:
            join.reason = f"there is no {ordinal(at - low + 1)} mock picot"
        else:
            join.reason = f"no mock picot is made {f'in {scope.name}' if scope else 'before this'}"


def _index_of(picot: WorkedPicot) -> int:
    return picot.element.index
