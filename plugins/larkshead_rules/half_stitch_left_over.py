"""The rule half-stitch-left-over."""

from __future__ import annotations

from collections.abc import Iterator

from larkshead.linting import Context, Finding
from larkshead.model import Halves, Join, Stitches


def check(context: Context) -> Iterator[Finding]:
    """A first half without its second, or the reverse, outside work made of halves.

    Defect: an element of whole double stitches holds a single half stitch, or an odd number of halves of one
        sort.
    Why: a half stitch alone does not hold, and the next count is off by half a stitch.
    Exempt: Josephine rings and work in groups of halves; first and second halves of the same number; a half
        beside a join, which completes it; a remark that it is meant.
    Good:
        Shuttle and ball.
        C 6-6
    Bad (steplist):
        C 6 p 6 h1:1
    Source: Josephine and node work [GS-JK], [TN-JK]; an unflipped half of a mock picot [OO-CLIMB].
    """
    for element in context.shaped(lambda shape: shape.halves > 0):
        work = element.step.work
        if element.kind == "josephine ring" or element.step.technique:
            continue
        halves = [(at, item) for at, item in enumerate(work) if isinstance(item, Halves)]
        balance = sum(item.count if item.half == 1 else -item.count for _, item in halves)
        whole = sum(item.count for item in work if isinstance(item, Stitches))
        if not balance or 2 * whole <= element.shape.halves or abs(balance) > 1:
            continue
        at = halves[-1][0]
        beside = [work[near] for near in (at - 1, at + 1) if 0 <= near < len(work)]
        if any(isinstance(item, Join) for item in beside) or context.remarks.near("on_purpose", element.step):
            continue
        which = "first" if balance > 0 else "second"
        yield context.finding(
            f"{context.name(element.worked[0])} has a {which} half stitch without its fellow", element.step, at
        )
