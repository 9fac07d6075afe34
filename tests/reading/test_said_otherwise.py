"""What speakers take back, remember late, ask and answer, and tell in their own way."""

from __future__ import annotations

import pytest
from prose_tools import prose_steps, read_prose


@pytest.mark.parametrize(
    ("text", "steps"),
    [
        ("Chain of three, sorry, six, six stitches, picot, six.", ["C 6 p 6"]),
        ("ring of nine picot no not nine seven picot seven close", ["R 7 p 7"]),
        ("Ring of four, picot, four, close. Chain five, tie it to the picot of the ring, no, don't tie it, join it, then five.", ["R 4 p 4", "C 5 j 5"]),
        ("Ring of eight, picot, eight, no, wait, that is for the larger size. For the doll it is a ring of five, picot, five.", ["R 5 p 5"]),
        ("a ring six picot six no hang on let me start again it's seven picot seven picot seven", ["R 7 p 7 p 7"]),
    ],
)  # fmt: skip
def test_taken_back(text: str, steps: list[str]) -> None:
    assert prose_steps(text) == steps


@pytest.mark.parametrize(
    ("text", "steps"),
    [
        (
            "ring four picot four and then chain nine oh I forgot you have to turn before the chain so turn then chain nine and turn",
            ["R 4 p 4", "TURN", "C 9", "TURN"],
        ),
        (
            "1. Ring of six, picot, six. Close.\n2. Chain of seven.\n3. Ring of six, join, six. Close.\nI left out the turns: turn after step 1 and after step 2.",
            ["R 6 p 6", "TURN", "C 7", "TURN", "R 6 j 6"],
        ),
        (
            "Ring of six, picot, six, close. Chain of eight. But before that, turn the work.",
            ["R 6 p 6", "TURN", "C 8"],
        ),
    ],
)  # fmt: skip
def test_remembered_late(text: str, steps: list[str]) -> None:
    assert prose_steps(text) == steps


@pytest.mark.parametrize(
    ("text", "steps"),
    [
        (
            "Ring of fourteen. Turn. Chain of eight. Oh, and the ring has a picot in the middle, so seven, picot, seven.",
            ["R 7 p 7", "TURN", "C 8"],
        ),
        (
            "Ring of four, picot, four. Turn. Chain of six, picot, six. Forget the picot in the chain, it's a bead: six, bead, six.",
            ["R 4 p 4", "TURN", "C 6 b 6"],
        ),
        (
            "Ring of four, picot, four. Turn. Chain of six, picot, six. The picot on the chain was meant to be a bead.",
            ["R 4 p 4", "TURN", "C 6 b 6"],
        ),
        (
            "Ring of four, picot, four. Turn. Chain of six, picot, six. Ignore the picot on the chain.",
            ["R 4 p 4", "TURN", "C 12"],
        ),
    ],
)  # fmt: skip
def test_put_right_later(text: str, steps: list[str]) -> None:
    assert prose_steps(text) == steps


@pytest.mark.parametrize(
    ("text", "steps"),
    [
        (
            '"How many before the picot?" "Six." "And after it?" "Six again." "Do I turn now?" "Yes." "And then?" "Chain of ten."',
            ["R 6 p 6", "TURN", "C 10"],
        ),
        ("Ring of four, picot, four. Turn. And how is the chain worked? Nine stitches, picot, nine.", ["R 4 p 4", "TURN", "C 9 p 9"]),
        ("Ring of five, picot, five. Is there a bead in it? No. Cut.", ["R 5 p 5", "CUT"]),
    ],
)  # fmt: skip
def test_asked_and_answered(text: str, steps: list[str]) -> None:
    assert prose_steps(text) == steps


@pytest.mark.parametrize(
    "turned",
    ["swing the work round", "flip it the other way up", "rotate the piece", "turn the work about", "turn it upside down", "swing round again"],
)  # fmt: skip
def test_turns(turned: str) -> None:
    assert prose_steps(f"Ring of five, picot, five, then {turned}, and with the ball thread put on nine.") == [
        "R 5 p 5",
        "TURN",
        "C 9",
    ]


def test_turning_of_hands_is_no_turn() -> None:
    assert prose_steps("Spin a little tale while you work a ring of five, picot, five.") == ["R 5 p 5"]


