"""The rule thread-not-attached."""

from __future__ import annotations

from collections.abc import Iterator

from larkshead.linting import Context, Finding
from larkshead.linting.runs import end_joins
from larkshead.model import Attach, Cut
from larkshead.working.worked import WorkedElement


def check(context: Context) -> Iterator[Finding]:
    """The threads were cut, and a chain begins without new ones being fastened on.

    Defect: all threads are cut, and the next element is a chain, with no word of where threads are fastened on.
    Why: a chain begins at a place; a ring can begin anywhere, since it is its own start.
    Exempt: a round that begins with a ring; a place told with the first chain; another motif or a piece worked apart; a
        remark on where to begin.
    Good:
        Shuttle and ball.
        Round 1
        R 2-2-2-2-2 cl. Cut.
        Round 2
        Attach both threads to any picot of round 1.
        *C 5-5, LJ to the next picot of round 1
        Repeat from * 4 more times.
    Bad:
        Shuttle and ball.
        Round 1
        R 2-2-2-2-2 cl. Cut.
        Round 2
        *C 5-5, LJ to the next picot of round 1
        Repeat from * 4 more times.
    Source: new thread goes on after a ring is closed, not in an element [TT-ADD].
    """
    cut: Cut | None = None
    for made in context.worked.sequence:
        step = made.step
        if isinstance(step, Cut):
            cut = None if step.threads else step
        elif isinstance(step, Attach):
            cut = None
        elif cut is not None and isinstance(made, WorkedElement):
            if not made.is_ring and any(join.into is not None for join in end_joins(context, made)):
                yield context.finding(
                    f"the threads were cut, and it is not said where new ones are fastened on for {context.name(made)}",
                    step,
                    related=[(cut, None, "cut here")],
                )
            cut = None
