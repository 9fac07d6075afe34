"""The counts of old books: divided, followed, so many times, alternately. Sentences of our own in the manner of the time."""

from __future__ import annotations

import pytest
from old_books_tools import read, steps

from larkshead.model import Element, Picot


@pytest.mark.parametrize(
    ("told", "work"),
    [
        ("6 double, 1 purl, 6 double", "R 6 p 6"),
        ("3 double, 4 purl divided by 2 double, 3 double", "R 3 p 2 p 2 p 2 p 3"),
        ("3 double, 4 purl, separated each by 2 double, and again 3 double", "R 3 p 2 p 2 p 2 p 3"),
        ("3 double, 4 purl each followed by 2 double, 1 double", "R 3 p 2 p 2 p 2 p 3"),
        ("5 double divided by 1 purl", "R 1 p 1 p 1 p 1 p 1"),
        ("12 double divided by 3 purl", "R 3 p 3 p 3 p 3"),
        ("4 times alternately 3 double, 1 purl, then 3 double", "R 3 p 3 p 3 p 3 p 3"),
        ("7 double, 1 purl, 3 times alternately 2 double, 1 purl, then 7 double", "R 7 p 2 p 2 p 2 p 7"),
        ("5 double, 1 purl, 2 double 3 times, 4 double", "R 5 p 2 p 2 p 6"),
        ("2 double, 1 purl 3 times, 2 double", "R 2 p 2 p 2 p 2"),
        ("6 double, (3 double, 1 purl 3 times), 6 double", "R 9 p 3 p 3 p 6"),
        ("6 double, (3 double, 1 purl) 3 times, 6 double", "R 9 p 3 p 3 p 6"),
        ("3 double, 1 purl, repeated 4 times", "R 3 p 3 p 3 p 3 p"),
        ("3 times 4 double divided by a short purl", "R 4 sp 4 sp 4"),
        ("four times following 2 double, 1 purl, 2 double", "R 2 p 2 p 2 p 2 p 2"),
        ("18 double and 6 picots, 3 of them short and 3 long", "R 3 sp 3 lp 3 sp 3 lp 3 sp 3 lp"),
        ("2 plain, 5 double, 1 purl, 5 double, 2 plain", "R h1:2 5 p 5 h1:2"),
        ("6 double, II purl divided by 1 double, 6 double", "R 6 " + "p 1 " * 10 + "p 6"),
        ("4 double, 1 picot twice as long as the others, 4 double", "R 4 lp 4"),
        ("5 double, purl, 5 double", "R 5 p 5"),
        ("2 double, 1 purl, 2 more double, 1 purl, 2 double", "R 2 p 2 p 2"),
    ],
)
def test_counts(told: str, work: str) -> None:
    assert steps(f"Work a circle of {told}; draw up.") == work


def test_a_circle_of_nothing_but_parted_picots_has_as_many_gaps() -> None:
    assert steps("Begin with a circle of 5 purl divided by 3 double, and fasten off.") == "R 3 p 3 p 3 p 3 p 3 p; CUT"


def test_a_repeat_inside_the_ring() -> None:
    assert (
        steps("4 double, * 1 purl, 2 double, repeat from * 3 times more, 2 double, draw up.") == "R 4 p 2 p 2 p 2 p 4"
    )


def test_a_mark_inside_a_ring_whose_repeat_finishes_the_next() -> None:
    text = """5 double, 1 picot, * 9 double, 1 picot, 5 double, close the ring, 5 double, draw the left hand thread
    through the last picot and repeat from *."""
    assert steps(text) == "R 5 p 9 p 5; REP ? {; R 5 j 9 p 5; }"


def test_how_long_a_picot_is() -> None:
    reading = read("Work a circle of 3 double, 1 long purl about one-fifth of an inch long, 3 double, draw up.")
    ring = reading.pattern.parts[0].steps[0]
    assert isinstance(ring, Element)
    picot = ring.work[1]
    assert isinstance(picot, Picot) and picot.size == "long" and picot.length is not None
    assert (picot.length.value, picot.length.unit) == ("1/5", "in")


def test_words_that_explain_the_stitch_are_no_work() -> None:
    told = "Work 4 double (that is, 4 times following 1 purled stitch and 1 plain), 1 purl, 4 double, draw up."
    assert steps(told) == "R 4 p 4"


def test_words_broken_by_the_printer() -> None:
    assert steps("Work a cir-\ncle of 4 dou-\nble, 1 purl,\n\n4 double, draw\nup.") == "R 4 p 4"
