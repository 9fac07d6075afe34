"""What is too much is refused before it is worked; what is not costs in proportion to its size."""

from __future__ import annotations

import sys
from collections.abc import Callable
from types import FrameType
from typing import Any

import pytest
from by_hand import element, steps

from larkshead.model import (
    BareThread,
    ByPass,
    Cut,
    Element,
    ElementRef,
    Join,
    Length,
    LockJoin,
    Part,
    PartRef,
    Pattern,
    Picot,
    Place,
    Repeat,
    Step,
    Stitches,
    Thrown,
    Turn,
)
from larkshead.working import Limits, tally, work

HUGE = 10**9


def nested(step: Step, times: int, depth: int) -> Step:
    for _ in range(depth):
        step = Repeat([step], times)
    return step


def test_a_thousand_million_passes_are_refused_and_counted_all_the_same() -> None:
    pattern = steps([Repeat([element("ring", "5 p 5"), BareThread(Length("2"))], HUGE)])
    worked = work(pattern)
    (problem,) = worked.problems
    assert problem.kind == "too-many-steps"
    assert problem.message == "worked through, this comes to 2,000,000,000 steps; 1,000,000 are worked at most"
    assert worked.too_big
    assert worked.sequence == []
    counts = tally(worked)
    assert (counts.rings, counts.ds, counts.picots, counts.bare_thread) == (HUGE, 10 * HUGE, HUGE, 2 * HUGE)


def test_passes_of_passes_of_passes() -> None:
    worked = work(steps([nested(element("ring", "5"), HUGE, 900)]))
    assert [problem.kind for problem in worked.problems] == ["too-many-steps"]
    assert "more than a million thousand million" in worked.problems[0].message
    assert tally(worked).rings is None


@pytest.mark.parametrize("inside", [[], [Repeat([], HUGE)], [ByPass(Repeat([], 1), {5: [Turn()]})]])
def test_passes_that_work_nothing_are_not_gone_through(inside: list[Step]) -> None:
    assert [problem.kind for problem in work(steps([Repeat(inside, HUGE)])).problems] == ["too-many-passes"]


def test_nesting_has_a_limit_and_none_of_python_s() -> None:
    assert not work(steps([nested(element("ring", "5"), 1, 1000)])).problems
    worked = work(steps([nested(element("ring", "5"), 1, 100_000)]))
    assert [problem.kind for problem in worked.problems] == ["too-many-levels"]
    assert tally(worked).rings == 1


def test_elements_thrown_off_one_another_ever_deeper() -> None:
    ring = element("ring", "5")
    for _ in range(50_000):
        ring = Element("chain", [Stitches(1), Thrown(ring)])
    worked = work(steps([ring]))
    assert len(worked.elements) == 50_001
    assert worked.elements[-1].thrown_from is worked.elements[-2]


def test_by_pass_steps_ever_deeper() -> None:
    step: Step = element("ring", "5")
    for _ in range(20_000):
        step = ByPass(step, {2: []})
    assert [one.ds for one in work(steps([Repeat([step], 3)])).elements] == [5, 5]


def test_an_element_with_picots_beyond_number() -> None:
    ring = Element("ring", [Picot(), Stitches(1)] * 1000)
    worked = work(steps([Repeat([ring], 100_000)]))
    assert [problem.kind for problem in worked.problems] == ["too-many-picots"]


def test_a_part_worked_a_thousand_million_times() -> None:
    worked = work(Pattern(parts=[Part(times=HUGE, steps=[element("ring", "5")])]))
    assert worked.too_big
    assert tally(worked).rings == HUGE


def test_steps_that_stand_in_more_places_than_there_are_stars() -> None:
    shared: list[Step] = [element("ring", "5")]
    for _ in range(60):
        shared = [Repeat(shared, 1), Repeat(shared, 1)]
    worked = work(steps(shared))
    assert worked.too_big
    assert tally(worked).ds is None
    empty: list[Step] = []
    for _ in range(60):
        empty = [Repeat(empty, 1), ByPass(Repeat(empty, 1), {2: []})]
    assert work(steps(empty)).too_big
    ring = element("ring", "5")
    for _ in range(60):
        ring = Element("chain", [Thrown(ring), Stitches(1), Thrown(ring)])
    worked = work(steps([ring]))
    assert worked.too_big
    assert tally(worked).ds is None


def test_the_limit_can_be_set() -> None:
    pattern = steps([Repeat([element("ring", "5")], 100)])
    assert len(work(pattern, Limits(worked_steps=100)).sequence) == 100
    assert work(pattern, Limits(worked_steps=99)).too_big


# What it costs: lines of Python run, so that no clock comes into it.


def lines_run(call: Callable[[], Any]) -> int:
    count = 0

    def trace(frame: FrameType, event: str, argument: Any) -> Any:
        nonlocal count
        count += event == "line"
        return trace

    before = sys.gettrace()
    sys.settrace(trace)
    try:
        call()
    finally:
        sys.settrace(before)
    return count


