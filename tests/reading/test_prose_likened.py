"""Passages with a name and a number or letter that are told like one another in running words."""

from __future__ import annotations

import pytest

from larkshead.app.workbench import Workbench
from larkshead.model import Pattern
from larkshead.reading import Source

BENCH = Workbench()


def read(text: str) -> Pattern:
    return BENCH.read(Source(text, "likened.txt"), "prose", "en").pattern


def steps(text: str) -> list[str]:
    lines = BENCH.write(read(text), "steplist").text.splitlines()
    return [line.split(" #")[0].split(" ->")[0] for line in lines if line and not line.startswith("#")]


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        (
            "Wing A. Ring of 4, picot, 4. Turn. Chain of 6. Cut. Wing B is made like wing A.",
            ["R 4 p 4", "TURN", "C 6", "CUT", "R 4 p 4", "TURN", "C 6", "CUT"],
        ),
        (
            "Button one: ring of 5, picot, 5, picot, 5. Cut. Buttons two and three are like button one, but the last picot of the "
            "ring is a join to the first picot of the ring of the button before.",
            ["R 5 p 5 p 5", "CUT", "R 5 p 5 j 5", "CUT", "R 5 p 5 j 5", "CUT"],
        ),
        (
            "Motif one: ring of 7, picot, 7. Cut. Motif two hangs on motif one in just the same way.",
            ["R 7 p 7", "CUT", "R 7 p 7", "CUT"],
        ),
    ],
)
def test_told_like_one_before(text: str, wanted: list[str]) -> None:
    assert steps(text) == wanted


def test_the_name_is_kept() -> None:
    pattern = read("Wing A. Ring of 4, picot, 4. Cut. Wing B is made like wing A.")
    assert [(part.name, part.number) for part in pattern.parts] == [("Wing", 1), ("Wing", 2)]


def test_a_word_with_a_letter_alone_is_no_part() -> None:
    assert steps("With shuttle A a ring of 4, picot, 4. Turn. Chain of 6.") == ["R 4 p 4", "TURN", "C 6"]
