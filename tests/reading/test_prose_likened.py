"""Passages with a name and a number or letter that are told like one another in running words."""

from __future__ import annotations

import pytest
from prose_tools import prose_steps, read_prose


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
    assert prose_steps(text) == wanted


def test_the_name_is_kept() -> None:
    pattern = read_prose("Wing A. Ring of 4, picot, 4. Cut. Wing B is made like wing A.").pattern
    assert [(part.name, part.number) for part in pattern.parts] == [("Wing", 1), ("Wing", 2)]


def test_a_word_with_a_letter_alone_is_no_part() -> None:
    assert prose_steps("With shuttle A a ring of 4, picot, 4. Turn. Chain of 6.") == ["R 4 p 4", "TURN", "C 6"]