@pytest.mark.parametrize(
    ("text", "steps"),
    [
        ("Ring: four picots, three stitches between one and the next and two at either end.", ["R 2 p 3 p 3 p 3 p 2"]),
        (
            "Into one ring go three picots with two stitches between them, and there are five stitches ahead of the first picot and seven behind the last.",
            ["R 5 p 2 p 2 p 7"],
        ),
        (
            "Ring with three picots, two stitches between each. Six stitches come before the first picot and six after the last.",
            ["R 6 p 2 p 2 p 6"],
        ),
        ("Chain of fourteen stitches and one picot halfway.", ["C 7 p 7"]),
        ("A ring of twenty-one stitches, parted into three by two picots.", ["R 7 p 7 p 7"]),
        ("Chain of twenty stitches with three picots among them, each after five stitches.", ["C 5 p 5 p 5 p 5"]),
    ],
)  # fmt: skip
def test_how_picots_lie(text: str, steps: list[str]) -> None:
    assert prose_steps(text) == steps


@pytest.mark.parametrize(
    ("text", "steps"),
    [
        ("Ring of five, picot, five. Leave 3 mm. Ring of five, slip a bead over the picot of the first ring and join through it, five.", ["R 5 p 5", "BT 3mm", "R 5 j b 5"]),
        ("Ring of five, a beaded picot, five.", ["R 5 p b 5"]),
        ("Ring of five, picot, five. Let 3 mm of thread lie open, then ring of six.", ["R 5 p 5", "BT 3mm", "R 6"]),
        ("Josephine knot of twelve half stitches, turn, Josephine knot of eight.", ["JR h1:12", "TURN", "JR h1:8"]),
        ("The second ring, number two, is five, picot, five.", ["R 5 p 5"]),
        ("Ring of five, a picot, five, and a picot like the first, five.", ["R 5 p 5 p 5"]),
        ("A ring is begun with six stitches, after which a picot is made; six more stitches are worked and the ring is closed.", ["R 6 p 6"]),
        ("Ring of four, picot, four. Ring of six. No turning in between.", ["R 4 p 4", "NOTURN", "R 6"]),
        ("Chain six, lock to the first picot, six, picot, six, lock to the next picot, six. Turn.", ["C 6 lj 6 p 6 lj 6", "TURN"]),
        ("so the chain goes along the top of the rings so it's four picot four picot four", ["C 4 p 4 p 4"]),
        ("Split ring: with shuttle one, six, picot, six; with shuttle two, nine stitches.", ["SR 6 p 6 / 9"]),
        ("Ring of five, picot, five. The second is like the first.", ["R 5 p 5", "R 5 p 5"]),
    ],
)  # fmt: skip
def test_single_elements(text: str, steps: list[str]) -> None:
    assert prose_steps(text) == steps


@pytest.mark.parametrize(
    ("sentence", "picot"),
    [
        ("All picots are tiny.", "sp"),
        ("Every picot in this edging is a long one.", "lp"),
        ("Please note that all picots are small joining picots.", "sp"),
        ("All picots are 3 mm long.", "p"),
        ("All the picots of the chains are small.", "p"),
    ],
)
def test_size_of_all_picots(sentence: str, picot: str) -> None:
    assert prose_steps(f"{sentence} Ring of 5, picot, 5. Turn.") == [f"R 5 {picot} 5", "TURN"]


@pytest.mark.parametrize(
    ("text", "steps"),
    [
        ("Four doubles. Picot. Four doubles. Picot. Four doubles. Draw the ring shut. Flip.", ["R 4 p 4 p 4", "TURN"]),
        ("I always do the ring with eight, not nine, so eight, picot, eight.", ["R 8 p 8"]),
        ("One ring with three picots. Four stitches, a picot, two, a long picot, two, a picot, four.", ["R 4 p 2 lp 2 p 4"]),
        ("Ring of six. Turn, and nine doubles on the ball make the chain.", ["R 6", "TURN", "C 9"]),
        ("Fifteen half stitches make a Josephine knot; turn.", ["JR h1:15", "TURN"]),
        ("Between rings leave 5 mm. Ring: four, picot, four. Ring: six, picot, six.", ["R 4 p 4", "BT 5mm", "R 6 p 6"]),
        ("Ring of 6, then I wrote picot but it should be a bead, then 6.", ["R 6 b 6"]),
        ("Chain of nine with a picot after three and after six.", ["C 3 p 3 p 3"]),
        ("Ring of six, a big long picot, six, picot, and once more six.", ["R 6 lp 6 p 6"]),
    ],
)  # fmt: skip
def test_told_in_pieces(text: str, steps: list[str]) -> None:
    assert prose_steps(text) == steps


