"""A motif of two rounds with one shuttle: the tail left at the start is the second thread of the climb.

The centre ring has five ordinary picots and a mock picot, which climbs. Small rings on measured bare thread are locked
to the centre between them; the last of them is a split ring whose second side the tail makes, folded on to the first.
"""

from __future__ import annotations

import pytest
from by_hand import pattern_of, shown

from larkshead.model import ByPass, Element, Join, Length, Pattern, Repeat, Thread
from larkshead.working import Worked, narrate, tally, work

MEDALLION = """
# Round 1
R 3 p 3 p 3 p 3 p 3 p 3
MP
# Round 2
REP 6 {
BT 4mm
R 4 j 4 p 4 p 4 -> previous ring, last picot
ON first R 4 p 4 p 4 p 4
ON last SR 4 j 4 / 4 j 4 -> previous ring, last picot; first ring, first picot
BT 4mm
ON last NOTURN
LJ -> next picot of round 1
ON last NOTURN
}
MP
CUT
"""


@pytest.fixture
def worked() -> Worked:
    threads = [Thread("shuttle", "shuttle"), Thread("tail", "tail", length=Length("60", "cm"), joined_to="shuttle")]
    pattern = pattern_of(MEDALLION)
    pattern.threads = threads
    fold_the_last_join(pattern)
    return work(pattern)


def fold_the_last_join(pattern: Pattern) -> None:
    repeat = pattern.parts[1].steps[0]
    assert isinstance(repeat, Repeat)
    rings = next(step for step in repeat.steps if isinstance(step, ByPass) and "first" in step.passes)
    (last,) = rings.passes["last"]
    assert isinstance(last, Element)
    join = last.work[-2]
    assert isinstance(join, Join)
    join.kind = "folded"


def test_every_join_finds_its_picot(worked: Worked) -> None:
    found = [shown(join, worked) for join in worked.joins]
    assert [one for one, join in zip(found, worked.joins, strict=True) if join.kind == "lock"] == [
        f"ring 1 of round 1, picot {number}" for number in range(1, 6)
    ]
    rings = [one for one, join in zip(found, worked.joins, strict=True) if join.kind != "lock"]
    assert rings[:5] == ["ring 1, picot 3", *(f"ring {number}, picot 2" for number in range(2, 6))]
    assert rings[5:] == ["ring 1, picot 1"]
    assert [join.kind for join in worked.elements[-1].joins] == ["picot", "folded"]
    assert not worked.problems


def test_the_mock_picot_is_the_sixth_and_the_climb(worked: Worked) -> None:
    centre = worked.elements[0]
    assert [picot.mock for picot in centre.picots] == [False] * 5 + [True]
    assert [picot.number for picot in centre.picots] == [1, 2, 3, 4, 5, 6]
    second = worked.parts[1]
    assert second.climb == "mock picot"
    assert second.stood is not None
    assert second.stood.picot is centre.picots[5]


def test_the_tail_makes_the_second_side_of_the_split_ring(worked: Worked) -> None:
    last = worked.elements[-1]
    assert (last.kind, last.core, last.working) == ("split ring", "shuttle", "tail")
    assert last.groups == (4, 4, 4, 4)
    assert last.position.at == "top"
    assert {(one.core, one.working) for one in worked.elements[:-1]} == {("shuttle", "shuttle")}


def test_thread_lies_bare_on_both_sides_of_every_lock_join(worked: Worked) -> None:
    counts = tally(worked)
    assert counts.bare_thread == 4 * 11
    assert (counts.rings, counts.split_rings, counts.picots, counts.mock_picots) == (7, 1, 16, 2)
    assert (counts.joins, counts.lock_joins, counts.ds) == (11, 5, 18 + 6 * 16)
    assert [part.ds for part in counts.parts] == [18, 96]


def test_told_step_by_step(worked: Worked) -> None:
    told = narrate(worked)
    assert [told[0].what, told[1].what, told[2].what] == ["ring 1", "mock picot", "leave 4mm"]
    assert [told[0].free, told[1].free] == [5, 6]
    assert told[0].work == "3 p 3 p 3 p 3 p 3 p 3"
    split = next(one for one in told if one.what == "split ring 6")
    assert (split.thread, split.passes, split.part) == ("tail over shuttle", ["6 of 6"], "round 2")
    assert [join.into for join in split.joins] == ["ring 5, picot 2", "ring 1, picot 1"]
    free = [picot for one in worked.elements for picot in one.picots if not picot.uses]
    assert told[-1].free == len(free) == 7
