"""The rule picot-already-joined."""

from __future__ import annotations

from collections.abc import Iterator

from larkshead.linting import Context, Finding
from larkshead.working.worked import WorkedElement, WorkedJoin


def check(context: Context) -> Iterator[Finding]:
    """A picot is joined a second time without the text saying so.

    Defect: two places of the text join into one picot, and neither says that it is the same one; usually the
        wrong element is named, while a like picot stays free.
    Why: the picot draws tight or tears, and the element that should have been joined hangs loose.
    Exempt: joins that say the same, again or together; a picot that three or more join into (a hub); the passes
        of one repeat; the lock join that closes a round where it began; joins to another motif; mock picots; a
        picot named by a label that the text uses for several joins.
    Good:
        Shuttle and ball.
        R1 5-5-5 cl RW
        C 6-6 RW
        R2 5+5-5 cl RW, joining to the last picot of R1
        C 6-6 RW
        R3 5+5-5 cl RW, joining to the last picot of R2
    Bad:
        Shuttle and ball.
        R1 5-5-5 cl RW
        C 6-6 RW
        R2 5+5-5 cl RW, joining to the last picot of R1
        C 6-6 RW
        R3 5+5-5 cl RW, joining to the last picot of R1
    Source: multiple joins into one picot do occur by design [WL-04C]; otherwise common practice, no source.
    """
    for picot in context.shared_picots:
        if len(picot.uses) != 2 or picot.mock:
            continue
        element = picot.element
        first, second = picot.uses
        if first.step is second.step or _meant(context, first, second):
            continue
        free = _left_free(context, second.by, element) if second.by is not None else None
        yield context.finding(
            f"{_maker(context, second)} is joined to picot {picot.number} of {context.name(element)}, "
            f"which {_maker(context, first)} is joined to already"
            + (f"; the picots of {context.name(free)} stay free" if free is not None else ""),
            second.step,
            _item(second),
            related=[(first.step, _item(first), "already joined here"), (element.step, picot.item, "the picot")],
        )


def _maker(context: Context, join: WorkedJoin) -> str:
    return context.name(join.by) if join.by is not None else "a lock join"


def _item(join: WorkedJoin) -> int | None:
    return join.item if join.item >= 0 else None


def _meant(context: Context, first: WorkedJoin, second: WorkedJoin) -> bool:
    if second.place.picot == "same" or (second.place.element is not None and second.place.element.which == "same"):
        return True
    named = second.place.picot in ("first", "last", "middle", "only") or isinstance(second.place.picot, int)
    if (second.assumed and not named) or (first.kind == "lock") != (second.kind == "lock"):
        # Taken where the words leave it open, or a lock join that comes back to a place: nothing was named wrongly.
        return True
    if second.kind == "lock":
        # A round that closes where it began; only where another place of the same element stays free is one missed.
        into = second.into
        if into is None or all(picot.uses for picot in into.picots):
            return True
    return any(context.remarks.near(kind, first.step, second.step) for kind in ("again", "together", "on_purpose"))


def _left_free(context: Context, by: WorkedElement, joined: WorkedElement) -> WorkedElement | None:
    """The nearest element of the same sort between the two, if none of its picots is joined: the one that was meant."""
    for made in _between(context, joined, by):
        if made.is_ring == joined.is_ring and made.picots and not any(picot.uses for picot in made.picots):
            return made
    return None


def _between(context: Context, low: WorkedElement, high: WorkedElement) -> Iterator[WorkedElement]:
    sequence = context.worked.sequence
    for at in range(high.index - 1, max(low.index, high.index - 12), -1):
        made = sequence[at]
        if isinstance(made, WorkedElement):
            yield made
