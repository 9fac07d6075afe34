"""What is the same on every pass of an element: its counts, its groups, and the items that make something."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from larkshead.model import Beads, Element, Halves, Join, Picot, SideChange, Stitches, Thrown
from larkshead.records import dataclass

PICOT, JOIN, THROWN = 0, 1, 2


@dataclass(slots=True, eq=False)
class Plan:
    """The fixed facts of one written element.

    ``makes`` are the items that make something, in order: (PICOT, JOIN or THROWN, index in the work, the item);
    ``marks`` counts its picots and picot joins; ``family`` is ring or chain; ``pieces`` the stretches of stitches
    that thrown elements part it into; ``sort`` is equal for elements that stand for each other on other passes or
    have the same kind, size and groups. ``lists`` are those the record enters it in.
    ``plain`` is True where it makes nothing but picots.
    """

    step: Element
    family: str
    ds: int
    halves: int
    beads: int
    groups: tuple[int, ...]
    makes: tuple[tuple[int, int, Picot | Join | Thrown], ...]
    picots: int
    joins: int
    marks: int
    pieces: int
    plain: bool
    sort: object
    lists: tuple[list[Any], ...] = ()


def plan_of(step: Element, thrown: bool = False) -> Plan:
    """The fixed facts of a written element."""
    ds = halves = beads = here = here_halves = picots = joins = marks = 0
    pieces, piece_open = 0, False
    groups: list[int] = []
    half_groups: list[int] = []
    makes: list[tuple[int, int, Picot | Join | Thrown]] = []
    for index, item in enumerate(step.work):
        sort = type(item)
        if sort is Stitches:
            here += item.count  # type: ignore[union-attr]
            piece_open = True
            continue
        if isinstance(item, Halves):
            here_halves += item.count
            piece_open = True
            continue
        groups.append(here)
        half_groups.append(here_halves)
        ds, halves, here, here_halves = ds + here, halves + here_halves, 0, 0
        if sort is Picot:
            makes.append((PICOT, index, item))  # type: ignore[arg-type]
            picots += 1
            marks += 1
            beads += item.beads  # type: ignore[union-attr]
        elif isinstance(item, Join):
            makes.append((JOIN, index, item))
            joins += 1
            marks += item.kind != "lock"
            beads += item.beads
        elif isinstance(item, Beads):
            beads += item.count
        elif isinstance(item, Thrown):
            makes.append((THROWN, index, item))
            pieces, piece_open = pieces + piece_open, False
        elif not isinstance(item, SideChange):
            raise TypeError(f"not an item of work: {item!r}")
    groups.append(here)
    half_groups.append(here_halves)
    ds, halves = ds + here, halves + here_halves
    family = "ring" if step.kind.endswith("ring") else "chain"
    shown = tuple(half_groups if halves and not ds else groups)
    return Plan(
        step, family, ds, halves, beads, shown, tuple(makes), picots, joins, marks,
        max(1, pieces + piece_open), picots == len(makes), (step.kind, step.size, thrown, shown),
    )  # fmt: skip


def throws(step: Element) -> bool:
    """Whether any element is thrown off this one."""
    return Thrown in map(type, step.work)


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
