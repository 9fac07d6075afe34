"""Repeats in tables, however they are told, and what is other on some pass."""

from __future__ import annotations

import textwrap
from functools import cache
from pathlib import Path

import larkshead_english
import pytest
from larkshead_steplist.writer import write as write_steps
from larkshead_table.reader import read

from larkshead.conventions import Convention, load_convention
from larkshead.model import ByPass, Element, Repeat
from larkshead.reading import Reading, Source

FOLDER = Path(larkshead_english.__file__).parent


@cache
def english() -> Convention:
    return load_convention(FOLDER / "en.yaml", lambda name: FOLDER / f"{name}.yaml")


def reading(text: str) -> Reading:
    return read(Source(textwrap.dedent(text).lstrip("\n"), "table.md"), english())


def steps(found: Reading) -> list[str]:
    lines = (line.split(" # ")[0].strip() for line in write_steps(found.pattern, english()).text.splitlines())
    return [line for line in lines if line and not line.startswith("#")]


HEAD = "| Row | Element | Count | Turn | Times |\n|---|---|---|---|---|\n"
RING, CHAIN = "| 1 | R | 4-4 | rw | {} |\n", "| 2 | Ch | 6 | rw | {} |\n"
LAST = "| 3 | R | 9 | | |\n"
# However it is told, ring and chain are worked five times in all.
FIVE = {
    "a row that names rows": HEAD + RING + CHAIN + "| | repeat rows 1 and 2 four more times | | | |\n" + LAST,
    "a range": HEAD + RING + CHAIN + "| | rows 1–2 four more times | | | |\n" + LAST,
    "in all": HEAD + RING + CHAIN + "| | work 1 to 2 five times in all | | | |\n" + LAST,
    "on top, and in all": HEAD + RING + CHAIN + "| | repeat rows 1 to 2, 4 more times (5 in all) | | | |\n" + LAST,
    "so many rows before": HEAD + RING + CHAIN + "| | repeat the last two rows four times | | | |\n" + LAST,
    "until there are so many": HEAD
    + RING
    + CHAIN
    + "| | repeat rows 1 and 2 until there are 5 chains | | | |\n"
    + LAST,
    "rows in the column of times": HEAD + RING.format("1–2 5 times") + CHAIN + LAST,
    "with the next": HEAD + RING.format("5, with the next") + CHAIN + LAST,
    "with the chain": HEAD + RING.format("5, with the chain") + CHAIN + LAST,
    "with the row above": HEAD + RING.format("5") + CHAIN.format("with the row above") + LAST,
    "kinds": HEAD + RING + CHAIN.format("ring and chain 5 times in all") + LAST,
    "like numbers": HEAD + RING.format("5") + CHAIN.format("5") + LAST,
    "a number for both": HEAD + RING.format("5") + CHAIN + "| 3 | R | 9 | | 1 |\n",
    "a drawn bracket": HEAD + RING.format("⎫") + CHAIN.format("⎭ 5") + LAST,
    "a row for the range": HEAD + RING + CHAIN + "| 1-2 | | | | x 5 |\n" + LAST,
    "start and end": HEAD
    + "| **start repeat** | | | | |\n"
    + RING
    + CHAIN
    + "| **end repeat, 5 times in all** | | | | |\n"
    + LAST,
    "over two columns": HEAD + RING + CHAIN + "| | repeat rows 1 and 2 | | | 4 more times |\n" + LAST,
    "behind the table": HEAD + RING + CHAIN + LAST + "\nRepeat rows 1 and 2 four more times before row 3.\n",
    "in words of the last cell": HEAD + RING + "| 2 | Ch | 6 | rw. Do 1 and 2 again four times | |\n" + LAST,
}


@pytest.mark.parametrize("way", FIVE)
def test_five_times_in_all(way: str) -> None:
    found = reading(FIVE[way].replace("{}", ""))
    assert steps(found) == ["REP 5 {", "R 4 p 4", "TURN", "C 6", "TURN", "}", "R 9"]
    assert not [notice for notice in found.notices if notice.severity != "note"]


def test_rows_that_were_left_behind_are_worked_again() -> None:
    found = reading(HEAD + RING + CHAIN + LAST + "| 4 | repeat rows 1 and 2 three times | | | |\n".replace("{}", ""))
    assert steps(found)[-6:] == ["REP 3 {", "R 4 p 4", "TURN", "C 6", "TURN", "}"]


def test_a_row_for_several_like_it() -> None:
    found = reading(
        "| | Ring | rw | Chain | rw |\n|---|---|---|---|---|\n| 1 | 4-4 | x | 6 | x |\n| 2–7 | as row 1 | | | |\n"
    )
    assert steps(found)[4:] == ["REP 6 {", "R 4 p 4", "TURN", "C 6", "TURN", "}"]


def test_rings_and_chains_of_the_same_numbers_are_worked_by_turns() -> None:
    found = reading("""
        | Element | Count | Then |
        |---|---|---|
        | R2 to R7 | 5-5 | rw |
        | C2 to C7, one after each ring | 8 | rw |
        """)
    assert steps(found) == ["REP 6 {", "R 5 p 5", "TURN", "C 8", "TURN", "}"]


def test_repeats_within_repeats() -> None:
    found = reading("""
        step;element;count;times
        1;R;4-4;3
        2;Ch;6;1
        3;repeat 1 and 2 five more times;;
        """)
    assert steps(found) == ["REP 6 {", "REP 3 {", "R 4 p 4", "}", "C 6", "}"]


