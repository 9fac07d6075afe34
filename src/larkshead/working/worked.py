"""The pattern as worked: every pass expanded, every place resolved, every thread followed."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import chain

from larkshead.model import Element, Part, Pattern, Picot, Place, Step
from larkshead.records import dataclass, field
from larkshead.working.plans import Plan


@dataclass(slots=True, eq=False)
class WorkedPicot:
    """One picot as made. ``number`` counts the picots of its element from 1 in working order, joins left out;
    ``place`` counts picots and picot joins alike. ``item`` is its index in the element's work (-1: a mock picot).
    ``uses`` are the joins made into it, in working order."""

    element: WorkedElement
    number: int
    place: int
    item: int
    made: Picot | None
    uses: Sequence[WorkedJoin] = ()
    mock: bool = False


@dataclass(slots=True, eq=False)
class WorkedJoin:
    """One join as worked: ``item`` its index in the element's work (-1 for a lock join between elements).

    A join into two places at once stands here once for each place, with the same ``item``. Resolved: ``picot``
    for a picot, else ``spot`` (base, top, bare thread, between, fabric, motif, loop, start, join) with
    ``element`` where there is one. Unresolved: ``reason`` says why in the reader's terms, ``candidates`` how many
    picots would do, and ``element`` whose picot was looked for. ``assumed`` says what was taken where the words
    leave it open; ``candidates`` is then how many would have done. ``position`` counts the picots and joins of
    its own element from 1 (0 between elements); ``part`` is the part it is made in. ``kind`` is picot, lock or
    folded as in the model, ``lock`` for a lock join between elements, and ``attach`` for a place where threads
    are fastened on, which is no join and no use of the picot.
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
    part: int = 0

    @property
    def resolved(self) -> bool:
        return self.picot is not None or bool(self.spot)

    @property
    def into(self) -> WorkedElement | None:
        """The element joined to, whatever the spot on it."""
        if self.picot is not None:
            return self.picot.element
        return self.element if self.spot else None


@dataclass(slots=True, eq=False)
class Position:
    """Where the live threads leave the work.

    ``at``: start (nothing worked yet), base (of a ring), end (of a chain), top (the far end of a split ring), tip
    (of a mock picot), join (a lock join, or a chain joined at its end), attached (where threads were fastened
    on), nowhere (cut). ``element`` and ``picot`` say whose, where known: of a join, what it was made into;
    ``spot`` where that is no picot.
    """

    at: str
    element: WorkedElement | None = None
    picot: WorkedPicot | None = None
    spot: str = ""


@dataclass(slots=True, eq=False)
class WorkedElement:
    """One element as worked.

    ``part`` is the index of its part in the pattern; ``index`` counts the worked sequence from 0; ``number`` the
    elements of its kind family (rings, chains) within its part from 1; ``passes`` the pass numbers of the repeats
    around it, outermost first, and ``of_passes`` how many each has (0 where it is not known). A part worked
    several times is the outermost of these. ``core`` and ``working`` are the threads: in a ring both are one
    shuttle's; in a split ring ``working`` makes the second side. ``side`` is front or back. ``plan`` holds what it has
    in common with all elements worked alike: ``ds``, ``halves``, ``beads``, and ``groups``, the stitches between picots, joins, beads, thrown elements and changes of side, in order, the ends included; half
    stitches count only in an element made of nothing else. ``is_ring`` is true of rings of every sort: rings, split
    rings, mock rings, Josephine rings. ``thrown_from`` is the element it was thrown off; it
    stands right after that one in the sequence.
    """

    step: Element
    plan: Plan
    part: int
    index: int
    number: int
    passes: tuple[int, ...] = ()
    of_passes: tuple[int, ...] = ()
    core: str = ""
    working: str = ""
    side: str = "front"
    picots: Sequence[WorkedPicot] = ()
    joins: Sequence[WorkedJoin] = ()
    thrown_from: WorkedElement | None = None
    is_ring: bool = False

    @property
    def ds(self) -> int:
        return self.plan.ds

    @property
    def halves(self) -> int:
        return self.plan.halves

    @property
    def beads(self) -> int:
        return self.plan.beads

    @property
    def groups(self) -> tuple[int, ...]:
        return self.plan.groups

    @property
    def kind(self) -> str:
        return self.step.kind

    @property
    def position(self) -> Position:
        """Where its threads leave the work when it is done."""
        if self.joins and self.joins[-1].item == len(self.step.work) - 1 and not self.is_ring:
            join = self.joins[-1]
            return Position("join", join.into, join.picot, join.spot)
        kind = self.step.kind
        return Position("top" if kind == "split ring" else "base" if self.is_ring else "end", self)


