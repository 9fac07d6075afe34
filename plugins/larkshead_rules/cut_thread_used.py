"""The rule cut-thread-used."""

from __future__ import annotations

from collections.abc import Iterator

from larkshead.linting import Context, Finding
from larkshead.model import Attach, Cut
from larkshead.working.worked import WorkedElement


def check(context: Context) -> Iterator[Finding]:
    """A thread is cut and then worked with.

    Defect: one of the threads is cut by name, and an element after it needs that thread, which is nowhere
        fastened on again.
    Why: there is no thread to work with.
    Exempt: a cut of all threads at the end of a round, after which a new round begins; colours of which another
        one goes on.
    Good:
        Shuttle and ball.
        R 5-5 cl RW
        C 6-6. Cut the ball thread.
        R 5-5 cl
    Bad:
        Shuttle and ball.
        R 5-5 cl. Cut the ball thread. RW
        C 6-6 RW
        R 5-5 cl
    Source: common practice, no source.
    """
    if not context.worked.threads_known:
        return
    names = {thread.name for thread in context.pattern.threads}
    cut: dict[str, Cut] = {}
    for made in context.worked.sequence:
        step = made.step
        if isinstance(step, Attach):
            for name in step.threads or list(cut):
                cut.pop(name, None)
        elif isinstance(step, Cut):
            if step.threads and not names <= set(step.threads):
                cut.update(dict.fromkeys(step.threads, step))
            else:
                cut.clear()
        elif isinstance(made, WorkedElement) and cut:
            needed = made.kind in ("chain", "split chain", "split ring", "mock ring")
            if needed and not made.working:
                name, where = next(iter(cut.items()))
                yield context.finding(
                    f"{context.name(made)} needs the {name}, which was cut and not fastened on again",
                    made.step,
                    related=[(where, None, "cut here")],
                )
                return
