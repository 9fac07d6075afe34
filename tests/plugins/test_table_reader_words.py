"""Tables whose cells, or the words about them, tell in their own way where picots stand, what is turned, and how often."""

from __future__ import annotations

import textwrap
from functools import cache
from pathlib import Path

import larkshead_english
import pytest
from larkshead_steplist.writer import write
from larkshead_table.reader import read

from larkshead.conventions import Convention, load_convention
from larkshead.reading import Source

FOLDER = Path(larkshead_english.__file__).parent


@cache
def english() -> Convention:
    return load_convention(FOLDER / "en.yaml", lambda name: FOLDER / f"{name}.yaml")


def steps(text: str) -> str:
    """The steps a table tells, on one line, without places and remarks."""
    pattern = read(Source(textwrap.dedent(text).lstrip("\n"), "table.md"), english()).pattern
    lines = [line.split(" # ")[0].split(" -> ")[0].strip() for line in write(pattern, english()).text.splitlines()]
    return "; ".join(line for line in lines if line and not line.startswith("#"))


CASES = {
    "picots behind numbered stitches": (
        """
        | what | stitches | picots | then |
        |---|---|---|---|
        | ring | 15 | after 5 and 10 | rw |
        | chain | 12 | after 6 | rw |
        """,
        "R 5 p 5 p 5; TURN; C 6 p 6; TURN",
    ),
    "picots spread in words": (
        """
        | step | | picots |
        |---|---|---|
        | Ring 16 ds | rw | 3, evenly spaced |
        | Chain 14 ds | rw | 1 in the middle |
        """,
        "R 4 p 4 p 4 p 4; TURN; C 7 p 7; TURN",
    ),
    "a head that fits nothing beneath it": (
        """
        | What | How many |
        |---|---|
        | ring | 7 ds, picot, 7 ds |
        | chain | 6 ds |
        """,
        "R 7 p 7; C 6",
    ),
    "turns and times in rows of their own": (
        """
        | R | 7-3-7 |
        | rw | |
        | C | 4-4 |
        | rw | |
        | x 6 | |
        """,
        "REP 6 {; R 7 p 3 p 7; TURN; C 4 p 4; TURN; }",
    ),
    "columns of marks between columns of counts": (
        """
        | Element | a | p | b | p | c |
        |---|---|---|---|---|---|
        | R1 | 7 | p | 3 | p | 7 |
        | R2 | 7 | + | 3 | p | 7 |
        """,
        "R 7 p 3 p 7; R 7 j 3 p 7",
    ),
    "rows that are rounds": (
        """
        |Row|Ring|Times|Bare thread|
        |---|---|---|---|
        |1|7-7|8|3 mm|
        |2|6+6|8|3 mm|
        """,
        "REP 8 {; R 7 p 7; BT 3mm; }; REP 8 {; R 6 j 6; BT 3mm; }",
    ),
    "rows listed by numbers": (
        """
        | Order | Piece | Count |
        |---|---|---|
        | 1, 3 | R | 7-7 |
        | 2, 4 | C | 6 |

        Turn after each piece.
        """,
        "R 7 p 7; TURN; C 6; TURN; R 7 p 7; TURN; C 6; TURN",
    ),
    "turns told behind the table": (
        """
        | Step | Element | Count |
        |---|---|---|
        | 1 | R | 7-7 |
        | 2 | C | 6 |
        | 3 | R | 7+7 |

        Turn after 1 and 2.
        """,
        "R 7 p 7; TURN; C 6; TURN; R 7 j 7",
    ),
    "how often, alone behind the table": (
        """
        | Element | Count | after |
        |---|---|---|
        | Ch | 6 | RW |
        | R | 7-7 | RW |

        In all 9 times.
        """,
        "REP 9 {; C 6; TURN; R 7 p 7; TURN; }",
    ),
    "labels listed beside how often": (
        """
        | Label | Kind | Work | Then | Repeat |
        |---|---|---|---|---|
        | A | ring | 7-7 | RW | |
        | B | chain | 6 | RW | |
        | A, B | | | | 5 times in all |
        """,
        "REP 5 {; R 7 p 7; TURN; C 6; TURN; }",
    ),
    "a range of labels beside how often": (
        """
        | No | Element | Count | Action |
        |---|---|---|---|
        | 1 | R | 7-7 | RW |
        | 2 | C | 6 | RW |
        | 3 | R | 7+7 | RW |
        | 2-3 | | | repeat 4 times more |
        """,
        "R 7 p 7; TURN; REP 5 {; C 6; TURN; R 7 j 7; TURN; }",
    ),
    "so many lines": (
        """
        | R | 7-7 | RW |
        | C | 6 | RW |

        Work the two lines 4 times.
        """,
        "REP 4 {; R 7 p 7; TURN; C 6; TURN; }",
    ),
    "both rows": (
        """
        | element | count | action | times |
        |---|---|---|---|
        | ring | 7-7 | rw | |
        | chain | 6 | rw | |
        | both | | | x 7 |
        """,
        "REP 7 {; R 7 p 7; TURN; C 6; TURN; }",
    ),
    "so many of each": (
        """
        | R | 7-7 | RW |
        | C | 6 | RW |

        Make 8 of each.
        """,
        "REP 8 {; R 7 p 7; TURN; C 6; TURN; }",
    ),
    "the whole over repeats within": (
        """
        | Side | Ring | Chain | Repeat |
        |---|---|---|---|
        | straight | 7-7 | 6 | 3 |
        | corner | 9-9 | 8 | 1 |

        The whole 4 times.
        """,
        "REP 4 {; REP 3 {; R 7 p 7; C 6; }; R 9 p 9; C 8; }",
    ),
    "a table of one row beside another": (
        """
        Round 1

        | R | 2-2-2-2 | cut |

        Round 2

        | C | 6 | lj to p |
        | x 3 | | |
        """,
        "R 2 p 2 p 2 p 2; CUT; REP 3 {; C 6; LJ; }",
    ),
    "a turn before the repeat in one cell": (
        """
        | No | R/Ch | Count | Then |
        |---|---|---|---|
        | 1 | R | 7-7 | RW |
        | 2 | Ch | 8 | RW, then 1-2 again x 6 |
        """,
        "REP 7 {; R 7 p 7; TURN; C 8; TURN; }",
    ),
    "split rings over two columns, numbered": (
        """
        | Ring | Left side | Right side | Space after |
        |---|---|---|---|
        | 1 | 6-6 | 7-7 | 3 mm |
        | 2-4 | 6+6 | 7-7 | 3 mm |
        """,
        "SR 6 p 6 / 7 p 7; BT 3mm; REP 3 {; SR 6 j 6 / 7 p 7; BT 3mm; }",
    ),
    "work before and behind the table": (
        """
        Start:
        R 9-9 RW
        then follow the table 4 times

        | C | 6 | RW |
        | R | 9+9 | RW |

        End: C 6, lj to base of first R, cut.
        """,
        "R 9 p 9; TURN; REP 4 {; C 6; TURN; R 9 j 9; TURN; }; C 6; LJ; CUT",
    ),
}


@pytest.mark.parametrize("case", CASES)
def test_words(case: str) -> None:
    text, expected = CASES[case]
    assert steps(text) == expected
