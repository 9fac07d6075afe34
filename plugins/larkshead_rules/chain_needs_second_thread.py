"""The rule chain-needs-second-thread."""

from __future__ import annotations

from collections.abc import Iterator

from larkshead.linting import Context, Finding


def check(context: Context) -> Iterator[Finding]:
    """A chain is worked with only one live thread.

    Defect: the pattern names its threads, and where a chain is worked only one of them is there: one shuttle
        was listed and nothing else, or the ball was cut and not fastened on again.
    Why: a chain's stitches are made by one thread round another; with one thread there is nothing to make them
        round.
    Exempt: a tail left at the start that serves as second thread; a chain that names two threads of its own;
        patterns that do not say which threads they take; a remark on working a chain with one shuttle.
    Good:
        Shuttle and ball.
        R 5-5-5 cl RW
        C 6-6 RW
        R 5+5-5 cl, joining to the last picot of the previous R
    Bad:
        One shuttle.
        R 5-5-5 cl RW
        C 6-6 RW
        R 5+5-5 cl, joining to the last picot of the previous R
    Source: [VL-RC], [TT-ADD]; old patterns say second shuttle for the ball [BO-WHY].
    """
    if not context.worked.threads_known or context.remarks.anywhere("one_shuttle"):
        return
    for element in context.written:
        if element.kind not in ("chain", "split chain", "mock ring"):
            continue
        made = next((made for made in element.worked if not made.working), None)
        if made is None:
            continue
        listed = [thread.name for thread in context.pattern.threads]
        yield context.finding(
            f"{context.name(made)} needs two threads, and only {made.core or 'one'} is there"
            + ("" if len(listed) < 2 else ": the other was cut and not fastened on again"),
            element.step,
            related=context.thread_places(),
        )
        return
