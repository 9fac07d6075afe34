"""The pattern's own list and explanations: they rule the reading before the convention does."""

from __future__ import annotations

import pytest
from shorthand_tools import places, read, steps


@pytest.mark.parametrize(
    ("listed", "line", "said"),
    [
        ("p = picot", "R 4 p 4", "R 4 p 4"),
        ("· = picot     + = join", "R 4+4·4", "R 4 j 4 p 4"),
        ("° = picot, x = join", "R 4x4°4", "R 4 j 4 p 4"),
        ("T = tiny picot, L = long picot", "R 3T3L3T3", "R 3 sp 3 lp 3 sp 3"),
        ("P = long picot (about 9 mm), p = normal", "R 5p2P2p5", "R 5 p 2 lp 2 p 5"),
        ("- is an ordinary picot, -- is a long one.", "R 8 -- 3 - 8", "R 8 lp 3 p 8"),
        (
            "-  (hyphen)   tiny picot\n–  (en dash)  ordinary picot\n—  (em dash)  long picot",
            "R 6-3–3—6",
            "R 6 sp 3 p 3 lp 6",
        ),
        (". picot     : longer picot     / new element", "R 5.3:3.5 / turn / C 6.6", "R 5 p 3 lp 3 p 5; TURN; C 6 p 6"),
        ("±  teeny picot     -  picot     +  join", "R 4±3-3±4", "R 4 sp 3 p 3 sp 4"),
        ("NB + is a small picot, j is the join itself.", "R 5j4-4+5", "R 5 j 4 p 4 sp 5"),
        ("b = picot carrying one bead, 3b = picot carrying three", "R 6 - 2 b 6 3b 6", "R 6 p 2 p b 6 p b b b 6"),
        (
            "B   bead slid up between two ds\n+B  bead hooked over the picot first, then join",
            "R 4 +B 4 B 4",
            "R 4 j b 4 b 4",
        ),
        (
            "(2B) two beads side by side between stitches, no picot. -B- one bead on a picot.",
            "R 4 -B- 4 (2B) 4",
            "R 4 p b 4 b b 4",
        ),
        ("f = first half only, s = second half only", "Ch 5f 5s", "C h1:5 h2:5"),
        ("sp = space of 3 mm", "R 5-5 cl, sp", "R 5 p 5; BT 3mm"),
        ("bts = bare thread space", "R 5-5, bts 6 mm", "R 5 p 5; BT 6mm"),
        ("mp = mock picot", "R 5-5, mp", "R 5 p 5; MP"),
        ("JK = Josephine knot, n half stitches", "JK 8", "JR h1:8"),
        ("SR  small ring\nLR  large ring", "SR 4-4\nLR 6-6", "R 4 p 4; R 6 p 6"),
        ("^ = change to the second shuttle's side", "SR 4-4 ^ Sh2 6-6", "SR 4 p 4 / 6 p 6"),
        ("SS = switch shuttles", "Ch 5 [SS, R 3-3 cl, SS] 5", "C 5; SWITCH; R 3 p 3; SWITCH; C 5"),
    ],
)
def test_what_is_explained_is_read_so(listed: str, line: str, said: str) -> None:
    assert steps(f"{listed}\n\n{line}\n") == said


@pytest.mark.parametrize(
    "listed",
    [
        "Abbrev.: tw turn work, c chain, r ring, T tiny picot",
        "Abbreviations: tw turn work; c chain; r ring; T tiny picot.",
        "Key\ntw  turn work\nc   chain\nr   ring\nT   tiny picot",
        "What my letters mean\n  tw  turn work\n  c   chain\n  r   ring\n  T   tiny picot",
        "(tw turn work, c chain, r ring, T tiny picot)",
        "tw: turn work; c: chain; r: ring; T: tiny picot",
        'Legend: "tw" turn work, "c" chain, "r" ring, "T" tiny picot',
    ],
)
def test_every_form_of_list_is_recognised(listed: str) -> None:
    text = f"{listed}\n\nr 4T4 tw\nc 6\n"
    assert steps(text) == "R 4 sp 4; TURN; C 6"
    reading = read(text)
    assert {"tw", "c", "r", "T"} <= reading.abbreviations_defined
    assert {entry.form for entry in reading.pattern.abbreviations} == {"tw", "c", "r", "T"}


