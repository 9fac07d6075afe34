"""Repeats of old books, and what is told of some passes behind them."""

from __future__ import annotations

import pytest
from old_books_tools import kinds, places, read, steps

STAR = (
    "* Work a circle of 5 double, 1 purl, 5 double, draw up, turn the work, leave a short interval, and repeat from *"
)


@pytest.mark.parametrize(
    ("told", "times"),
    [
        (" 7 times more.", "8"),
        (" once more.", "2"),
        (" twice.", "3"),
        (" till the lace is long enough.", "?"),
        (".", "?"),
        (" until you have 9 circles.", "9"),
    ],
)
def test_how_often(told: str, times: str) -> None:
    assert steps(STAR + told) == f"REP {times} {{; R 5 p 5; TURN; BT ?; }}"


def test_so_many_times_with_no_more_is_said() -> None:
    assert "ambiguous-repeat" in {n.kind for n in read(STAR + " 7 times.").notices}


def test_the_number_that_comes_next_settles_in_all_or_more() -> None:
    circle = (
        "5th circle: 3 double, 1 purl, 3 double, draw up. Repeat the 5th circle {} times. {} circle: 4 double, draw up."
    )
    assert steps(circle.format(3, "9th")) == "REP 4 {; R 3 p 3; }; R 4"
    assert steps(circle.format(3, "8th")) == "REP 3 {; R 3 p 3; }; R 4"
    assert kinds(circle.format(3, "12th")) == {"contradiction"}


CIRCLES = "* a circle of 5 double, 1 purl, 3 double, 1 purl, 5 double; at a short distance repeat from * {}"


def test_joins_told_behind_the_repeat_go_for_all_but_the_first() -> None:
    told = CIRCLES.format(
        "5 times more; but instead of working the first purl of each circle, fasten it on to the last purl of the preceding circle."
    )
    assert steps(told) == "R 5 p 3 p 5; BT ?; REP 5 {; R 5 j 3 p 5; BT ?; }"
    assert places(told) == ["previous ring, last picot"]


def test_the_last_may_differ_again() -> None:
    told = CIRCLES.format(
        """5 times more, but in working the circles fasten them, instead of working the 1st purl, on to the last purl of the
        preceding circle; besides this, instead of working the last purl of the last circle, fasten it on to the 1st purl of
        the 1st circle."""
    )
    assert steps(told) == "R 5 p 3 p 5; BT ?; REP 4 {; R 5 j 3 p 5; BT ?; }; R 5 j 3 j 5; BT ?"


def test_a_join_to_another_round_goes_for_the_first_too() -> None:
    told = CIRCLES.format(
        "5 times more, but instead of the first purl fasten each circle on to a purl of the preceding round."
    )
    assert steps(told) == "REP 6 {; R 5 j 3 p 5; BT ?; }"


def test_a_large_and_a_small_one() -> None:
    told = """Work * 1 large circle of 6 double, 1 purl, 6 double, turn the work, 1 small circle of 3 double, 1 purl, 3 double,
    turn the work, and repeat from * 3 times more; instead of the purl of each small circle fasten it on to the purl of the
    preceding small circle."""
    assert steps(told) == "R 6 p 6; TURN; R 3 p 3; TURN; REP 3 {; R 6 p 6; TURN; R 3 j 3; TURN; }"


def test_the_circle_is_repeated_at_a_distance() -> None:
    told = """Make a circle of 6 double, 3 purl divided by 2 double, 6 double. This circle is repeated at a distance of half an
    inch, only instead of the 1st purl each following circle must be fastened on to the last purl of the preceding circle."""
    assert steps(told) == "R 6 p 2 p 2 p 6; REP ? {; BT 1/2in; R 6 j 2 p 2 p 6; }"


def test_large_and_small_until_so_many() -> None:
    told = """A circle of 7 double, 1 purl, 7 double; * after a short interval a smaller circle of 4 double, 1 purl, 4 double; after a
    short interval a circle like the first; repeat from * till there are seven larger and six smaller circles."""
    assert steps(told) == "R 7 p 7; REP 6 {; BT ?; R 4 p 4; BT ?; R 7 p 7; }"


