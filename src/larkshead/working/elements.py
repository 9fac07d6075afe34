"""Which element is meant: by label, by number, or by where it stands to the one being worked."""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Iterator, Sequence
from itertools import islice
from operator import attrgetter

from larkshead.model import Element, ElementRef, Pattern, Place
from larkshead.working.names import counted, label_key, name_in, name_of, ordinal
from larkshead.working.record import Record, Scope
from larkshead.working.scopes import Scopes
from larkshead.working.weights import Weights
from larkshead.working.worked import WorkedElement, WorkedJoin
from larkshead.working.written import Written

Found = tuple[WorkedElement, str]
_index = attrgetter("index")
# How many elements thrown off one another are looked through for a finished one.
_DEPTH = 64
# How far ahead an element of the right sort is looked for in going round.
_AROUND = 8


class Elements:
    """Finds elements among those worked so far.

    ``hosts`` are the elements in work, outermost first; ``last`` is the join made last; ``active`` the scope or element
    that the joins of this part go round.
    """

    def __init__(self, pattern: Pattern, written: Written) -> None:
        self.pattern = pattern
        self.record = Record(written)
        self.scopes = Scopes(pattern)
        self.hosts: dict[WorkedElement, None] = {}
        self.last: WorkedJoin | None = None
        # Where the worked sequence had come to at that join.
        self.worked_at_last = 0
        self.active: Scope | WorkedElement | None = None
        # Where the joins of this part last went in each other scope (by where that starts), by the kind of element.
        self._pointers: dict[tuple[int, str], WorkedElement] = {}
        self._later: dict[tuple[int, str], int | None] | None = None

    def made(self, join: WorkedJoin) -> None:
        """A join is made."""
        self.last = join
        every = self.record.lists["element"]
        self.worked_at_last = every[-1].index + 1 if every else 0

    def begin_walks(self) -> None:
        """Going round earlier work begins anew, in a new part and after a cut."""
        self._pointers.clear()
        self.active = None

    def point(self, scope: Scope, element: WorkedElement) -> None:
        """A join of this part went into this element of a scope: the next one goes on from there."""
        self._pointers[scope.start, ""] = element
        self._pointers[scope.start, "ring" if element.is_ring else "chain"] = element

    def called_by_part(self, place: Place) -> ElementRef | None:
        """``The ring of row 3`` of a table whose rows are elements labelled by number: that element."""
        part, ref = place.part, place.element
        if part is None or not isinstance(part.which, int) or self.scopes.has_kind(part.kind):
            return None
        kind = ref.kind if ref is not None else ""
        if ref is not None and (ref.label is not None or isinstance(ref.which, int)):
            return None
        label = str(part.which)
        return ElementRef(kind, None, label) if (label, family_of(ElementRef(kind))) in self.record.labelled else None

    def where_any(self, scope: Scope, key: str) -> Scope:
        """A scope; or, where it is only told apart by cuts and has no such element, the last one before that has."""
        if scope.of_cut:
            for other in (scope, *islice(reversed(self.scopes.stretches), 1, 65)):
                _, low, high = self.record.within(other, key)
                if high > low:
                    return other
        return scope

    def candidates(self, ref: ElementRef, scope: Scope | None, join: WorkedJoin) -> Iterator[Found]:
        """The elements a name may mean, likeliest first, each with what is assumed by taking it. Yields nothing,
        and gives the join its reason, where there is none.
        """
        which = ref.which
        if ref.label is not None:
            return self._labelled(ref, ref.label, scope, join)
        key = key_of(ref)
        if isinstance(which, int):
            if (str(which), family_of(ref)) in self.record.labelled:
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
        return self.walk(scope, key, str(which or "next"), join)

    def _labelled(self, ref: ElementRef, named: str, scope: Scope | None, join: WorkedJoin) -> Iterator[Found]:
        label = label_key(named)
        found = self.record.labelled.get((label, family_of(ref))) or ()
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
                finished = self.finished(found, high, low)
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
            yield from self._numbered(ref, key_of(ref), int(number[2]), scope, join)
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
        if low and not self.comes_later(ref, number):
            before = self.scopes.before_this()
            if before is not None:
                found, low, high = self.record.within(before, key)
                if 0 < number <= high - low:
                    element = found[low + number - 1]
                    yield element, f"{name_in(element, self.pattern, join.part)} is meant"
                    return
        elif self.comes_later(ref, number):
            join.reason = f"{noun} {number} is not worked yet"
            return
        part = f" of {self.scopes.current.name}" if len(self.pattern.parts) > 1 else ""
        join.reason = f"there is no {noun} {number}{part}"

    def _same(self, key: str, scope: Scope | None, join: WorkedJoin) -> Iterator[Found]:
        pointer = self._pointers.get((scope.start, key)) if scope is not None else None
        if pointer is None and self.last is not None:
            into = self.last.into
            if into is not None and fits(into, key) and (scope is None or scope.holds(into)):
                pointer = into
        by = join.by
        if by is not None and fits(by, key) and scope is None and (by.picots or pointer is None):
            yield by, ""
        if pointer is not None:
            yield pointer, ""
        elif scope is None:
            yield from self.previous(ElementRef(key if key != "element" else "", "previous"), key, join)
        else:
            yield from self.walk(scope, key, "next", join)

    def _back(self, ref: ElementRef, key: str, back: int, scope: Scope | None, join: WorkedJoin) -> Iterator[Found]:
        found, low, high = self.record.within(scope or self.scopes.current, key)
        high = self.finished(found, high, low)
        if high - back >= low:
            yield found[high - back], ""
        else:
            noun = f"{ref.size} {ref.kind or 'element'}".strip()
            join.reason = f"there is no such {noun} before this one"

    def previous(self, ref: ElementRef, key: str, join: WorkedJoin) -> Iterator[Found]:
        """The element before; and where that cannot be meant, the one before of the same sort."""
        found = self.record.lists.get(key) or []
        at = self.finished(found, len(found), 0) - 1
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
        if by.is_ring:
            across = self._like(by, near, key) if near.side != by.side else None
            if across is not None and self._by_turns(by, near, across):
                yield across, f"the ring before on the same side is meant: {name_of(across)}"
            yield near, self._elsewhere(near, join)
        if not self._other(near, by):
            return
        like = self._like(by, near, key)
        if like is not None and like is not near:
            yield like, f"{name_of(near)} has no such picot; the like one before it is meant: {name_of(like)}"
        for one in found[max(at - 2, 0) : at][::-1]:
            if one.side == by.side and one is not like:
                yield one, f"{name_of(near)} has no such picot; the one before it is meant: {name_of(one)}"

    def finished(self, found: list[WorkedElement], high: int, low: int) -> int:
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
        earlier = [one for one in self.record.like(by)[-5:][::-1] if one not in self.hosts and fits(one, key)]
        here = self.scopes.current.start
        earlier = [one for one in earlier if one.index >= here]
        return next((one for one in earlier if one.side == by.side), earlier[0] if earlier else None)

    def _other(self, near: WorkedElement, by: WorkedElement) -> bool:
        """Whether an element is of another sort by design: on the other side, of another kind or size, thrown off,
        plain, or one of several such; and not a sister that has lost its picot.
        """
        return (
            near.side != by.side
            or not near.plan.marks
            or near.kind != by.kind
            or near.step.size != by.step.size
            or (near.thrown_from is None) != (by.thrown_from is None)
            or (self.record.sort(near) != self.record.sort(by) and len(self.record.like(near)) > 1)
        )

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

    def walk(self, scope: Scope, key: str, which: str, join: WorkedJoin) -> Iterator[Found]:
        """The next element of a scope, round again at the end. One of another sort that has no such picot is passed
        over where one of the sort before follows.
        """
        found, low, high = self.record.within(scope, key)
        high = self.finished(found, high, low)
        count = high - low
        if not count:
            join.reason = f"{scope.name} has no {key}s"
            return
        pointer = self._pointers.get((scope.start, key if key in ("ring", "chain") else ""))
        at = -1
        if pointer is not None:
            at = by_index(found, pointer.index, low, high) - low
            if at + low < high and found[at + low] is not pointer:
                at -= 1
        if which in ("corresponding", "opposite") and join.by is not None and join.by.number <= count:
            at = join.by.number - 2
        around = [found[low + (at + step) % count] for step in range(1, min(count, _AROUND) + 1)]
        yield around[0], ""
        if pointer is None:
            yield from ((one, "") for one in around[1:])
            return
        sort = self.record.sort(pointer)
        if self.record.sort(around[0]) != sort:
            yield from ((one, "") for one in around[1:] if one is not pointer and self.record.sort(one) == sort)

    def _none_next(self, ref: ElementRef, key: str, join: WorkedJoin) -> Iterator[Found]:
        """``next`` with nothing worked before this part to go round: what the part itself began with."""
        _, low, high = self.record.within(self.scopes.current, key)
        if high == low or (ref.which == "next" and join.by is not None and join.place.part is None):
            join.reason = f"the next {ref.kind or 'element'} is not worked yet"
            return
        yield from self.walk(self.scopes.current, key, str(ref.which), join)

    def comes_later(self, ref: ElementRef, number: int) -> bool:
        """Whether this part, as written, has so many elements of a kind, counting those not worked yet."""
        if self._later is None:
            self._later = {}
            for found in Weights(self.pattern).walk():
                if isinstance(found.step, Element):
                    count = found.times // max(self.pattern.parts[found.part].times, 1)
                    for key in {"", self.record.plan(found.step).family, found.step.kind}:
                        before = self._later.get((found.part, key), 0)
                        self._later[found.part, key] = None if found.open or before is None else before + count
        have = self._later.get((self.scopes.current.part, ref.kind), 0)
        return have is None or number <= have


def key_of(ref: ElementRef) -> str:
    """The list of the record an element is looked for in."""
    kind = ref.kind or "element"
    return f"{kind} {ref.size}" if ref.size in ("large", "small") else kind


def family_of(ref: ElementRef) -> str:
    """Rings or chains of every sort; nothing where the kind is not said."""
    kind = ref.kind
    return "" if not kind else "ring" if kind.endswith("ring") else "chain"


def fits(element: WorkedElement, key: str) -> bool:
    kind = key.removesuffix(" large").removesuffix(" small")
    return kind == "element" or kind == element.kind or element.kind.endswith(kind)


def by_index(found: Sequence[WorkedElement], index: int, low: int = 0, high: int | None = None) -> int:
    """Where the element at a place of the worked sequence stands in a list, or would stand."""
    return bisect_left(found, index, low, len(found) if high is None else high, key=_index)
