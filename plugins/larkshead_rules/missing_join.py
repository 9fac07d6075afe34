"""The rule missing-join."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from larkshead.linting import Context, Finding, Gap, WrittenElement
from larkshead.model import BareThread, Cut, LockJoin, MockPicot, Picot, Switch
from larkshead.working.worked import WorkedElement, WorkedJoin


def check(context: Context) -> Iterator[Finding]:
    """An element lacks the join that its sisters have at the same place.

    Defect: all sisters but this one are joined to the element before them at a certain picot; this one has a
        picot there.
    Why: a gap is left in the lace, and the element hangs loose.
    Exempt: the first element of a round or row, or after the thread was cut; open shapes and places said to
        stay free; elements that differ from their sisters in more than the join; families in which more than
        one goes unjoined.
    Good:
        Shuttle and ball.
        R1 5-5-5-5 cl RW
        C 6-6 RW
        R2 5+5-5-5 cl RW, joining to the last picot of R1
        C 6-6 RW
        R3 5+5-5-5 cl RW, joining to the last picot of R2
        C 6-6 RW
        R4 5+5-5-5 cl RW, joining to the last picot of R3
    Bad:
        Shuttle and ball.
        R1 5-5-5-5 cl RW
        C 6-6 RW
        R2 5+5-5-5 cl RW, joining to the last picot of R1
        C 6-6 RW
        R3 5-5-5-5 cl RW
        C 6-6 RW
        R4 5+5-5-5 cl RW, joining to the last picot of R3
    Source: common practice, no source.
    """
    started = _after_a_cut(context)
    for family in context.families():
        rows = [member for member in family if member.shape.marks and not member.shape.halves]
        if len({id(member.shape) for member in rows}) < 2:
            # One alone, or all alike to the last join.
            continue
        for at in range(max(len(member.shape.marks) for member in rows)):
            yield from _at_mark(context, rows, at, started)
    yield from _side_by_side(context)


def _side_by_side(context: Context) -> Iterator[Finding]:
    """Rings worked one straight after the other: where one is joined to the ring before it, the next is, too."""
    near = [gap for gap in context.gaps if _close(gap)]
    joined = {id(gap.after.step) for gap in near if any(join.into is gap.before for join in gap.after.joins)}
    for one, other in pairwise(near):
        if one.after is not other.before or id(one.after.step) not in joined or id(other.after.step) in joined:
            continue
        ring = other.after
        shape = context.written_of(ring).shape
        if not shape.marks or shape.marks[0] != "p" or ring.joins or all(picot.uses for picot in other.before.picots):
            continue
        if not context.remarks.near("stays_free", ring.step):
            yield context.finding(
                f"{context.name(ring)} is not joined to {context.name(other.before)} beside it, as that one is to the "
                f"ring before it",
                ring.step,
                shape.items[0],
                related=[(other.before.step, None, "joined to the ring before it")],
            )


def _close(gap: Gap) -> bool:
    """Two rings of a clover: said not to turn between them, or nothing at all between."""
    before, after = gap.before, gap.after
    if not (before.is_ring and after.is_ring) or before.part != after.part or gap.turns:
        return False
    return before.kind == after.kind == "ring" and not gap.has(BareThread, Cut, LockJoin, MockPicot, Switch)


def _at_mark(context: Context, rows: list[WrittenElement], at: int, started: set[int]) -> Iterator[Finding]:
    joining: list[WrittenElement] = []
    free: list[WrittenElement] = []
    for member in rows:
        mark = member.shape.marks[at] if at < len(member.shape.marks) else ""
        if "j" in mark:
            joining.append(member)
        elif "p" in mark:
            free.append(member)
    if not joining or not free:
        return
    begins = min(rows, key=lambda member: member.order)
    lacking = [one for one in free if not (one.first or one is begins or one.worked[0].index in started)]
    if len(lacking) != 1:
        return
    joined = [one for one in joining if _to_the_one_before(context, one, at)]
    member = lacking[0]
    pattern = member.shape.pattern
    alike = [sister for sister in joined if sister.shape.pattern == pattern]
    if not alike or member.times > sum(sister.times for sister in alike) > 1 or member.by_pass:
        return
    if context.remarks.says("stays_free", member.step) or context.remarks.near("on_purpose", member.step):
        return
    yield context.finding(
        f"{context.name(member.worked[0])} has a picot where its sisters are joined to the element before them",
        member.step,
        member.shape.items[at],
        related=[(alike[0].step, alike[0].shape.items[at], "joined here")],
    )


def _to_the_one_before(context: Context, member: WrittenElement, at: int) -> bool:
    """True when the join at a mark goes to the nearest earlier element of the same sort (ring, chain)."""
    item = member.shape.items[at]
    work = member.step.work
    if isinstance(work[item], Picot):
        return False
    for made in member.worked:
        join = next((join for join in made.joins if join.item == item), None)
        if join is not None and join.picot is not None:
            return _neighbours(context, made, join)
    return False


def _neighbours(context: Context, made: WorkedElement, join: WorkedJoin) -> bool:
    into = join.into
    return (
        into is not None and into.part == made.part and into.is_ring == made.is_ring and made.number - into.number == 1
    )


def _after_a_cut(context: Context) -> set[int]:
    """Indices of elements that are the first of their sort after a cut, or stand apart over bare thread where the
    others
    do not."""
    bare = {gap.after.index for gap in context.gaps if BareThread in gap.kinds}
    found: set[int] = bare if len(bare) == 1 else set()
    sequence = context.worked.sequence
    for cut in context.actions(Cut):
        waiting = {True, False}
        at = cut.index + 1
        while waiting and at < len(sequence):
            made = sequence[at]
            if isinstance(made, WorkedElement):
                if made.is_ring in waiting:
                    found.add(made.index)
                    waiting.remove(made.is_ring)
            elif isinstance(made.step, Cut):
                break
            at += 1
    return found
