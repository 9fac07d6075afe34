"""Series of like passages in running words: named, counted, parted, the last without what follows the others."""

from __future__ import annotations

import pytest
from prose_tools import prose_steps


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        (
            "A buckle is two rings of six, picot, six. After each buckle leave 5 mm. Make four buckles.",
            ["REP 4 {", "REP 2 {", "R 6 p 6", "}", "BT 5mm", "}"],
        ),
        (
            "Ring of four, picot, four. Turn. Chain of nine. Turn. Make that pair seven times, and leave the chain off the seventh.",
            ["REP 6 {", "R 4 p 4", "TURN", "C 9", "TURN", "}", "R 4 p 4"],
        ),
        (
            "Ring of four, picot, four. Turn. Chain of nine, turn. The same ring again, turn.",
            ["R 4 p 4", "TURN", "C 9", "TURN", "R 4 p 4", "TURN"],
        ),
    ],
)
def test_series(text: str, wanted: list[str]) -> None:
    assert prose_steps(text) == wanted
