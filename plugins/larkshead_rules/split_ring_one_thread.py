"""The rule split-ring-one-thread."""

from __future__ import annotations

from collections.abc import Iterator

from larkshead.linting import Context, Finding


def check(context: Context) -> Iterator[Finding]:
    """A split ring is worked with only one live thread.

    Defect: the pattern names its threads, and where a split ring is worked only one of them is there, with no
        tail left to work the second side.
    Why: the two sides of a split ring are made with two threads; that is what lets the work climb.
    Exempt: a tail at the start; a split ring that names two threads; a single-shuttle way of working split
        rings that the text speaks of; patterns that do not say which threads they take.
    Good:
        Two shuttles.
        R 8-8 cl
        *SR 8 / 8 cl
        Repeat from * 4 more times.
    Bad:
        One shuttle.
        R 8-8 cl
        *SR 8 / 8 cl
        Repeat from * 4 more times.
    Source: [TD-SR]; with one shuttle by a loop [RS-SSSR], [MT-SSSR].
    """
    if not context.worked.threads_known or context.remarks.anywhere("one_shuttle"):
        return
    for element in context.written:
        made = next((made for made in element.worked if not made.working), None)
        if element.kind != "split ring" or made is None or context.remarks.near("one_shuttle", element.step):
            continue
        yield context.finding(
            f"the second side of {context.name(made)} needs a second thread, and only {made.core or 'one'} is there",
            element.step,
            related=context.thread_places(),
        )
        return
