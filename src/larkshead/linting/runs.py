"""Runs of chains that go from picot to picot of earlier elements: what a round worked on to another is made of."""

from __future__ import annotations

from typing import TYPE_CHECKING

from larkshead.model import Attach, Cut, LockJoin, MockPicot
from larkshead.working.worked import WorkedAction, WorkedElement, WorkedJoin

if TYPE_CHECKING:
    from larkshead.linting.context import Context

OFTEN = 3


def runs_of(context: Context) -> dict[int, list[WorkedJoin]]:
    """The end joins of each run of chains into elements worked before it, by the index of the run's first chain.

    A run goes on until a ring, another part, new threads or a climb; only runs with at least three joins into picots
    are given. Computed once.
    """
    return context.cached("runs", lambda: _runs(context))


def _runs(context: Context) -> dict[int, list[WorkedJoin]]:
    runs: dict[int, list[WorkedJoin]] = {}
    first: int | None = None
    part = -1
    for made in context.worked.sequence:
        if isinstance(made, WorkedAction):
            if first is not None and isinstance(made.step, (Cut, Attach, MockPicot)):
                first = None
            continue
        if made.thrown_from is not None:
            continue
        if made.part != part or made.is_ring:
            first, part = None, made.part
        if made.is_ring:
            continue
        if first is None:
            first = made.index
        for join in end_joins(context, made):
            into = join.into
            if into is not None and into.index < first:
                runs.setdefault(first, []).append(join)
    return {index: joins for index, joins in runs.items() if sum(j.picot is not None for j in joins) >= OFTEN}


def end_joins(context: Context, made: WorkedElement) -> list[WorkedJoin]:
    """The joins that fasten a chain's end: the last in its work, and lock joins right after it."""
    last = len(made.step.work) - 1
    joins = [join for join in made.joins if join.item == last] if made.joins else []
    sequence = context.worked.sequence
    at = made.index + 1
    while at < len(sequence) and isinstance(sequence[at], WorkedAction):
        if isinstance(sequence[at].step, LockJoin):
            joins.extend(sequence[at].joins)
        at += 1
    return joins
