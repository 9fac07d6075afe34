"""The rule ambiguous-join."""

from __future__ import annotations

from collections.abc import Iterator

from larkshead.linting import Context, Finding, Joined
from larkshead.working.worked import WorkedElement, WorkedJoin

_WALKING = ("next", "free", "any")
# Elements named where a round goes on or closes: they do not say what it is worked round.
_NEAR = ("previous", "last", "same", "first", 1, None)


def check(context: Context) -> Iterator[Finding]:
    """The text does not settle which picot a join goes into.

    Defect: more than one free picot fits the words; or an element is named and no picot of it, and several are
        free; or "the next picot" is said of nothing; or the one before is named, and is another sort of element
        than the sister this one would be joined to.
    Why: the reader has to choose, and every later join follows from the choice.
    Exempt: the first join of a ring to the ring before (only a note, since the near picot is the usual
        reading); a join with no words at all where the usual reading (the near picot of the one before) leaves
        one picot; a place that a standing sentence or an earlier sister settles.
    Fix: none.
    Good:
        Shuttle and ball.
        R1 5-5-5-5 cl RW
        C1 6-6 RW
        R2 5+5-5-5 cl, joining to the last picot of R1
    Bad:
        Shuttle and ball.
        R1 5-5-5-5 cl RW
        C1 6-6 RW
        R2 5-5+5-5 cl, joining to R1
    Source: a note must say what a join is made into [WL-04C]; [BO-RDI].
    """
    for joined in context.joins:
        join = joined.join
        if not join.resolved and join.candidates > 1:
            yield context.finding(
                f"{_maker(context, joined)}: it is not settled which picot is joined to: {join.reason}",
                joined.step,
                join.item if join.item >= 0 else None,
            )
        elif join.by is not None and _wrong_neighbour(context, join.by, join):
            yield _found(context, join.by, join)
        elif join.by is not None and join.picot is not None and _next_of_what(context, join.by, join):
            yield context.finding(
                f"{context.name(join.by)} is joined to the {join.place.picot} picot, and it is not said of what; "
                f"{context.name(join.picot.element)} is taken",
                join.by.step,
                join.item,
                related=[(join.picot.element.step, join.picot.item, "taken here")],
            )
        elif join.by is not None and join.picot is not None and _left_to_guess(join):
            into = join.picot.element
            yield context.finding(
                f"{context.name(join.by)} is joined to {context.name(into)}, and which of its {join.candidates} free "
                f"picots is not said; the nearest is taken",
                join.by.step,
                join.item,
                related=[(into.step, join.picot.item, "the nearest")],
                severity="note" if join.position == 1 else None,
            )


def _maker(context: Context, joined: Joined) -> str:
    return context.name(joined.maker) if isinstance(joined.maker, WorkedElement) else "the lock join"


def _next_of_what(context: Context, by: WorkedElement, join: WorkedJoin) -> bool:
    """``the next picot`` with nothing named to go round, here or at any other join of the part, and a sister taken for
    it."""
    place = join.place
    into = join.into
    if place.picot not in _WALKING or place.element is not None or place.part is not None or into is None:
        return False
    if into.part != by.part or context.written_of(into).family != context.written_of(by).family:
        return False
    return by.part not in context.cached("parts that name what they go round", lambda: _named_rounds(context))


def _named_rounds(context: Context) -> set[int]:
    """Parts in which some join or fastening on names a round, or an element that is not just the one before."""
    named: set[int] = set()
    for joined in context.joins:
        place = joined.join.place
        element = place.element
        if place.part is not None or (element is not None and element.which not in _NEAR):
            named.add(joined.join.part)
    return named


def _left_to_guess(join: WorkedJoin) -> bool:
    """An element is named and no picot of it, and several are free."""
    place = join.place
    return place.element is not None and place.picot is None and place.spot == "picot" and join.candidates > 1


def _wrong_neighbour(context: Context, by: WorkedElement, join: WorkedJoin) -> bool:
    """True for "the ring before" where the ring before is no sister and a sister stands behind it."""
    place = join.place
    into = join.into
    if place.picot is not None or place.element is None or place.element.which != "previous" or into is None:
        return False
    if place.element.size or place.element.label or into.is_ring != by.is_ring or into.part != by.part:
        return False
    mine, theirs = context.written_of(by), context.written_of(into)
    if mine.family == theirs.family or mine.in_repeat != theirs.in_repeat:
        return False
    earlier = [sister for sister in context.sisters(mine) if sister.worked[0].index < into.index]
    return any(any(not picot.uses for picot in made.picots) for sister in earlier for made in sister.worked[:1])


def _found(context: Context, by: WorkedElement, join: WorkedJoin) -> Finding:
    into = join.into
    assert into is not None
    sister = next(s for s in context.sisters(context.written_of(by)) if s.worked[0].index < into.index)
    return context.finding(
        f"{context.name(by)} is joined to the one before it, which is {context.name(into)}; no picot is named, and "
        f"{context.name(sister.worked[0])}, which is like it, may be meant",
        by.step,
        join.item,
        related=[(into.step, None, "the one before"), (sister.step, None, "the one like it")],
    )
