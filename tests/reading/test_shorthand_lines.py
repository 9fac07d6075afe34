"""Lines of shorthand: elements and their labels, actions, shuttles, thrown rings, mock rings."""

from __future__ import annotations

import pytest
from shorthand_tools import kinds, read, steps

from larkshead.model import Element, Thrown


@pytest.mark.parametrize(
    ("text", "said"),
    [
        # Closing in any form or none; turns in any form.
        ("R 5-5 cl RW", "R 5 p 5; TURN"),
        ("R 5-5 CLR, reverse work", "R 5 p 5; TURN"),
        ("R 5-5. Close. Turn.", "R 5 p 5; TURN"),
        ("R5-5CL,RW;CH6,RW", "R 5 p 5; TURN; C 6; TURN"),
        ("R 5-5 lr rw", "R 5 p 5; TURN"),
        ("R 5-5 DNR\nR 5-5 do not turn", "R 5 p 5; NOTURN; R 5 p 5; NOTURN"),
        ("r 8 p 8 / tw / c 4 p 4 / tw", "R 8 p 8; TURN; C 4 p 4; TURN"),
        # Kinds.
        ("SCMR: 6-6, pull up", "MR 6 p 6"),
        ("split ch 4-4 / 8", "SC 4 p 4 / 8"),
        ("3 R of 5-5, then Ch 8", "REP 3 {; R 5 p 5; }; C 8"),
        ("2R: 4-4", "REP 2 {; R 4 p 4; }"),
        ("Half ring: R 5-5, do not close fully, RW", "R 5 p 5; TURN"),
        # Bare thread.
        ('R 5-5, leave 1/4" thread, R 5-5', "R 5 p 5; BT 1/4in; R 5 p 5"),
        ("R 5-5, sp 3mm, R 5-5", "R 5 p 5; BT 3mm; R 5 p 5"),
        ("R 5-5, 3mm sp, R 5-5", "R 5 p 5; BT 3mm; R 5 p 5"),
        ("R 5-5 cl, rw, gap 5-10 mm", "R 5 p 5; TURN; BT 5..10mm"),
        ("ring 5-5, leave a space, turn", "R 5 p 5; BT ?; TURN"),
        # Other actions.
        ("Ch 5 LJ to next p", "C 5; LJ"),
        ("R 5-5 cl mp of 3 mm", "R 5 p 5; MP"),
        ("Attach to any p. Ch 5", "ATTACH; C 5"),
        ("Tie in at any chain p. Ch 5", "ATTACH; C 5"),
        ("R 5-5. Tie the ends & trim.", "R 5 p 5; CUT"),
        ("R 5-5. Tie, cut and hide the ends.", "R 5 p 5; CUT"),
        ("R 5-5. CT.", "R 5 p 5; CUT"),
        # Like another.
        ("SR2 8-4 / 4-8\nSR3 same as SR2", "SR 8 p 4 / 4 p 8; SR 8 p 4 / 4 p 8"),
        ("R1: 5-5\nR2-R4: as R1", "R 5 p 5; REP 3 {; R 5 p 5; }"),
        ("R1: 5-5\nR2, R3, R4: as R1", "R 5 p 5; REP 3 {; R 5 p 5; }"),
        ("R1: 5-5\nR2–R3: as R1, but the first p becomes a + to the last p of R1", "R 5 p 5; REP 2 {; R 5 j 5; }"),
        (
            "R1 < 4 - 4 > cl rw\nR2 < > with a + for its first -, to the last p of R1. cl rw",
            "R 4 p 4; TURN; R 4 j 4; TURN",
        ),
        ("R1 4-4 cl rw\nCh 7 rw\nR2 as R1", "R 4 p 4; TURN; C 7; TURN; R 4 p 4; TURN"),
        ("[1] r 8, rw\n[2] ch 4, rw\n[3] = [1]", "R 8; TURN; C 4; TURN; R 8; TURN"),
        ("R 5-5, RW\nditto", "R 5 p 5; TURN; R 5 p 5; TURN"),
        ("A   4-4  cl\nB   4+4  cl   A1", "R 4 p 4; R 4 j 4"),
    ],
)
def test_lines(text: str, said: str) -> None:
    assert steps(text) == said
    assert kinds(text) == []


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (
            "Sh1: R 6-6 RW\nSh1: Ch 4 DNR\nSh2: R 3-3 DNR\nSh1: Ch 4",
            "R 6 p 6; TURN; C 4; NOTURN; SWITCH; R 3 p 3; NOTURN; SWITCH; C 4",
        ),
        ("Sh1  R 6-6\n     Ch 4\nSh2  R 3-3\nSh1  Ch 4", "R 6 p 6; C 4; SWITCH; R 3 p 3; SWITCH; C 4"),
        ("Ring A (sh 1): 4-4\nRing B (sh 2): 4-4", "R 4 p 4; SWITCH; R 4 p 4"),
        ("SH1: R 6-6\nSH1/SH2: Ch 8\nSH2: R 4-4", "R 6 p 6; C 8; SWITCH; R 4 p 4"),
        ("Ch 6, SS, JK 9, SS, ch 6", "C 6; SWITCH; JR h1:9; SWITCH; C 6"),
    ],
)
def test_a_change_of_shuttles_only_where_another_is_named(text: str, said: str) -> None:
    assert steps(text) == said


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("Ch 3 (Sh2: R 4-4) 3 RW", "C 3; SWITCH; R 4 p 4; SWITCH; C 3; TURN"),
        ("Ch 3 [SS, R 4-4 cl, SS] 3", "C 3; SWITCH; R 4 p 4; SWITCH; C 3"),
        ("Ch 3 (TR 4-4) 3", "C 3; SWITCH; R 4 p 4; SWITCH; C 3"),
        (
            "TOR = ring thrown off with Sh2, no RW before or after\nCh 3 (TOR 4-4) 3",
            "C 3; NOTURN; SWITCH; R 4 p 4; NOTURN; SWITCH; C 3",
        ),
    ],
)
def test_a_ring_thrown_off_a_chain(text: str, said: str) -> None:
    assert steps(text) == said


