"""The pattern as worked: every pass expanded, every place resolved, every thread followed."""

from __future__ import annotations

from dataclasses import dataclass, field

from larkshead.model import Element, Part, Pattern, Picot, Place, Step


@dataclass(slots=True)
class WorkedPicot:
    """One picot as made. ``number`` counts the picots of its element from 1 in working order, joins left out;
    ``place`` counts picots and joins alike. ``item`` is its index in the element's work (-1: a mock picot)."""

    element: WorkedElement
    number: int
    place: int
    item: int
    made: Picot | None
    uses: list[WorkedJoin] = field(default_factory=list)
    mock: bool = False


@dataclass(slots=True)
class WorkedJoin:
    """One join as worked: ``item`` its index in the element's work (-1 for a lock join between elements).

    Resolved: ``picot`` for a picot, else ``spot`` (base, top, bare thread, between, fabric, motif, loop) with ``element`` where there
    is one. Unresolved: ``reason`` says why in the reader's terms and ``candidates`` how many picots would do.
    ``assumed`` says what was taken where the words leave it open.
    """

    step: Step
    by: WorkedElement | None
    item: int
    place: Place
    kind: str
    picot: WorkedPicot | None = None
    spot: str = ""
    element: WorkedElement | None = None
    reason: str = ""
    candidates: int = 0
    assumed: str = ""
    position: int = 0

    @property
    def resolved(self) -> bool:
        return self.picot is not None or bool(self.spot)


@dataclass(slots=True)
class WorkedElement:
    """One element as worked.

    ``index`` counts the worked sequence from 0; ``number`` the elements of its kind family (rings, chains) within its
    part from 1; ``passes`` the pass numbers of the repeats around it, outermost first, and ``of_passes`` how many each has;
    ``core`` and ``working`` the threads; ``side`` front or back.
    """

    step: Element
    part: int
    index: int
    number: int
    passes: tuple[int, ...] = ()
    of_passes: tuple[int, ...] = ()
    core: str = ""
    working: str = ""
    side: str = "front"
    ds: int = 0
    halves: int = 0
    beads: int = 0
    groups: tuple[int, ...] = ()
    picots: list[WorkedPicot] = field(default_factory=list)
    joins: list[WorkedJoin] = field(default_factory=list)

    @property
    def kind(self) -> str:
        return self.step.kind

    @property
    def is_ring(self) -> bool:
        """Rings of every sort: rings, split rings, mock rings, Josephine rings."""
        return self.step.kind.endswith("ring")


@dataclass(slots=True)
class WorkedAction:
    """One action as worked, at its place in the sequence."""

    step: Step
    part: int
    index: int
    passes: tuple[int, ...] = ()
    of_passes: tuple[int, ...] = ()
    joins: list[WorkedJoin] = field(default_factory=list)
    picot: WorkedPicot | None = None


@dataclass(slots=True)
class WorkedPart:
    """A part's stretch of the worked sequence (``end`` exclusive)."""

    part: Part
    start: int
    end: int


@dataclass(slots=True)
class Problem:
    """Something that could not be worked: ``kind`` a slug (too-many-steps, no-second-thread, ...)."""

    kind: str
    message: str
    step: Step | None = None


@dataclass(slots=True)
class Worked:
    """The worked pattern. ``threads_known`` False where the text names no threads: rules then keep still.

    ``open_repeats`` are the repeats whose number is not known; they are worked twice so that joins into the
    pass before can be seen, and totals that depend on them are None.
    """

    pattern: Pattern
    sequence: list[WorkedElement | WorkedAction] = field(default_factory=list)
    parts: list[WorkedPart] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    open_repeats: list[Step] = field(default_factory=list)
    threads_known: bool = False

    @property
    def elements(self) -> list[WorkedElement]:
        return [x for x in self.sequence if isinstance(x, WorkedElement)]

    @property
    def joins(self) -> list[WorkedJoin]:
        return [j for x in self.sequence for j in x.joins]


__all__ = [
    "Problem",
    "Worked",
    "WorkedAction",
    "WorkedElement",
    "WorkedJoin",
    "WorkedPart",
    "WorkedPicot",
]
