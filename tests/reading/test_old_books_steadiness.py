"""Reading old books never raises, keeps its places, and costs grow with the text."""

from __future__ import annotations

import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from old_books_tools import read, vintage

_WORDS = """
1 2 5 8 1st 2nd 3rd last two once twice double purl plain picot circle circles oval leaf leaves branch scallop
thread cotton shuttle shuttles both second another work draw up through over into fasten join knot ends off on to the
a of and then instead working each following preceding next same similar like first times more alternately divided by
repeat from until beginning distance interval leave inch turn downwards row round pattern but besides which
, . ; : -- * # ( ) = chain treble long consisting
"""
PHRASES = ["double thread", "and so on", "\n", "\n\n", "in place of", "short purl", "consisting of"]


@settings(max_examples=300, deadline=None)
@given(st.lists(st.sampled_from([*_WORDS.split(), *PHRASES]), max_size=60).map(" ".join))
def test_anything_is_read_with_its_places(text: str) -> None:
    reading = read(text)
    for notice in reading.notices:
        assert notice.span is None or 0 <= notice.span.start <= notice.span.end <= len(text)
    for _, span in reading.origins:
        assert 0 <= span.start <= span.end <= len(text)


@settings(max_examples=60, deadline=None)
@given(st.text(max_size=200))
def test_any_text_at_all(text: str) -> None:
    read(text)


@pytest.mark.parametrize(
    "unit",
    [
        "Work a circle of 5 double, 1 purl, 5 double, draw up. ",
        "1st circle: 5 double, join to the last purl of the 2nd circle, 5 double, draw up; fasten the cotton on to the purl; ",
        "* a circle of 5 double, 1 purl, 5 double; repeat from * 5 times more; but instead of the first purl of each circle fasten it on to the last purl of the preceding circle. ",
        "Work a similar row. ",
        "again a similar pattern; repeat from the beginning. ",
        "work a second circle, and so on until there are 900 circles; ",
        "4 double, * 1 purl, 2 double, ",
        "( 2 double, 1 purl, ",
        "instead of fasten ",
        "9 times ",
    ],
)  # fmt: skip
def test_costs_grow_with_the_text(unit: str) -> None:
    def cost(times: int) -> float:
        text = "Work a circle of 4 double, 1 purl, 4 double, draw up. " + unit * times
        vintage()
        start = time.process_time()
        read(text)
        return time.process_time() - start

    cost(10)
    small = max(cost(150), 0.002)
    assert cost(1200) < small * 8 * 4 + 0.1
