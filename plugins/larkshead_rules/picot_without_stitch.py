"""The rule picot-without-stitch."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from larkshead.linting import Context, Finding, Shape, WrittenElement
from larkshead.model import Join, LockJoin, Picot, Stitches, WorkItem

MANY = 5


def check(context: Context) -> Iterator[Finding]:
    """A picot with no stitch before or after it.

    Defect: a picot at the very start or end of an element, or two picots, or a picot and a join (only a warning), with no stitch
        between them.
    Why: a picot is the thread between two stitches; without the second stitch there is nothing to hold it.
    Exempt: a small picot that begins a chain; a ring of five or more like groups with a picot after each (only a note);
        a picot at the end of a chain that a lock join closes or opens, or that is held by a clip or pin; a
        mock picot; a bead between; a picot at the start of the second side of a split ring.
    Good:
        One shuttle.
        R 4-4-4 cl
    Bad:
        One shuttle.
        R 4-4-4- cl
    Bad (prose):
        One shuttle. Ring: 4 ds, p, p, 4 ds, close.
    Source: a picot is the thread between two stitches [TC-PIC], [TM-PIC].
    """
    anchored = _anchored(context)
    for element in context.shaped(_lacks_stitches):
        yield from itertools.islice(_stray(context, element, anchored), 1)


def _lacks_stitches(shape: Shape) -> bool:
    """False of stitches at both ends and between all that stands in an element."""
    return 0 in shape.counts or any(len(mark) > 1 for mark in shape.marks)


def _stray(context: Context, element: WrittenElement, anchored: set[tuple[int, int]]) -> Iterator[Finding]:
    """The picots of an element that lack a stitch; the first is enough to tell of."""
    work = element.step.work
    last = len(work) - 1
    for at, item in enumerate(work):
        if not isinstance(item, Picot):
            continue
        if isinstance(work[at - 1], Picot) and at > 0:
            yield _found(context, element, at, "two picots stand side by side with no stitch between them")
        elif _beside_join(work, at):
            yield context.finding(
                f"{context.name(element.worked[0])}: a picot and a join stand side by side with no stitch between them; a "
                f"count may have fallen out",
                element.step,
                at,
                severity="warning",
            )
        elif at in (0, last) and _at_the_closing(element):
            yield context.finding(
                f"{context.name(element.worked[0])}: the picot at the {'end' if at else 'start'} lies where the ring "
                f"closes; a stitch is wanted on both sides of it",
                element.step,
                at,
                severity="note",
            )
        elif at == 0 and item.size != "small" and not _held(context, element, anchored, 0):
            yield _found(context, element, at, "a picot stands before the first stitch")
        elif at == last and at > 0 and not _held(context, element, anchored, 1):
            yield _found(context, element, at, "a picot stands after the last stitch")


def _beside_join(work: list[WorkItem], at: int) -> bool:
    """A join of the working thread next to a picot, with stitches on the far side of both."""
    return any(
        0 < beside < len(work) - 1 and isinstance(work[beside], Join) and work[beside].kind != "lock"  # type: ignore[union-attr]
        for beside in (at - 1, at + 1)
    )


def _at_the_closing(element: WrittenElement) -> bool:
    """A ring of like groups, a picot after each: it is worked so that the last picot lies at the closing."""
    counts = element.shape.counts
    ends = counts[1:] if counts[0] == 0 else counts[:-1]
    return element.is_ring and len(ends) >= MANY and len(set(ends)) == 1 and 0 not in ends


def _found(context: Context, element: WrittenElement, at: int, what: str) -> Finding:
    return context.finding(
        f"{context.name(element.worked[0])}: {what}; a picot is the thread between two stitches", element.step, at
    )


def _held(context: Context, element: WrittenElement, anchored: set[tuple[int, int]], end: int) -> bool:
    if not any(isinstance(item, Stitches) for item in element.step.work):
        # Counts that were left out, or could not be read: nothing can be said of what stands beside the picot.
        return True
    if element.is_ring:
        return False
    return (id(element.step), end) in anchored or context.remarks.says("held", element.step)


def _anchored(context: Context) -> set[tuple[int, int]]:
    """Ends of elements (0 start, 1 end) that a lock join stands at."""
    found: set[tuple[int, int]] = set()
    sequence = context.worked.sequence
    for lock in context.actions(LockJoin):
        at = lock.index
        if at > 0:
            found.add((id(sequence[at - 1].step), 1))
        if at + 1 < len(sequence):
            found.add((id(sequence[at + 1].step), 0))
    return found
