"""Sisters: the elements an element is judged against.

Two written elements of one part are sisters when they stand at the same place of a repeat (the element and what
replaces it on a named pass; a first or last pass written out and the block that repeats it), when they carry the same
label, or when they stand at like places of a round written out element by element, where the sequence of kinds comes
round again. Elements that the text tells apart (large and small, corner and side) are no sisters. Joins and picots
count as alike.

Everything is computed once, in time that grows with the pattern as written.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from operator import eq

from larkshead.linting.written import WrittenElement
from larkshead.model import ByPass, Element, Pattern, Repeat, Step
from larkshead.records import dataclass, field

LONGEST_PERIOD = 12
_ENDING = re.compile(r"[\s.#-]+[A-Za-z]$|[\s.#-]*\d+$")
_WORD = re.compile(r"[^\W\d_]{3,}")


# One place in a list of steps: the element and what it is on other passes.
_Slot = list[WrittenElement]


@dataclass(slots=True)
class _Block:
    """The slots of a repeat, nested repeats left out."""

    slots: list[_Slot] = field(default_factory=list)


class Families:
    """Groups of sisters by union; ``number`` gives the family a written element belongs to."""

    __slots__ = ("_above",)

    def __init__(self, size: int) -> None:
        self._above = list(range(size))

    def number(self, order: int) -> int:
        above = self._above
        while above[order] != order:
            above[order] = above[above[order]]
            order = above[order]
        return order

    def link(self, one: WrittenElement, other: WrittenElement) -> None:
        if told_apart(one, other):
            return
        first, second = self.number(one.order), self.number(other.order)
        if first < second:
            self._above[second] = first
        else:
            self._above[first] = second


def told_apart(one: WrittenElement, other: WrittenElement) -> bool:
    """True when the text itself says that these are different elements: kind (a split ring or chain may stand in for a
    plain
    one), size, technique, or a label in words."""
    first, second = one.step, other.step
    if first.kind != second.kind and first.kind.removeprefix("split ") != second.kind.removeprefix("split "):
        return True
    if first.technique != second.technique or first.size != second.size:
        return True
    return bool(first.label and second.label) and label_stem(first.label or "") != label_stem(second.label or "")


def label_stem(label: str) -> str:
    """The words of a label without its number or letter: ``corner ring`` for ``Corner ring 2``, nothing for ``R7`` or
    ``Rb``."""
    words = _WORD.findall(_ENDING.sub("", label))
    return " ".join(words).casefold()


def group_sisters(pattern: Pattern, written: Sequence[WrittenElement]) -> None:
    """Set ``family`` of every written element."""
    families = Families(len(written))
    by_step = {id(element.step): element for element in written}
    for part in pattern.parts:
        entries = _entries(part.steps, by_step, families)
        _link_round_written_out(entries, families)
    _link_labels(written, families)
    _link_thrown(written, families)
    for element in written:
        element.family = families.number(element.order)


def _entries(steps: Sequence[Step], by_step: dict[int, WrittenElement], families: Families) -> list[_Slot | _Block]:
    """The slots and blocks of a list of steps, with every repeat linked to the passes written out beside it."""
    entries: list[_Slot | _Block] = []
    for step in steps:
        found = by_step.get(id(step))
        if found is not None:
            entries.append([found])
        elif isinstance(step, ByPass):
            slot = _alternatives(step, by_step, families)
            if slot is not None:
                entries.append(slot)
        elif isinstance(step, Repeat):
            inner = _entries(step.steps, by_step, families)
            block = _Block([entry for entry in inner if isinstance(entry, list)])
            for slot in block.slots:
                for member in slot:
                    member.in_repeat = True
            entries.append(block)
    for at, entry in enumerate(entries):
        if isinstance(entry, _Block) and entry.slots:
            _link_passes_beside(entries, at, entry.slots, families)
    return entries


def _alternatives(step: ByPass, by_step: dict[int, WrittenElement], families: Families) -> _Slot | None:
    """The element of a changing step together with those of the same kind that replace it."""
    choices = [step.step, *(one for instead in step.passes.values() for one in instead)]
    members = [by_step[id(one)] for one in choices if isinstance(one, Element) and id(one) in by_step]
    for member in members[1:]:
        member.by_pass = True
        families.link(members[0], member)
    alike = [member for member in members if member.is_ring == members[0].is_ring]
    return alike or None


def _link_passes_beside(entries: Sequence[_Slot | _Block], at: int, slots: Sequence[_Slot], families: Families) -> None:
    """Link a repeat's slots to the pass written out before it (from its end backward) and after it (from its start)."""
    for away in range(1, len(slots) + 1):
        neighbour = entries[at - away] if at - away >= 0 else None
        if not isinstance(neighbour, list) or not _link_slots(neighbour, slots[-away], families):
            break
    for away in range(1, len(slots) + 1):
        neighbour = entries[at + away] if at + away < len(entries) else None
        if not isinstance(neighbour, list) or not _link_slots(neighbour, slots[away - 1], families):
            break


def _link_slots(one: _Slot, other: _Slot, families: Families) -> bool:
    if one[0].is_ring != other[0].is_ring:
        return False
    families.link(one[0], other[0])
    return True


def _link_round_written_out(entries: Sequence[_Slot | _Block], families: Families) -> None:
    """Link the like places of a stretch written out without a repeat, by the period in which it comes round again."""
    stretch: list[WrittenElement] = []
    for entry in [*entries, None]:
        if isinstance(entry, list):
            stretch.append(entry[0])
            continue
        period = period_of(stretch)
        if period:
            for early, late in zip(stretch, stretch[period:], strict=False):
                families.link(early, late)
        stretch = []


def period_of(elements: Sequence[WrittenElement]) -> int:
    """The number of elements after which a written-out stretch comes round again; 0 where it does not.

    The kinds have to agree all through; of the periods that fit, the shortest is taken with which at least two thirds
    of the elements have the shape (joins and picots alike) of the one a period earlier.
    """
    numbers: dict[object, int] = {}
    forms = [numbers.setdefault(element.shape.pattern, len(numbers)) for element in elements]
    rings = [element.is_ring for element in elements]
    best, best_share = 0, 0.0
    for period in range(1, min(LONGEST_PERIOD, len(elements) // 2) + 1):
        if rings[period:] != rings[:-period]:
            continue
        share = sum(map(eq, forms, forms[period:])) / (len(forms) - period)
        if share > best_share + 0.2 or (share > best_share and best_share < 2 / 3):
            best, best_share = period, share
        if best_share == 1:
            break
    return best if best_share >= 1 / 3 else 0


def _link_thrown(written: Sequence[WrittenElement], families: Families) -> None:
    """Link what is thrown off the same element."""
    seen: dict[tuple[int, bool], WrittenElement] = {}
    for element in written:
        host = element.worked[0].thrown_from
        if host is None:
            continue
        key = (id(host.step), element.is_ring)
        if key in seen:
            families.link(seen[key], element)
        else:
            seen[key] = element


def _link_labels(written: Sequence[WrittenElement], families: Families) -> None:
    """Link elements of one part that carry the same label in words, or the same label where it is no running number."""
    seen: dict[tuple[int, bool, str], WrittenElement] = {}
    for element in written:
        if not element.step.label:
            continue
        label = element.step.label.strip().casefold()
        if not label:
            continue
        stem = label_stem(label)
        key = (element.part, element.is_ring, stem or label)
        if key in seen:
            families.link(seen[key], element)
        else:
            seen[key] = element
