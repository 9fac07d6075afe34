"""What speakers take back, remember late, ask and answer, and tell in their own way."""

from __future__ import annotations

import pytest

from larkshead.app.workbench import Workbench
from larkshead.reading import Source

BENCH = Workbench()


def written(text: str) -> list[str]:
    """The steps of a passage, without places, labels and notes."""
    pattern = BENCH.read(Source(text, "p.txt"), "prose", "en").pattern
    lines = BENCH.write(pattern, "steplist").text.splitlines()
    return [line.split(" ->")[0].split(" #")[0].strip() for line in lines if line and not line.startswith("#")]


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
    assert written(text) == steps


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
    assert written(text) == steps


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
    assert written(text) == steps


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
    assert written(text) == steps


@pytest.mark.parametrize(
    "turned",
    ["swing the work round", "flip it the other way up", "rotate the piece", "turn the work about", "turn it upside down", "swing round again"],
)  # fmt: skip
def test_turns(turned: str) -> None:
    assert written(f"Ring of five, picot, five, then {turned}, and with the ball thread put on nine.") == [
        "R 5 p 5",
        "TURN",
        "C 9",
    ]


def test_turning_of_hands_is_no_turn() -> None:
    assert written("Spin a little tale while you work a ring of five, picot, five.") == ["R 5 p 5"]
