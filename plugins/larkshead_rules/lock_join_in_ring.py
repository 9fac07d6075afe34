"""The rule lock-join-in-ring."""

from __future__ import annotations

from collections.abc import Iterator

from larkshead.linting import Context, Finding
from larkshead.model import Join, SideChange


def check(context: Context) -> Iterator[Finding]:
    """A lock join is asked for inside a ring, made with the ring's own core thread.

    Defect: a lock (shuttle) join stands in the work of a ring or Josephine ring, or on the first side of a
        split ring.
    Why: a lock join fixes the core where it is; the ring can no longer be drawn up past it.
    Exempt: the second side of a split ring, where the second shuttle joins; mock rings; half-closed rings; a
        lock join after the ring is closed.
    Fix: none; a picot join is what is usually meant.
    Good:
        Shuttle and ball.
        R 5-5-5 cl RW
        C 6-6, LJ to the base of the R
    Bad (steplist):
        R 5 p 5 p 5
        R 5 lj 5 p 5 -> previous ring, last picot
    Source: a lock join fixes the stitches and stops them sliding [TA-LJ], [GS-LJ]; split rings [LL-JOIN].
    """
    for element in context.written:
        if (
            not any(join.kind == "lock" for join in element.worked[0].joins)
            or element.kind not in ("ring", "josephine ring", "split ring")
            or element.step.half_closed
        ):
            continue
        work = element.step.work
        for at, item in enumerate(work):
            if isinstance(item, SideChange):
                break
            if isinstance(item, Join) and item.kind == "lock" and at < len(work) - 1:
                yield context.finding(
                    f"the lock join in {context.name(element.worked[0])} fixes the thread the ring is drawn up by",
                    element.step,
                    at,
                )
                break
