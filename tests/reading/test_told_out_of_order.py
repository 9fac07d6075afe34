"""Elements, turns, thrown rings and sizes of picots that are told before or after their place."""

from __future__ import annotations

import pytest
from prose_tools import prose_steps


@pytest.mark.parametrize(
    ("text", "steps"),
    [
        ("The chain of nine comes after the ring; the ring is five, picot, five. Turn the work between the two.", ["R 5 p 5", "TURN", "C 9"]),
        ("A chain of nine comes before the ring. The ring is five, picot, five.", ["C 9", "R 5 p 5"]),
        ("The chain of nine comes after the ring.", ["C 9"]),
        ("Ring of five, picot, five. The chain of nine comes after the ring.", ["R 5 p 5", "C 9"]),
    ],
)  # fmt: skip
def test_element_told_ahead(text: str, steps: list[str]) -> None:
    assert prose_steps(text) == steps


@pytest.mark.parametrize(
    ("text", "steps"),
    [
        (
            "Chain eight, picot, eight, turn. A ring of three, picot, three is thrown off after the first four of the chain.",
            ["C 4", "R 3 p 3", "C 4 p 8", "TURN"],
        ),
        (
            "Chain of ten. With the second shuttle a ring of four, picot, four is thrown off halfway.",
            ["C 5", "SWITCH", "R 4 p 4", "SWITCH", "C 5"],
        ),
        (
            "Chain of six, swap to the other shuttle, ring of three, picot, three, swap back and do another six.",
            ["C 6", "SWITCH", "R 3 p 3", "SWITCH", "C 6"],
        ),
    ],
)  # fmt: skip
def test_rings_thrown_off(text: str, steps: list[str]) -> None:
    assert prose_steps(text) == steps


@pytest.mark.parametrize(
    ("told", "ring"),
    [
        ("Make the middle one long.", "R 4 p 4 lp 4 p 4"),
        ("The first and the last picot are small.", "R 4 sp 4 p 4 sp 4"),
        ("The second picot is longer.", "R 4 p 4 lp 4 p 4"),
    ],
)
def test_sizes_told_behind(told: str, ring: str) -> None:
    assert prose_steps(f"Ring: four, picot, four, picot, four, picot, four. {told}") == [ring]


@pytest.mark.parametrize(
    ("text", "steps"),
    [
        ("Ring of nine. Chain of eight. Turn before and after it.", ["R 9", "TURN", "C 8", "TURN"]),
        ("Ring of nine. Josephine knot of twelve half stitches. Leave 2 mm before it.", ["R 9", "BT 2mm", "JR h1:12"]),
    ],
)
def test_steps_put_before(text: str, steps: list[str]) -> None:
    assert prose_steps(text) == steps


@pytest.mark.parametrize(
    ("text", "steps"),
    [
        ("A ring of five, five and five with picots between the fives. Turn.", ["R 5 p 5 p 5", "TURN"]),
        ("Ring of five, picot, five. Ring of four and four with a join between.", ["R 5 p 5", "R 4 j 4"]),
        ("A ring of nine stitches each side of one picot.", ["R 9 p 9"]),
        ("A ring with five stitches before the picot and seven after.", ["R 5 p 7"]),
        ("Ring. Three, picot, three. Turn. Chain. Seven. Turn.", ["R 3 p 3", "TURN", "C 7", "TURN"]),
        ("First ring four picot four. Second ring four, join, six, picot, four.", ["R 4 p 4", "R 4 j 6 p 4"]),
    ],
)
def test_what_lies_between(text: str, steps: list[str]) -> None:
    assert prose_steps(text) == steps


@pytest.mark.parametrize(
    ("text", "steps"),
    [
        ("Ring of five, picot, five. Ring of five, then fold the lace face down, bring the picot of the first ring up through the loop and join to it, five.", ["R 5 p 5", "R 5 j 5"]),
        ("Ring of four, picot, four. Turn. Chain five, lock it to the edge, five.", ["R 4 p 4", "TURN", "C 5 lj 5"]),
        ("Ring of four, picot, four. Turn. Two beads are slipped up, then a chain of five stitches is made.", ["R 4 p 4", "TURN", "C b b 5"]),
        ("Chain five, and with the other shuttle a ring of four, picot, four; five more of the chain, lock to the picot of the ring, and another five.", ["C 5", "SWITCH", "R 4 p 4", "C 5 lj 5"]),
        ("Ring of seven. After that the work is reversed and a chain of nine is made.", ["R 7", "TURN", "C 9"]),
        ("Ring of four, picot, four. Ring of six and six with a join in the middle to the picot of the ring before.", ["R 4 p 4", "R 6 j 6"]),
    ],
)  # fmt: skip
def test_joins_and_beads_in_sentences(text: str, steps: list[str]) -> None:
    assert prose_steps(text) == steps


@pytest.mark.parametrize(
    ("text", "steps"),
    [
        ("Work a split ring. With the ball: five, picot, five. With the shuttle: ten.", ["SR 5 p 5 / 10"]),
        ("Ring of six, picot, six. The last ring is five; then fold the first ring across, join to its free picot, and finish with five.", ["R 6 p 6", "R 5 j 5"]),
        ("Ten half stitches, first halves only, are drawn up into a Josephine ring. Turn.", ["JR h1:10", "TURN"]),
        ("so the ring's eight picot eight, wait, nine picot nine and turn", ["R 9 p 9", "TURN"]),
        ("The ring holds four picots: three stitches lie between them, two at the start and two at the finish.", ["R 2 p 3 p 3 p 3 p 2"]),
    ],
)  # fmt: skip
def test_elements_named_apart(text: str, steps: list[str]) -> None:
    assert prose_steps(text) == steps


@pytest.mark.parametrize(
    ("text", "steps"),
    [
        ("For the stem, a split chain: eight with the ball in the ordinary way, then six with the shuttle.", ["SC 8 / 6"]),
        ("Chain 6, then with the second shuttle a Josephine knot of ten half stitches, then back to the first shuttle and 6 more. RW.", ["C 6", "SWITCH", "JR h1:10", "SWITCH", "C 6", "TURN"]),
        ("Two leaves: six, picot, six for the first; close beside it six, join to that picot, six for the other. Turn.", ["R 6 p 6", "R 6 j 6", "TURN"]),
        ("A bead goes on every picot of this ring. Ring: five, picot, three, picot, five.", ["R 5 p b 3 p b 5"]),
        ("Ring of six, picot, six. Leave 3 mm, and ten and close.", ["R 6 p 6", "BT 3mm", "R 10"]),
        ("Ring of nine. Turn. Now a chain, and I count it: one, two, three, four, five. Picot. Then five again. Turn.", ["R 9", "TURN", "C 5 p 5", "TURN"]),
    ],
)  # fmt: skip
def test_threads_and_lists_of_counts(text: str, steps: list[str]) -> None:
    assert prose_steps(text) == steps


def test_bead_over_that_picot() -> None:
    text = "Ring of five, picot, five. Ring of five, slip a bead over that picot and join, five."
    assert prose_steps(text) == ["R 5 p 5", "R 5 j b 5"]
