"""The steps of a pattern: elements, actions, and repeats of steps."""

from __future__ import annotations

from typing import Literal

from larkshead.model.lengths import Length
from larkshead.model.places import Place
from larkshead.model.work import WorkItem
from larkshead.records import dataclass, field

ElementKind = Literal["ring", "chain", "split ring", "split chain", "mock ring", "josephine ring"]
ELEMENT_KINDS: tuple[ElementKind, ...] = (
    "ring",
    "chain",
    "split ring",
    "split chain",
    "mock ring",
    "josephine ring",
)


@dataclass(slots=True)
class Element:
    """A ring, chain or other element.

    ``thread`` names the thread or threads as the text does (``shuttle 1``, ``shuttle 2 over shuttle 1``,
    ``tail``); ``technique`` names what needs a note (onion, dimpled, padded, roll); ``size`` large or small
    where the text tells like elements apart by size; ``half_closed`` a ring drawn up only part of the way.
    """

    kind: ElementKind
    work: list[WorkItem] = field(default_factory=list)
    label: str | None = None
    thread: str | None = None
    technique: str = ""
    size: str = ""
    half_closed: bool = False
    remark: str = ""


@dataclass(slots=True)
class Turn:
    """Reverse the work; ``way`` reverse (top to bottom, the usual) or page (side to side)."""

    way: Literal["reverse", "page"] = "reverse"


@dataclass(slots=True)
class NoTurn:
    """Said not to turn."""


@dataclass(slots=True)
class BareThread:
    """Thread left free before the next element; no length where the text gives none."""

    length: Length | None = None
    threads: int = 1


@dataclass(slots=True)
class LockJoin:
    """A lock join between elements (the core thread through a place)."""

    places: list[Place] = field(default_factory=list)
    thread: str | None = None


@dataclass(slots=True)
class MockPicot:
    """A last picot of bare thread after closing: the thread stands at its tip."""

    length: Length | None = None
    number: int | None = None


@dataclass(slots=True)
class Switch:
    """Change shuttles; ``way`` change (another shuttle taken up) or cross (threads crossed, the shoelace trick)."""

    to: str | None = None
    way: Literal["change", "cross"] = "change"


@dataclass(slots=True)
class Attach:
    """Fasten threads on at a place."""

    places: list[Place] = field(default_factory=list)
    threads: list[str] = field(default_factory=list)


@dataclass(slots=True)
class Cut:
    """Cut the thread or threads (all when none is named), tied or not."""

    tie: bool = False
    threads: list[str] = field(default_factory=list)


@dataclass(slots=True)
class HideEnds:
    """Hide ends: sewn in, worked over, drawn in by a loop; empty where the way is not said."""

    way: Literal["", "sewn in", "worked over", "drawn in"] = ""
    remark: str = ""


@dataclass(slots=True)
class Note:
    """Text at its place among the steps."""

    text: str


@dataclass(slots=True)
class StatedTotal:
    """A total said in the text, at its place among the steps.

    ``counts`` maps rings, chains, split_rings, split_chains, mock_rings, josephine_rings, ds, picots, joins,
    lock_joins, beads to the number said. ``scope``: element (the one just before), sofar (since the part began),
    part, or pattern. ``each`` when said of every element of ``of`` (a label or kind); ``about`` when approximate.
    """

    counts: dict[str, int]
    scope: Literal["element", "sofar", "part", "pattern"] = "pattern"
    each: bool = False
    of: str = ""
    about: bool = False
    words: str = ""


@dataclass(slots=True)
class Repeat:
    """Steps worked ``times`` in all; None where the text leaves it open, ``until`` then saying how long."""

    steps: list[Step]
    times: int | None = None
    until: str = ""
    label: str | None = None


@dataclass(slots=True)
class ByPass:
    """A step that is another one on named passes of the repeat around it.

    ``passes`` maps ``first``, ``last`` or a pass number from 1 to the steps worked then instead (none: left out).
    """

    step: Step
    passes: dict[str | int, list[Step]] = field(default_factory=dict)


Action = Turn | NoTurn | BareThread | LockJoin | MockPicot | Switch | Attach | Cut | HideEnds | Note | StatedTotal
Step = Element | Action | Repeat | ByPass
