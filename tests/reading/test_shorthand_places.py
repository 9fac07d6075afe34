"""Where joins go in shorthand: at once, at the end of the line, several in order, for all, or unsaid."""

from __future__ import annotations

import pytest
from shorthand_tools import kinds, places, steps


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("R 5+5-5 (join to last p of prev R)", ["previous ring, last picot"]),
        ("R1 5-5\nR2 5 + (last p R1) 5", ['ring 1 "1", last picot']),
        ("R1 5-5\nR2 5+5 cl, rw, leave 3 mm (+ to p of R1)", ['ring 1 "1"']),
        ("R1 5-5-5\nR2 5+5-5 [R1 p2]", ['ring 1 "1", picot 2']),
        ("R 5-5\nR 5+5+5 (last p prev R, 1st p of 1st R)", ["previous ring, last picot", "ring 1, picot 1"]),
        ("Ring A: 5-5\nRing B: 4 j (to A, first p) 4 p 4", ["element A, picot 1"]),
        (
            "A   4-4-4 cl\nB   4+4-4 cl   A2\nC   4+4+4 cl   B1 A1",
            ["element A, picot 2", "element B, picot 1", "element A, picot 1"],
        ),
        ("R 6-6, sp 3mm, R 6+6, sp 3mm, R 6+6\n(both joins to p of 1st R)", ["ring 1", "ring 1"]),
        ("All + to last p of the ring before.\n\nR 6-6\nR 6+6\nR 6+6", ["previous ring, last picot"] * 2),
        ("R 5+5-5 cl RW, joining at + to the last picot of the previous R", ["previous ring, last picot"]),
        ("1. r 5-5-5 cl\n2. r 5+5 cl (+ to 2nd p of step 1)", ['ring "1", picot 2']),
        ("[1] r 8, p, 8\n[2] r 8, join, 8\njoins of [2] to the p of [1]", ['ring "1"']),
        (
            "Rnd 1: R 1-2-2-1. Cut.\nRnd 2: joins are to the ps of Rnd 1, one after another.\n*R 5+5 RW* x 3",
            ["next picot of round 1"],
        ),
        ("Ch 5 + 5 [same p as last +]", ["same picot"]),
        ("Ch 10, SLJ to base of first ring", ["ring 1, base"]),
        ("(R 5-5, Ch 6) x 5, lock the 5th Ch to the foot of the 1st R", ["ring 1, base"]),
        ("Ch 5, LJ to the tip of the mock picot", ["mock picot"]),
        ("[R 5+5 cl, RW] x 7, each + to the next pin hole in the hem.", ["next fabric"]),
        (
            "j = join to the last p of the nearest ring of the same size\nLR = large ring\n\nLR 5-5\nLR 5j5",
            ["previous large ring, last picot"],
        ),
        ("R 5-5\nR 5+5 (last - of R before)", ["previous ring, last picot"]),
        ("R 5-5 RW\nR 5+5 RW", ["-"]),
    ],
)
def test_places(text: str, told: list[str]) -> None:
    assert places(text) == told


def test_a_place_names_no_step() -> None:
    assert (
        steps("Attach to the vsp between any two rings\nCh 4, LJ to where you tied on. Cut.") == "ATTACH; C 4; LJ; CUT"
    )
    assert steps("Ch 5+5 (p of Ch2 in Rnd 1) RW") == "C 5 j 5; TURN"
    assert steps("R 6+6 (3rd p of A) RW") == "R 6 j 6; TURN"


@pytest.mark.parametrize(
    "text",
    [
        "R1 5-5-5 rw\nR2 5+5-5 (4th p R1)",
        "R1 5-5-5 rw\nR2 5+5-5 (last p of R7)",
        "A: R 5-5\nB: R 5+5 (p of K)",
        "R1 5-5\nCh1 7\nR2 5+5 (p of Ch1)",
    ],
)
def test_places_that_cannot_be_are_said(text: str) -> None:
    assert kinds(text) == ["contradiction"]


def test_places_in_what_is_not_shown_are_not() -> None:
    assert kinds("Ch 5 + 5 + 5 [R3 first p, R4 last p]") == []
