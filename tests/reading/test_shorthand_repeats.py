"""Repeats in shorthand: brackets, marks, numbers in every wording, changes on some passes, totals."""

from __future__ import annotations

import pytest
from shorthand_tools import kinds, steps

FIVE = "REP 5 {; R 4 p 4; TURN; C 6; TURN; }"


@pytest.mark.parametrize(
    "text",
    [
        "*R 4-4 RW Ch 6 RW* x 5",
        "*R 4-4 RW Ch 6 RW* 5x",
        "* R 4-4 RW\nCh 6 RW * five times",
        "*R 4-4 RW Ch 6 RW*\n* to * 5 times",
        "*R 4-4 RW Ch 6 RW. Rep from * 4 times.",
        "*R 4-4 RW Ch 6 RW; rep from * 4 more times",
        "# R 4-4 RW, Ch 6 RW, repeat from # 4 times more",
        "*R 4-4 RW Ch 6 RW; rep from * to 5 rings",
        "*R 4-4 RW Ch 6 RW. Repeat from * until there are 5 rings and 5 chains.",
        "(R 4-4 RW Ch 6 RW) x5",
        "[R 4-4 RW, Ch 6, RW] 5 x",
        "{R 4-4 rw, ch 6 rw} × 5",
        "5 x [R 4-4 RW Ch 6 RW]",
        "5 x: R 4-4 RW Ch 6 RW",
        "(R 4-4 RW Ch 6 RW) repeat 4 more times",
        "R 4-4 RW Ch 6 RW x 5",
        "R 4-4 RW\nCh 6 RW\nx 5",
        "R 4-4 RW\nCh 6 RW\nRepeat 4 times.",
        "1. R 4-4 RW\n2. Ch 6 RW\nRepeat steps 1 and 2 four times.",
        "A. R 4-4 RW\nB. Ch 6 RW\nrep AB 4 more times",
        "Unit: R 4-4 RW, Ch 6 RW\nWork unit 5 times.",
        "R 4-4 RW, Ch 6 RW. Whole line x 5.",
        "R 4-4 RW, Ch 6 RW. Make 5.",
        "R 4-4 RW\nCh 6 RW\nmake five of each that way",
        "R 4-4 RW, ch 6 RW and so on until there are 5 rings and 5 chains.",
    ],
)
def test_five_in_all(text: str) -> None:
    assert steps(text) == FIVE
    assert kinds(text) == []


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("{R 5-5 rw, [Ch 4 LJ next p] x2, Ch 6 rw} x 3", "REP 3 {; R 5 p 5; TURN; REP 2 {; C 4; LJ; }; C 6; TURN; }"),
        (
            "** r 5-5 rw; * ch 4 rw; rep from * twice more; ch 8 rw; rep from ** 4 times.",
            "REP 5 {; R 5 p 5; TURN; REP 3 {; C 4; TURN; }; C 8; TURN; }",
        ),
        ("[R 4-4] twice, then [R 6-6] three times", "REP 2 {; R 4 p 4; }; REP 3 {; R 6 p 6; }"),
        ("R 9-9 cl\nSR 5-4 / 4-5 cl x3\nR 9-9", "R 9 p 9; REP 3 {; SR 5 p 4 / 4 p 5; }; R 9 p 9"),
        ("*R 4-4 RW* twice; end with one more ring the same.", "REP 2 {; R 4 p 4; TURN; }; R 4 p 4"),
        (
            "Side:   [R 5-5] x 7\nCorner: R 4-4\nSide and corner 4 times in all.",
            "REP 4 {; REP 7 {; R 5 p 5; }; R 4 p 4; }",
        ),
        (
            "Row 1: R 3-3 rw\nRow 2: R 4-4 rw\nRows 3 to 9 the same as Row 2.",
            "R 3 p 3; TURN; R 4 p 4; TURN; REP 7 {; R 4 p 4; TURN; }",
        ),
        ("*R 4-4 RW. Rep from * for the length wanted.", "REP ? {; R 4 p 4; TURN; }"),
        (
            "Rnd 1: R 1-2-2-1. Cut.\nRnd 2: attach to any p. *Ch 4, LJ to next p; rep from * around.",
            "R 1 p 2 p 2 p 1; CUT; ATTACH; REP 3 {; C 4; LJ; }",
        ),
        # Passages told to be worked, before and behind.
        ("Repeat the following 6 times: R 5-5 RW, Ch 7 RW.", "REP 6 {; R 5 p 5; TURN; C 7; TURN; }"),
        ("Repeat 6 times:\nR 5-5 RW\nCh 7 RW\n\nCut.", "REP 6 {; R 5 p 5; TURN; C 7; TURN; }; CUT"),
        ("6 times:\nR 5-5 RW\nCh 7 RW\nCut.", "REP 6 {; R 5 p 5; TURN; C 7; TURN; }; CUT"),
        ("The following is worked 6 times:\nR 5-5 RW\nCh 7 RW", "REP 6 {; R 5 p 5; TURN; C 7; TURN; }"),
        ("R 5-5 RW\nCh 7 RW\nWork 7 pattern repeats.", "REP 7 {; R 5 p 5; TURN; C 7; TURN; }"),
        ("R 5-5 RW\nCh 7 RW\nThese two lines 7 times.", "REP 7 {; R 5 p 5; TURN; C 7; TURN; }"),
        ("R 5-5 RW, Ch 7 RW. Do this 6 times, cut.", "REP 6 {; R 5 p 5; TURN; C 7; TURN; }; CUT"),
        ("R 5-5 RW, Ch 7 RW; the same 5 times more", "REP 6 {; R 5 p 5; TURN; C 7; TURN; }"),
        ("R 5-5 RW, Ch 7 RW. Go on like this to 12 rings.", "REP 12 {; R 5 p 5; TURN; C 7; TURN; }"),
        ("R 5-5 RW, Ch 7 RW (6 times)", "REP 6 {; R 5 p 5; TURN; C 7; TURN; }"),
        ("R 5-5 (x3), RW", "REP 3 {; R 5 p 5; }; TURN"),
        ("5 petals: R 5-5", "REP 5 {; R 5 p 5; }"),
        ("Petal x5: R 5-5 DNR", "REP 5 {; R 5 p 5; NOTURN; }"),
        ("R 5-5 RW Ch 7 RW ---> x 6", "REP 6 {; R 5 p 5; TURN; C 7; TURN; }"),
        ("R 5-5 RW Ch 7 RW; make a dozen; cut.", "REP 12 {; R 5 p 5; TURN; C 7; TURN; }; CUT"),
        ("*R 5-5 RW Ch 7 RW; repeat from * a total of 6 times.", "REP 6 {; R 5 p 5; TURN; C 7; TURN; }"),
        ("*R 5-5 RW Ch 7 RW; repeat from * until 6 repeats are done.", "REP 6 {; R 5 p 5; TURN; C 7; TURN; }"),
        ("R 5-5 RW Ch 7 RW, etc., 6 rings & 6 chains.", "REP 6 {; R 5 p 5; TURN; C 7; TURN; }"),
        ("3 rings like this, joined at their sides: R 5+5-5", "REP 3 {; R 5 j 5 p 5; }"),
        ("R1: 5-5 RW\nCh1: 7 RW\nRepeat R1 and Ch1 five more times.", "REP 6 {; R 5 p 5; TURN; C 7; TURN; }"),
        ("R A 5-5 / Ch B 7 / R C 5+5\nRepeat from B 4 more times.", "R 5 p 5; REP 5 {; C 7; R 5 j 5; }"),
        (
            "Round 2\nR: 4-4. RW.\nCh: 5. RW.\nRepeat from beginning of round 7 times more.",
            "REP 8 {; R 4 p 4; TURN; C 5; TURN; }",
        ),
    ],
)
def test_nested_open_and_settled(text: str, said: str) -> None:
    assert steps(text) == said


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (
            "*R 4+4 RW. Rep from * 3 times.\n+ goes to the last p of the ring before. "
            "On the very first ring make a p there instead.",
            "REP 4 {; R 4 j 4; ON first R 4 p 4; TURN; }",
        ),
        (
            "*r 4+4 clr, rw* x 6\nfirst time a p where the + is; + to last p of the last ring",
            "REP 6 {; R 4 j 4; ON first R 4 p 4; TURN; }",
        ),
        (
            "[R 4-4 RW] x 4, joining each R by its first p to the last p of R before. CT.",
            "REP 4 {; R 4 j 4; ON first R 4 p 4; TURN; }; CUT",
        ),
        (
            "[R 5+5-5 RW] x 4, + always to last p of prev r, and join the last p of the last ring "
            "to the first p of the first ring.",
            "REP 4 {; R 5 j 5 p 5; ON last R 5 j 5 j 5; TURN; }",
        ),
        (
            "*R 4-4 RW\nC 6-6 RW; in the second and third chains join to the picot of the first chain "
            "instead\nRepeat from * 2 more times.",
            "REP 3 {; R 4 p 4; TURN; C 6 p 6; ON 2 C 6 j 6; ON last C 6 j 6; TURN; }",
        ),
        (
            "Five rings all the way round, each 5 + 6 - 6 + 5",
            "REP 5 {; R 5 j 6 p 6 p 5; ON first R 5 p 6 p 6 p 5; ON last R 5 j 6 p 6 j 5; }",
        ),
    ],
)
def test_what_is_other_on_some_passes(text: str, said: str) -> None:
    assert steps(text) == said


