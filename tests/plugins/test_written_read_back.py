"""What the writers write, their readers give back: the same pattern, less what the writers reported as lost."""

from __future__ import annotations

import importlib
from collections.abc import Callable

import pytest
from hypothesis import given, settings
from strategies import patterns
from test_writers import WRITERS, english
from written_patterns import ALL, counts

from larkshead.conventions import Convention
from larkshead.model import Element, Join, Part, Pattern, Place, Turn
from larkshead.reading import Reading, Source
from larkshead.writing.compare import differences

Reader = Callable[[Source, Convention], Reading]
PLUGIN = {
    "shorthand": "larkshead_shorthand",
    "prose": "larkshead_prose",
    "prose-terse": "larkshead_prose",
    "table": "larkshead_table",
    "csv": "larkshead_table",
    "tsv": "larkshead_table",
    "columns": "larkshead_table",
}


def reader(style: str, module: str = "reader") -> Callable[..., Reading | None]:
    found: Callable[..., Reading | None] = getattr(
        importlib.import_module(f"{PLUGIN[style]}.{module}"), "read" if module == "reader" else "read_written"
    )
    return found


def read_back(pattern: Pattern, style: str) -> list[str]:
    """The differences between a pattern and itself written and read."""
    written = WRITERS[style](pattern, english())
    if not written.text:
        return []
    reading = reader(style, "written")(Source(written.text), english())
    if reading is None:
        return ["not read as written"]
    return [difference.message for difference in differences(pattern, reading.pattern, written.losses)]


@pytest.mark.parametrize("style", WRITERS)
@pytest.mark.parametrize("name", ALL)
def test_our_patterns_come_back(name: str, style: str) -> None:
    assert read_back(ALL[name](), style) == []


@pytest.mark.parametrize("style", WRITERS)
@pytest.mark.parametrize("name", ALL)
def test_they_are_read_without_a_word(name: str, style: str) -> None:
    """The reader itself, too: nothing assumed, nothing unread."""
    text = WRITERS[style](ALL[name](), english()).text
    reading = reader(style)(Source(text), english())
    assert reading is not None
    assert reading.notices == []
    assert differences(ALL[name](), reading.pattern) == []


@pytest.mark.parametrize("style", WRITERS)
@settings(max_examples=60)
@given(pattern=patterns())
def test_any_pattern_comes_back(style: str, pattern: Pattern) -> None:
    assert read_back(pattern, style) == []


@pytest.mark.parametrize("style", WRITERS)
def test_steps_know_where_they_stand(style: str) -> None:
    """An element's origin and those of its items are the words they were read from."""
    join = Join([Place(picot="last")])
    pattern = Pattern(parts=[Part(steps=[Element("chain", counts(3, 3)), Turn(), Element("ring", counts(7, join, 8))])])
    source = Source(WRITERS[style](pattern, english()).text)
    reading = reader(style)(source, english())
    assert reading is not None
    ring = reading.pattern.parts[0].steps[2]
    whole, last = reading.origins.of(ring), reading.origins.of(ring, 2)
    assert whole is not None and last is not None
    assert "7" in source.quote(whole)
    assert source.quote(last).split()[0].rstrip(",") == "8"


TEXTS_OF_OTHERS = {
    "shorthand": (
        "R 5-5-5-5 cl RW\nC 6-6 RW\n",
        "Small star\n\nR: 5-5-5 cl RW\nthen do as you like\n",
        "[R: 5-5 cl\n",
        "R: 5-5 cl] x 3\n",
        "R: 5-5 cl RW x 3\n",
        "start with a ring five picot five and close it\n",
        "",
    ),
    "prose": (
        "Ring: 5 double stitches, picot, 5 double stitches, close and reverse.\n",
        "* Ring: 5 double stitches, close.\n",
        "Ring: 5 double stitches, close. Repeat from * 2 more times (3 in all).\n",
        "start with a ring five picot five and close it\n",
        "Hello\n",
        "",
    ),
    "table": (
        "| Step | Element | Count |\n| --- | --- | --- |\n| 1 | R | 5-5 |\n",
        "| Step | Element | Stitches | Join to | Then |\n| --- | --- | --- | --- | --- |\n| 1 | R | five | | cl |\n",
        "Step,Element,Stitches,Join to,Then\n1,R,5-5,,\n",
        'Step,Element,Stitches,Join to,Then\n1,R,"5-5,,cl\n',
        'Step,Element,Stitches,Join to,Then\n1,,,,"repeat steps 7 to 9, 2 more times (3 in all)"\n',
        "",
    ),
}


@pytest.mark.parametrize(
    ("style", "text"), [(style, text) for style, texts in TEXTS_OF_OTHERS.items() for text in texts]
)
def test_what_others_wrote_is_left_to_the_other_reader(style: str, text: str) -> None:
    assert reader(style, "written")(Source(text), english()) is None


@pytest.mark.parametrize("style", WRITERS)
@pytest.mark.parametrize(
    "text", ["x" * 300_000, "R: " + "5-" * 100_000, "[" * 5000, '"' * 5000, "Ring: " + "(" * 3000 + "."], ids=len
)
def test_hostile_lines_are_left_at_once(style: str, text: str) -> None:
    assert reader(style, "written")(Source(text), english()) is None