def test_for_as_long_as_wanted() -> None:
    found = reading(
        "| Step | El | ds |\n|---|---|---|\n| 1 | R | 4-4 |\n| 2 | repeat step 1 for the length wanted | |\n"
    )
    repeat = found.pattern.parts[0].steps[0]
    assert isinstance(repeat, Repeat) and repeat.times is None and repeat.until


def test_a_change_on_the_last_pass() -> None:
    found = reading("""
        | | Element | Count | Join |
        |---|---|---|---|
        | 1 | R | 4-4-4 | |
        | **start repeat** | | | |
        | 2 | R | 4+4-4 | last p of ring before |
        | **end repeat, 6 times in all** | | | on the 6th, last - of row 2 is a join to first p of row 1 |
        """)
    repeat = found.pattern.parts[0].steps[1]
    assert isinstance(repeat, Repeat) and repeat.times == 6
    (step,) = repeat.steps
    assert isinstance(step, ByPass) and list(step.passes) in (["last"], [6])
    (other,) = next(iter(step.passes.values()))
    assert isinstance(other, Element)
    assert steps(found)[-2].startswith("ON last R 4 j 4 j 4")


def test_a_picot_where_the_join_is_on_the_first_pass() -> None:
    found = reading("""
        | Step | Element | Count | Join |
        |---|---|---|---|
        | 1 | big ring | 4+4 | last big ring |
        | 2 | small ring | 3 | |
        | 3 | work 1 to 2 eight times in all; the first big ring has a p where the + is | | |
        """)
    assert "ON first R 4 p 4" in steps(found)


def test_what_is_worked_instead_has_a_row_of_its_own() -> None:
    found = reading("""
        | Step | Element | Stitches | Then | Times |
        |---|---|---|---|---|
        | 1 | R | 4-4 | | 5 |
        | 1 on the last pass | R | 4-5 | | |
        """)
    assert steps(found) == ["REP 5 {", "R 4 p 4", "ON last R 4 p 5", "}"]


def test_a_picot_on_one_pass_told_beside_the_place() -> None:
    found = reading("""
        | | El | Count | Join |
        |---|---|---|---|
        | 1 | R | 4+4-4 | last p of prev R (first R: p instead) |
        | 2 | Ch | 6 | |
        | | 1 and 2 eight times in all | | last R: last p joins first p of first R |
        """)
    assert steps(found) == [
        "REP 8 {",
        "R 4 j 4 p 4 -> previous ring, last picot",
        "ON first R 4 p 4 p 4",
        "ON last R 4 j 4 j 4 -> previous ring, last picot; ring 1, picot 1",
        "C 6",
        "}",
    ]


def test_a_row_told_again_with_what_is_other_in_it() -> None:
    found = reading("""
        Step | Element | Count | Notes
        1 | Ring | 5-5-5 | rw
        2 | as 1, first p is a join to last p of ring before | | rw
        3 | as 2
        """)
    assert steps(found)[2:] == ["R 5 j 5 p 5 -> previous ring, last picot", "TURN"] * 2


def test_so_many_in_all_counts_the_round() -> None:
    found = reading("""
        | Round | Part | Count | Joins | End |
        |---|---|---|---|---|
        | centre | ring | 1-2-2-1 | | cut |
        | petals | ring | 5+5 | next p of centre | leave 6 mm |
        | | | | | 8 petals in all, cut |
        """)
    assert steps(found)[2:] == ["REP 8 {", 'R 5 j 5 -> next picot of centre "centre"', "BT 6mm", "}", "CUT"]


def test_words_about_repeats_are_no_repeat() -> None:
    found = reading("I got 11 repeats to a hand's width.\n\n| El | ds |\n|---|---|\n| R | 4-4 |\n")
    assert steps(found) == ["R 4 p 4"]


FAULTS = {
    "a row that is not there": (
        HEAD + RING + CHAIN + "| 3 | repeat rows 1–9 three times | | | |\n",
        "there is no row 9",
        5,
    ),
    "numbers that do not agree": (
        HEAD + RING + "| 2 | repeat row 1 4 more times (6 in all) | | | |\n",
        "do not make 6",
        4,
    ),
    "rows across others": (
        HEAD + RING.format("1-2: 3 x") + CHAIN + "| 3 | R | 5 | | 2–3: 2 x |\n",
        "cross the rows",
        5,
    ),
    "an end without a start": (HEAD + RING + "| end repeat | | | | |\n", "no repeat is open", 4),
    "a start without an end": (HEAD + "| start repeat | | | | |\n" + RING, "never ended", 3),
    "numbers that do not come out": (
        HEAD + RING + CHAIN + "| 3 | repeat rows 1 and 2 until there are 0 rings | | | |\n",
        "do not come out",
        5,
    ),
}


@pytest.mark.parametrize("fault", FAULTS)
def test_what_is_wrong_is_said_at_its_row(fault: str) -> None:
    text, words, line = FAULTS[fault]
    text = text.replace("{}", "")
    found = read(Source(text, "table.md"), english())
    notice = next(notice for notice in found.notices if words in notice.message)
    assert notice.severity == "warning" and notice.span is not None
    assert found.source.position(notice.span.start).line == line