@pytest.mark.parametrize(
    "told",
    [
        "Where we printed a ring of 4, picot, 4, read a ring of 6, picot, 6.",
        "In the sprig, where it said a ring of 4, picot, 4, it should say a ring of 6, picot, 6.",
    ],
)
def test_what_was_printed_wrongly_is_not_worked(told: str) -> None:
    assert prose_steps(f"{told} Turn. Chain of 7. Cut.") == ["R 6 p 6", "TURN", "C 7", "CUT"]


def test_a_last_chain_to_end() -> None:
    text = "Ring of five, picot, five. Turn. Another chain of eight to end."
    assert prose_steps(text) == ["R 5 p 5", "TURN", "C 8"]


def test_work_folded_behind_a_bare_ring() -> None:
    text = "Make a ring of seven with nothing in it. Fold the work over. Chain of nine. Turn."
    assert prose_steps(text) == ["R 7", "TURN", "C 9", "TURN"]


@pytest.mark.parametrize(
    ("told", "steps"),
    [
        ("Make four more.", ["R 5 p 5", "REP 4 {", "R 5 p 5", "}"]),
        ("Then make one more.", ["R 5 p 5", "R 5 p 5"]),
    ],
)
def test_more_that_are_made_are_elements(told: str, steps: list[str]) -> None:
    assert prose_steps(f"Ring of five, picot, five. {told}") == steps


@pytest.mark.parametrize(
    ("text", "steps"),
    [
        ("a ring and it goes one picot two picot two picot one and close", ["R 1 p 2 p 2 p 1"]),
        ("Ring of five, picot, five. Ring of five, join, five, and that join goes in the picot of the ring before.", ["R 5 p 5", "R 5 j 5"]),
        ("Ring of five, picot, five. Tie on in the picot of the ring and it's chain four, picot, four.", ["R 5 p 5", "ATTACH", "C 4 p 4"]),
    ],
)  # fmt: skip
def test_little_words(text: str, steps: list[str]) -> None:
    assert prose_steps(text) == steps


@pytest.mark.parametrize(
    ("text", "steps"),
    [
        ("The ring is made thus: four stitches; a small picot for joining; four; a picot; four.", ["R 4 sp 4 p 4"]),
        ("ring of eight picot four join sorry I mean picot four picot eight close", ["R 8 p 4 p 4 p 8"]),
        ("Ring of five, picot, three, picot, five, or rather, no, the outside picots should be small ones, so five, small picot, three, small picot, five.", ["R 5 sp 3 sp 5"]),
        ("Split ring. Side A has six stitches and a picot and six; side B has four, a picot, four.", ["SR 6 p 6 / 4 p 4"]),
        ("The chain: fourteen, a picot after the fourth and another after the tenth.", ["C 4 p 6 p 4"]),
        ("Work 20 ds as a chain, dividing them into five equal groups by picots. RW.", ["C 4 p 4 p 4 p 4 p 4", "TURN"]),
        ("Chain: three doubles, then a picot with a bead on it, four times, and three doubles to end.", ["C 3 p b 3 p b 3 p b 3 p b 3"]),
        ("Ring of six. Turn. And nine on the chain and flip again.", ["R 6", "TURN", "C 9", "TURN"]),
        ("Ring of five, picot, five. Chain of seven. Turn before the chain.", ["R 5 p 5", "TURN", "C 7"]),
        ("chain five picot five turn and the ring is six join to the picot of the chain six", ["C 5 p 5", "TURN", "R 6 j 6"]),
        ("Ring of five, picot, five. Cut. Tie on in one of those and chain five, picot, five.", ["R 5 p 5", "CUT", "ATTACH", "C 5 p 5"]),
    ],
)  # fmt: skip
def test_counts_in_their_own_way(text: str, steps: list[str]) -> None:
    assert prose_steps(text) == steps


def test_questions_at_the_head_are_no_title() -> None:
    text = "How many before the picot? Six. And after it? Six again. Do I turn now? Yes. And then? Chain of ten."
    pattern = read_prose(text).pattern
    assert not pattern.title
    assert prose_steps(text) == ["R 6 p 6", "TURN", "C 10"]
