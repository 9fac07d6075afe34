"""The rule join-to-own-picot."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice

from larkshead.linting import Context, Finding
from larkshead.working.worked import WorkedElement, WorkedJoin


def check(context: Context) -> Iterator[Finding]:
    """An element is joined to a picot of its own that is not made yet.

    Defect: a join names a picot of the element it stands in ("the same ring", its own label), and that picot
        comes later in the work, or the element has none.
    Why: it cannot be worked; almost always the ring before is meant.
    Exempt: joins to an earlier picot of the same element (dimpled and heart rings, loops of a chain); a ring
        joined to the ring it lies round.
    Good:
        One shuttle.
        R 10-4+10 cl, joining to the first picot of the same R
    Bad:
        Shuttle and ball.
        R 5-5-5 cl RW
        C 6-6 RW
        R 5+5-5 cl, joining to the last picot of the same R
    Source: [TS-DIM], [TS-MOCK].
    """
    for joined in context.joins:
        join = joined.join
        by = join.by
        if by is None or not _names_itself(join, by) or by.joins[0] is not join:
            continue
        if join.resolved and (join.into is by or not by.picots):
            continue
        before = list(islice(_like_it_before(context, by), 1))
        free = before and any(not picot.uses for picot in before[0].picots)
        yield context.finding(
            f"{context.name(by)} is joined to a picot of its own that is not made yet"
            + (f"; {context.name(before[0])}, the one before, has a free picot" if free else ""),
            by.step,
            join.item,
        )


def _names_itself(join: WorkedJoin, by: WorkedElement) -> bool:
    ref = join.place.element
    if ref is None or join.place.part is not None:
        return False
    if ref.label is not None:
        return bool(by.step.label) and ref.label.casefold() == (by.step.label or "").casefold()
    return ref.which == "same" and (not ref.kind or by.kind.endswith(ref.kind))


def _like_it_before(context: Context, by: WorkedElement) -> Iterator[WorkedElement]:
    for made in reversed(context.worked.sequence[max(0, by.index - 12) : by.index]):
        if isinstance(made, WorkedElement) and made.is_ring == by.is_ring and made.part == by.part:
            yield made
