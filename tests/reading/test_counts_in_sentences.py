"""Counts told in sentences: what stands at the ends, between, behind each; picots likened; beads drawn over a picot; thread left."""

from __future__ import annotations

import pytest
from prose_tools import prose_steps


@pytest.mark.parametrize(
    ("text", "steps"),
    [
        ("Ring: three picots, five stitches between one and the next and two at either end.", ["R 2 p 5 p 5 p 2"]),
        ("Ring of four picots, three between each and the next, six at start and finish.", ["R 6 p 3 p 3 p 3 p 6"]),
        ("Ring of 14 stitches and one picot halfway.", ["R 7 p 7"]),
        ("Ring of 15 with two picots among them, each after five stitches.", ["R 5 p 5 p 5"]),
        (
            "Ring of three picots with two between. Six stitches come before the first picot and seven behind the last.",
            ["R 6 p 2 p 2 p 7"],
        ),
        ("Ring: 4, a picot, 3, a picot twice as long, 3, a picot like the first, 4.", ["R 4 p 3 lp 3 p 4"]),
        ("The ring has six, picot, six.", ["R 6 p 6"]),
    ],
)
def test_what_stands_where(text: str, steps: list[str]) -> None:
    assert prose_steps(text) == steps


@pytest.mark.parametrize(
    ("text", "steps"),
    [
        (
            "Ring of five, picot, three, slip a bead over the picot of the ring before and join, five.",
            ["R 5 p 3 j b 5"],
        ),
        ("Ring of five, picot, three, slip a bead over that picot before joining, five.", ["R 5 p 3 j b 5"]),
    ],
)
def test_a_bead_over_the_picot_first(text: str, steps: list[str]) -> None:
    assert prose_steps(text) == steps


def test_josephine_rings_count_halves_once_told_so() -> None:
    text = "Josephine knot of ten half stitches. Chain of 6. Josephine knot of 12."
    assert prose_steps(text) == ["JR h1:10", "C 6", "JR h1:12"]


@pytest.mark.parametrize("told", ["4 mm of thread lie open.", "4 mm of thread is left before the next."])
def test_thread_left(told: str) -> None:
    assert prose_steps(f"Ring of six, picot, six. {told} Ring of eight.") == ["R 6 p 6", "BT 4mm", "R 8"]


def test_no_turning_at_all() -> None:
    text = "Ring 4 p 4. Chain 6. Ring 4 p 4. No turning in between."
    assert prose_steps(text) == ["R 4 p 4", "NOTURN", "C 6", "NOTURN", "R 4 p 4"]


def test_a_number_by_which_a_ring_is_known() -> None:
    text = "Ring one is five, picot, five. Chain 6. The last ring, number six, is five, join, five."
    assert prose_steps(text) == ["R 5 p 5", "C 6", "R 5 j 5"]


@pytest.mark.parametrize(
    ("text", "steps"),
    [
        (
            "One ring with four picots, with three stitches between one and the next, two before the first and one after the last.",
            ["R 2 p 3 p 3 p 3 p 1"],
        ),
        (
            "Three rings, each bigger than the last: 3, picot, 3; then 5, picot, 5; and 8, picot, 8. Cut.",
            ["R 3 p 3", "R 5 p 5", "R 8 p 8", "CUT"],
        ),
        (
            "Ring of 5. Turn. Chain nine, a small picot at the point, chain nine, turn.",
            ["R 5", "TURN", "C 9 sp 9", "TURN"],
        ),
    ],
)
def test_work_in_clauses(text: str, steps: list[str]) -> None:
    assert prose_steps(text) == steps


def test_an_answer_that_turns_first() -> None:
    text = '"And the ring?" "Five, picot, five." "And the chain?" "Turn, then six, picot, six, then turn again."'
    assert prose_steps(text) == ["R 5 p 5", "TURN", "C 6 p 6", "TURN"]


@pytest.mark.parametrize(
    ("text", "steps"),
    [
        ("In the middle a ring with five picots and two between and two at either end so that is twelve in all close it and cut", ["R 2 p 2 p 2 p 2 p 2 p 2", "CUT"]),
        ("Fan: one ring with three picots. Three stitches, a small picot, two, a picot, two, a long picot, three.", ["R 3 sp 2 p 2 lp 3"]),
        (
            "The leaf is two rings: seven, picot, two for the one, and right next to it two, join to that picot, seven for the other.",
            ["R 7 p 2", "R 2 j 7"],
        ),
        (
            "First ring: four, picot, four. Second ring: three double stitches; before joining, slip a loose bead over the picot of the first ring with your finest hook, and join through it so that the bead sits on the join; three double stitches.",
            ["R 4 p 4", "R 3 j b 3"],
        ),
        (
            "A ring of four, three picots with two between, four. Turn. Now one long chain goes right round that ring, with lock joins on the way: five, lock to the first picot you come to, three, picot, three, lock to the third picot, five, and at the end of it lock to the foot of the ring. Turn.",
            ["R 4 p 2 p 2 p 4", "TURN", "C 5 lj 3 p 3 lj 5", "LJ", "TURN"],
        ),
    ],
)  # fmt: skip
def test_told_round_about(text: str, steps: list[str]) -> None:
    assert prose_steps(text) == steps


def test_where_a_picot_should_be_is_no_amendment() -> None:
    text = "Chain of eight, picot, eight. Turn. In the first chain only, I put a bead where the picot should be."
    assert "C 8 p 8" in prose_steps(text)


def test_parts_told_ahead_of_their_count() -> None:
    text = "Cut a long chain into four equal parts: 24 double stitches with three picots among them, each after six stitches. Turn."
    assert prose_steps(text) == ["C 6 p 6 p 6 p 6", "TURN"]


def test_going_again_is_another_of_the_kind() -> None:
    text = (
        "a ring of nine then you leave a good half inch of thread and go again with twelve and then turn the work over"
    )
    assert prose_steps(text) == ["R 9", "BT 1/2in", "R 12", "TURN"]
