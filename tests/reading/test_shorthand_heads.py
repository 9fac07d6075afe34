"""What heads lines of shorthand: numbers, letters, names, shuttles; and counts that no name heads."""

from __future__ import annotations

import pytest
from shorthand_tools import kinds, places, read, steps


@pytest.mark.parametrize(
    ("text", "said"),
    [
        # Numbers of steps.
        ("1  R 7-7 cl rw\n2  Ch 3 rw\n3  R 7+7 cl rw\n4  as 2", "R 7 p 7; TURN; C 3; TURN; R 7 j 7; TURN; C 3; TURN"),
        ("Step 1 R 7-7 rw\nStep 2 Ch 3 rw\nRepeat steps 1 and 2 twice", "REP 3 {; R 7 p 7; TURN; C 3; TURN; }"),
        ("1: R 7-7\n2: Ch 3\n3: R 7+7", "R 7 p 7; C 3; R 7 j 7"),
        ("R1) 7-7 cl, rw\nC1) 3, rw", "R 7 p 7; TURN; C 3; TURN"),
        # Figures that name the shuttle.
        ("1: R 7-7 cl\n2: R 3-3 cl\n1: Ch 8 RW", "R 7 p 7; SWITCH; R 3 p 3; SWITCH; C 8; TURN"),
        ("S1 R 7-7 cl RW\nS2 R 3-3 cl\nS1 Ch 4", "R 7 p 7; TURN; SWITCH; R 3 p 3; SWITCH; C 4"),
        ("Shuttle A: R 7-7\nShuttle A and B: Ch 5\nShuttle B: R 3-3", "R 7 p 7; C 5; SWITCH; R 3 p 3"),
        ("A: R 7-7 (shuttle 1)\nB: R 3-3 (shuttle 2)", "R 7 p 7; SWITCH; R 3 p 3"),
        ("Sh1: SR 4-4\nSh2: 3-3 cl", "SR 4 p 4 / 3 p 3"),
        # Counts with no name.
        ("A: 7-7-7 cl\nB: 7+7-7 cl (A)", "R 7 p 7 p 7; R 7 j 7 p 7"),
        ("[A] 7-7-7 cl\n[B] 7+7-7 cl (A)", "R 7 p 7 p 7; R 7 j 7 p 7"),
        ("7ds p 7ds cl RW\n6ds p 6ds RW", "R 7 p 7; TURN; C 6 p 6; TURN"),
        ("Ring 1\n7-7-7 cl\nChain:\n6-6", "R 7 p 7 p 7; C 6 p 6"),
        # Names of steps, run in a line.
        ("Leaf: R 7-7\nStem: Ch 3\nLeaf RW Stem RW, 5 times", "REP 5 {; R 7 p 7; TURN; C 3; TURN; }"),
        ("A: R 7-7 RW\nB: Ch 3 RW\n(A B) x 6", "REP 6 {; R 7 p 7; TURN; C 3; TURN; }"),
        ("L side: R 7-7, RW\nR side: as L side", "R 7 p 7; TURN; R 7 p 7; TURN"),
        # Elements that are only named.
        ("Rings 7-7, chains 3. Turn between.\nR C R C", "R 7 p 7; TURN; C 3; TURN; R 7 p 7; TURN; C 3"),
        (
            "Big ring: 7-7\nSmall ring: 4-4\nBig ring, RW, small ring, RW: do this 4 times.",
            "REP 4 {; R 7 p 7; TURN; R 4 p 4; TURN; }",
        ),
        ("R 7-7 RW\nCh 3 RW\nR Ch R, cut", "R 7 p 7; TURN; C 3; TURN; R 7 p 7; TURN; C 3; TURN; R 7 p 7; TURN; CUT"),
        ("All rings 7-7, all chains 3. RW after each.\nR Ch R", "R 7 p 7; TURN; C 3; TURN; R 7 p 7; TURN"),
        # Ranges and lists.
        ("R1: 7-7 RW\nR2-R4: 7+7 RW", "R 7 p 7; TURN; REP 3 {; R 7 j 7; TURN; }"),
        ("R1, R3: 7-7 RW\nR2: 4-4 RW", "R 7 p 7; TURN; R 4 p 4; TURN; R 7 p 7; TURN"),
        ("R1, R3, R5: 7-7 RW\nR2, R4: 4-4 RW", "; ".join(["R 7 p 7; TURN; R 4 p 4; TURN"] * 2 + ["R 7 p 7; TURN"])),
        ("R1 7-7 RW\nR2-R4 as R1, + to last p of the ring before", "R 7 p 7; TURN; REP 3 {; R 7 j 7; TURN; }"),
        # Parts.
        ("Rd. 1: R 7-7. Cut.\nRd. 2: join to any p. Ch 8, LJ to next p.", "R 7 p 7; CUT; ATTACH; C 8; LJ"),
        ("Rows 1, 3: R 6-6 RW\nRow 2: Ch 5, LJ", "R 6 p 6; TURN; C 5; LJ; R 6 p 6; TURN"),
        ("Rnd 1: R 6-6\nRnd 2 = Rnd 1", "R 6 p 6; R 6 p 6"),
        # Rings thrown off chains in words.
        ("Ch 4, thrown ring 3-3, Ch 4", "C 4; SWITCH; R 3 p 3; SWITCH; C 4"),
        ("Ch 4, then a ring of 3-3 from sh 2, ch 4", "C 4; SWITCH; R 3 p 3; SWITCH; C 4"),
        ("Ch 4 (small ring 3-3 with 2nd shuttle) 4", "C 4; SWITCH; R 3 p 3; SWITCH; C 4"),
        ("First motif\nR 7-7 RW\nSecond motif\nAs first motif", "R 7 p 7; TURN; R 7 p 7; TURN"),
    ],
)
def test_heads(text: str, said: str) -> None:
    assert steps(text) == said
    assert kinds(text) == []


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("R5-5CLRWCh6-6RWR5+5CLTURN", "R 5 p 5; TURN; C 6 p 6; TURN; R 5 j 5; TURN"),
        ("R 5-5 CR. SJ to p of R1. Cut/tie.", "R 5 p 5; LJ; CUT"),
        ("R: 5p5 (close) / Ch: 7 (RW)", "R 5 p 5; C 7; TURN"),
        ("R1 5-5 | RW | C1 7 | RW", "R 5 p 5; TURN; C 7; TURN"),
        ("[R 6-6, rw, sp (5mm)] x 2", "REP 2 {; R 6 p 6; TURN; BT 5mm; }"),
        ("R 5-5, approx 6 mm bare thread, R 5-5", "R 5 p 5; BT 6mm; R 5 p 5"),
        ("R5-5;Ch6-6;R5+5;Ch6-6 (turn after each)", "R 5 p 5; TURN; C 6 p 6; TURN; R 5 j 5; TURN; C 6 p 6; TURN"),
        ("Ch 8 (lj to p of R1)\nR 5+5", "C 8; LJ; R 5 j 5"),
        ("Trefoil: three rings 5-5 joined side by side", "REP 3 {; R 5 p 5; }"),
        ("Onion ring: inner R 3-3 cl. Outer R 6 + 6 cl, joining to the p of the inner ring", "R 3 p 3; R 6 j 6"),
    ],
)
def test_behind_elements(text: str, said: str) -> None:
    assert steps(text) == said


def test_totals_by_kind() -> None:
    assert kinds("Rings: 6. Chains: 6.\n(R 5-5 RW Ch 6 RW) x 6") == []
    assert kinds("Rings: 6, chains: 5.\n(R 5-5 RW Ch 6 RW) x 6") == ["contradiction"]
    assert kinds("(R 5-5 RW Ch 6 RW) x 6\nRings: 5") == ["contradiction"]


def test_places_by_number() -> None:
    assert places("R1: 4-4-4-4\nR2: 4+4-4+4 (R1:3, R1:1)") == places("R1: 4-4-4-4\nR2: 4+4-4+4 (R1.3, R1.1)")
    assert places("R1: 4-4-4-4\nR2: 4+4 (R1:3)") == ['ring "1", picot 3']


@pytest.mark.parametrize(
    ("text", "times"),
    [("Rnd 1 x4: R 6-6 RW", [4]), ("Rnd 1: R 6-6\nRnds 2 and 3: Ch 5", [1, 2]), ("Rnd 1 (make 3): R 6-6", [3])],
)
def test_parts_worked_several_times(text: str, times: list[int]) -> None:
    assert [part.times for part in read(text).pattern.parts] == times