def test_a_lock_join_of_the_last_chain_behind_the_repeat() -> None:
    assert (
        steps("(R 5-5, RW, Ch 6, RW) x 5, lock the 5th Ch to the foot of the 1st R")
        == "REP 5 {; R 5 p 5; TURN; C 6; TURN; }; LJ"
    )


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("*R 4-4 RW (Ch 3-3 RW x 3 R 5-5*", "unmatched-repeat"),
        ("* R 5-5 RW, rep from ** 3 more times", "unmatched-repeat"),
        ("R 5-5 RW. Repeat from * twice.", "unmatched-repeat"),
        ("*R 5-5 RW. Repeat from *.", "open-repeat"),
        ("1. R 5-5\nRepeat steps 3 to 9 twice", "unmatched-repeat"),
        ("R 5-5 RW) x 3", "unmatched-repeat"),
    ],
)
def test_repeats_that_do_not_match_are_said(text: str, kind: str) -> None:
    assert kind in kinds(text)


@pytest.mark.parametrize(
    "text",
    [
        "R1: 5-5-5-5 (20 ds, 4 picots) cl",
        "*R 7-7 cl, RW. Rep from * 3 more times (6 rings in all).",
        "When done you have 6 rings and 6 chains.\n* R 4-4 RW Ch 6 RW * x 8",
        "R 5-5\nCh 6\nTotal: 2 rings, 1 chain.",
        "R 5-5 cl: 3 picots",
    ],
)
def test_totals_are_held_to_the_work(text: str) -> None:
    assert "contradiction" in kinds(text)