def test_a_mock_ring_holds_the_rings_thrown_off_it() -> None:
    text = "SCMR 6 (Sh2: r 3-3 cl) (Sh1:) 6 - 6 (Sh2: r 3-3 cl) (Sh1:) 6. Pull Sh1 to close."
    ring = read(text).pattern.parts[0].steps[0]
    assert isinstance(ring, Element) and ring.kind == "mock ring"
    assert sum(isinstance(item, Thrown) for item in ring.work) == 2


def test_a_mock_ring_made_of_chains_is_one() -> None:
    text = (
        "SCMR: leave a loop of the SH1 thread at the start.\nC 2 DNR\n*TR with SH2 5-5 cl DNR\nC 4 DNR\n"
        "Repeat from * 2 more times.\nC 2. Pass SH1 through the loop and draw the mock ring closed.\n"
    )
    made = [step for step in read(text).pattern.parts[0].steps if isinstance(step, Element)]
    assert [step.kind for step in made] == ["mock ring"]
    assert sum(isinstance(item, Thrown) for item in made[0].work) == 3


def test_large_rings_told_apart_make_a_small_one_of_sr() -> None:
    text = "Lr 6-3-6, Sr 4-4, Sr 4/4"
    assert steps(text) == "R 6 p 3 p 6; R 4 p 4; SR 4 / 4"
    assert kinds(text) == ["assumed"]


def test_bullets_are_no_repeat_marks() -> None:
    assert steps("* R 5-5. RW.\n* Ch 7. RW.\n* R 5-5.") == "R 5 p 5; TURN; C 7; TURN; R 5 p 5"
    assert steps("• R 5-5\n• Ch 7") == "R 5 p 5; C 7"


def test_labels_are_kept() -> None:
    made = [step for step in read("R1: 5-5\nRing A: 6-6\nRB 7-7\n").pattern.parts[0].steps if isinstance(step, Element)]
    assert [step.label for step in made] == ["1", "A", "B"]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("Reverse work after every ring and every chain.\n\nR 6-6\nCh 9\n", "R 6 p 6; TURN; C 9; TURN"),
        ("ring 5-5, chain 7, ring 5-5. RW between.", "R 5 p 5; TURN; C 7; TURN; R 5 p 5"),
        ("[R 5-5, ch 7] x 2. RW between all.", "REP 2 {; TURN; ON first NOTURN; R 5 p 5; TURN; C 7; }"),
    ],
)
def test_a_sentence_gives_the_turns(text: str, said: str) -> None:
    assert steps(text) == said


def test_parts() -> None:
    pattern = read(
        "Rnd 1: R 5-5. Cut.\nRnd 2 (shuttle and ball): attach to any p. Ch 5.\n2nd row of the collar\nR 4-4"
    ).pattern
    assert [(part.kind, part.number) for part in pattern.parts] == [("round", 1), ("round", 2), ("row", 2)]


def test_a_part_told_to_be_made_so_often() -> None:
    pattern = read("Motif A (make 3)\nR 4-4 cl\n").pattern
    assert [(part.kind, part.name, part.times) for part in pattern.parts] == [("motif", "A", 3)]
