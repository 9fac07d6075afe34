"""Split elements whose two sides are told in sentences, by the thread and what is left to cover."""

from __future__ import annotations

import pytest
from prose_tools import prose_steps


@pytest.mark.parametrize(
    ("told", "step"),
    [
        (
            "To climb, make it a split chain. Put seven on in the usual way and then a picot, lock join the core to the base of the ring, and work the remaining four as split stitches back along the bare length.",
            "SC 7 p lj / 4",
        ),
        (
            "The way up is a split chain. Nine double stitches with the ball thread; then lay the ball aside and cover the rest of the core thread with three double stitches from the shuttle.",
            "SC 9 / 3",
        ),
        (
            "The second chain is a split one. Work six as always, lock the shuttle thread into the foot of the ring, and hitch the other five on to the bare length, working back towards the six.",
            "SC 6 lj / 5",
        ),
    ],
)
def test_sides(told: str, step: str) -> None:
    assert prose_steps(f"Ring of five, picot, five. Turn. {told} Turn.") == ["R 5 p 5", "TURN", step, "TURN"]


def test_a_split_chain_with_one_count_is_left_alone() -> None:
    text = "Ring of five, picot, five. A split chain. Chain six, picot, six."
    assert "C 6 p 6" in prose_steps(text)
