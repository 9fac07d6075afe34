"""The rule thrown-ring-needs-shuttle."""

from __future__ import annotations

from collections.abc import Iterator

from larkshead.linting import Context, Finding


def check(context: Context) -> Iterator[Finding]:
    """A ring on a chain is worked with the ball.

    Defect: a ring thrown off a chain or a mock ring is made with the thread that makes the chain's stitches,
        and that thread is a ball.
    Why: a ring is drawn up by a thread that runs through it; a ball cannot be passed through.
    Exempt: a ring for which another shuttle is named, or before which shuttles are changed; patterns that do
        not say which threads they take.
    Good:
        Two shuttles.
        C 5 DNR
        TR with SH2 4-4 cl DNR
        C 5
    Bad:
        Shuttle and ball.
        C 5 DNR
        TR 4-4 cl DNR
        C 5
    Source: [TS-FIVE], [NT-3], [GS-JK].
    """
    if not context.worked.threads_known:
        return
    balls = {thread.name for thread in context.pattern.threads if thread.role == "ball"}
    for element in context.written:
        made = element.worked[0]
        if made.thrown_from is None or element.kind not in ("ring", "josephine ring"):
            continue
        if made.core in balls:
            yield context.finding(
                f"{context.name(made)} is thrown off {context.name(made.thrown_from)} with the {made.core}; it takes a "
                f"shuttle to make a ring",
                element.step,
                related=context.thread_places(),
            )
