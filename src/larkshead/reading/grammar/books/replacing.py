"""Picots that are joins on some elements, told beside or after them: ``instead of working the first purl of each circle, fasten it
on to the last purl of the preceding``."""

from __future__ import annotations

from copy import deepcopy

from larkshead.model import Attach, Element, Join, Picot, Repeat, Step, Stitches
from larkshead.reading.grammar.books.spots import Spots
from larkshead.reading.grammar.books.told import Replaced
from larkshead.reading.grammar.going_on import sizes_of

_ELSEWHERE = frozenset({"round", "row", "centre"})
# How far back a passage is looked for that begins as the repeat does.
_REACH = 200


class Replacing(Spots):
    """Picots that are joins on some elements."""

    def replace(self, change: Replaced) -> None:
        """Lay a change on what it speaks of: the repeat told last, or the element at hand."""
        self.flush()
        self.understood += 1
        at = self._repeat_at()
        if at is None:
            element = self.last_element()
            if element is None or not self.change_work(element, change):
                self.notice("unread-text", "warning", "a change is told that could not be placed", change.span)
            return
        if not self._on_repeat(at, change):
            self.notice("unread-text", "warning", "a change is told that could not be placed", change.span)

    def _repeat_at(self) -> int | None:
        if self.repeated is None:
            return None
        for at in range(len(self.steps) - 1, -1, -1):
            if self.steps[at] is self.repeated:
                return at
        return None

    def _matches(self, steps: list[Step], change: Replaced) -> list[Element]:
        found = self.elements(steps)
        matching = [e for e in found if not change.kind or e.kind == change.kind] or found
        if change.item == ["only"] and len(matching) > 1:
            # ``the purl``: of the element that has but one
            single = [e for e in matching if sum(isinstance(i, Picot | Join) for i in e.work) == 1]
            matching = single or matching
        if change.size:
            sized = [e for e, s in zip(matching, sizes_of(matching), strict=True) if s == change.size]
            matching = sized or matching
        with_picots = [e for e in matching if any(isinstance(i, Picot | Join) for i in e.work)]
        return with_picots or matching

    def _on_repeat(self, at: int, change: Replaced) -> bool:
        repeat = self.steps[at]
        assert isinstance(repeat, Repeat)
        matching = self._matches(repeat.steps, change)
        if not matching:
            return False
        shape = shape_of(matching[0])
        before = [e for e in self.elements(self.steps[max(0, at - _REACH) : at]) if shape_of(e) == shape]
        which = change.which
        if (
            repeat in (self.placed, self.group)
            and isinstance(which, int)
            and len(matching) == 1
            and which <= (repeat.times or 0)
        ):
            # Of so many just named, this one.
            return self._on_pass(at, which, change)
        total = (repeat.times or 0) * len(matching) + len(before)
        if isinstance(which, int) and len(matching) > 1 and which <= len(matching):
            matching = [matching[which - 1]]
            which = "each"
        elif isinstance(which, int) and which == total and which > 1:
            which = "last"
        elif isinstance(which, int) and repeat.times and which > 1 and len(matching) == 1:
            return self._on_pass(at, which - len(before), change)
        if which == "last" and self.final is not None and self.final[0] is repeat:
            # The last pass stands apart already.
            return any(self.change_work(e, change) for e in self._matches(self.final[1], change)[-1:])
        if which == "last":
            return self._on_last(at, change)
        if self._relative(change) and not before and (repeat.times is None or repeat.times > 1):
            self._split_first(at, repeat)
            repeat = self.repeated or repeat
            matching = self._matches(repeat.steps, change) if which != "each" or len(matching) > 1 else matching
            if isinstance(change.which, int) and change.which <= len(matching):
                matching = [matching[change.which - 1]]
        done = False
        for element in matching:
            done = self.change_work(element, change) or done
        return done

    def _split_first(self, at: int, repeat: Repeat) -> None:
        """The first pass stands before the repeat as it is; threads are fastened on but once."""
        first = [self.copied(step) for step in repeat.steps if step is not self.leading]
        repeat.steps[:] = [
            s
            for s in repeat.steps
            if not isinstance(s, Attach)
            or not any(isinstance(x, Element) for x in repeat.steps[: repeat.steps.index(s)])
        ]
        if repeat.times is not None:
            repeat.times -= 1
        self.steps[at:at] = first

    def _on_last(self, at: int, change: Replaced) -> bool:
        repeat = self.steps[at]
        assert isinstance(repeat, Repeat)
        if repeat.times is None or repeat.times < 2:
            return any(self.change_work(e, change) for e in self._matches(repeat.steps, change)[-1:])
        return self._on_pass(at, repeat.times, change)

    def _on_pass(self, at: int, number: int, change: Replaced) -> bool:
        repeat = self.steps[at]
        assert isinstance(repeat, Repeat)
        if repeat.times is None or not 0 < number <= repeat.times:
            return False
        own = [self.copied(step) for step in repeat.steps]
        done = any(self.change_work(e, change) for e in self._matches(own, change)[-1:])
        if not done:
            return False
        behind = repeat.times - number
        laid: list[Step] = []
        if number > 1:
            repeat.times = number - 1
            laid.append(repeat)
        laid += own
        if not behind:
            self.final = (repeat, own)
        if behind:
            later = self.copied(repeat)
            if isinstance(later, Repeat):
                later.times = behind
            laid.append(later)
        self.steps[at : at + 1] = laid
        return True

    def _relative(self, change: Replaced) -> bool:
        """Whether the join goes to a neighbour that the first element has not."""
        for place in change.places:
            if place.spot in ("bare thread", "fabric", "between"):
                return False
            if place.part is not None and place.part.kind in _ELSEWHERE and place.part.which != "same":
                return False
            if place.element is not None and place.element.which == "corresponding":
                return False
        return True

    def change_work(self, element: Element, change: Replaced) -> bool:
        """The picots named are joins; one that is a join already is left, its place told anew."""
        done = False
        used: set[int] = set()
        for number, item in enumerate(change.item):
            at = _find(element, item, used, number, len(change.item))
            if at is None:
                continue
            used.add(at)
            place = change.places[min(number, len(change.places) - 1)] if change.places else None
            element.work[at] = Join([deepcopy(place)] if place is not None else [])
            done = True
        return done


def _find(element: Element, item: str | int, used: set[int], number: int, count: int) -> int | None:
    spots = [i for i, x in enumerate(element.work) if isinstance(x, Picot | Join)]
    picots = [i for i in spots if isinstance(element.work[i], Picot)]
    if not picots:
        return spots[0] if spots and item in ("only", "first", 1) else None
    if item == "middle":
        if count > 1:
            first = (len(spots) - count) // 2
            return spots[first + number] if 0 <= first + number < len(spots) else None
        return spots[len(spots) // 2]
    if item == "last":
        return picots[-1]
    if isinstance(item, int) and item < 0:
        return _behind(element, -item)
    if isinstance(item, int):
        return spots[item - 1] if 0 < item <= len(spots) else None
    return next((i for i in picots if i not in used), None)


def _behind(element: Element, stitches: int) -> int | None:
    """The picot or join that stands behind so many stitches."""
    for at, item in enumerate(element.work):
        if stitches == 0 and isinstance(item, Picot | Join):
            return at
        stitches -= item.count if isinstance(item, Stitches) else 0
    return None


def shape_of(element: Element) -> tuple[str, tuple[int, ...]]:
    return element.kind, tuple(i.count for i in element.work if isinstance(i, Stitches))
