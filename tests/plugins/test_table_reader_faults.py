"""Tables that are broken, tell nothing, or disagree with themselves; and texts of any kind."""

from __future__ import annotations

import csv
import io
from functools import cache
from pathlib import Path

import larkshead_english
import pytest
from hypothesis import given
from hypothesis import strategies as st
from larkshead_table.reader import read

from larkshead.conventions import Convention, load_convention
from larkshead.model import Element, Part, Repeat
from larkshead.reading import Notice, Reading, Source
from larkshead.reading.source import Position

FOLDER = Path(larkshead_english.__file__).parent


@cache
def english() -> Convention:
    return load_convention(FOLDER / "en.yaml", lambda name: FOLDER / f"{name}.yaml")


def reading(text: str, name: str = "table.md") -> Reading:
    return read(Source(text, name), english())


def place(found: Reading, notice: Notice) -> Position:
    assert notice.span is not None
    return found.source.position(notice.span.start)


def elements(found: Reading) -> list[Element]:
    return [step for part in found.pattern.parts for step in part.steps if isinstance(step, Element)]


BROKEN = {
    "a quotation mark never closed": (
        'step,element,count,turn\n1,R,"5-5,rw\n2,Ch,4-4,rw\n',
        "broken-quoting", "not closed", (2, 5), 0,
    ),
    "more behind a closing quotation mark": (
        'step,element,count\n1,R,"5-5"-5\n2,Ch,"4-4"\n',
        "broken-quoting", "closes this cell", (2, 5), 0,
    ),
    "a row with too many cells": (
        "step,element,count,turn\n1,R,5-5,rw\n2,Ch,4-4,rw,cut,cut\n3,R,5-5,rw\n",
        "ragged-row", "6 cells", (3, 13), 3,
    ),
    "no column for elements": (
        "| Name | Telephone |\n|---|---|\n| Anna | 55-12 |\n| Ben | 55-98 |\n",
        "missing-column", "the heads are Name, Telephone", (1, 1), None,
    ),
    "no column for counts": (
        "| Element | Turn |\n|---|---|\n| R | rw |\n| Ch | rw |\n",
        "missing-column", "the counts of its elements", (1, 1), 2,
    ),
    "no rows": ("| Step | Element | Stitches |\n|---|---|---|\n", "empty-table", "no rows", (1, 1), 0),
    "a head alone": ("Step,Element,Stitches\n", "empty-table", "no rows", (1, 1), 0),
    "nothing": ("", "no-table", "nothing in this file", (1, 1), 0),
    "blank lines": ("\n\n  \n", "no-table", "nothing in this file", (1, 1), 0),
    "words alone": ("I like rings, and chains as well.\n", "no-table", "no table here", (1, 1), 0),
}  # fmt: skip


@pytest.mark.parametrize("fault", BROKEN)
def test_one_clear_error_and_the_rest_is_read(fault: str) -> None:
    text, kind, words, at, read_on = BROKEN[fault]
    found = reading(text)
    errors = [notice for notice in found.notices if notice.severity == "error"]
    assert [error.kind for error in errors] == [kind]
    assert words in errors[0].message
    assert place(found, errors[0]) == at
    if read_on is not None:
        assert len(elements(found)) == read_on


def test_a_comma_without_quotation_marks_is_mended_and_said() -> None:
    found = reading("step,element,count,join,turn\n1,R,5,p,5,p,5,,rw\n2,Ch,4-4,,rw\n3,R,5-5,,rw\n")
    (notice,) = [notice for notice in found.notices if notice.kind == "ragged-row"]
    assert notice.severity == "warning" and place(found, notice) == (2, 5)
    assert len(elements(found)[0].work) == 5