def test_a_list_may_stand_behind_the_steps() -> None:
    assert steps("r 4 sp 4 lp 4 clr\n(sp small picot, lp long picot)") == "R 4 sp 4 lp 4"
    assert steps("R 4 FJ 4 (p of R1)\nFJ = folded join") == "R 4 j 4"


def test_a_picot_the_first_time_and_a_join_afterwards() -> None:
    text = "*R 4 (+) 4 - 4 cl RW* x 3\n\n(+) = picot the first time, afterwards join to last p of the ring before\n"
    assert steps(text) == "REP 3 {; R 4 j 4 p 4; ON first R 4 p 4 p 4; TURN; }"
    assert places(text) == ["previous ring, last picot"]


def test_a_picot_on_every_ring_but_one() -> None:
    text = (
        "6 x:  R 4 - 4 [+] 4 cl, RW\n\n[+]  a p on every ring but the sixth, which joins to the first p of ring one\n"
    )
    assert steps(text) == "REP 6 {; R 4 p 4 p 4; ON last R 4 p 4 j 4; TURN; }"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("A = R 5-5, rw\nB = Ch 6, rw\nOrder: A, B, A. Cut.", "R 5 p 5; TURN; C 6; TURN; R 5 p 5; TURN; CUT"),
        ("A: R 5-5, rw\nB: Ch 6, rw\nA B A B", "R 5 p 5; TURN; C 6; TURN; R 5 p 5; TURN; C 6; TURN"),
        ("SmR = 3-3\nBigR = 5-5-5\nWork: SmR, rw, BigR, rw", "R 3 p 3; TURN; R 5 p 5 p 5; TURN"),
        (
            "A = R 5-5 cl\nB = Ch 7\n\nA rw B rw twice, then a third A to end.",
            "REP 2 {; R 5 p 5; TURN; C 7; TURN; }; R 5 p 5",
        ),
        (
            "CL = clover: r 5-5, r 5+5, no turning inside\n\nCL. RW. CL.",
            "R 5 p 5; NOTURN; R 5 j 5; TURN; R 5 p 5; NOTURN; R 5 j 5",
        ),
        ("lg R = 6-6\n*lg R, rw* x 3", "REP 3 {; R 6 p 6; TURN; }"),
    ],
)
def test_names_for_steps(text: str, said: str) -> None:
    assert steps(text) == said


def test_a_name_used_nowhere_is_no_definition() -> None:
    assert steps("R1 = 5-5\nC1 = 8") == "R 5 p 5; C 8"
    assert steps("[1] r 8-8, rw\n[2] = [1]") == "R 8 p 8; TURN; R 8 p 8; TURN"


def test_a_list_of_hundreds_of_entries_is_read_in_its_beginning() -> None:
    listed = ", ".join(f"q{number} picot" for number in range(5000))
    assert steps(f"Key: {listed}\n\nR 5 q7 5") == "R 5 p 5"


def test_a_mark_stands_for_the_word_behind_it() -> None:
    listed = read("Abbreviations: - picot, + join, cl close.\n\nR 5-5 cl\nR 5+5 cl").pattern.abbreviations
    assert [(own.form, own.concept) for own in listed] == [("-", "picot"), ("+", "join"), ("cl", "close")]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("A colon is a picot, a plus a join.\n\nR 4:4:4\nR 4+4:4", "R 4 p 4 p 4; R 4 j 4 p 4"),
        ("R 4--4-4 cl (double dash = long picot)", "R 4 lp 4 p 4"),
        ("Dots are picots, + is join.\nR 5.5.5", "R 5 p 5 p 5"),
        ("Hyphen = small picot, em dash = large picot.\nR 5-5—5-5", "R 5 sp 5 lp 5 sp 5"),
        ("| between counts is a picot.\nR 5|5|5 cl", "R 5 p 5 p 5"),
        ("R 5+5+5 where + is a tiny picot", "R 5 sp 5 sp 5"),
        ("+ = last p of the ring before\nR 5+5-5", "R 5 j 5 p 5"),
        ("X = cross over\nR 4-4 X R 4-4", "R 4 p 4; R 4 p 4"),
        ("B = one bead in the picot\nCh 4-B-4", "C 4 p b 4"),
        ("R 5/5 is a split ring with five on each side.\nSR 6/6", "SR 6 / 6"),
    ],
)
def test_marks_by_name(text: str, said: str) -> None:
    assert steps(text) == said
