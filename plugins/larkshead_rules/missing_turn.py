"""The rule missing-turn."""

from __future__ import annotations

from collections.abc import Iterator

from larkshead.linting import Context, Finding, Gap
from larkshead.model import Attach, BareThread, Cut, LockJoin, MockPicot, NoTurn, Switch

_USUAL = (("ring", "chain"), ("chain", "ring"))
# Actions behind which no turn is expected.
_INSTEAD = frozenset((NoTurn, MockPicot, LockJoin, Switch, Cut, Attach))


def check(context: Context) -> Iterator[Finding]:
    """No turn between two elements where the others have one.

    Defect: between a ring and a chain (or between two rings of one-shuttle work, parted by bare thread) there
        is no turn, and it is not said that there is none, while the like gaps of the same round have one.
    Why: the element comes out curving the wrong way, and everything after it lies on the wrong side.
    Exempt: gaps where it is said not to turn; rings of a clover and thrown rings; after a mock picot, a lock
        join, a switch of shuttles or a cut; rounds in which no turn, or only here and there one, is written; a
        standing remark on turning.
    Fix: none: whether the turn or the pattern of turns is wrong is not known.
    Good:
        Shuttle and ball.
        R 5-5-5 cl RW
        *C 6-6 RW
        R 5+5-5 cl RW, joining to the last picot of the previous R
        Repeat from * 4 more times.
    Bad:
        Shuttle and ball.
        R 5-5-5 cl RW
        *C 6-6
        R 5+5-5 cl RW, joining to the last picot of the previous R
        Repeat from * 4 more times.
    Source: [TT-RW], [TS-FIVE], [BB-READ].
    """
    if context.remarks.anywhere("always_turn"):
        return
    turned: dict[tuple[int, bool], list[Gap]] = {}
    unturned: dict[tuple[int, bool], dict[tuple[int, int], Gap]] = {}
    for gap in context.gaps:
        if not _judged(gap):
            continue
        key = (gap.before.part, gap.before.is_ring and gap.after.is_ring)
        if gap.turns:
            turned.setdefault(key, []).append(gap)
        else:
            unturned.setdefault(key, {}).setdefault(_families(context, gap), gap)
    for key, gaps in unturned.items():
        others = turned.get(key, [])
        if not others or len(gaps) > len({_families(context, gap) for gap in others}):
            continue
        for gap in gaps.values():
            yield _found(context, gap, others)


def _judged(gap: Gap) -> bool:
    """Gaps that a turn may be expected in: ring to chain, chain to ring, ring to ring over bare thread."""
    before, after = gap.before, gap.after
    if before.part != after.part or before.thrown_from is not None or after.thrown_from is not None:
        return False
    if before.is_ring == after.is_ring and not (before.is_ring and BareThread in gap.kinds):
        return False
    if not _INSTEAD.isdisjoint(gap.kinds):
        return False
    kinds = before.kind, after.kind
    return kinds in _USUAL or not any("split" in kind or "mock" in kind for kind in kinds)


def _families(context: Context, gap: Gap) -> tuple[int, int]:
    """The families of the two elements: a gap between their sisters is the same gap."""
    return context.written_of(gap.before).family, context.written_of(gap.after).family


def _found(context: Context, gap: Gap, others: list[Gap]) -> Finding:
    like = next((other for other in others if other.before.is_ring == gap.before.is_ring), others[0])
    return context.finding(
        f"the work is not turned between {context.name(gap.before)} and {context.name(gap.after)}, "
        f"as it is between {context.name(like.before)} and {context.name(like.after)}",
        gap.before.step,
        related=[(like.before.step, None, "turned after this one"), (gap.after.step, None, "the next element")],
    )
