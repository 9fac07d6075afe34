"""Tables in every layout: what stands in their columns, and the steps their rows tell."""

from __future__ import annotations

import textwrap
from functools import cache
from pathlib import Path

import larkshead_english
import pytest
from larkshead_steplist.writer import write as write_steps
from larkshead_table.reader import read

from larkshead.conventions import Convention, load_convention
from larkshead.reading import Reading, Source

FOLDER = Path(larkshead_english.__file__).parent


@cache
def english() -> Convention:
    return load_convention(FOLDER / "en.yaml", lambda name: FOLDER / f"{name}.yaml")


def reading(text: str, name: str = "table.md") -> Reading:
    return read(Source(text, name), english())


def steps(text: str) -> list[str]:
    """The steps of a table, one line each, without remarks on them."""
    pattern = reading(textwrap.dedent(text).lstrip("\n")).pattern
    lines = (line.split(" # ")[0].strip() for line in write_steps(pattern, english()).text.splitlines())
    return [line for line in lines if line and not line.startswith("#")]


def said(text: str) -> list[str]:
    return textwrap.dedent(text).strip().splitlines()


ROWS = [
    ["Step", "Element", "Stitches", "Join to", "Then"],
    ["1", "R", "6-2-6", "", "close, RW"],
    ["2", "Ch", "9", "", "RW"],
    ["3", "R", "6+2-6", "last p of 1", "close, RW"],
    ["4", "Ch", "9", "", "LJ to base of 1, cut"],
]
STEPS = said("""
    R 6 p 2 p 6
    TURN
    C 9
    TURN
    R 6 j 2 p 6 -> ring 1, last picot
    TURN
    C 9
    LJ -> ring 1, base
    CUT
""")


def joined(mark: str) -> str:
    return "\n".join(mark.join(row) for row in ROWS)


def quoted(mark: str) -> str:
    return "\n".join(mark.join(f'"{cell}"' for cell in row) for row in ROWS)


def drawn(bar: str, cross: str, line: str) -> str:
    widths = [max(len(row[at]) for row in ROWS) for at in range(5)]
    rule = cross + cross.join(line * (width + 2) for width in widths) + cross
    rows = [bar + bar.join(f" {cell:{width}} " for cell, width in zip(row, widths, strict=True)) + bar for row in ROWS]
    return "\n".join([rule, rows[0], rule, *rows[1:], rule])


def aligned(rule: bool) -> str:
    widths = [max(len(row[at]) for row in ROWS) for at in range(5)]
    lines = ["  ".join(f"{cell:{width}}" for cell, width in zip(row, widths, strict=True)).rstrip() for row in ROWS]
    if rule:
        lines.insert(1, "  ".join("-" * width for width in widths))
    return "\n".join(lines)


def on_its_side() -> str:
    lines = ["| " + " | ".join(row[at] for row in ROWS) + " |" for at in range(1, 5)]
    return "\n".join(["| | " + " | ".join(row[0] for row in ROWS[1:]) + " |", "|" + "---|" * 5, *lines])


def markdown(outer: str) -> str:
    """The rows as Markdown, with ``outer`` bars or none at the ends of the lines."""
    rule = " | ".join(("---", ":-:", "---", "---", "--:"))
    lines = [" | ".join(row) for row in ROWS]
    return "\n".join(f"{outer}{line}{outer[::-1]}" for line in [lines[0], rule, *lines[1:]])


LAYOUTS = {
    "markdown": markdown("| "),
    "markdown without outer bars": markdown(""),
    "tabs": joined("\t"),
    "commas": quoted(","),
    "semicolons": quoted(";"),
    "lines": drawn("|", "+", "-"),
    "box characters": drawn("│", "┼", "─"),
    "columns": aligned(False),
    "columns with a rule": aligned(True),
    "on its side": on_its_side(),
}  # fmt: skip


@pytest.mark.parametrize("layout", LAYOUTS)
def test_every_layout_says_the_same(layout: str) -> None:
    assert steps(LAYOUTS[layout]) == STEPS
    assert [notice for notice in reading(LAYOUTS[layout]).notices if notice.severity != "note"] == []


