"""The rule bare-thread-unmeasured."""

from __future__ import annotations

from collections.abc import Iterator

from larkshead.linting import Context, Finding
from larkshead.model import BareThread


def check(context: Context) -> Iterator[Finding]:
    """Bare thread is to be left and its length is not given.

    Defect: thread is left between elements, and neither here nor anywhere is it said how much.
    Why: the rings stand as far apart as the thread is long; the reader's piece comes out another size.
    Exempt: a length given once, here or in the notes ("as before"); thread that is to be left as short as can be.
    Good:
        One shuttle.
        *R 5-5 cl RW, leave 5 mm
        Repeat from * 5 more times.
    Bad (steplist):
        REP 6 {
        R 5 p 5
        TURN
        BT ?
        }
    Source: [BO-1SH].
    """
    stretches = [made.step for made in context.actions(BareThread) if isinstance(made.step, BareThread)]
    if any(step.length is not None for step in stretches) or context.remarks.anywhere("no_bare_thread"):
        return
    if stretches:
        yield context.finding("bare thread is left here, and its length is not given", stretches[0])
