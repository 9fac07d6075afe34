"""The rule missing-climb."""

from __future__ import annotations

from collections.abc import Iterator

from larkshead.linting import Context, Finding
from larkshead.linting.runs import runs_of
from larkshead.model import Attach, BareThread, Cut, Element, LockJoin, MockPicot
from larkshead.working.worked import Position, WorkedAction, WorkedElement, WorkedJoin

_MEANS = ("split ring", "split chain")
_WHERE = {"base": "at the base of", "end": "at the end of", "top": "at the far end of", "join": "at", "start": "at"}


def check(context: Context) -> Iterator[Finding]:
    """A round starts away from where the thread is.

    Defect: a chain that begins a round starts at the base or end of the round before, while the chains of its
        round run from picot to picot of that round; nothing brings the thread out: no cut, split ring, split
        chain, mock picot, lock join or bare thread. Or the round is joined to the tip of a mock picot, or to a
        split ring, that is made nowhere.
    Why: the first chain would have to begin in mid air; the reader finds out with the round before already
        finished.
    Exempt: a round that closes again where it began; rounds that begin with a ring; threads cut and fastened
        on.
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
        Round 2
        *C 5-5, LJ to the next picot of round 1
        Repeat from * 4 more times.
    Source: [GS-CLIMB], [OO-CLIMB], [SG-SC], [NT-4].
    """
    reported: set[int] = set()
    for start in _starts(context):
        reported.add(start.index)
        yield _found(context, start)
    yield from _never_made(context, reported)


def _starts(context: Context) -> Iterator[WorkedElement]:
    """Chains that begin a run of chains from picot to picot without standing at one of them."""
    runs = runs_of(context)
    if not runs:
        return
    carried = True
    stands: Position | None = None
    for made in context.worked.sequence:
        if isinstance(made, WorkedAction):
            carried = carried or isinstance(made.step, (Cut, Attach, MockPicot, BareThread))
            if isinstance(made.step, LockJoin) and made.position is not None:
                stands = made.position
            continue
        run = runs.get(made.index)
        if (
            run is not None
            and stands is not None
            and not (carried or _stands_at(stands, run) or _comes_back(stands, run))
        ):
            yield made
        if made.thrown_from is None:
            carried = made.kind in _MEANS
            stands = made.position


def _stands_at(stands: Position, run: list[WorkedJoin]) -> bool:
    """True when the thread stands at a picot of an element that the run is joined to."""
    return (stands.picot is not None and any(join.into is stands.picot.element for join in run)) or (
        stands.picot is not None and any(_same_step(join, stands.picot.element) for join in run)
    )


def _same_step(join: WorkedJoin, element: WorkedElement) -> bool:
    into = join.into
    return into is not None and into.step is element.step


def _comes_back(stands: Position, run: list[WorkedJoin]) -> bool:
    """True when the run ends where it began: at the base or top the thread stood at."""
    return any(join.picot is None and join.element is not None and join.element is stands.element for join in run)


def _found(context: Context, start: WorkedElement) -> Finding:
    sequence = context.worked.sequence
    at = start.index - 1
    while not (isinstance(sequence[at], WorkedElement) or isinstance(sequence[at].step, LockJoin)):
        at -= 1
    before = sequence[at]
    stands = before.position or Position("end")
    where = context.name(stands.element) if stands.element is not None else "the last element"
    return context.finding(
        f"the thread stands {_WHERE.get(stands.at, 'at')} {where}, and {context.name(start)} begins a round that runs "
        f"from picot to picot; nothing brings the thread out there",
        start.step,
        related=[(before.step, None, "the thread is here")],
    )


def _never_made(context: Context, reported: set[int]) -> Iterator[Finding]:
    """Parts that are joined to a mock picot or a split element which is made nowhere."""
    if all(joined.join.resolved for joined in context.joins):
        return
    sequence = context.worked.sequence
    kinds = {element.kind for element in context.elements}
    mock = any(isinstance(made.step, MockPicot) for made in sequence)
    told: set[int] = set()
    for joined in context.joins:
        join = joined.join
        if join.resolved or join.part in told:
            continue
        place = join.place
        named = place.element.kind if place.element is not None else ""
        missing = "mock picot" if place.spot == "mock picot" and not mock else ""
        if named in _MEANS and named not in kinds:
            missing = named
        start = _first_of(context, join.part)
        if not missing or start is None or start.index in reported:
            continue
        told.add(join.part)
        yield context.finding(
            f"{context.name(start)} begins a round that is joined to a {missing}, and no {missing} is made: nothing "
            f"brings the thread out there",
            start.step,
            related=[(joined.step, join.item if join.item >= 0 else None, f"joined to the {missing} here")],
        )


def _first_of(context: Context, part: int) -> WorkedElement | None:
    found = next((worked for worked in context.worked.parts if worked.number == part), None)
    if found is None:
        return None
    for made in context.worked.sequence[found.start : found.end]:
        if isinstance(made, WorkedElement) and isinstance(made.step, Element):
            return made
    return None