@pytest.mark.parametrize("layout", LAYOUTS)
def test_every_element_has_its_place_in_the_text(layout: str) -> None:
    text = LAYOUTS[layout]
    found = reading(text)
    elements = [step for step in found.pattern.parts[0].steps if type(step).__name__ == "Element"]
    for element, counts in zip(elements, ("6-2-6", "9", "6+2-6", "9"), strict=True):
        span = found.origins.of(element)
        assert span is not None and text[span.start : span.end].strip('"').endswith(counts)
        first = found.origins.of(element, 0)
        assert first is not None and text[first.start : first.end] == counts[0]


CASES = {
    "a column for the shuttle": (
        """
        | No | What | Count | Shuttle | Turn |
        |---|---|---|---|---|
        | 1 | ring | 4-4 | 1 | yes |
        | 2 | chain | 7 | 1 | no |
        | 3 | ring | 3-3 | 2 | no |
        | 4 | chain | 7 | 1 | yes |
        """,
        "R 4 p 4|TURN|C 7|NOTURN|SWITCH|R 3 p 3|NOTURN|SWITCH|C 7|TURN",
    ),
    "a column for each shuttle": (
        """
        | Step | Sh 1 | Sh 2 |
        |---|---|---|
        | 1 | R 5-5 rw | |
        | 2 | Ch 4 | |
        | 3 | | R 3-3 |
        | 4 | Ch 4 rw | |
        """,
        "R 5 p 5|TURN|C 4|SWITCH|R 3 p 3|SWITCH|C 4|TURN",
    ),
    "two sides": (
        """
        piece,side 1,side 2,join
        R1,9-9,,
        SR2,5-5,5-5,
        SR3,5-5,5+5,"on side 2, last p of R1"
        """,
        "R 9 p 9|SR 5 p 5 / 5 p 5|SR 5 p 5 / 5 j 5 -> ring 1, last picot",
    ),
    "what stands between in its own column": (
        """
        s small picot   n normal picot   j join to the last s

        el   groups     between
        R    4 3 4      s s       dnr
        R    4 3 3 4    j n s     rw
        C    5 5        n
        """,
        "R 4 sp 3 sp 4|NOTURN|R 4 j 3 p 3 sp 4 -> last picot|TURN|C 5 p 5",
    ),
    "one group in each column": (
        """
        No   Kind   1st   p    2nd   p    3rd
        1    R      3     -    7     -    3
        2    C      8     -    8
        3    R      3     +    7     -    3
        """,
        "R 3 p 7 p 3|C 8 p 8|R 3 j 7 p 3 -> ?",
    ),
    "kinds of elements at the head": (
        """
        Reverse work after every cell.

        | | Ring | Chain |
        |---|---|---|
        | 1 | 5-5 | 7 |
        | 2-4 | same | same |
        """,
        "R 5 p 5|TURN|C 7|TURN|REP 3 {|R 5 p 5|TURN|C 7|TURN|}",
    ),
    "beads": (
        """
        Step	Part	Count	Beads
        1	R	5-5-5	1 on each p
        2	Ch	6-6	3 on the p
        3	R	5-5-5	2
        4	Ch	6-6	none
        """,
        "R 5 p b 5 p b 5|C 6 p b b b 6|R 5 p b 5 p b 5|C 6 p 6",
    ),
    "bare thread with its unit at the head": (
        """
        | step | element | count | gap (mm) |
        |---|---|---|---|
        | 1 | ring | 4-4 | 6 |
        | 2 | ring | 4-4 | none |
        """,
        "R 4 p 4|BT 6mm|R 4 p 4",
    ),
    "yes and no": (
        """
        Element,Stitches,Turn after?
        ring 1,4 p 4,no
        ring 2,4 p 4,x
        chain,6,✓
        """,
        "R 4 p 4|NOTURN|R 4 p 4|TURN|C 6|TURN",
    ),
    "picots that part a number of stitches": (
        """
        | Element | ds | Picots |
        |---|---|---|
        | ring | 20 | 3 |
        """,
        "R 5 p 5 p 5 p 5",
    ),
    "places by row, letter and name": (
        """
        | layer | work | joins |
        |---|---|---|
        | inner | R 3-3-3 | - |
        | outer | R 8+8 | inner 2nd p |
        """,
        "R 3 p 3 p 3|R 8 j 8 -> ring inner, picot 2",
    ),
    "a join told where the counts have a picot": (
        """
        | El | Count | Join |
        |---|---|---|
        | R1 | 5-5-5 | |
        | R2 | 5-5-5 | p1 = R1 p2 |
        """,
        "R 5 p 5 p 5|R 5 j 5 p 5 -> ring 1, picot 2",
    ),
    "rounds": (
        """
        Rnd,El,Count,Join,Then
        1,Ring,2-2-2,,"close, cut"
        2,Start,tie on at 1st p of ring,,
        ,Chain,4-4,LJ to next p,cut
        """,
        "R 2 p 2 p 2|CUT|ATTACH -> ring, picot 1|C 4 p 4|LJ -> next picot|CUT",
    ),
    "cells that run on": (
        """
        Element  Count      Join        After
        R        5-5-5                  turn
        C        8                      turn
        R        5+5+5      last p,     turn
                            first p
                            of first R
        """,
        "R 5 p 5 p 5|TURN|C 8|TURN|R 5 j 5 j 5 -> last picot; ring 1, picot 1|TURN",
    ),
    "whole directions in a cell": (
        """
        1 | Ring of 6 ds, picot, 6 ds. Close. Reverse work.
        2 | Chain of 5 ds. Reverse work.
        3 | as step 1
        """,
        "R 6 p 6|TURN|C 5|TURN|R 6 p 6|TURN",
    ),
    "no heads": (
        """
        SR small ring, SP space of 4 mm, T turn

        SR   3-3     T   SP
        R    6-6-6   T   SP
        SR   3-3     T   SP
        """,
        "R 3 p 3|TURN|BT 4mm|R 6 p 6 p 6|TURN|BT 4mm|R 3 p 3|TURN|BT 4mm",
    ),
    "large and small rings by their letters": (
        """
        | Step | El | Count |
        |---|---|---|
        | 1 | LR | 6-6 |
        | 2 | SR | 4-4 |
        | 3 | SR | 4 / 4 |
        """,
        "R 6 p 6|R 4 p 4|SR 4 / 4",
    ),
    "several tables under their headings": (
        """
        ## Round 1

        | El | ds |
        |---|---|
        | R | 5-5 |

        ## Round 2

        | El | ds | + |
        |---|---|---|
        | R | 5+5 | p of Round 1 ring |
        """,
        "R 5 p 5|R 5 j 5 -> round 1 ring",
    ),
    "places told behind the table": (
        """
        | Ring | Count |
        |---|---|
        | A | 5-5-5 |
        | B | 5+5-5 |
        | C | 5+5+5 |

        Each + joins to the last picot of the previous ring. The last + of ring C to the first picot of ring A.
        """,
        "R 5 p 5 p 5|R 5 j 5 p 5 -> previous ring, last picot"
        "|R 5 j 5 j 5 -> previous ring, last picot; ring A, picot 1",
    ),
}


