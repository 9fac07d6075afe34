"""The rule thread-not-attached."""

from __future__ import annotations

from collections.abc import Iterator

from larkshead.linting import Context, Finding
from larkshead.linting.runs import end_joins
from larkshead.model import Attach, Cut
from larkshead.working.worked import WorkedAction, WorkedElement


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
    for action in context.actions(Cut):
        made = _next_element(context, action)
        if made is None or made.is_ring or not any(join.into is not None for join in end_joins(context, made)):
            continue
        yield context.finding(
            f"the threads were cut, and it is not said where new ones are fastened on for {context.name(made)}",
            made.step,
            related=[(action.step, None, "cut here")],
        )


def _next_element(context: Context, cut: WorkedAction) -> WorkedElement | None:
    """The first element after all threads were cut; None where others are fastened on, or cut, before it."""
    if isinstance(cut.step, Cut) and cut.step.threads:
        return None
    sequence = context.worked.sequence
    for at in range(cut.index + 1, len(sequence)):
        made = sequence[at]
        if isinstance(made, WorkedElement):
            return made
        if isinstance(made.step, Cut | Attach):
            return None
    return None
