"""The rule turn-undone."""

from __future__ import annotations

from collections.abc import Iterator

from larkshead.linting import Context, Finding
from larkshead.model import Note, NoTurn, StatedTotal, Turn
from larkshead.working.worked import WorkedAction


def check(context: Context) -> Iterator[Finding]:
    """Two turns with nothing worked between.

    Defect: the work is turned and turned back before anything is worked.
    Why: one of the two undoes the other; either both or one of them is there by mistake.
    Exempt: the two kinds of turn together (over like a page, and top to bottom); a lock join, a mock picot,
        bare thread or any other action between.
    Fix: none: whether one or both are to go is not known.
    Good:
        Shuttle and ball.
        R 5-5 cl RW
        C 6-6 RW
        R 5-5 cl
    Bad:
        Shuttle and ball.
        R 5-5 cl RW
        RW
        C 6-6 RW
        R 5-5 cl
    Source: common practice, no source; the two kinds of turn [TT-RW], [BO-READ].
    """
    last: Turn | None = None
    for made in context.worked.sequence:
        step = made.step
        if not isinstance(made, WorkedAction) or not isinstance(step, (Turn, Note, StatedTotal, NoTurn)):
            last = None
        elif isinstance(step, Turn):
            if last is not None and last.way == step.way:
                yield context.finding(
                    "the work is turned twice with nothing worked between",
                    step,
                    related=[(last, None, "the turn before")],
                )
            last = step
