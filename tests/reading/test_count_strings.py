"""The work of an element as shorthand writes it."""

from __future__ import annotations

import pytest
from shorthand_tools import kinds, steps


@pytest.mark.parametrize(
    ("text", "step"),
    [
        # Every mark between counts, spaced and glued.
        ("R 7-3-7", "R 7 p 3 p 7"),
        ("R 7 – 3 – 7", "R 7 p 3 p 7"),
        ("R 7—3—7", "R 7 p 3 p 7"),
        ("R 7·3·7", "R 7 p 3 p 7"),
        ("R7p3p7", "R 7 p 3 p 7"),
        ("R 7.3.7", "R 7 p 3 p 7"),
        ("R 7 ds, p, 3 ds, p, 7 ds", "R 7 p 3 p 7"),
        ("R 7ds-3ds-7ds", "R 7 p 3 p 7"),
        ("R 7 ds-p-3 ds-p-7 ds", "R 7 p 3 p 7"),
        ("R, 7 d, p, 3 d, p, 7 d", "R 7 p 3 p 7"),
        ("Ring: seven, p, three, p, seven", "R 7 p 3 p 7"),
        ("R ( 7 p 3 p 7 )", "R 7 p 3 p 7"),
        ("R [7 - 3 - 7] close", "R 7 p 3 p 7"),
        ("R-7-3-7", "R 7 p 3 p 7"),
        ("R l0-I2", "R 10 p 12"),
        # Sizes of picots.
        ("R 3 vsp 5 lp 5 vsp 3", "R 3 sp 5 lp 5 sp 3"),
        ("R 3±5-5±3", "R 3 sp 5 p 5 sp 3"),
        ("R 3--5-5--3", "R 3 lp 5 p 5 lp 3"),
        # Marks and words that part counts in other ways.
        ("R 4 ds, p; 4 ds, p; 4 ds; cl.", "R 4 p 4 p 4"),
        ("R 4ds. p. 4ds. cl.", "R 4 p 4"),
        ("r: 5 / p / 5", "R 5 p 5"),
        ("R 3 - - 3 - 3", "R 3 lp 3 p 3"),
        ("R 4_4~4", "R 4 p 4 p 4"),
        ("R 5..5", "R 5 p 5"),
        ("R 12 ds evenly divided by 3 ps", "R 3 p 3 p 3 p 3"),
        ("R 20ds, 4p evenly spaced", "R 4 p 4 p 4 p 4 p 4"),
        ("R: 3 picots, 5 ds between, 5 ds each end", "R 5 p 5 p 5 p 5"),
        ("R 3 - (1 -)3 3", "R 3 p 1 p 1 p 1 p 3"),
        # Beads.
        ("R 3bb3", "R 3 b b 3"),
        ("R 5 -3b- 5", "R 5 p b b b 5"),
        ("R 5 p3b 5", "R 5 p b b b 5"),
        ("R 5 p(3 beads) 5", "R 5 p b b b 5"),
        ("Ch 5, add 3 beads, 5", "C 5 b b b 5"),
        # Halves.
        ("Ch 4x 1st half, 4x 2nd half", "C h1:4 h2:4"),
        ("Ch (4 first halves, 4 second halves) x 2", "C h1:4 h2:4 h1:4 h2:4"),
        # Joins in brackets, and places told inside the work.
        ("Ch 5 (LJ) 5", "C 5 lj 5"),
        ("Ch 5 (shuttle join to the tip of R1) 5", "C 5 lj 5"),
        ("R 5(+p4)5-5", "R 5 j 5 p 5"),
        ("R 4+R1-4-4", "R 4 j 4 p 4"),
        ("R 6 j R1 6 j R2 6", "R 6 j 6 j 6"),
        ("Ch (4 LJ) x 2", "C 4 lj 4 lj"),
        # Picots told by their number.
        ("R 4, 5 p sep by 2, 4", "R 4 p 2 p 2 p 2 p 2 p 4"),
        ("R: 6 ds, 3 ps sep by 4 ds, 6 ds", "R 6 p 4 p 4 p 6"),
        ("R (3 -) x 4, 3", "R 3 p 3 p 3 p 3 p 3"),
        ("R 1ds, (p, 2ds) x 3, p, 1ds", "R 1 p 2 p 2 p 2 p 1"),
        ("R 2(p2)x3", "R 2 p 2 p 2 p 2"),
        ("R (4 -) 3x 4", "R 4 p 4 p 4 p 4"),
        ("R 3 x 4", "R 3 p 3 p 3 p 3"),
        # Joins.
        ("R 5+5-5", "R 5 j 5 p 5"),
        ("R 5j5-5", "R 5 j 5 p 5"),
        ("R 5, join, 5, p, 5", "R 5 j 5 p 5"),
        ("R 5, join to last p of previous ring, 5, p, 5", "R 5 j 5 p 5"),
        ("Ch 4 +LJ(p R1) 4", "C 4 lj 4"),
        ("R 5 + (last p of R1) 5 - 5", "R 5 j 5 p 5"),
        # Beads.
        ("R 4 B 4", "R 4 b 4"),
        ("R 4 (2B) 4", "R 4 b b 4"),
        ("R 4 -B- 4", "R 4 p b 4"),
        ("R 4 -BB- 4", "R 4 p b b 4"),
        ("Ch 3, 3 beads, 3", "C 3 b b b 3"),
        ("R 4 +B 4", "R 4 j b 4"),
        ("R 4, p with 3 beads, 4", "R 4 p b b b 4"),
        # Halves.
        ("JK 9", "JR h1:9"),
        ("JR: 9 hs", "JR h1:9"),
        ("Ch 5 first halves", "C h1:5"),
    ],
)
def test_work(text: str, step: str) -> None:
    assert steps(text) == step
    assert kinds(text) == []