@dataclass(slots=True, eq=False)
class WorkedAction:
    """One action as worked, at its place in the sequence.

    ``picot`` is the mock picot made; ``stood`` where the threads leave the work afterwards (an element: where
    that ends).
    """

    step: Step
    part: int
    index: int
    passes: tuple[int, ...] = ()
    of_passes: tuple[int, ...] = ()
    joins: Sequence[WorkedJoin] = ()
    picot: WorkedPicot | None = None
    stood: Position | WorkedElement | None = None

    @property
    def position(self) -> Position | None:
        """Where the threads leave the work after this action."""
        return self.stood.position if isinstance(self.stood, WorkedElement) else self.stood


@dataclass(slots=True, eq=False)
class WorkedPart:
    """A part's stretch of the worked sequence (``end`` exclusive).

    ``number`` is its index in the pattern and ``copy`` which time it is worked, from 1. ``stood`` is where the
    thread stood when the part began; ``began`` where it stood at its first element, after the actions before
    that; ``climb`` how it got there: start, cut (new thread), attached, mock picot, split ring, split chain, lock
    join, or none (work goes on where the thread stood).
    """

    part: Part
    start: int
    end: int
    number: int = 0
    copy: int = 1
    stood: Position | None = None
    began: Position | None = None
    climb: str = "none"


@dataclass(slots=True)
class Problem:
    """Something that could not be worked: ``kind`` a slug (too-many-steps, too-many-levels, no-second-thread)."""

    kind: str
    message: str
    step: Step | None = None


@dataclass(slots=True)
class Ends:
    """Thread ends as worked: ``started`` by new threads, ``cut`` by cutting, ``hidden`` the ways said of hiding them.

    Threads wound uncut from one another leave no end where they meet; threads tied together leave two.
    """

    started: int = 0
    cut: int = 0
    hidden: list[str] = field(default_factory=list)

    @property
    def total(self) -> int:
        return self.started + self.cut


@dataclass(slots=True)
class Worked:
    """The worked pattern. ``threads_known`` False where the text names no threads: rules then keep still.

    ``open_repeats`` are the repeats whose number is not known; they are worked twice (three times where the last
    pass differs) so that joins into the pass before can be seen, and totals that depend on them are None. A
    pattern beyond the limits has a problem and an empty sequence. ``joined_picots_counted`` is True where the
    numbers that the pattern gives picots fit only if joined picots are counted with the others.
    """

    pattern: Pattern
    sequence: list[WorkedElement | WorkedAction] = field(default_factory=list)
    parts: list[WorkedPart] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    open_repeats: list[Step] = field(default_factory=list)
    threads_known: bool = False
    ends: Ends = field(default_factory=Ends)
    joined_picots_counted: bool = False

    @property
    def elements(self) -> list[WorkedElement]:
        return [x for x in self.sequence if isinstance(x, WorkedElement)]

    @property
    def joins(self) -> list[WorkedJoin]:
        return list(chain.from_iterable(x.joins for x in self.sequence))

    @property
    def too_big(self) -> bool:
        """True where the pattern is beyond the limits and was not worked."""
        return any(problem.kind.startswith("too-many") for problem in self.problems)


__all__ = [
    "Ends",
    "Position",
    "Problem",
    "Worked",
    "WorkedAction",
    "WorkedElement",
    "WorkedJoin",
    "WorkedPart",
    "WorkedPicot",
]