@pytest.mark.parametrize("case", CASES)
def test_columns(case: str) -> None:
    text, expected = CASES[case]
    assert steps(text) == expected.split("|")


def test_heads_come_from_the_convention() -> None:
    convention = english()
    other = Convention(
        "other", forms=convention.forms, cells=convention.cells, columns={"knots": ("work",), "thing": ("element",)}
    )
    found = read(Source("thing;knots\nring;4-4\nchain;6\n", "t.csv"), other)
    assert [type(step).__name__ for step in found.pattern.parts[0].steps] == ["Element", "Element"]


def test_what_stands_about_the_table_is_kept() -> None:
    found = reading(
        "Fern border\n\nShuttle and ball, size 40.\n\n| El | ds |\n|---|---|\n| R | 5-5 |\n\nMine curled a little.\n"
    )
    assert found.pattern.title == "Fern border"
    assert found.pattern.materials == ["Shuttle and ball, size 40"]
    assert found.pattern.notes == ["Mine curled a little"]


def test_words_of_a_cell_become_a_note_at_their_place() -> None:
    found = reading("| El | ds | Notes |\n|---|---|---|\n| R | 5-5 | pull it tight |\n| Ch | 6 | |\n")
    kinds = [type(step).__name__ for step in found.pattern.parts[0].steps]
    assert kinds == ["Element", "Note", "Element"]
