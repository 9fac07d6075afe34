"""What holds of every reading, over texts made of the trade's own words in any order."""

from __future__ import annotations

import pytest
from holds import BENCH, WORDED, hold
from hypothesis import given, settings
from hypothesis import strategies as st

FORMS = sorted(BENCH.convention("en").forms)
MARKS = [*"-+.,:;()[]*/x×·…|\n\t^<>=&#", " ", "\n\n", ". ", ", "]
PIECES = st.one_of(
    st.sampled_from(FORMS).map(" {}".format),
    st.sampled_from(["ring", "chain", "picot", "ds", "join", "R", "Ch", "p", "close", "turn", "repeat"]).map(
        " {}".format
    ),
    st.integers(0, 25).map(" {}".format),
    st.sampled_from(MARKS),
    st.text(max_size=5),
)


@pytest.mark.parametrize("style", WORDED)
# The same texts each time: the fuzzer beside this looks further.
@settings(max_examples=150, deadline=None, derandomize=True)
@given(st.lists(PIECES, max_size=40))
def test_reading_holds(style: str, pieces: list[str]) -> None:
    hold("".join(pieces), style)
