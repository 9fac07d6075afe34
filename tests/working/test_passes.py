"""Repeats: what is worked on which pass, and how often."""

from __future__ import annotations

from by_hand import element, steps, targets, worked_of

from larkshead.model import ByPass, Part, Pattern, Repeat, Turn
from larkshead.working import tally, work


def kinds(worked: object) -> list[tuple[int, ...]]:
    return [one.groups for one in worked.elements]  # type: ignore[attr-defined]


def test_first_last_and_numbered_passes() -> None:
    plain, first, last, third = (element("ring", str(count)) for count in (1, 2, 3, 4))
    worked = work(steps([Repeat([ByPass(plain, {"first": [first], "last": [last], 3: [third]})], 5)]))
    assert kinds(worked) == [(2,), (1,), (4,), (1,), (3,)]
    assert [one.passes for one in worked.elements] == [(n,) for n in range(1, 6)]
    assert {one.of_passes for one in worked.elements} == {(5,)}


def test_the_only_pass_is_worked_as_the_first_where_both_are_said() -> None:
    plain, first, last = (element("ring", str(count)) for count in (1, 2, 3))
    both = work(steps([Repeat([ByPass(plain, {"first": [first], "last": [last]})], 1)]))
    assert kinds(both) == [(2,)]
    only_last = work(steps([Repeat([ByPass(plain, {"last": [last]})], 1)]))
    assert kinds(only_last) == [(3,)]


def test_a_numbered_pass_goes_before_first_and_last() -> None:
    plain, named, end = (element("ring", str(count)) for count in (1, 2, 3))
    worked = work(steps([Repeat([ByPass(plain, {2: [named], "last": [end]})], 2)]))
    assert kinds(worked) == [(1,), (2,)]


def test_a_step_left_out_on_the_last_pass() -> None:
    worked = work(steps([Repeat([element("ring", "5"), ByPass(Turn(), {"last": []})], 3)]))
    assert len(worked.sequence) == 5
    assert [one.side for one in worked.elements] == ["front", "back", "front"]


def test_passes_of_repeats_in_repeats() -> None:
    inner = Repeat([element("ring", "4"), ByPass(element("chain", "6"), {"first": []})], 3)
    worked = work(steps([Repeat([inner, element("chain", "9")], 2)]))
    found = [(one.groups[0], one.passes) for one in worked.elements]
    once = [(4, (1,)), (4, (2,)), (6, (2,)), (4, (3,)), (6, (3,))]
    assert found == [(g, (outer, *p)) for outer in (1, 2) for g, p in [*once, (9, ())]]
    assert tally(worked).chains == 6


def test_steps_instead_belong_to_the_repeat_around_them() -> None:
    inside = ByPass(Repeat([ByPass(element("ring", "1"), {2: [element("ring", "2")]})], 2), {1: [element("ring", "7")]})
    worked = work(steps([Repeat([inside], 2)]))
    assert kinds(worked) == [(7,), (1,), (2,)]


def test_a_part_worked_several_times_is_a_repeat_too() -> None:
    part = Part("motif", None, "leaf", 3, [ByPass(element("ring", "5"), {"last": [element("ring", "8")]})])
    worked = work(Pattern(parts=[part]))
    assert kinds(worked) == [(5,), (5,), (8,)]
    assert [one.passes for one in worked.elements] == [(1,), (2,), (3,)]
    assert [(one.number, one.copy) for one in worked.parts] == [(0, 1), (0, 2), (0, 3)]
    assert [(one.start, one.end) for one in worked.parts] == [(0, 1), (1, 2), (2, 3)]
    assert {one.number for one in worked.elements} == {1}
    (counted,) = tally(worked).parts
    assert (counted.ds, counted.times, counted.name) == (18, 3, "leaf")


def test_an_open_repeat_is_worked_twice_and_said_to_be_open() -> None:
    worked = worked_of("R 5 p 5\nREP ? {\nC 6\nR 5 j 5 p 5 -> previous ring, last picot\n}\nCUT")
    assert targets(worked) == ["ring 1, picot 1", "ring 2, picot 1"]
    assert [one.of_passes for one in worked.elements] == [(), (0,), (0,), (0,), (0,)]
    assert len(worked.open_repeats) == 1
    counts = tally(worked)
    assert (counts.rings, counts.ds, counts.joins) == (None, None, None)
    assert (counts.beads, counts.lock_joins, counts.split_rings) == (0, 0, 0)


def test_an_open_repeat_whose_last_pass_differs_is_worked_three_times() -> None:
    ring = ByPass(element("ring", "1"), {"first": [element("ring", "2")], "last": [element("ring", "3")]})
    worked = work(steps([Repeat([ring], None)]))
    assert kinds(worked) == [(2,), (1,), (3,)]


def test_no_times_and_no_steps() -> None:
    worked = work(steps([Repeat([element("ring", "5")], 0), Repeat([], 4), element("ring", "6")]))
    assert kinds(worked) == [(6,)]
    assert tally(worked).ds == 6


def test_an_element_worked_instead_is_the_sister_of_the_one_it_replaces() -> None:
    worked = worked_of(
        """
        REP 4 {
        R 5 j 5 p 5 p 5 -> previous ring, last picot
        ON first R 5 p 5 p 5 p 5
        ON last R 5 j 5 p 5 j 5 -> previous ring, last picot; first ring, first picot
        TURN
        C 7
        TURN
        }
        """
    )
    assert targets(worked) == [
        "ring 1, picot 3", "ring 2, picot 2", "ring 3, picot 2", "ring 1, picot 1",
    ]  # fmt: skip
