"""Held over generated patterns: totals as worked are sums as written times passes; working is deterministic."""

from __future__ import annotations

from hypothesis import given
from strategies import patterns

from larkshead.model import LockJoin, MockPicot, Pattern, Picot
from larkshead.working import Worked, WorkedElement, narrate, tally, work
from larkshead.working.plans import plan_of


def made(worked: Worked) -> dict[str, int]:
    """Totals added up one worked step after another."""
    sums = dict.fromkeys(
        [
            "rings",
            "chains",
            "ds",
            "halves",
            "beads",
            "picots",
            "mock_picots",
            "joins",
            "split_rings",
            "mock_rings",
            "josephine_rings",
        ],
        0,
    )
    for one in worked.sequence:
        if isinstance(one, WorkedElement):
            sums["ds"] += one.ds
            sums["halves"] += one.halves
            sums["beads"] += one.beads
            sums["picots"] += sum(1 for item in one.step.work if isinstance(item, Picot))
            sums["joins"] += len({join.item for join in one.joins})
            sums["rings" if one.is_ring else "chains"] += 1 if one.is_ring else plan_of(one.step).pieces
            key = one.kind.replace(" ", "_") + "s"
            if key in ("split_rings", "mock_rings", "josephine_rings"):
                sums[key] += 1
        else:
            sums["joins"] += isinstance(one.step, LockJoin)
            sums["mock_picots"] += isinstance(one.step, MockPicot)
    return sums


@given(patterns())
def test_totals_as_worked_are_the_sums_as_written_times_their_passes(pattern: Pattern) -> None:
    worked = work(pattern)
    assert not worked.too_big
    counts = tally(worked)
    for name, total in made(worked).items():
        said = getattr(counts, name)
        assert said == total or (said is None and worked.open_repeats), name
        assert said == (None if None in (of_parts := [getattr(part, name) for part in counts.parts]) else sum(of_parts))


def outline(worked: Worked) -> list[object]:
    """Everything the working found, as plain values."""
    return [
        (
            type(one).__name__, one.passes, one.of_passes, getattr(one, "side", ""), getattr(one, "core", ""),
            [(j.reason, j.assumed, j.candidates, j.spot, j.into and j.into.index, j.picot and j.picot.number)
             for j in one.joins],
        )
        for one in worked.sequence
    ]  # fmt: skip


@given(patterns())
def test_working_is_deterministic(pattern: Pattern) -> None:
    first, second = work(pattern), work(pattern)
    assert outline(first) == outline(second)
    assert first.problems == second.problems
    assert narrate(first) == narrate(second)


@given(patterns())
def test_every_join_is_settled_or_says_why_not(pattern: Pattern) -> None:
    worked = work(pattern)
    for join in worked.joins:
        assert join.resolved != bool(join.reason), join
        if join.picot is not None:
            assert (join in join.picot.uses) == (join.kind != "attach")


@given(patterns())
def test_the_ledger_of_picots_agrees_with_the_joins(pattern: Pattern) -> None:
    worked = work(pattern)
    joined = {id(join) for join in worked.joins if join.picot is not None and join.kind != "attach"}
    used = [use for one in worked.elements for picot in one.picots for use in picot.uses]
    assert {id(use) for use in used} == joined
    assert len(used) == len(joined)
    for one in worked.elements:
        assert [picot.number for picot in one.picots] == list(range(1, len(one.picots) + 1))
        places = [picot.place for picot in one.picots]
        assert places == sorted(set(places))