@pytest.mark.parametrize(
    "text",
    [
        "R1: 5-5-5-5 (20 ds, 3 picots) cl",
        "*R 7-7 cl, RW. Rep from * 5 more times (6 rings in all).",
        "* R 4-4 RW Ch 6 RW * x 6\nTotal: 6 rings, 6 chains, 84 double stitches.",
        "Rnd 1: R 1 - (2 -) x 11, 1 cl. 12 p. Cut.",
        "Ch 3 LJ, 3 ds in the chain",
        "R 8-8\nR 8+8\n(both rings share the one picot)",
    ],
)
def test_totals_that_agree_are_quiet(text: str) -> None:
    assert kinds(text) == []


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("*R 4+4-4 RW* x 6, last R + to first R too", "REP 6 {; R 4 j 4 p 4; ON last R 4 j 4 j 4; TURN; }"),
        ("*R 4+4-4 RW* x 6\nFirst ring: all picots, no join.", "REP 6 {; R 4 j 4 p 4; ON first R 4 p 4 p 4; TURN; }"),
        (
            "Every R joins to the last p of the R before it, except the first.\n*R 5+5 RW* 6x",
            "REP 6 {; R 5 j 5; ON first R 5 p 5; TURN; }",
        ),
        ("R 5-5, RW, Ch 7, RW. 7 more rings and chains.", "REP 8 {; R 5 p 5; TURN; C 7; TURN; }"),
        ("Rnd 1: (R 4-4 RW) x 6\nRnd 2: as Rnd 1 but x 12", "REP 6 {; R 4 p 4; TURN; }; REP 12 {; R 4 p 4; TURN; }"),
        ("Rnd 1: R 4-4 RW Ch 5\nRnd 2: as Rnd 1 with Ch 7", "R 4 p 4; TURN; C 5; R 4 p 4; TURN; C 7"),
        (
            "Row 1: *R 4-4-4-4 RW* x 2\nRow 2: same, joining centre ps to row 1.",
            "REP 2 {; R 4 p 4 p 4 p 4; TURN; }; REP 2 {; R 4 p 4 j 4 p 4; TURN; }",
        ),
        (
            "*R 5-5 RW, Ch 4, RW; rep from *, ending with a R. 11 rings in all.",
            "REP 10 {; R 5 p 5; TURN; C 4; TURN; }; R 5 p 5",
        ),
    ],
)
def test_what_differs(text: str, said: str) -> None:
    assert steps(text) == said
    assert kinds(text) == []
