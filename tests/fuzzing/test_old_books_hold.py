"""What holds of every reading holds of old books, over texts made of their own words in any order."""

from __future__ import annotations

from holds import BENCH, hold
from hypothesis import given, settings
from hypothesis import strategies as st

FORMS = sorted(BENCH.convention("en-vintage").forms)
COMMON = [
    "circle",
    "oval",
    "leaf",
    "scallop",
    "double",
    "purl",
    "plain",
    "draw-up",
    "fasten",
    "join",
    "knot",
    "the-cotton",
    "ends",
    "on-to",
    "of",
    "the",
    "a",
    "similar",
    "second",
    "preceding",
    "next",
    "each",
    "instead-of",
    "working",
    "times",
    "alternately",
    "divided-by",
    "repeat",
    "from",
    "until",
    "distance",
    "leave",
    "inch",
    "turn",
    "work",
    "both-shuttles",
]
PIECES = st.one_of(
    st.sampled_from(FORMS).map(" {}".format),
    st.sampled_from(COMMON).map(lambda word: " " + word.replace("-", " ")),
    st.integers(0, 25).map(" {}".format),
    st.sampled_from([",", ".", ";", ":--", " *", "(", ")", "\n", "\n\n", " =", ", ", ". ", " 1st", " 2nd", " 3rd"]),
    st.text(max_size=4),
)


@settings(max_examples=150, deadline=None, derandomize=True)
@given(st.lists(PIECES, max_size=50))
def test_reading_holds(pieces: list[str]) -> None:
    hold("".join(pieces), "prose", "en-vintage")
