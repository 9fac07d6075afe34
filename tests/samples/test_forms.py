"""The forms of a sample are the same pattern, each convertible into every other with nothing lost."""

from __future__ import annotations

import pytest
from larkshead_samples import path
from samples import FORMS, NAMES, bench, read

from larkshead.app.convert import convert
from larkshead.model import Pattern
from larkshead.reading import Reading, Source
from larkshead.working.worked import WorkedAction, WorkedElement


def _steps(pattern: Pattern) -> list[str]:
    """The steps alone in the step list's words, without labels, remarks, comments and the words of places."""
    lines = bench().write(pattern, "steplist").text.splitlines()
    return [line.split(" # ")[0].split(" -> ")[0].rstrip() for line in lines if line and not line.startswith("#")]


def _worked(pattern: Pattern) -> list[str]:
    """What is worked, step by step, and where every join goes."""
    worked = bench().work(pattern)
    lines: list[str] = []
    for one in worked.sequence:
        if isinstance(one, WorkedElement):
            made = f"{one.kind} {one.groups} {len(one.picots)} picots {one.beads} beads"
        else:
            assert isinstance(one, WorkedAction)
            made = type(one.step).__name__
            if made in ("Note", "StatedTotal", "HideEnds"):
                continue
        goes = []
        for join in one.joins:
            where = join.picot.element.index if join.picot else join.element.index if join.element else -1
            at = f"picot {join.picot.place}" if join.picot else join.spot or "nowhere"
            goes.append(f"element {where if where < 0 else _ordinal(worked.sequence, where)} {at}")
        lines.append(" -> ".join([made, *goes]))
    return lines


def _ordinal(sequence: list[WorkedElement | WorkedAction], index: int) -> int:
    """The element's number among the elements: actions may differ in number where a total or a note stands."""
    return sum(isinstance(one, WorkedElement) and one.index <= index for one in sequence)


@pytest.mark.parametrize("form", [form for form in FORMS if form != "shorthand"])
@pytest.mark.parametrize("name", NAMES)
def test_the_forms_have_the_same_steps(name: str, form: str) -> None:
    assert _steps(read(name, form).pattern) == _steps(read(name, "shorthand").pattern)


@pytest.mark.parametrize("form", [form for form in FORMS if form != "shorthand"])
@pytest.mark.parametrize("name", NAMES)
def test_the_forms_are_worked_alike(name: str, form: str) -> None:
    assert _worked(read(name, form).pattern) == _worked(read(name, "shorthand").pattern)


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("name", NAMES)
def test_a_form_is_read_whole(name: str, form: str) -> None:
    """Nothing is left unread or assumed; only the text with slips may be seen to contradict itself."""
    troubles = [n for n in read(name, form).notices if n.severity != "note" or n.kind in ("unread-text", "assumed")]
    if name == "turnstile":
        troubles = [n for n in troubles if n.kind != "contradiction"]
    assert troubles == []


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("name", NAMES)
def test_a_form_is_recognised(name: str, form: str) -> None:
    reading: Reading = bench().read_file(str(path(name, form)))
    assert reading.style == form
    assert bench().read_file(f"sample:{name}.{form}").pattern == reading.pattern


@pytest.mark.parametrize("to", [*FORMS, "steplist", "json"])
@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("name", NAMES)
def test_there_and_back_loses_nothing(name: str, form: str, to: str) -> None:
    reading = read(name, form)
    there = convert(bench(), reading, to, "en")
    assert there.differences == []
    assert there.losses == []
    again = bench().read(Source(there.text, f"converted.{to}"), to, "en")
    back = convert(bench(), again, form, "en")
    assert back.differences == [] and back.losses == []
    home = bench().read(Source(back.text, f"back.{form}"), form, "en")
    assert _worked(home.pattern) == _worked(reading.pattern)
    assert _steps(home.pattern) == _steps(reading.pattern)
