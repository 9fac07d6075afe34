"""Shorthand that tells the order of the work apart from the work, and picots apart from the counts."""

from __future__ import annotations

import pytest
from shorthand_tools import kinds, steps


@pytest.mark.parametrize(
    ("text", "said"),
    [
        # Lines named by letters, worked in an order told.
        ("a: R 7-7 RW\nb: Ch 6 RW\nWork a b a.", "R 7 p 7; TURN; C 6; TURN; R 7 p 7; TURN"),
        (
            "A  R 7-7 RW\nB  Ch 6 RW\nC  R 3-3 RW\nA B C B, twice",
            "REP 2 {; R 7 p 7; TURN; C 6; TURN; R 3 p 3; TURN; C 6; TURN; }",
        ),
        ("a) R 7-7 RW\nb) Ch 6 RW\nabaab", "R 7 p 7; TURN; C 6; TURN; R 7 p 7; TURN; R 7 p 7; TURN; C 6; TURN"),
        ("A: R 7-7 RW\nB: Ch 6 RW\n(A B) x 4, A", "REP 4 {; R 7 p 7; TURN; C 6; TURN; }; R 7 p 7; TURN"),
        # Steps not all named stay worked.
        (
            "A  R 7-7 RW\nB  Ch 6 RW\nC  R 3-3 RW\nB A B",
            "R 7 p 7; TURN; C 6; TURN; R 3 p 3; TURN; C 6; TURN; R 7 p 7; TURN; C 6; TURN",
        ),
        # Behind each of several elements.
        (
            "R1 7-7 rw\nCh 6 rw\nR2-R4 7+7 rw, each followed by Ch 6 rw\nCh 3",
            "R 7 p 7; TURN; C 6; TURN; REP 3 {; R 7 j 7; TURN; C 6; TURN; }; C 3",
        ),
        ("R1-R3: 7-7 rw, each with a Ch of 6-6 rw after it", "REP 3 {; R 7 p 7; TURN; C 6 p 6; TURN; }"),
        ("RA 7-7\nRB-RE 7+7", "R 7 p 7; REP 4 {; R 7 j 7; }"),
        # An element described before its counts.
        ("R1: 7-7 cl\nR2 goes round R1: 9+9 cl", "R 7 p 7; R 9 j 9"),
        (
            "R1 7-3-7 RW\nR2 as R1 but + (last p R1) for its first p\nR3 as R2",
            "R 7 p 3 p 7; TURN; R 7 j 3 p 7; TURN; R 7 j 3 p 7; TURN",
        ),
        # Picots by the stitch they stand behind, or with their length.
        ("R 15, p after 5 and 10. RW", "R 5 p 5 p 5; TURN"),
        ("Ch 12 with p after 3, 6 and 9", "C 3 p 3 p 3 p 3"),
        ("R 15, join after 5 (last p of prev R), p after 10", "R 5 j 5 p 5"),
        ("R 7 (3 mm p) 7 cl", "R 7 p 7"),
        ("R 7 3mm p 7 cl", "R 7 p 7"),
        ("r 7, + to last p, 3, p, 7. rw.", "R 7 j 3 p 7; TURN"),
        ("R 7+7-7 / + to last p of prev R", "R 7 j 7 p 7"),
        ("R 7-7 cl, mp\nCh 6, LJ p1\nCh 6, LJ mp", "R 7 p 7; MP; C 6; LJ; C 6; LJ"),
        # Elements on one line with nothing between them.
        ("R1 7-7 R2 7+7 rw C1 4-4", "R 7 p 7; R 7 j 7; TURN; C 4 p 4"),
        ("R 7-7 Ch 6 R 7+7", "R 7 p 7; C 6; R 7 j 7"),
        ("1R 7-7 2R 7+7 rw 1C 4-4 rw", "R 7 p 7; R 7 j 7; TURN; C 4 p 4; TURN"),
        # Elements only named, some with a join for the first picot.
        (
            "Rings 7-7-7 throughout, chains 6-6 throughout, RW between.\nR C R+ C R+",
            "R 7 p 7 p 7; TURN; C 6 p 6; TURN; R 7 j 7 p 7; TURN; C 6 p 6; TURN; R 7 j 7 p 7",
        ),
        # As many counts as elements, and steps told by name.
        ("3 R: 7-4, 4+7-4, 4+7. RW. Ch 8", "R 7 p 4; R 4 j 7 p 4; R 4 j 7; TURN; C 8"),
        (
            "Tuft: R 7-4, R 4+7\n\nTuft, RW, Ch 9, RW, tuft",
            "R 7 p 4; R 4 j 7; TURN; C 9; TURN; R 7 p 4; R 4 j 7",
        ),
        ("Tuft = 2 R: 7-4, 4+7.\nTuft, RW, Ch 9", "R 7 p 4; R 4 j 7; TURN; C 9"),
        # Lines counted back, sides told in words.
        (
            "R 7-7 RW\nCh 6 RW\nR 7+7 RW\nCh 6 RW\nRepeat the last two lines 3 more times",
            "R 7 p 7; TURN; C 6; TURN; REP 4 {; R 7 j 7; TURN; C 6; TURN; }",
        ),
        ("R 7-7, turn and complete with second shuttle 6-6.", "SR 7 p 7 / 6 p 6"),
        # Elements named by their numbers or kinds, worked again.
        (
            "r1 7-7 rw\nc1 6 rw\nr2 7+7 rw\nc2 6 rw\n(r2 c2) x 5",
            "R 7 p 7; TURN; C 6; TURN; REP 5 {; R 7 j 7; TURN; C 6; TURN; }",
        ),
        (
            "R 7-7 RW\nCh 6 RW\nR 7+7 RW\nCh 6 RW\nRepeat the last R and Ch 3 more times",
            "R 7 p 7; TURN; C 6; TURN; REP 4 {; R 7 j 7; TURN; C 6; TURN; }",
        ),
        # Bare thread and turns told for all.
        (
            "SR1 7-7/7-7\nSR2-SR4 7+7/7-7\nR5 7+7 cl\nall bare threads between 2mm",
            "SR 7 p 7 / 7 p 7; BT 2mm; REP 3 {; SR 7 j 7 / 7 p 7; BT 2mm; }; R 7 j 7",
        ),
        ("Leave 3 mm between all rings.\nR 7-7\nR 7+7", "R 7 p 7; BT 3mm; R 7 j 7"),
        ("R7-7 C8 R7+7 C8 (RW between each)", "R 7 p 7; TURN; C 8; TURN; R 7 j 7; TURN; C 8"),
        ("R 7-7\nCh 8\nRW throughout.", "R 7 p 7; TURN; C 8; TURN"),
        (
            "ring 7-7, rw, chain 6, rw\nring 7+7, rw, chain 6, rw\ndo row 2 four more times\ncut",
            "R 7 p 7; TURN; C 6; TURN; REP 5 {; R 7 j 7; TURN; C 6; TURN; }; CUT",
        ),
        # Gaps for marks.
        ("A gap is a picot.\nR 7 7 7 7 cl\nCh 6 6", "R 7 p 7 p 7 p 7; C 6 p 6"),
    ],
)
def test_order_and_places_apart_from_the_counts(text: str, said: str) -> None:
    assert steps(text) == said
    assert kinds(text) == []
