"""What is understood and cannot be followed stays in its place; bullets are no marks; a step is worked once more."""

from __future__ import annotations

import pytest

from larkshead.app.workbench import Workbench
from larkshead.model import Note
from larkshead.reading import Reading, Source

BENCH = Workbench()


def read(text: str, style: str) -> Reading:
    return BENCH.read(Source(text, "kept.txt"), style, "en")


def steps(reading: Reading) -> list[str]:
    lines = BENCH.write(reading.pattern, "steplist").text.splitlines()
    return [line.split(" #")[0] for line in lines if line and not line.startswith("#")]


def test_a_repeat_of_what_is_not_told_stays_as_a_note() -> None:
    reading = read("R1: 6-6 cl RW\nC1: 4-4 RW\nRepeat row 7 three more times.\nCut.\n", "shorthand")
    inside = [step for part in reading.pattern.parts for step in part.steps]
    assert any(isinstance(step, Note) and "row 7" in step.text for step in inside)


@pytest.mark.parametrize("style", ["prose", "shorthand"])
def test_dashes_before_every_entry_are_bullets(style: str) -> None:
    text = "Tiny edging\n\nMaterials:\n- 1 shuttle and ball\n- Size 20 cotton\n\nR: 5-5 cl RW\n"
    reading = read(text, style)
    assert reading.pattern.abbreviations == []
    assert steps(reading)[0] == "R 5 p 5"


@pytest.mark.parametrize("style", ["prose", "shorthand"])
def test_a_step_repeated_without_a_number_is_worked_once_more(style: str) -> None:
    text = "1. Chain: 7 ds, p, 7 ds. RW.\n2. Ring: 5 ds, p, 5 ds. RW.\n3. Repeat step 1.\n"
    assert steps(read(text, style)) == ["C 7 p 7", "TURN", "R 5 p 5", "TURN", "C 7 p 7", "TURN"]


def test_two_places_in_one_bracket() -> None:
    reading = read("R1: 5-5-5-5 cl\nR2: 5+5-5+5 cl (join to last p of R1 and first p of R1)\n", "shorthand")
    assert steps(reading)[1] == "R 5 j 5 p 5 j 5 -> ring 1, last picot; ring 1, picot 1"


def test_numbered_steps_repeated_until_there_are_so_many() -> None:
    text = "1. Ring: 5, picot, 5.\n2. Chain: 7. Turn.\n3. Ring: 5, join, 5.\n4. Repeat steps 2 and 3 until you have seven rings.\n"
    assert steps(read(text, "prose"))[:2] == ["R 5 p 5", "REP 6 {"]
