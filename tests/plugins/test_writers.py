"""Writers of words: snapshots, tables complete over the model, and nothing that makes them raise."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any, get_args

import larkshead_english
import larkshead_prose.writer
import larkshead_shorthand.writer
import larkshead_table.writer
import pytest
from hypothesis import given, settings
from strategies import patterns
from syrupy.assertion import SnapshotAssertion
from written_patterns import ALL, counts, edging

from larkshead.conventions import Convention, load_convention
from larkshead.conventions.templates import compile_template
from larkshead.model import Abbreviation, ByPass, Element, Note, Part, Pattern, Repeat, Stitches, Turn
from larkshead.model.steps import Action
from larkshead.model.work import WorkItem
from larkshead.writing import Written
from larkshead.writing.sequence import StepWording
from larkshead.writing.wording import Wording

Writer = Callable[[Pattern, Convention], Written]
WRITERS: dict[str, Writer] = {
    "shorthand": larkshead_shorthand.writer.write,
    "prose": larkshead_prose.writer.write,
    "prose-terse": larkshead_prose.writer.write_terse,
    "table": larkshead_table.writer.write,
    "csv": larkshead_table.writer.write_csv,
    "tsv": larkshead_table.writer.write_tsv,
    "columns": larkshead_table.writer.write_columns,
}
STYLES = (("shorthand",), ("prose",), ("terse", "prose"), ("table", "shorthand"))


@cache
def english() -> Convention:
    def find(name: str) -> Path:
        raise AssertionError(f"en extends nothing, not {name}")

    return load_convention(Path(larkshead_english.__file__).with_name("en.yaml"), find)


@pytest.mark.parametrize("style", WRITERS)
@pytest.mark.parametrize("name", ALL)
def test_as_before(name: str, style: str, snapshot: SnapshotAssertion) -> None:
    written = WRITERS[style](ALL[name](), english())
    losses = "\n".join(f"! {loss.kind}: {loss.message}" for loss in written.losses)
    assert f"{written.text}{losses}" == snapshot


@pytest.mark.parametrize("style", WRITERS)
@pytest.mark.parametrize("name", ALL)
def test_nothing_of_our_patterns_is_lost(name: str, style: str) -> None:
    assert WRITERS[style](ALL[name](), english()).losses == []


def test_every_kind_of_action_and_item_has_its_function() -> None:
    words = StepWording(Wording(english(), "prose"))
    assert set(words.actions) == set(get_args(Action))
    assert set(words.items) == set(get_args(WorkItem))


@pytest.mark.parametrize("styles", STYLES, ids=" over ".join)
def test_english_has_every_phrase_the_writers_use(styles: tuple[str, ...]) -> None:
    """Every phrase of the sister styles is there in each style that is not only a table of columns."""
    phrases = english().phrases
    wanted = set(phrases["shorthand"]) & set(phrases["prose"])
    wording = Wording(english(), *styles)
    assert [key for key in wanted if not wording.has(key)] == []


def test_every_template_of_english_is_well_formed() -> None:
    def check(phrase: Any) -> int:
        if isinstance(phrase, str):
            compile_template(phrase)
            return 1
        entries = phrase.values() if isinstance(phrase, dict) else phrase if isinstance(phrase, list) else ()
        return sum(check(entry) for entry in entries)

    assert check(english().phrases) > 200


@settings(max_examples=60)
@given(pattern=patterns())
def test_never_raises(pattern: Pattern) -> None:
    for writer in WRITERS.values():
        written = writer(pattern, english())
        assert all(loss.message for loss in written.losses)
        assert "\n\n\n" not in written.text
        assert not re.search(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u2028\u2029]", written.text)


@pytest.mark.parametrize("style", WRITERS)
def test_a_convention_without_phrases_is_said(style: str) -> None:
    written = WRITERS[style](edging(), Convention("bare"))
    assert any("no phrase for" in loss.message for loss in written.losses)


@pytest.mark.parametrize("style", WRITERS)
def test_deep_nesting_is_cut_and_said(style: str) -> None:
    step: Any = Element("ring", [Stitches(4)])
    for _ in range(400):
        step = Repeat([step], 2)
    written = WRITERS[style](Pattern(parts=[Part(steps=[step])]), english())
    assert "nested" in written.losses[0].message


@pytest.mark.parametrize("style", WRITERS)
def test_writing_grows_with_the_pattern(style: str) -> None:
    def size(n: int) -> int:
        steps: list[Any] = [Element("ring", counts(4, 4)), Turn()] * n
        return len(WRITERS[style](Pattern(parts=[Part(steps=steps)]), english()).text)

    assert 9 * size(100) < size(1000) < 13 * size(100)


def test_an_empty_pattern_is_an_empty_text_or_table() -> None:
    texts = {style: writer(Pattern(), english()).text for style, writer in WRITERS.items()}
    assert (texts["shorthand"], texts["prose"], texts["prose-terse"]) == ("", "", "")
    assert texts["csv"] == "Step,Element,Stitches,Join to,Then\n"
    assert texts["table"].startswith("| Step | Element |")


def test_only_abbreviations_used_are_listed() -> None:
    text = larkshead_shorthand.writer.write(
        Pattern(parts=[Part(steps=[Element("chain", counts(4, 4))])]), english()
    ).text
    assert text == "Abbreviations: C chain, - picot\n\nC: 4-4\n"


def test_a_level_of_prose_that_is_none() -> None:
    with pytest.raises(ValueError, match="no such level of prose: wordy"):
        larkshead_prose.writer.write(Pattern(), english(), "wordy")


# Tables


@settings(max_examples=60)
@given(pattern=patterns())
def test_rows_hold_together(pattern: Pattern) -> None:
    """Every row after the header has as many cells, and no cell is a formula to a spreadsheet."""
    for style, mark in (("csv", ","), ("tsv", "\t")):
        rows = list(csv.reader(io.StringIO(WRITERS[style](pattern, english()).text), delimiter=mark))
        header = next(at for at, row in enumerate(rows) if row[:2] == ["Step", "Element"])
        assert {len(row) for row in rows[header + 1 :]} <= {len(rows[header]), 1}
        assert not [cell for row in rows for cell in row if re.match(r"[=+\-@\t\r]", cell)]
    lines = [line for line in WRITERS["table"](pattern, english()).text.splitlines() if line.startswith("| ")]
    assert len({len(re.findall(r"(?<!\\)(?:\\\\)*\|", line)) for line in lines}) <= 1


def test_a_formula_in_a_title_is_kept_from_spreadsheets() -> None:
    written = WRITERS["csv"](Pattern(title="=1+1"), english())
    assert written.text.startswith("Title: =1+1\n")
    assert written.losses == []


def test_bars_in_markdown_cells_are_escaped() -> None:
    steps: list[Any] = [Element("ring", counts(4, 4)), Note("a | b")]
    text = WRITERS["table"](Pattern(parts=[Part(steps=steps)]), english()).text
    assert "| 2 |  |  |  | Note: a \\| b |" in text


def test_one_row_worked_several_times_has_its_number() -> None:
    repeat = Repeat([Element("chain", counts(4, 4)), Turn()], 6)
    text = WRITERS["csv"](Pattern(parts=[Part(steps=[repeat])]), english()).text
    assert "Step,Element,Stitches,Join to,Then,Times\n1,C,4-4,,RW,6\n" in text


def test_a_change_on_a_pass_has_its_own_row() -> None:
    changed = ByPass(Element("ring", counts(4, 4)), {"last": [Element("ring", counts(5, 5))], 2: []})
    text = WRITERS["csv"](Pattern(parts=[Part(steps=[Repeat([changed], 3)])]), english()).text
    assert '1,R,4-4,,cl\n1 on the last pass,R,5-5,,cl\n1 on pass 2,,,,leave out\n2,,,,"repeat step 1,' in text


@pytest.mark.parametrize(("note", "losses"), [("use R as you like", 1), ("", 0)])
def test_an_own_abbreviation_that_means_something_else_here(note: str, losses: int) -> None:
    own = [Abbreviation("R", "raffia"), Abbreviation("wb", "the window bar")]
    steps: list[Any] = [Element("ring", counts(4, 4)), Note(note)]
    written = larkshead_shorthand.writer.write(Pattern(abbreviations=own, parts=[Part(steps=steps)]), english())
    assert "Abbreviations: R ring, - picot, cl close, wb the window bar\n" in written.text
    assert len(written.losses) == losses