def ring_of(count: int) -> Element:
    return Element("ring", [Stitches(1), Picot(), *([Stitches(1), Picot()] * (count - 1)), Stitches(1)])


def plain(size: int) -> Pattern:
    joined = [element("ring", "5 j 5 p 5", "previous ring, last picot"), Turn(), element("chain", "6 p 6"), Turn()]
    return steps([element("ring", "5 p 5 p 5"), Repeat(joined, size)])


def round_on_round(size: int) -> Pattern:
    first = Part("round", 1, steps=[Repeat([element("chain", "4 p 4 p 4")], size), Cut()])
    goals = [Place(picot="next", part=PartRef("round", 1)), Place("picot", 1, ElementRef("chain", "next"))]
    second = Part("round", 2, steps=[Repeat([element("chain", "5 p 5"), LockJoin(goals)], size)])
    third = Part("round", 3, steps=[Repeat([element("chain", "5"), LockJoin()], size)])
    return Pattern(parts=[first, second, third])


def hub(size: int) -> Pattern:
    goals = [
        "next picot",
        "ring 1, next picot",
        "ring 1",
        "ring 1, picot 9999999",
        "ring 1, middle picot",
        "ring 1, only picot",
    ]
    chain = element("chain", "4 j 4 j 4 j 4 j 4 j 4 j 4", *goals)
    return steps([ring_of(size), Repeat([chain, LockJoin()], size)])


def sized_hub(size: int) -> Pattern:
    ring = ring_of(size)
    ring.work = [
        Picot("small" if index % 4 else "") if isinstance(item, Picot) else item for index, item in enumerate(ring.work)
    ]
    goal = Place("picot", "next", ElementRef("ring", 1), size="small")
    return steps([ring, Repeat([element("chain", "4"), LockJoin([goal])], size)])


def labels(size: int) -> Pattern:
    rings: list[Step] = [element("ring", "4 p 4 p 4", label=f"R{number}") for number in range(size)]
    goals: list[Step] = [element("ring", "4 j 4", f"ring R{number}, last picot") for number in range(size)]
    numbers: list[Step] = [element("chain", "4 j 4", f"ring {number + 1}, first picot") for number in range(size)]
    return steps(rings + goals + numbers)


def motifs(size: int) -> Pattern:
    place = Place("picot", "last", ElementRef("ring", 1), PartRef("motif", "previous"))
    numbered = Place("picot", "first", ElementRef("ring", "first"), PartRef("motif", 1))
    ring = Element(
        "ring", [Stitches(4), Join([place]), Stitches(4), Picot(), Stitches(4), Join([numbered]), Stitches(4)]
    )
    return Pattern(parts=[Part("motif", None, times=size, steps=[element("ring", "4 p 4"), ring, Cut()])])


def passes_as_motifs(size: int) -> Pattern:
    place = Place("picot", "last", ElementRef("ring", 1), PartRef("wing", "previous"))
    inside = Repeat([Element("ring", [Stitches(4), Join([place]), Stitches(4), Picot(), Stitches(4)])], 20)
    return steps([Repeat([element("ring", "4 p 4"), inside, Cut()], max(size // 20, 1))])


def unsaid(size: int) -> Pattern:
    return steps(
        [element("ring", "5 p 5 p 5"), Repeat([element("ring", "5 j 5 p 5", "?"), element("chain", "5 j", "?")], size)]
    )


def written_out(size: int) -> Pattern:
    joined = [element("ring", "5 j 5 p 5", "previous ring, last picot") for _ in range(size)]
    return steps([element("ring", "5 p 5"), *joined])


def joined_ring(size: int) -> Pattern:
    ring = ring_of(4)
    many = Element(
        "ring", [one for _ in range(size) for one in (Stitches(1), Join([Place("picot", 2, ElementRef("ring", 1))]))]
    )
    return steps([ring, many, Repeat([element("chain", "3 j 3 j 3", "ring 2, only picot", "ring 2, picot 5")], size)])


def thrown_off_one_another(size: int) -> Pattern:
    chain = element("chain", "4 j 4 p", "previous chain, last picot")
    for _ in range(size):
        work_of_it = element("chain", "3 p 3 j 3", "previous chain, last picot").work
        chain = Element("chain", [*work_of_it[:3], Thrown(chain), *work_of_it[3:]])
    return steps([chain])


PATTERNS = [
    thrown_off_one_another,
    plain, round_on_round, hub, sized_hub, labels, motifs, passes_as_motifs, unsaid, written_out, joined_ring
]  # fmt: skip


@pytest.mark.parametrize("pattern", PATTERNS, ids=lambda one: one.__name__)
def test_four_times_the_pattern_costs_four_times_the_work(pattern: Callable[[int], Pattern]) -> None:
    small, large = pattern(100), pattern(400)
    work(pattern(50))
    assert lines_run(lambda: work(large)) < 4.8 * lines_run(lambda: work(small))
    assert lines_run(lambda: tally(work(large, Limits(worked_steps=1)))) < 4.8 * lines_run(
        lambda: tally(work(small, Limits(worked_steps=1)))
    )
