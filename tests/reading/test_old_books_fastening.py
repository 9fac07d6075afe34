"""Fasten and join in all their meanings, and what is worked with one thread or two."""

from __future__ import annotations

import pytest
from old_books_tools import kinds, places, steps

RING = "Work a circle of 4 double, 1 purl, 4 double, 1 purl, 4 double, draw up. "


@pytest.mark.parametrize(
    ("told", "expected"),
    [
        ("Fasten off.", "CUT"),
        ("Fasten the cotton.", "CUT"),
        ("Knot the two ends together, and cut off the cotton.", "CUT"),
        ("Do not cut off the cotton.", ""),
        ("Fasten a second thread on to the last purl.", "ATTACH"),
        ("Fasten on the cotton afresh.", "ATTACH"),
        ("Join the thread from the reel.", "ATTACH"),
        ("Fasten the cotton on to the last purl of the circle.", "LJ"),
        ("Join the cotton to the first purl.", "LJ"),
        ("Join the stitches into a circle.", ""),
        ("2nd circle: 5 double, fastened on to the last purl of the 1st circle, 5 double, draw up.", "R 5 j 5"),
        ("2nd circle: 5 double, join to the last purl of the 1st circle, 5 double, draw up.", "R 5 j 5"),
        ("2nd circle: 5 double, draw the cotton through the last purl, 5 double, draw up.", "R 5 j 5"),
        ("The circles are fastened on to the edge of the linen.", ""),
    ],
)
def test_fastenings(told: str, expected: str) -> None:
    assert steps(RING + told) == "; ".join(filter(None, ["R 4 p 4 p 4", expected]))


def test_a_new_thread_at_the_outset() -> None:
    told = "Fasten the cotton on to a purl of the 1st round, and work a circle of 5 double, 1 purl, 5 double, draw up."
    assert steps(told) == "ATTACH; R 5 p 5"


@pytest.mark.parametrize(
    ("told", "expected"),
    [
        ("Double thread: 7 double, 1 purl, 7 double.", "C 7 p 7"),
        ("Work over the second thread 7 double, 1 purl, 7 double.", "C 7 p 7"),
        ("Work 7 double over this thread.", "C 7"),
        ("With both shuttles work 7 double, 1 purl, 7 double.", "C 7 p 7"),
        ("Pass the thread over the left hand, and make: 7 double, 1 purl, 7 double.", "C 7 p 7"),
        ("With both shuttles 7 double; then with one shuttle 5 double, 1 purl, 5 double.", "C 7; R 5 p 5"),
        ("Over the second thread 7 double; without the second thread 5 double, 1 purl, 5 double.", "C 7; R 5 p 5"),
        (
            "Work over the second thread * 6 plain, 1 circle, 6 plain, and repeat from * twice.",
            "REP 3 {; C h1:6; R 4 p 4 p 4; C h1:6; }",
        ),
        ("Work a scallop of 7 double; draw up.", "R 7"),
        ("Work over the cord a scallop of 7 double.", "C 7"),
    ],
)
def test_one_thread_or_two(told: str, expected: str) -> None:
    assert steps(RING + told) == "R 4 p 4 p 4; " + expected


def test_the_thread_worked_over_locks_inside_and_at_the_end_of_a_chain() -> None:
    told = """* Work over the second thread 5 double, fasten the thread over which you work on to the next purl, 5 double,
    1 purl; repeat from * 7 times more."""
    assert steps(RING + told) == "R 4 p 4 p 4; REP 8 {; C 5 lj 5 p; }"
    told = "* Work over the second thread 5 double, pass the right hand thread through the next purl, repeat from * 7 times more."
    assert steps(RING + told) == "R 4 p 4 p 4; REP 8 {; C 5; LJ; }"


@pytest.mark.parametrize(
    ("told", "expected"),
    [
        ("At a short distance work a second circle.", "BT ?; R 4 p 4 p 4"),
        ("Work a second circle at a distance of one-third of an inch.", "BT 1/3in; R 4 p 4 p 4"),
        ("Leave an interval of three-eighths of an inch, and work a similar circle.", "BT 3/8in; R 4 p 4 p 4"),
        ("Leave one-eighth of an inch of cotton; work another circle.", "BT 1/8in; R 4 p 4 p 4"),
        (
            "Turn the work. After leaving from 3 to 4 m/m of thread, work a similar circle.",
            "TURN; BT 3..4mm; R 4 p 4 p 4",
        ),
        ("Leave a space of one-half inch, and work a second circle.", "BT 1/2in; R 4 p 4 p 4"),
        ("Leave another quarter inch, and work a second circle.", "BT 1/4in; R 4 p 4 p 4"),
        ("Turn the circle downwards, and work a second.", "TURN; R 4 p 4 p 4"),
        ("Fasten the cotton on to the last purl, which must be turned downwards.", "LJ"),
    ],
)
def test_thread_left_and_turns(told: str, expected: str) -> None:
    assert steps(RING + told) == "R 4 p 4 p 4; " + expected


def test_the_same_distance_again() -> None:
    told = "Leave a quarter of an inch; work a second circle; at the same distance a third circle."
    assert steps(RING + told) == "R 4 p 4 p 4; BT 1/4in; R 4 p 4 p 4; BT 1/4in; R 4 p 4 p 4"


def test_where_joins_go() -> None:
    told = "2nd circle: 4 double, join to the last purl of the 1st circle, 4 double, draw up the cotton and join it to the 1st purl of the centre star."
    assert places("1st circle: 4 double, 1 purl, 4 double, draw up. " + told)[0] == "ring 1, last picot"


def test_what_only_the_picture_shows_is_said() -> None:
    assert kinds(RING + "Work a second circle. The circles must be fastened on to each other.") == set()
