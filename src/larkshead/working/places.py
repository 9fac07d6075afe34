"""What a join goes into: every place as said, resolved to one picot of one element, or to a spot."""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Iterator, Sequence
from itertools import islice
from operator import attrgetter

from larkshead.model import ElementRef, Pattern, Place
from larkshead.working.names import counted, name_in, name_of, ordinal
from larkshead.working.picots import Picots
from larkshead.working.record import Record, Scope, label_key
from larkshead.working.scopes import Scopes
from larkshead.working.unsaid import Unsaid
from larkshead.working.worked import Position, WorkedElement, WorkedJoin, WorkedPicot

Found = tuple[WorkedElement, str]
_index = attrgetter("index")
_WALKING = frozenset(("next", "any", "free", "corresponding", "opposite"))
# How many repeats outwards a group's own first ring is looked for.
_FRAMES = 8
# How many elements thrown off one another are looked through for a finished one.
_DEPTH = 64
_NO_ELEMENT = frozenset(("fabric", "loop"))


class Places:
    """Resolves the places of joins as they are made.

    ``hosts`` are the elements in work, outermost first; ``stood`` tells where the thread stands.
    """

    def __init__(self, pattern: Pattern, joined_counted: bool = False) -> None:
        self.pattern = pattern
        self.record = Record(pattern)
        self.scopes = Scopes(pattern)
        self.picots = Picots(self.record, joined_counted)
        self.unsaid = Unsaid(self)
        self.hosts: dict[WorkedElement, None] = {}
        self.stood: Position | WorkedElement = Position("start")
        self.last_element: WorkedElement | None = None
        self.last: WorkedJoin | None = None
        # Where the joins of this part last went in each other scope, by the kind of element.
        self._pointers: dict[tuple[int, str], WorkedElement] = {}
        self._walked: dict[int, WorkedPicot] = {}
        self.active: Scope | WorkedElement | None = None

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
        self._pointers.clear()
        self._walked.clear()
        self.active = None

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
            self.last = join
        elif join.spot:
            join.reason = ""
            self.last = join
        elif not join.reason:
            join.reason = "the text does not say which picot is meant"

    # A picot of an element

    def _picot(self, join: WorkedJoin, place: Place) -> None:
        scope = None
        called = self._part_is_element(place)
        if called is not None:
            self.try_each(join, self._candidates(called, None, join), place)
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
                scope = self._where_any(scope, _key(place.element))
        ref = place.element
        if place.picot == "same" and (ref is None or ref.which in (None, "same", "any")):
            if self._again(join):
                return
            if ref is None:
                join.reason = "no picot has been joined before this"
                return
        if ref is None:
            self._of_scope(join, scope, place, "element")
            return
        if scope is not None and ref.label is None and ref.which is None and place.picot in _WALKING:
            self._of_scope(join, scope, place, _key(ref))
            return
        if (
            ref.which in _WALKING
            and ref.label is None
            and place.picot is None
            and self._picot_by_picot(join, ref, scope)
        ):
            return
        self.try_each(join, self._candidates(ref, scope, join), place, scope)
        if join.picot is not None and ref.label is None and (ref.which == "first" or isinstance(ref.which, int)):
            self._of_this_pass(join, ref, scope, place)

    def _part_is_element(self, place: Place) -> ElementRef | None:
        """``The ring of row 3`` of a table whose rows are elements labelled by number: that element."""
        part, ref = place.part, place.element
        if part is None or not isinstance(part.which, int) or self.scopes.has_kind(part.kind):
            return None
        kind = ref.kind if ref is not None else ""
        if ref is not None and (ref.label is not None or isinstance(ref.which, int)):
            return None
        label = str(part.which)
        return ElementRef(kind, None, label) if (label, _family(ElementRef(kind))) in self.record.labelled else None

    def _where_any(self, scope: Scope, key: str) -> Scope:
        """A scope; or, where it is only told apart by cuts and has no such element, the last one before that has."""
        if scope.of_cut:
            for other in (scope, *islice(reversed(self.scopes.stretches[:-1]), 64)):
                _, low, high = self.record.within(other, key)
                if high > low:
                    return other
        return scope

    def _picot_by_picot(self, join: WorkedJoin, ref: ElementRef, scope: Scope | None) -> bool:
        """``The next chain``, no picot named, of chains with several: taken picot by picot where the passes of
        the repeat are as many as the picots.
        """
        scope = scope or (self.active if isinstance(self.active, Scope) else self.scopes.before_this())
        frames = self.scopes.frames
        if scope is None or scope.end is None or not frames:
            return False
        key = _key(ref)
        walk = self.record.walk(scope, key, join.place.size)
        _, low, high = self.record.within(scope, key)
        if walk is None or len(walk.picots) == high - low or frames[-1].last != len(walk.picots):
            return False
        join.picot = self.next_of(scope, key, join.place.size)
        join.assumed = f"the {len(walk.picots)} passes take the {len(walk.picots)} picots one after the other"
        self.note(join, scope)
        return True

    def _again(self, join: WorkedJoin) -> bool:
        if self.last is None:
            return False
        join.picot, join.spot, join.element = self.last.picot, self.last.spot, self.last.element
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
            self._point(self.scopes.current, element)
        if scope is None and join.kind != "attach" and (ref is None or ref.which in ("previous", "last")):
            return
        self.picots.taken[id(element)] = picot
        if scope is None and (join.kind == "attach" or element.index < self.scopes.stretches[-1].start):
            before = self.scopes.before_this()
            if before is not None and self._inside(before, element):
                scope = before
            else:
                self.active = element
        if scope is not None:
            self._point(scope, element)
            self._walked[id(scope)] = picot
            _, low, high = self.record.within(scope, "element")
            self.active = scope if high - low > 1 or scope.end is None else element

    def _point(self, scope: Scope, element: WorkedElement) -> None:
        self._pointers[id(scope), ""] = element
        self._pointers[id(scope), "ring" if element.is_ring else "chain"] = element

    def _of_scope(self, join: WorkedJoin, scope: Scope | None, place: Place, key: str) -> None:
        """A picot of a part (of its elements of one kind), no element named; or of whatever is being gone round."""
        which = place.picot
        if scope is None and place.part is None:
            if isinstance(self.active, WorkedElement) and (which in _WALKING or which is None):
                self.try_each(join, iter(((self.active, ""),)), place)
                return
            if which in _WALKING:
                scope = self.active if isinstance(self.active, Scope) else self.scopes.before_this()
        if scope is None or scope.end is None:
            self.unsaid.element_unsaid(join, place)
            return
        found, low, high = self.record.within(scope, key)
        if high - low == 1 and which not in _WALKING and which is not None:
            self.try_each(join, iter(((found[low], ""),)), place, scope)
            return
        if which == "middle":
            self.try_each(join, self._walk_elements(scope, key, "next", join), place, scope)
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
        return walk.after(self._walked.get(id(scope)) or self._stand(scope)) if walk is not None else None

    def _stand(self, scope: Scope) -> WorkedPicot | None:
        """The picot of a scope where the thread came out of it: the walk begins after that."""
        picot = self.position.picot
        if picot is not None and self.position.at == "tip" and self._inside(scope, picot.element):
            return picot
        return None

    @staticmethod
    def _inside(scope: Scope, element: WorkedElement) -> bool:
        return scope.start <= element.index and (scope.end is None or element.index < scope.end)

    def _of_this_pass(self, join: WorkedJoin, ref: ElementRef, scope: Scope | None, place: Place) -> None:
        """In a repeated group, ``first ring`` means the group's own, where the part's first is joined already."""
        picot = join.picot
        if scope is not None or picot is None or not picot.uses or not self.scopes.frames:
            return
        number = 1 if ref.which == "first" else int(ref.which or 0)
        for frame in islice(reversed(self.scopes.frames), _FRAMES):
            if picot.element.index >= frame.start:
                return
            found, low, high = self.record.within(Scope(frame.start, self.scopes.current.part), _key(ref))
            if 0 < number <= high - low and found[low + number - 1] not in self.hosts:
                assumed, join.picot = join.assumed, None
                if self.picots.take(join, found[low + number - 1], place) and join.picot and not join.picot.uses:
                    join.assumed = f"the {ordinal(number)} {ref.kind or 'element'} of this pass is meant"
                else:
                    join.picot, join.assumed, join.reason = picot, assumed, ""
                return

    # Elements

    def _candidates(self, ref: ElementRef, scope: Scope | None, join: WorkedJoin) -> Iterator[Found]:
        """The elements a name may mean, likeliest first, each with what is assumed by taking it. Yields nothing,
        and gives the join its reason, where there is none.
        """
        which = ref.which
        if ref.label is not None:
            return self._labelled(ref, ref.label, scope, join)
        key = _key(ref)
        if isinstance(which, int):
            if (str(which), _family(ref)) in self.record.labelled:
                return self._labelled(ref, str(which), scope, join)
            return self._numbered(ref, key, which, scope, join)
        if which == "same":
            return self._same(key, scope, join)
        if which == "first":
            return self._numbered(ref, key, 1, scope, join)
        if scope is None and which in (None, "previous", "last", "inside"):
            return self.previous(ref, key, join)
        if which in ("previous", "last", "inside", "second previous"):
            return self._back(ref, key, 2 if which == "second previous" else 1, scope, join)
        if scope is None:
            scope = self.active if isinstance(self.active, Scope) else self.scopes.before_this()
            if scope is None:
                return self._none_next(ref, key, join)
        return self._walk_elements(scope, key, str(which or "next"), join)

    def _labelled(self, ref: ElementRef, named: str, scope: Scope | None, join: WorkedJoin) -> Iterator[Found]:
        label = label_key(named)
        found = self.record.labelled.get((label, _family(ref))) or ()
        if not found and not label.isdigit():
            found = self.record.labelled.get((label, "")) or ()
        if found:
            where = scope or self.scopes.current
            low = by_index(found, where.start)
            high = by_index(found, where.end, low) if where.end is not None else len(found)
            if low == high:
                low, high = 0, len(found)
            # "Ring 2" called so is the ring with that label, not the second of those that have it.
            if isinstance(ref.which, int) and str(ref.which) != label and 0 < ref.which <= high - low:
                yield found[low + ref.which - 1], ""
            elif ref.which == "first":
                yield found[low], ""
            else:
                back = 2 if ref.which == "second previous" else 1
                finished = self._finished(found, high, low)
                yield found[finished - back if finished - back >= low else high - 1], ""
            return
        shown = named if len(named) > 1 else f"{ref.kind or 'element'} {named}"
        if label in self.record.written.labels:
            join.reason = f"{shown} is not worked yet"
            return
        number = re.fullmatch(r"([^\W\d_]*)\s*(\d{1,9})", label)
        if number:
            # R7, which no element is called: the seventh of what R stands for in the labels there are, mostly rings.
            kind = ref.kind or self.record.written.stems.get(number[1], "") or ("ring" if number[1] else "")
            ref = ElementRef(kind, int(number[2]), None, ref.size)
            yield from self._numbered(ref, _key(ref), int(number[2]), scope, join)
            return
        join.reason = f"nothing in this pattern is called {shown}"

    def _numbered(
        self, ref: ElementRef, key: str, number: int, scope: Scope | None, join: WorkedJoin
    ) -> Iterator[Found]:
        noun = f"{ref.size} {ref.kind or 'element'}".strip()
        where = scope or self.scopes.current
        stretch = self.scopes.stretches[-1]
        if scope is None and number == 1 and stretch.start > where.start:
            found, low, high = self.record.within(stretch, key)
            if high > low and found[low] not in self.hosts:
                yield found[low], ""
        found, low, high = self.record.within(where, key)
        if number < 0 and high - low >= -number:
            yield found[high + number], ""
            return
        if 0 < number <= high - low:
            yield found[low + number - 1], ""
            return
        if scope is not None:
            join.reason = f"{scope.name} has {counted(high - low, noun)}; there is no {ordinal(number)}"
            return
        if low and not self.unsaid.comes_later(ref, number):
            before = self.scopes.before_this()
            if before is not None:
                found, low, high = self.record.within(before, key)
                if 0 < number <= high - low:
                    element = found[low + number - 1]
                    yield element, f"{name_in(element, self.pattern, join.part)} is meant"
                    return
        elif self.unsaid.comes_later(ref, number):
            join.reason = f"{noun} {number} is not worked yet"
            return
        part = f" of {self.scopes.current.name}" if len(self.pattern.parts) > 1 else ""
        join.reason = f"there is no {noun} {number}{part}"

    def _same(self, key: str, scope: Scope | None, join: WorkedJoin) -> Iterator[Found]:
        pointer = self._pointers.get((id(scope), key)) if scope is not None else None
        if pointer is None and self.last is not None:
            into = self.last.into
            if into is not None and _fits(into, key) and (scope is None or self._inside(scope, into)):
                pointer = into
        by = join.by
        if by is not None and _fits(by, key) and scope is None and (by.picots or pointer is None):
            yield by, ""
        if pointer is not None:
            yield pointer, ""
        elif scope is None:
            yield from self.previous(ElementRef(key if key != "element" else "", "previous"), key, join)
        else:
            yield from self._walk_elements(scope, key, "next", join)

    def _back(self, ref: ElementRef, key: str, back: int, scope: Scope | None, join: WorkedJoin) -> Iterator[Found]:
        found, low, high = self.record.within(scope or self.scopes.current, key)
        high = self._finished(found, high, low)
        if high - back >= low:
            yield found[high - back], ""
        else:
            noun = f"{ref.size} {ref.kind or 'element'}".strip()
            join.reason = f"there is no such {noun} before this one"

    def previous(self, ref: ElementRef, key: str, join: WorkedJoin) -> Iterator[Found]:
        """The element before; and where that cannot be meant, the one before of the same sort."""
        found = self.record.lists.get(key) or []
        at = self._finished(found, len(found), 0) - 1
        if at < 0:
            noun = f"{ref.size} {ref.kind or 'element'}".strip()
            join.reason = f"no {noun} is worked before this one"
            return
        near = found[at]
        by = join.by
        if by is None or ref.size or not by.is_ring:
            yield near, self._elsewhere(near, join)
            if by is None or ref.size:
                return
        like = self._like(by, near, key)
        if by.is_ring:
            if like is not None and self._by_turns(by, near, like):
                yield like, f"the ring before on the same side is meant: {name_of(like)}"
            yield near, self._elsewhere(near, join)
        if like is not None and like is not near:
            yield like, f"{name_of(near)} has no such picot; the like one before it is meant: {name_of(like)}"
        for one in found[max(at - 2, 0) : at][::-1]:
            if one.side == by.side and one is not like:
                yield one, f"{name_of(near)} has no such picot; the one before it is meant: {name_of(one)}"

    def _finished(self, found: list[WorkedElement], high: int, low: int) -> int:
        """Where the finished elements of a list end: those still in work are left off (of very many, none is
        looked for).
        """
        for at in range(high, max(low, high - _DEPTH) - 1, -1):
            if at == low or found[at - 1] not in self.hosts:
                return at
        return low

    def _elsewhere(self, element: WorkedElement, join: WorkedJoin) -> str:
        if element.index >= self.scopes.current.start:
            return ""
        return f"{name_in(element, self.pattern, join.part)} is meant"

    def _like(self, by: WorkedElement, near: WorkedElement, key: str) -> WorkedElement | None:
        """The last element of the same sort that is worked on the same side, else the last of the same sort."""
        earlier = [one for one in self.record.like(by)[-5:][::-1] if one not in self.hosts and _fits(one, key)]
        here = self.scopes.current.start
        earlier = [one for one in earlier if one.index >= here]
        return next((one for one in earlier if one.side == by.side), earlier[0] if earlier else None)

    def _by_turns(self, by: WorkedElement, near: WorkedElement, like: WorkedElement) -> bool:
        """Whether rings are worked on two sides by turns with nothing but thread between: a ring is then joined
        to the one before it on its own side, not to its neighbour across the thread.
        """
        every = self.record.lists["element"]
        return (
            near.side != by.side == like.side
            and like is not near
            and every[by_index(every, by.index) - 1] is near
            and any(not picot.uses for picot in like.picots[-8:])
        )

    def _walk_elements(self, scope: Scope, key: str, which: str, join: WorkedJoin) -> Iterator[Found]:
        """The next element of a scope, round again at the end; elements of another sort that have no such picot
        are passed over.
        """
        found, low, high = self.record.within(scope, key)
        high = self._finished(found, high, low)
        count = high - low
        if not count:
            join.reason = f"{scope.name} has no {key}s"
            return
        pointer = self._pointers.get((id(scope), key if key in ("ring", "chain") else ""))
        at = -1
        if pointer is not None:
            at = by_index(found, pointer.index, low, high) - low
            if at + low < high and found[at + low] is not pointer:
                at -= 1
        if which in ("corresponding", "opposite") and join.by is not None and join.by.number <= count:
            at = join.by.number - 2
        for step in range(1, min(count, 8) + 1):
            element = found[low + (at + step) % count]
            yield element, ""
            if pointer is not None and self.record.plan(element.step).sort == self.record.plan(pointer.step).sort:
                return

    def _none_next(self, ref: ElementRef, key: str, join: WorkedJoin) -> Iterator[Found]:
        """``next`` with nothing worked before this part to go round: what the part itself began with."""
        _, low, high = self.record.within(self.scopes.current, key)
        if high == low or (ref.which == "next" and join.by is not None and join.place.part is None):
            join.reason = f"the next {ref.kind or 'element'} is not worked yet"
            return
        yield from self._walk_elements(self.scopes.current, key, str(ref.which), join)

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
        called = self._part_is_element(place)
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
                join.spot, join.element = spot, found_all[high - 1 - (found_all[high - 1] in self.hosts)]
            else:
                join.reason = "there are no two elements to join between"
        else:
            self._spot_of_element(join, spot, scope, called or place.element)

    def _spot_of_element(self, join: WorkedJoin, spot: str, scope: Scope | None, ref: ElementRef | None) -> None:
        if ref is None:
            if spot == "start" or scope is not None:
                ref = ElementRef("", "first")
            else:
                join.spot, join.element, join.assumed = spot, *self.unsaid.base(join)
                if join.element is None:
                    join.spot, join.reason = "", f"nothing is worked yet whose {spot} could be meant"
                return
        for element, assumed in self._candidates(ref, scope, join):
            join.spot, join.element, join.assumed = spot, element, assumed
            if scope is not None:
                self._point(scope, element)
                self.active = scope
            return

    def _mock_picot(self, join: WorkedJoin, scope: Scope | None) -> None:
        mocks = self.record.mocks
        ref = join.place.element
        if ref is not None:
            for element, assumed in self._candidates(ref, scope, join):
                if element.picots and element.picots[-1].mock:
                    join.picot, join.assumed = element.picots[-1], assumed
                    return
            join.reason = join.reason or "that element has no mock picot"
            return
        if scope is not None:
            mocks = [one for one in mocks if self._inside(scope, one.element)]
        number = join.place.picot
        at = number - 1 if isinstance(number, int) and number > 0 else 0 if number == "first" else -1
        if -len(mocks) <= at < len(mocks):
            join.picot = mocks[at]
        else:
            join.reason = f"there is no {ordinal(at + 1)} mock picot" if mocks else "no mock picot is made before this"


def _key(ref: ElementRef) -> str:
    """The list of the record an element is looked for in."""
    kind = ref.kind or "element"
    return f"{kind} {ref.size}" if ref.size in ("large", "small") else kind


def _family(ref: ElementRef) -> str:
    """Rings or chains of every sort; nothing where the kind is not said."""
    kind = ref.kind
    return "" if not kind else "ring" if kind.endswith("ring") else "chain"


def _fits(element: WorkedElement, key: str) -> bool:
    kind = key.removesuffix(" large").removesuffix(" small")
    return kind == "element" or kind == element.kind or element.kind.endswith(kind)


def by_index(found: Sequence[WorkedElement], index: int, low: int = 0, high: int | None = None) -> int:
    """Where the element at a place of the worked sequence stands in a list, or would stand."""
    return bisect_left(found, index, low, len(found) if high is None else high, key=_index)
