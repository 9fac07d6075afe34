"""Who is whose sister."""

from __future__ import annotations

from steps import context_of

from larkshead.linting.sisters import label_stem


def families(text: str) -> list[list[str]]:
    """The families of a step list, each member as its shape."""
    return [[f"{one.kind[0]} {one.shape}" for one in family] for family in context_of(text).families()]


def test_a_first_and_a_last_pass_written_out() -> None:
    assert families(
        """R 5 p 5 p 5 # R1
TURN
C 6 p 6
TURN
REP 4 {
R 5 j 5 p 5 -> previous ring, last picot
TURN
C 6 p 6
TURN
}
R 5 j 5 j 5 -> previous ring, last picot; ring 1, first picot
TURN
C 12
"""
    ) == [["r 5-5-5", "r 5+5-5", "r 5+5+5"], ["c 6-6", "c 6-6", "c 12"]]


def test_the_rings_of_a_clover_are_no_sisters() -> None:
    assert families("REP 3 {\nR 4 p 4 p 4\nR 4 j 6 p 6 p 4 -> previous ring, last picot\nC 9\n}\n") == [
        ["r 4-4-4"],
        ["r 4+6-6-4"],
        ["c 9"],
    ]


def test_what_stands_in_on_a_pass_is_a_sister() -> None:
    assert families("REP 4 {\nR 4 p 4 p 4\nON last R 4 p 4 j 4 -> first ring, first picot\n}\n") == [
        ["r 4-4-4", "r 4-4+4"]
    ]


def test_a_round_written_out_by_turns() -> None:
    lines = [f"R {n} p {n}\nTURN" for n in (3, 5, 3, 5, 3, 5, 3, 5)]
    assert families("\n".join(lines) + "\n") == [["r 3-3"] * 4, ["r 5-5"] * 4]


def test_one_slip_does_not_break_a_written_out_round() -> None:
    lines = [f"R {n} p {n}\nTURN\nC 6\nTURN" for n in (5, 5, 4, 5, 5)]
    assert families("\n".join(lines) + "\n") == [["r 5-5", "r 5-5", "r 4-4", "r 5-5", "r 5-5"], ["c 6"] * 5]


def test_labels_in_words_tell_apart() -> None:
    assert label_stem("Corner ring 2") == "corner ring"
    assert label_stem("R7") == label_stem("Rb") == ""


def test_first_and_last_of_a_part() -> None:
    context = context_of("R 4\nREP 3 {\nC 5\nR 4\n}\nC 7\n")
    assert [(one.kind, one.first, one.last) for one in context.written] == [
        ("ring", True, False),
        ("chain", True, False),
        ("ring", False, True),
        ("chain", False, True),
    ]