DISAGREEING = {
    "picots": ("| El | Count | Picots |\n|---|---|---|\n| R | 6-6-6 | 3 |\n", "3 picots", (3, 15)),
    "double stitches": ("element,count,total ds\nR,6-6-6,18\nCh,5-5,11\n", "11", (3, 8)),
    "beads": ("| El | Work | Beads |\n|---|---|---|\n| Ch | 3 B 3 | 2 |\n", "2 beads", (3, 16)),
    "a total of all rows": ("| El | Count |\n|---|---|\n| R | 6-6 |\n| Total | 13 ds |\n", "13", (4, 1)),
    "an element that is not told": ("Element,Count,Join\nRing A,6-6,\nRing B,6+6,p of Ring K\n", "ring K", (3, 12)),
    "a row without picots": (
        "| No. | Part | Count | Join |\n|---|---|---|---|\n| 1 | R | 5-5 | |\n| 2 | Ch | 9 | |\n"
        "| 3 | R | 5+5 | last p of 2 |\n",
        "no picot", (5, 17),
    ),
    "a picot that is not there": (
        "| Part | Count | Join |\n|---|---|---|\n| R1 | 5-5 | |\n| R2 | 5+5 | 4th p of R1 |\n",
        "no picot 4", (4, 14),
    ),
    "groups and what is between": (
        "| El | groups | between |\n|---|---|---|\n| R | 4 3 4 | p p p |\n",
        "3 groups", (3, 15),
    ),
}  # fmt: skip


@pytest.mark.parametrize("case", DISAGREEING)
def test_a_contradiction_points_at_the_cell(case: str) -> None:
    text, words, at = DISAGREEING[case]
    found = reading(text)
    notice = next(notice for notice in found.notices if notice.severity == "warning")
    assert words in notice.message
    assert place(found, notice) == at


def test_totals_that_agree_say_nothing() -> None:
    found = reading(
        "| El | Count | Picots | Total ds |\n|---|---|---|---|\n| R | 6-6-6 | 2 | 18 |\n| Total | | 2 | 18 |\n"
    )
    assert found.notices == []


def test_a_line_no_table_has_is_no_row() -> None:
    found = reading("a," * 50_000)
    assert [notice.kind for notice in found.notices] == ["no-table"]


WORDS = [
    "R", "Ch", "SR2", "5-5-5", "4+4", "4 / 4", "rw", "no", "x", "-", "same", "as row 1", "1", "2–7", "a–e",
    "x 6", "repeat rows 1 and 2 four more times", "last p of 1", "LJ to base of 1", "r1.p3", "start repeat",
    "end repeat", "Total", "Round 2", "6, with the chain", "\\", "}", "until 4 rings", "3 on the last pass",
    "1 on each p", "5 mm", "(3 -) x 6", "one after each", "Element", "Count", "Join", "Turn", "Times",
    "side 1", "side 2", "between", "99999999999999999999",
]  # fmt: skip
CELLS = st.one_of(
    st.sampled_from(WORDS),
    st.text(max_size=12),
)


@given(st.text(max_size=400))
def test_never_raises_on_any_text(text: str) -> None:
    _holds_together(text)


@given(
    st.lists(st.lists(CELLS, min_size=1, max_size=6), min_size=1, max_size=7),
    st.sampled_from([",", ";", "\t", "|", "  "]),
)
def test_never_raises_on_any_table(rows: list[list[str]], mark: str) -> None:
    _holds_together("\n".join(mark.join(row) for row in rows))


@given(st.lists(st.lists(CELLS, min_size=2, max_size=6), min_size=1, max_size=7))
def test_never_raises_on_well_formed_values(rows: list[list[str]]) -> None:
    file = io.StringIO()
    csv.writer(file, lineterminator="\n").writerows(rows)
    _holds_together(file.getvalue())


def _holds_together(text: str) -> None:
    """Every place told lies in the text."""
    found = reading(text)
    size = len(text)
    for notice in found.notices:
        for span in (notice.span, *(related for related, _ in notice.related)):
            assert span is None or 0 <= span.start <= span.end <= size
    for part in found.pattern.parts:
        _spans(found, part, size)


def _spans(found: Reading, part: Part | Repeat, size: int) -> None:
    for step in part.steps:
        span = found.origins.of(step)
        assert span is not None and 0 <= span.start <= span.end <= size
        if isinstance(step, Element):
            for item in range(len(step.work)):
                inner = found.origins.of(step, item)
                assert inner is not None and 0 <= inner.start <= inner.end <= size
        elif isinstance(step, Repeat):
            _spans(found, step, size)
