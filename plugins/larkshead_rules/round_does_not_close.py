"""The rule round-does-not-close."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from larkshead.linting import Context, Finding
from larkshead.model import Attach, Cut, LockJoin, MockPicot
from larkshead.working.worked import WorkedAction, WorkedElement, WorkedPart

FEWEST = 3


def check(context: Context) -> Iterator[Finding]:
    """The last element of a round is not joined to the first.

    Defect: in a round every ring is joined to the one before, all round, and the last has no join to the first;
        or the rings close and the last chain is fastened nowhere.
    Why: the round springs open where it ought to meet, and the next round has nothing to hold there.
    Exempt: strips, fans, horseshoes and whatever does not come back to its beginning (only a part headed as a
        round, or one whose last chain is joined to the first ring, is taken for a round); rings that are not
        joined to each other; repeats left open; a remark that the round stays open.
    Good:
        Shuttle and ball.
        Round 1
        R1 5-5-5-5 cl RW
        C 6-6 RW
        *R 5+5-5-5 cl RW, joining to the last picot of the previous R
        C 6-6 RW
        Repeat from * 3 more times.
        R6 5+5-5+5 cl RW, joining to the last picot of the previous R and to the first picot of R1
        C 6-6, LJ to the base of R1. Cut and tie.
    Bad:
        Shuttle and ball.
        Round 1
        R1 5-5-5-5 cl RW
        C 6-6 RW
        *R 5+5-5-5 cl RW, joining to the last picot of the previous R
        C 6-6 RW
        Repeat from * 3 more times.
        R6 5+5-5-5 cl RW, joining to the last picot of the previous R
        C 6-6, LJ to the base of R1. Cut and tie.
    Source: last-to-first joins [TA-PJR3], [TT-FOLD].
    """
    if not context.complete or context.remarks.anywhere("stays_open"):
        return
    for part in context.worked.parts:
        yield from _part(context, part)


def _part(context: Context, part: WorkedPart) -> Iterator[Finding]:
    made = context.worked.sequence[part.start : part.end]
    elements = [one for one in made if isinstance(one, WorkedElement) and one.thrown_from is None]
    rings = [one for one in elements if one.is_ring]
    if len(rings) < FEWEST:
        return
    first, last = rings[0], rings[-1]
    in_a_row = all(_linked(after, before) for before, after in pairwise(rings))
    closed = _linked(last, first) or _brought_back(made, first, last)
    is_round = part.part.kind == "round" or _fastened_to(made, first, elements[-1])
    if not in_a_row and part.part.kind == "round" and _by_turns(elements):
        yield from _loose_end(context, made, elements[-1], first)
    if not in_a_row or not first.picots:
        return
    if not closed and is_round:
        yield context.finding(
            f"every ring is joined to the one before, but {context.name(last)}, the last, is not joined to "
            f"{context.name(first)}, the first",
            last.step,
            related=[(first.step, None, "the first ring")],
        )
    elif closed and elements[-1] is not last and not elements[-1].joins and elements[0] is first:
        yield from _loose_end(context, made, elements[-1], first)


def _linked(ring: WorkedElement, other: WorkedElement) -> bool:
    """True when a ring is joined to another."""
    return other in [join.into for join in ring.joins]


def _brought_back(made: list[WorkedElement | WorkedAction], first: WorkedElement, last: WorkedElement) -> bool:
    """True when something told behind the last ring is joined to a picot of the first."""
    behind = [one for one in made[::-1][:12] if one.index > last.index]
    return any(join.picot is not None and join.into is first for one in behind for join in one.joins)


def _by_turns(elements: list[WorkedElement]) -> bool:
    """Rings and chains by turns, a ring first and a chain, joined to nothing, last."""
    turns = all(one.is_ring != (at % 2 == 1) for at, one in enumerate(elements))
    return turns and not elements[-1].is_ring and not elements[-1].joins


def _fastened_to(made: list[WorkedElement | WorkedAction], first: WorkedElement, end: WorkedElement) -> bool:
    """True when the last chain, or a lock join after it, goes to the first ring."""
    after = [one for one in made[::-1][:8] if one.index > end.index]
    joins = [join for one in [end, *after] for join in one.joins]
    return not end.is_ring and any(join.into is first for join in joins)


def _loose_end(
    context: Context, made: list[WorkedElement | WorkedAction], end: WorkedElement, first: WorkedElement
) -> Iterator[Finding]:
    """The last chain of a round with nothing said of where its end goes, before the threads are cut: advice only, since
    they may be tied there."""
    after = [one.step for one in context.worked.sequence[end.index + 1 : end.index + 9]]
    told = next((step for step in after if isinstance(step, (LockJoin, MockPicot, Attach, Cut))), None)
    if not isinstance(told, Cut):
        return
    yield context.finding(
        f"{context.name(end)} ends the round and is not joined to the base of {context.name(first)}",
        end.step,
        related=[(first.step, None, "the round began here")],
        severity="note",
    )
