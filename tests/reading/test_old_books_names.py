"""Elements by the names of old books, like others, counted, told row by row; and what stands beside the work."""

from __future__ import annotations

import pytest
from old_books_tools import read, steps

from larkshead.reading.coverage import coverage_of


@pytest.mark.parametrize("name", ["circle", "oval", "ring", "leaf", "branch", "loop", "petal"])
def test_rings_have_many_names(name: str) -> None:
    assert steps(f"Work a {name} consisting of 5 double, 1 purl, 5 double, draw up.") == "R 5 p 5"
    assert steps(f"1st {name}: 5 double, 1 purl, 5 double, draw up.") == "R 5 p 5"


@pytest.mark.parametrize(
    ("told", "expected"),
    [
        (
            "Work 6 leaves close to each other, each leaf consisting of 5 double, 1 purl, 5 double.",
            "REP 6 {; R 5 p 5; }",
        ),
        (
            "The pattern consists of 4 branches, and each branch consists of 5 double, 1 purl, 5 double.",
            "REP 4 {; R 5 p 5; }",
        ),
        ("For each of the three centre leaves work 5 double, 1 purl, 5 double.", "REP 3 {; R 5 p 5; }"),
        ("Work five-branched rosettes, each branch consisting of 5 double, 1 purl, 5 double.", "REP 5 {; R 5 p 5; }"),
        ("The circles of this row consist of 5 double, 1 purl, 5 double.", "REP ? {; R 5 p 5; }"),
        ("3rd and 4th circles: 5 double, 1 purl, 5 double, draw up.", "REP 2 {; R 5 p 5; }"),
        ("Work 1 Josephine knot consisting of 6 plain.", "JR h1:6"),
    ],
)
def test_how_many(told: str, expected: str) -> None:
    assert steps(told) == expected


MODEL = "Work a circle of 5 double, 1 purl, 2 double, 1 purl, 5 double, draw up. "


@pytest.mark.parametrize(
    ("told", "expected"),
    [
        ("Work a second similar circle.", "R 5 p 2 p 5"),
        ("Work another circle.", "R 5 p 2 p 5"),
        ("Then again a circle like the first.", "R 5 p 2 p 5"),
        ("Work 3 similar circles.", "REP 3 {; R 5 p 2 p 5; }"),
        ("Work a second circle like the first, joined to it by the first purl.", "R 5 j 2 p 5"),
        (
            "Work a similar circle, but instead of the last purl fasten it on to the first purl of the preceding circle.",
            "R 5 p 2 j 5",
        ),
        ("Work a similar circle, and fasten the cotton.", "R 5 p 2 p 5; CUT"),
        ("The circles lie close to each other.", ""),
    ],
)
def test_like_others(told: str, expected: str) -> None:
    assert steps(MODEL + told) == "; ".join(filter(None, ["R 5 p 2 p 5", expected]))


def test_rows_told_by_reference() -> None:
    first = (
        "1st row: * 6 double, 1 purl, 6 double, draw up; leave a space of a quarter of an inch, and repeat from *.\n\n"
    )
    second = "2nd row: Work like the 1st row, but instead of the purl join each circle to the cotton between two circles of the 1st row."
    assert steps(first + second) == "REP ? {; R 6 p 6; BT 1/4in; }; REP ? {; R 6 j 6; BT 1/4in; }"


def test_a_copy_of_what_was_never_told_is_said() -> None:
    assert "unread-text" in {n.kind for n in read("Work a circle like the first.").notices}


PAGE = """17.--Narrow Edging for Caps.

Materials: tatting cotton No. 50; tatting-pin No. 2.

This edging is quickly worked. [Illustration: EDGING.]

Work a circle of 6 double, 1 purl, 6 double, draw up.

* * * * *

The upper edge is crocheted: 1 treble in the purl, 5 chain; repeat.
"""


def test_what_stands_beside_the_work() -> None:
    reading = read(PAGE)
    assert steps(PAGE) == "R 6 p 6"
    assert reading.pattern.title == "17.--Narrow Edging for Caps"
    assert reading.pattern.materials == ["tatting cotton No. 50; tatting-pin No. 2"]
    assert "This edging is quickly worked" in reading.pattern.notes


def test_every_word_is_accounted_for() -> None:
    coverage = coverage_of(read(PAGE))
    assert not coverage.lost and not coverage.unread
    assert 0 < coverage.noted < coverage.words


def test_crochet_is_not_misread() -> None:
    told = "1st row: * 1 double in the 1st purl, 4 chain, 2 treble in the next; repeat from * all round."
    assert steps(told) == ""


CHAPTER = """PLAIN SCALLOPS (fig. 31).--Make with one shuttle: 5 double, 1 picot, 3 double, 1 picot, 5 double, close the ring.

INSERTION (fig. 32).--Make with one shuttle a ring like the ones in fig. 31, turn the work, and a second close to it.

EDGING (fig. 33). Make a ring, as in fig. 31; begin a third ring which you join after the 5th double, to the last picot of the
1st ring.
"""


def test_figures_by_the_number_of_their_picture() -> None:
    parts = read(CHAPTER).pattern.parts
    assert [part.name for part in parts] == ["", "INSERTION (fig. 32)", "EDGING (fig. 33)"]
    assert steps(CHAPTER).split("; ") == [
        "R 5 p 3 p 5",
        "R 5 p 3 p 5",
        "TURN",
        "R 5 p 3 p 5",
        "R 5 p 3 p 5",
        "R 5 j 3 p 5",
    ]


@pytest.mark.parametrize(
    ("told", "expected"),
    [
        ("Circle 1: 4 double, 1 purl, 4 double, draw up. Circle 2 as circle 1, but joined to the purl of circle 1.", "R 4 p 4; R 4 j 4"),
        ("1st circle: 4 double, 1 purl, 4 double. 2nd circle, the same.", "R 4 p 4; R 4 p 4"),
        ("1st circle. 4 double, 1 purl, 4 double. 2nd circle. The same as the first, joining it by the purl.", "R 4 p 4; R 4 j 4"),
        ("Work a leaf of 4 double, 1 purl, 4 double. The second and third leaves are worked like the first.", "R 4 p 4; REP 2 {; R 4 p 4; }"),
        ("For the first leaf 4 double, 1 purl, 4 double; for the second, 4 double, join to the purl, 4 double.", "R 4 p 4; R 4 j 4"),
        ("The leaves are 5 in number: each consists of 4 double, 1 purl, 4 double.", "REP 5 {; R 4 p 4; }"),
        ("Work 3 circles close together, each of 4 double, 1 purl, 4 double.", "REP 3 {; R 4 p 4; }"),
        ("Each of the six large ones has 4 double, 1 purl, 4 double.", "REP 6 {; R 4 p 4; }"),
    ],
)  # fmt: skip
def test_one_by_one(told: str, expected: str) -> None:
    assert steps(told) == expected


def test_the_rest_goes_on() -> None:
    told = """Work a circle of 5 double, 1 purl, 3 double, 1 purl, 5 double, draw up; after half an inch of cotton a similar circle, joined
    to it by the first purl. All the other circles are worked like the second."""
    assert steps(told) == "R 5 p 3 p 5; REP ? {; BT 1/2in; R 5 j 3 p 5; }"
