"""The repeats of a pattern: what one pass of each makes, and where they stand."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from larkshead.linting.totals import Totals, totals_of
from larkshead.model import ByPass, Repeat, Step
from larkshead.records import dataclass
from larkshead.working.worked import WorkedAction, WorkedElement

if TYPE_CHECKING:
    from larkshead.linting.context import Context


@dataclass(slots=True)
class Repeated:
    """A repeat of known number that no other repeat holds: its part, and what a plain pass of it makes.

    ``end`` is the index in the worked sequence after its last element.
    """

    step: Repeat
    part: int
    times: int
    one_pass: Totals
    end: int


def repeats_of(context: Context) -> list[Repeated]:
    """The outermost repeats that are worked more than once, in working order; computed once."""
    return context.cached("repeats", lambda: list(_repeats(context)))


def _repeats(context: Context) -> Iterator[Repeated]:
    found: list[Repeated] = []
    owner: dict[int, int] = {}
    for number, part in enumerate(context.pattern.parts):
        for step in part.steps if part.times == 1 else ():
            if isinstance(step, Repeat) and step.times:
                owner.update((id(inner), len(found)) for inner in steps_in(step.steps))
                found.append(Repeated(step, number, step.times, Totals(), 0))
    if not found:
        return
    plain: list[list[WorkedElement | WorkedAction]] = [[] for _ in found]
    for made in context.worked.sequence:
        held = made.thrown_from if isinstance(made, WorkedElement) and made.thrown_from is not None else made
        at = owner.get(id(held.step))
        if at is None:
            continue
        found[at].end = made.index + 1
        # A middle pass is the plainest: first and last ones may differ.
        if made.passes and made.passes[0] == (found[at].times + 1) // 2:
            plain[at].append(made)
    for repeated, made_once in zip(found, plain, strict=True):
        repeated.one_pass = totals_of(made_once)
        if repeated.end:
            yield repeated


def steps_in(steps: Sequence[Step]) -> Iterator[Step]:
    """Every step of a list, those of repeats and of other passes among them, repeats and changing steps left out."""
    waiting = list(reversed(steps))
    while waiting:
        step = waiting.pop()
        if isinstance(step, Repeat):
            waiting.extend(reversed(step.steps))
        elif isinstance(step, ByPass):
            waiting.extend(one for instead in step.passes.values() for one in instead)
            waiting.append(step.step)
        else:
            yield step
