"""What stands about the steps: title, materials, threads, sizes, notes; none of it is taken for steps."""

from __future__ import annotations

import pytest
from shorthand_tools import kinds, read, steps

STEPS = "R 5-5-5 cl RW\nCh 6 RW\n"
WORKED = "R 5 p 5 p 5; TURN; C 6; TURN"


@pytest.mark.parametrize(
    "before",
    [
        "Moor Lane bookmark\n\n",
        "Moor Lane. Size 20 cotton, 1 shuttle, 1 ball, no beads.\n\n",
        "MOOR LANE\nMaterials: shuttle and ball wound CTM, size 40. About 12 mm wide.\n",
        "Moor Lane\n3 m of size 20, one shuttle and the ball, one evening.\n\n",
        "Thank you for all 40 letters! Here are rounds 1 and 2 as promised.\n\n",
        "(page 2 of 3)\n",
        "Self closing rings with two leaves, 2 shuttles throughout:\n\n",
        "Mat for a doll's house (1:12), rnd 1 of 4\n\n",
        "Tiny tag (I used two metres of perle, it took 20 minutes)\n\n",
        "You need: 1 shuttle, 1 ball.\nLevel: easy. Time: 1 hour.\n",
        "Cut length: 2 m each.\n",
    ],
)
def test_words_before_the_steps_are_none(before: str) -> None:
    assert steps(before + STEPS) == WORKED
    assert kinds(before + STEPS) == []


@pytest.mark.parametrize(
    "after",
    [
        "\nblocks out at about 3 inches\n",
        "Mine measures 7.5 cm after pressing.\n",
        "Enjoy!\n",
        "\nCorrection, 3 May: the old sheet had Ch 6 - 5, that was wrong.\n",
        "Block it damp under a book.\n",
        "Rings are closed without saying so.\n",
    ],
)
def test_words_behind_the_steps_are_none(after: str) -> None:
    assert steps(STEPS + after) == WORKED


def test_title_and_materials() -> None:
    pattern = read("Moor Lane bookmark\nMaterials: shuttle and ball wound CTM, size 40.\n\n" + STEPS).pattern
    assert pattern.title == "Moor Lane bookmark"
    assert pattern.materials == ["shuttle and ball wound CTM, size 40"]


@pytest.mark.parametrize(
    ("said", "threads"),
    [
        ("one shuttle", [("shuttle 1", None, False)]),
        ("shuttle and ball", [("shuttle 1", None, False), ("ball", None, False)]),
        ("shuttle and ball wound CTM", [("shuttle 1", None, False), ("ball", "shuttle 1", False)]),
        ("shuttle and ball tied together", [("shuttle 1", None, False), ("ball", "shuttle 1", True)]),
        ("two shuttles, wound continuously", [("shuttle 1", None, False), ("shuttle 2", "shuttle 1", False)]),
        ("2 shuttles", [("shuttle 1", None, False), ("shuttle 2", None, False)]),
    ],
)
def test_threads(said: str, threads: list[tuple[str, str | None, bool]]) -> None:
    pattern = read(f"Moor Lane\nMaterials: {said}, size 40.\n\n{STEPS}").pattern
    assert [(thread.name, thread.joined_to, thread.tied) for thread in pattern.threads] == threads
    assert {thread.size for thread in pattern.threads} == {"40"}


def test_beads_strung_and_the_length_of_all_picots() -> None:
    pattern = read(
        "Moor Lane\nShuttle and ball, CTM. String 18 beads on the ball.\nAll picots are 3 mm high.\n\n" + STEPS
    ).pattern
    assert [(thread.name, thread.beads) for thread in pattern.threads] == [("shuttle 1", None), ("ball", 18)]
    assert pattern.picot_length is not None and str(pattern.picot_length) == "3mm"
