"""The work inside one element: stitches, picots, joins, beads, in the order made."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from larkshead.model.lengths import Length
from larkshead.model.places import Place
from larkshead.records import dataclass, field

if TYPE_CHECKING:
    from larkshead.model.steps import Element

PicotSize = Literal["", "small", "long"]


@dataclass(slots=True)
class Stitches:
    """So many whole double stitches."""

    count: int


@dataclass(slots=True)
class Halves:
    """So many half stitches alike: ``half`` 1 first halves, 2 second halves."""

    half: int
    count: int


@dataclass(slots=True)
class Picot:
    """A loop of bare working thread. ``beads`` slid into it; ``kind`` twisted, downward, graduated, or empty."""

    size: PicotSize = ""
    length: Length | None = None
    beads: int = 0
    kind: str = ""


@dataclass(slots=True)
class Join:
    """The thread drawn through one place, or through several at once.

    ``kind``: picot (working thread), lock (core thread), folded. ``beads`` drawn over the picot first.
    """

    places: list[Place] = field(default_factory=list)
    kind: Literal["picot", "lock", "folded"] = "picot"
    beads: int = 0


@dataclass(slots=True)
class Beads:
    """Beads slid up between two stitches."""

    count: int = 1


@dataclass(slots=True)
class SideChange:
    """In a split element: from here the second thread works the other side."""


@dataclass(slots=True)
class Thrown:
    """An element thrown off this one, worked with the second shuttle."""

    element: Element


WorkItem = Stitches | Halves | Picot | Join | Beads | SideChange | Thrown