def test_and_so_on() -> None:
    told = "Work a circle of 5 double, 1 purl, 5 double, turn the work, work a second circle, and so on."
    assert steps(told) == "REP ? {; R 5 p 5; TURN; }"


def test_no_mark_and_one_too_many() -> None:
    assert kinds("Work a circle of 5 double, draw up; repeat from * 5 times more.") == {"unmatched-repeat"}
    assert kinds("Work * a circle of 5 double, draw up.") == {"unmatched-repeat"}


def test_the_last_told_twice_is_one_pass() -> None:
    told = CIRCLES.format(
        """4 times more, but instead of the first purl of each circle fasten it on to the last purl of the preceding circle; besides
        this, instead of the last purl of the last circle, fasten it on to the first purl of the 1st circle; the last circle is
        fastened on to the same purl."""
    )
    assert steps(told).startswith("R 5 p 3 p 5; BT ?; REP 3 {; R 5 j 3 p 5; BT ?; }; R 5 j 3 j 5")


@pytest.mark.parametrize(
    ("told", "expected"),
    [
        ("Make in all 4 circles in this way.", "R 5 p 3 p 5; REP 3 {; BT ?; R 5 j 3 p 5; }"),
        ("Continue thus until there are 6 circles.", "R 5 p 3 p 5; REP 5 {; BT ?; R 5 j 3 p 5; }"),
    ],
)
def test_so_many_in_all(told: str, expected: str) -> None:
    first = "A circle of 5 double, 1 purl, 3 double, 1 purl, 5 double; at a short distance a similar circle, joined to it by the first purl. "
    assert steps(first + told) == expected


def test_by_turns() -> None:
    told = """Work alternately a large and a small leaf. The large leaf has 6 double, 1 purl, 6 double; the small leaf has 3 double, 1 purl,
    3 double."""
    assert steps(told) == "REP ? {; R 6 p 6; R 3 p 3; }"


def test_a_pair_goes_on_inside_the_circle() -> None:
    told = "Begin with a circle of 1 double, 1 purl, and so on until there are 4 purl, ending with 1 double; draw up."
    assert steps(told) == "R 1 p 1 p 1 p 1 p 1"


def test_the_last_joined_to_the_first() -> None:
    told = "* A circle of 4 double, 1 purl, 2 double, 1 purl, 4 double; repeat from * 3 times more; join the last circle to the first."
    assert steps(told) == "REP 3 {; R 4 p 2 p 4; }; R 4 p 2 j 4"


@pytest.mark.parametrize(
    ("told", "expected"),
    [
        (
            CIRCLES.format("3 times more; fasten the circles, instead of on the 1st purl, on the last purl of the preceding circle."),
            "R 5 p 3 p 5; BT ?; REP 3 {; R 5 j 3 p 5; BT ?; }",
        ),
        (
            CIRCLES.format("3 times more. In working the circles, fasten them, instead of on the 1st purl, on the last purl of the preceding circle."),
            "R 5 p 3 p 5; BT ?; REP 3 {; R 5 j 3 p 5; BT ?; }",
        ),
        (
            "Work 4 circles, each having 5 double, 1 purl, 3 double, 1 purl, 5 double, and each after the first joined by its 1st purl to the last purl of the preceding.",
            "R 5 p 3 p 5; REP 3 {; R 5 j 3 p 5; }",
        ),
        (
            "Over the second thread 4 double, fasten the second thread to the edge, * 5 double, fasten the second thread to the edge, and repeat from *.",
            "C 4; LJ; REP ? {; C 5; LJ; }",
        ),
        (
            "For the first arm work a leaf of 5 double, 1 purl, 5 double, and a second leaf like the first. The other two arms are worked in the same manner.",
            "REP 3 {; R 5 p 5; R 5 p 5; }",
        ),
    ],
)  # fmt: skip
def test_told_in_other_ways(told: str, expected: str) -> None:
    assert steps(told) == expected
