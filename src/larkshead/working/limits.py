"""How much may be worked, and the arithmetic that tells before anything is expanded."""

from __future__ import annotations

from larkshead.model import Element, Join, Pattern, Picot
from larkshead.records import dataclass
from larkshead.working.plans import Plans, thrown_off
from larkshead.working.weights import Weights
from larkshead.working.worked import Problem


@dataclass(frozen=True, slots=True)
class Limits:
    """The most that is worked: ``worked_steps`` elements and actions with every repeat expanded, ``nesting``
    repeats within repeats, ``worked_picots`` picots and joins in all. What is beyond them is refused, and said,
    before it is worked.
    """

    worked_steps: int = 1_000_000
    nesting: int = 1000
    worked_picots: int = 8_000_000


def spoken(count: int) -> str:
    """A number for a message; a monstrous one is not written out."""
    return f"{count:,}" if count < 10**15 else "more than a million thousand million"


def beyond_limits(pattern: Pattern, limits: Limits, plans: Plans) -> tuple[Problem | None, Weights]:
    """The limit a pattern goes beyond, if any, and the walk over it."""
    weights = Weights(pattern, most=max(limits.worked_steps, 1))
    steps = picots = 0
    sizes: dict[int, tuple[int, int]] = {}
    for stretch, times, _, _ in weights.stretches():
        for step in stretch:
            if not isinstance(step, Element):
                steps += times
                continue
            plan = plans.of(step)
            if not plan.throws:
                steps += times
                picots += (plan.picots + plan.joins) * times
                continue
            size = sizes.get(id(step))
            if size is None:
                size = sizes[id(step)] = _size(step, limits.worked_steps)
            steps += size[0] * times
            picots += size[1] * times
    if weights.depth > limits.nesting:
        message = f"repeats stand {weights.depth:,} deep within each other; {limits.nesting:,} are worked at most"
        return Problem("too-many-levels", message), weights
    most = limits.worked_steps
    if weights.cut_short or steps > most:
        count = f"more than {most:,}" if weights.cut_short else spoken(steps)
        message = f"worked through, this comes to {count} steps; {most:,} are worked at most"
        return Problem("too-many-steps", message), weights
    if picots > limits.worked_picots:
        message = f"worked through, this makes {spoken(picots)} picots and joins; {limits.worked_picots:,} at most"
        return Problem("too-many-picots", message), weights
    if weights.passes > 4 * most or weights.levels_of_passes > 16 * most:
        message = f"the repeats come to {spoken(weights.passes)} passes; this is more than can be worked"
        return Problem("too-many-passes", message), weights
    return None, weights


def _size(step: Element, most: int) -> tuple[int, int]:
    """Elements (itself and those thrown off it) and picots and joins of one element; past ``most`` it is not looked at
    further.
    """
    elements = [step, *thrown_off(step, most)]
    picots = 0
    for element in elements:
        for item in element.work:
            kind = type(item)
            picots += kind is Picot or kind is Join
    return len(elements), picots
