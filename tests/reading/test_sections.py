"""A text parted into stretches that look alike."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from larkshead.reading.sections import only, sections_of
from larkshead.reading.source import Span

MIXED = """Kestrel mat

Make a ring of four double stitches, a picot, four double stitches, and close it.

In short:
R 5-5+5-5 cl RW
Ch 6-6 RW

| Step | Count |
|------|-------|
| ring | 4-4   |

Repeat the two rows of the table eleven more times, then cut.
"""


def test_looks_in_order() -> None:
    found = [(s.look, MIXED[s.span.start : s.span.end].split()[0]) for s in sections_of(MIXED)]
    assert found == [("words", "Kestrel"), ("lines", "In"), ("cells", "|"), ("words", "Repeat")]


@given(st.lists(st.sampled_from([*MIXED.splitlines(), "", "a\tb\tc", "Ring 1:", "4 ds"]), max_size=20))
def test_the_whole_text_is_in_one_section_or_another(lines: list[str]) -> None:
    text = "\n".join(lines)
    spans = [section.span for section in sections_of(text)]
    if spans:
        assert spans[0].start == 0 and spans[-1].end == len(text)
        assert all(before.end == after.start for before, after in pairwise(spans))


@pytest.mark.parametrize(
    ("spans", "left"),
    [([], "   \n    "), ([Span(0, 3)], "abc\n    "), ([Span(1, 2), Span(5, 8)], " b \n efg")],
)
def test_only_some_of_a_text_with_its_places_kept(spans: list[Span], left: str) -> None:
    assert only("abc\ndefg", spans) == left
