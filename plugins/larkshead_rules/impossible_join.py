"""The rule impossible-join."""

from __future__ import annotations

from collections.abc import Iterator

from larkshead.linting import Context, Finding, Joined
from larkshead.working.worked import WorkedElement


def check(context: Context) -> Iterator[Finding]:
    """A join goes into a picot that is not there.

    Defect: the element named has fewer picots than the number asks for, or none; or it is not worked yet when
        the join is made, or stands nowhere in the pattern.
    Why: the reader finds out with the shuttle in hand, and has to guess where the lace was meant to hold
        together.
    Exempt: joins to a base, to bare thread, to fabric or to another motif; joins to a mock picot; patterns that
        count joined places as picots (that reading is tried first); a place that the text does not settle
        (ambiguous-join); what a passage (a text without title and materials) does not tell of.
    Fix: none: which picot is meant is not known.
    Good:
        Shuttle and ball.
        R1 5-5-5 cl RW
        C1 6-6 RW
        R2 5+5-5 cl, joining to the 2nd picot of R1
    Bad:
        Shuttle and ball.
        R1 5-5-5 cl RW
        C1 6-6 RW
        R2 5+5-5 cl, joining to the 4th picot of R1
    Source: common practice, no source; forgotten joining places make a pattern unusable [SN-GOOD].
    """
    for joined in context.joins:
        join = joined.join
        if join.resolved or join.candidates or not join.reason:
            continue
        if join.element is None and (join.place.unsaid or not context.is_whole):
            # What is named stands nowhere in this text: in a passage it may stand before or behind it.
            continue
        into = join.element
        related = [(into.step, None, "this is where it would go")] if into is not None else []
        yield context.finding(
            f"{_maker(context, joined)} cannot be joined there: {join.reason}",
            joined.step,
            join.item if join.item >= 0 else None,
            related=related,
        )


def _maker(context: Context, joined: Joined) -> str:
    return context.name(joined.maker) if isinstance(joined.maker, WorkedElement) else "the work"
