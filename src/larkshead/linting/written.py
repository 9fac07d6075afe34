"""The elements as written, each with every time it is worked, and the gaps between elements as worked."""

from __future__ import annotations

from collections.abc import Iterator

from larkshead.linting.shapes import Shape
from larkshead.model import Element, Step, Turn
from larkshead.records import dataclass, field
from larkshead.working.worked import WorkedAction, WorkedElement, WorkedJoin


@dataclass(slots=True, eq=False)
class WrittenElement:
    """One element as written; ``worked`` holds each of its passes in working order.

    ``part`` is the index of its part, ``order`` its place in reading order; ``family`` the number of its family of
    sisters; ``by_pass`` marks one that stands in place of another on a named pass; ``first`` and ``last`` tell whether
    it is the first or last of its kind (rings, chains) in the part. ``is_ring`` is true of rings of every sort.
    """

    step: Element
    shape: Shape
    part: int
    order: int
    is_ring: bool
    worked: list[WorkedElement] = field(default_factory=list)
    family: int = -1
    in_repeat: bool = False
    by_pass: bool = False
    first: bool = False
    last: bool = False

    @property
    def kind(self) -> str:
        return self.step.kind

    @property
    def times(self) -> int:
        """How often it is worked."""
        return len(self.worked)


@dataclass(slots=True)
class Gap:
    """What is done between two elements worked one after the other in one part: the ``steps`` and their ``kinds``."""

    before: WorkedElement
    after: WorkedElement
    steps: list[Step]
    kinds: tuple[type[Step], ...]

    @property
    def turns(self) -> int:
        return self.kinds.count(Turn)

    def has(self, *kinds: type[Step]) -> bool:
        """True when an action of one of these kinds stands in the gap."""
        return not frozenset(kinds).isdisjoint(self.kinds)


@dataclass(slots=True)
class Joined:
    """A join with what makes it: an element, or an action between elements."""

    join: WorkedJoin
    maker: WorkedElement | WorkedAction

    @property
    def step(self) -> Step:
        return self.maker.step


def gaps_of(sequence: list[WorkedElement | WorkedAction]) -> Iterator[Gap]:
    """The gaps in working order, each once: a gap with the same steps as an earlier one is left out. A gap from one
    part
    into the next is among them."""
    before: WorkedElement | None = None
    steps: list[Step] = []
    seen: set[tuple[int, ...]] = set()
    for made in sequence:
        if isinstance(made, WorkedAction):
            steps.append(made.step)
            continue
        if before is not None:
            key = (id(before.step), id(made.step), before.part - made.part, *map(id, steps))
            if key not in seen:
                seen.add(key)
                yield Gap(before, made, steps, tuple(map(type, steps)))
        before, steps = made, []
