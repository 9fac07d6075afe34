"""What is the same on every pass of an element: its counts, its groups, and the items that make something."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from operator import attrgetter
from typing import Any

from larkshead.model import Beads, Element, Halves, Join, Picot, SideChange, Stitches, Thrown, WorkItem
from larkshead.records import dataclass

PICOT, JOIN, THROWN = 0, 1, 2


@dataclass(slots=True, eq=False)
class Plan:
    """The fixed facts of a written element; elements worked alike, item by item of the same kind and count, have one
    together.

    ``makes`` are the items that make something, in order: (PICOT, JOIN or THROWN, index in the work);
    ``marks`` counts its picots and picot joins; ``family`` is ring or chain; ``pieces`` the stretches of stitches
    that thrown elements part it into; ``sort`` is equal for elements that have the same kind, size and groups.
    ``plain`` is True where it makes nothing but picots, ``throws`` where an element is thrown off it.
    """

    family: str
    kind: str
    size: str
    ds: int
    halves: int
    beads: int
    groups: tuple[int, ...]
    makes: tuple[tuple[int, int], ...]
    picots: int
    joins: int
    marks: int
    pieces: int
    plain: bool
    throws: bool
    sort: object


class Plans:
    """The plans of a pattern's elements, each made once for all elements whose work is alike."""

    __slots__ = ("_by_form", "_by_step")

    def __init__(self) -> None:
        self._by_step: dict[int, Plan] = {}
        self._by_form: dict[object, Plan] = {}

    def of(self, step: Element, thrown: bool = False) -> Plan:
        """The plan of an element; ``thrown`` where it is thrown off another."""
        plan = self._by_step.get(id(step))
        if plan is None:
            form = step.kind, step.size, thrown, _form(step.work)
            plan = self._by_form.get(form)
            if plan is None:
                plan = self._by_form[form] = plan_of(step, thrown)
            self._by_step[id(step)] = plan
        return plan


# What of an item of work its element's plan depends on, its sort included.
_FORMS: dict[type, Callable[[Any], object]] = {
    Stitches: attrgetter("__class__", "count"),
    Halves: attrgetter("__class__", "count"),
    Picot: attrgetter("__class__", "beads"),
    Join: attrgetter("__class__", "kind", "beads"),
    Beads: attrgetter("__class__", "count"),
    SideChange: type,
    Thrown: type,
}


def _form(work: Sequence[WorkItem]) -> object:
    """Equal for work that has the same plan."""
    try:
        return tuple([_FORMS[type(item)](item) for item in work])
    except KeyError as unknown:
        raise TypeError(f"not an item of work: {unknown}") from None


def plan_of(step: Element, thrown: bool = False) -> Plan:
    """The fixed facts of a written element."""
    ds = halves = beads = here = here_halves = picots = joins = marks = 0
    pieces, piece_open, throws_any = 0, False, False
    groups: list[int] = []
    half_groups: list[int] = []
    makes: list[tuple[int, int]] = []
    for index, item in enumerate(step.work):
        if isinstance(item, Stitches):
            here += item.count
            piece_open = True
            continue
        if isinstance(item, Halves):
            here_halves += item.count
            piece_open = True
            continue
        groups.append(here)
        half_groups.append(here_halves)
        ds, halves, here, here_halves = ds + here, halves + here_halves, 0, 0
        if isinstance(item, Picot):
            makes.append((PICOT, index))
            picots += 1
            marks += 1
            beads += item.beads
        elif isinstance(item, Join):
            makes.append((JOIN, index))
            joins += 1
            marks += item.kind != "lock"
            beads += item.beads
        elif isinstance(item, Beads):
            beads += item.count
        elif isinstance(item, Thrown):
            makes.append((THROWN, index))
            pieces, piece_open, throws_any = pieces + piece_open, False, True
        elif not isinstance(item, SideChange):
            raise TypeError(f"not an item of work: {item!r}")
    groups.append(here)
    half_groups.append(here_halves)
    ds, halves = ds + here, halves + here_halves
    family = "ring" if step.kind.endswith("ring") else "chain"
    shown = tuple(half_groups if halves and not ds else groups)
    return Plan(
        family, step.kind, step.size, ds, halves, beads, shown, tuple(makes), picots, joins, marks,
        max(1, pieces + piece_open), picots == len(makes), throws_any, (step.kind, step.size, thrown, shown),
    )  # fmt: skip


def thrown_off(step: Element, most: int = 1_000_000) -> Iterator[Element]:
    """Every element thrown off this one, and those thrown off them; no more than ``most``, however often one and the
    same element stands in others.
    """
    waiting = [step]
    while waiting:
        host = waiting.pop()
        for item in host.work:
            if isinstance(item, Thrown):
                most -= 1
                if most < 0:
                    return
                waiting.append(item.element)
                yield item.element