@pytest.mark.parametrize(
    ("text", "step"),
    [
        ("SR 6-3 / 3-6 cl", "SR 6 p 3 / 3 p 6"),
        ("SR 6-3 // 3-6 cl", "SR 6 p 3 / 3 p 6"),
        ("SR 6-3 ^ 3-6 cl", "SR 6 p 3 / 3 p 6"),
        ("SR 6-3, Sh2: 3-6 cl", "SR 6 p 3 / 3 p 6"),
        ("SR 6-3, second shuttle 3-6 cl", "SR 6 p 3 / 3 p 6"),
        ("SR (sh1) 6-3 (sh2) 3-6 cl", "SR 6 p 3 / 3 p 6"),
        ("SR 6+3 (last p of R1) / 3-6", "SR 6 j 3 / 3 p 6"),
        ("Ring A (split): 6 p 3 / 3 p 6", "SR 6 p 3 / 3 p 6"),
        ("split ch 6 / 6", "SC 6 / 6"),
    ],
)
def test_sides(text: str, step: str) -> None:
    assert steps(text) == step


def test_two_counts_with_no_mark_between_have_lost_one() -> None:
    assert steps("R 6+3 3-6 cl") == "R 6 j 3 p 3 p 6"
    assert kinds("R 6+3 3-6 cl") == ["unclear-count"]


def test_picots_told_with_no_stitches_outside_are_said() -> None:
    assert steps("R 4 p sep by 3, cl") == "R p 3 p 3 p 3 p"
    assert kinds("R 4 p sep by 3, cl") == ["unclear-count"]


def test_a_count_left_open_is_said() -> None:
    assert kinds("R 4, a few p sep by 2, 4") == ["unclear-count"]
    assert kinds("R 4-?-4") == ["unclear-count"]


def test_a_bracket_left_open_is_read_to_the_end_of_the_place() -> None:
    assert steps("R 6 + (last p of R1 3 - 3 cl") == "R 6 j 3 p 3"
    assert kinds("R 6 + (last p of R1 3 - 3 cl", "note") == ["open-bracket"]


def test_work_without_end_is_cut_short_and_said() -> None:
    assert kinds("R (4 -) x 1000000000 4", "error") == ["too-many-items"]
