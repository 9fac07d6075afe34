"""English of old books: written and read back exactly, recognised when it is not told, laid over modern English."""

from __future__ import annotations

import importlib

import pytest
from hypothesis import given, settings
from old_books_tools import vintage
from strategies import patterns
from written_patterns import ALL

from larkshead.app.workbench import Workbench
from larkshead.conventions.recognition import recognise
from larkshead.model import Pattern
from larkshead.reading import Source
from larkshead.writing.compare import differences

STYLES = {
    "prose": "larkshead_prose",
    "prose-terse": "larkshead_prose",
    "shorthand": "larkshead_shorthand",
    "table": "larkshead_table",
}

OLD = """Begin with a circle of 6 double, 1 purl, 6 double, draw up the cotton. Turn the work, and at a short distance work a second
circle like the first; fasten the cotton on to the purl, and repeat from the beginning till the lace is long enough."""
NEW = """Round 1: ring of 6 ds, picot, 6 ds, close, reverse work. Chain of 8 ds, picot, 8 ds, reverse work. Repeat until there are
six rings and six chains, joining the last chain to the base of the first ring."""


def read_back(pattern: Pattern, style: str) -> list[str]:
    """The differences between a pattern and itself written and read."""
    module = STYLES[style]
    write = "write_terse" if style.endswith("terse") else "write"
    written = getattr(importlib.import_module(f"{module}.writer"), write)(pattern, vintage())
    if not written.text:
        return []
    reading = importlib.import_module(f"{module}.written").read_written(Source(written.text), vintage())
    if reading is None:
        return ["not read as written"]
    return [difference.message for difference in differences(pattern, reading.pattern, written.losses)]


@pytest.mark.parametrize("style", STYLES)
@pytest.mark.parametrize("name", ALL)
def test_our_patterns_come_back(name: str, style: str) -> None:
    assert read_back(ALL[name](), style) == []


@pytest.mark.parametrize("style", STYLES)
@settings(max_examples=40, deadline=None)
@given(pattern=patterns())
def test_any_pattern_comes_back(style: str, pattern: Pattern) -> None:
    assert read_back(pattern, style) == []


def test_the_wording_is_of_the_time() -> None:
    bench = Workbench()
    steps = "R 4 p 4 p 4\nTURN\nREP 5 {\nR 4 j 4 p 4 -> previous ring, last picot\nTURN\n}\nCUT\n"
    text = bench.write(bench.read(Source(steps), "steplist").pattern, "prose", "en-vintage").text
    assert text == (
        "Circle: 4 double, 1 purl, 4 double, 1 purl, 4 double, draw up. Turn the work.\n"
        "* Circle: 4 double, join to the last purl of the preceding circle, 4 double, 1 purl, 4 double, draw up. "
        "Turn the work. Repeat from * 4 times more.\n"
        "Cut off the cotton.\n"
    )


def test_a_text_tells_its_convention() -> None:
    bench = Workbench()
    reading = bench.read(Source(OLD, "lace.txt"))
    assert reading.convention == "en-vintage"
    assert any(n.kind == "convention-recognised" and "en-vintage" in n.message for n in reading.notices)
    reading = bench.read(Source(NEW, "lace.txt"))
    assert reading.convention == "en"
    assert not any(n.kind == "convention-recognised" for n in reading.notices)


def test_a_convention_that_names_no_words_is_recognised_by_none(tmp_path) -> None:  # type: ignore[no-untyped-def]
    path = tmp_path / "house.yaml"
    path.write_text("name: house\ntitle: A house\nlanguage: en\n", "utf-8")
    assert recognise(path, OLD) == 0.0
    path.write_text(
        "name: house\ntitle: A house\nlanguage: en\nrecognised: {for: [purl], against: [circle]}\n", "utf-8"
    )
    assert 0 < recognise(path, "1 purl, a circle") < recognise(path, "1 purl, 1 purl") < 1


def test_phrases_lie_one_by_one_over_those_beneath() -> None:
    prose = vintage().phrases["prose"]
    assert prose["closed"] == "draw up"
    assert prose["which_number"]
