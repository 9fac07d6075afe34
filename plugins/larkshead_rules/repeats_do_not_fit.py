"""The rule repeats-do-not-fit."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from larkshead.linting import Context, Finding, Joined
from larkshead.records import dataclass, field
from larkshead.working.worked import WorkedElement, WorkedJoin, WorkedPicot

OFTEN = 3


@dataclass(slots=True)
class _Offer:
    """Places of one sort that an earlier round offers: the picots of a lone ring, or like picots of its elements."""

    places: list[WorkedPicot]
    joins: list[Joined] = field(default_factory=list)
    unmet: int = 0


def check(context: Context) -> Iterator[Finding]:
    """A round does not use just the places that the round before offers.

    Defect: the joins of a round into the like picots of an earlier one are more or fewer than these picots (a
        mock picot is one of them), and the text gives no rule for leaving some out.
    Why: a repeat too many frills the round or has nowhere to join; one too few leaves a gap, and the lace cups.
    Exempt: every second or third picot, two picots in one join, two joins in every picot; picots said to stay
        free; rows and strips; repeats left open.
    Fix: none; both numbers are told.
    Good:
        Shuttle and ball.
        Round 1
        R 2-2-2-2-2-2 cl RW
        Mock picot of 3 mm.
        Round 2
        *C 5-5, LJ to the next picot of round 1
        Repeat from * 4 more times.
        C 5-5, LJ to the tip of the mock picot.
    Bad:
        Shuttle and ball.
        Round 1
        R 2-2-2-2-2-2 cl RW
        Mock picot of 3 mm.
        Round 2
        *C 5-5, LJ to the next picot of round 1
        Repeat from * 6 more times.
        C 5-5, LJ to the tip of the mock picot.
    Source: [AM-SQ], [WW-FRILL], [CC-TEST].
    """
    if not context.complete or context.remarks.anywhere("skipping") or context.remarks.anywhere("stays_free"):
        return
    for offer in _offers(context):
        used = len(offer.joins) + offer.unmet
        there = len(offer.places)
        if used == there or _by_rule(used, there) or used + _taken_by_the_start(context, offer) == there:
            continue
        yield _found(context, offer, used, there)


def _offers(context: Context) -> Iterator[_Offer]:
    """For each round: the places of an earlier round that at least three of its joins go into."""
    by_round: dict[tuple[int, object], _Offer] = {}
    unmet: dict[tuple[int, int], int] = defaultdict(int)
    keys: dict[tuple[int, int], set[object]] = defaultdict(set)
    for joined in context.joins:
        join = joined.join
        if join.kind == "attach":
            continue
        source = (join.part, id(joined.step))
        if join.picot is None:
            if not join.resolved:
                unmet[source] += 1
            continue
        into = join.picot.element
        if not _earlier_round(context, join, into):
            continue
        key = (join.part, _class_of(context, join.picot))
        if key not in by_round:
            by_round[key] = _Offer(_places(context, join.picot))
        by_round[key].joins.append(joined)
        keys[source].add(key)
    for source, count in unmet.items():
        # A join of the same step that found no picot left wants one of these places too.
        if len(keys[source]) == 1:
            by_round[next(iter(keys[source]))].unmet += count  # type: ignore[index]
    for (part, _), offer in by_round.items():
        if len(offer.joins) >= OFTEN and _goes_round(context, part, offer):
            yield offer


def _earlier_round(context: Context, join: WorkedJoin, into: WorkedElement) -> bool:
    """True for a picot of an earlier part, or of the one element that begins this part."""
    if into.part != join.part:
        return into.part < join.part
    if join.by is None or join.by.is_ring == into.is_ring:
        return False
    written = context.written_of(into)
    return written.times == 1 and written.first


def _class_of(context: Context, picot: WorkedPicot) -> object:
    """What places a picot is one of: all of a lone element, else those at the same mark of its sisters."""
    written = context.written_of(picot.element)
    family = [written, *context.sisters(written)]
    if len(family) == 1 and written.times == 1:
        return written.order, ""
    return written.family, _mark(context, picot)


def _mark(context: Context, picot: WorkedPicot) -> int:
    """Where a picot stands among the picots and joins of its element."""
    if not picot.mock:
        return picot.place
    # It stands in place of the picot its sisters have: the middle one.
    written = context.written_of(picot.element)
    usual = max(context.sisters(written), key=lambda sister: sister.times, default=written)
    places = [one.place for one in usual.worked[0].picots if not one.mock]
    return places[len(places) // 2] if places else 0


def _places(context: Context, picot: WorkedPicot) -> list[WorkedPicot]:
    written = context.written_of(picot.element)
    family = [written, *context.sisters(written)]
    if len(family) == 1 and written.times == 1:
        size = picot.made.size if picot.made is not None else ""
        return [one for one in picot.element.picots if one.made is None or one.made.size == size]
    mark = _mark(context, picot)
    made = [worked for member in family for worked in member.worked]
    return [one for element in made for one in element.picots if _mark(context, one) == mark]


def _goes_round(context: Context, part: int, offer: _Offer) -> bool:
    """True when the round comes back: it is headed a round, or its last join goes where its first thread stood."""
    if context.pattern.parts[part].kind == "round":
        return True
    begun = next((worked.began for worked in context.worked.parts if worked.number == part), None)
    last = offer.joins[-1].join
    return bool(last.picot and (last.picot.mock or (begun is not None and begun.picot is last.picot)))


def _taken_by_the_start(context: Context, offer: _Offer) -> int:
    """One place where the round begins at one of them and no join goes there."""
    part = offer.joins[0].join.part
    began = next((worked.began for worked in context.worked.parts if worked.number == part), None)
    if began is None or began.picot is None or any(joined.join.picot is began.picot for joined in offer.joins):
        return 0
    return int(any(place is began.picot for place in offer.places))


def _by_rule(used: int, there: int) -> bool:
    """Every second (third, fourth) place, or as many joins in every place."""
    few, many = sorted((used, there))
    return many % few == 0


def _found(context: Context, offer: _Offer, used: int, there: int) -> Finding:
    steps: dict[int, int] = defaultdict(int)
    for joined in offer.joins:
        steps[id(joined.step)] += 1
    main = next(joined for joined in offer.joins if steps[id(joined.step)] == max(steps.values()))
    ring = offer.places[0].element
    mock = any(place.mock for place in offer.places)
    repeat = context.repeat_around(main.step)
    related = [(context.span(ring.step), f"{there} places")]
    if repeat is not None:
        related.append((context.end_of_repeat(repeat), "repeated so often here"))
    return context.finding(
        f"{used} joins are made here into {context.name(ring)}{' and its sisters' if _several(offer) else ''}, "
        f"which {'have' if _several(offer) else 'has'} {there} places for them"
        + (" (the mock picot among them)" if mock else ""),
        main.step,
        main.join.item if main.join.item >= 0 else None,
        related=related,
    )


def _several(offer: _Offer) -> bool:
    return any(place.element is not offer.places[0].element for place in offer.places)
