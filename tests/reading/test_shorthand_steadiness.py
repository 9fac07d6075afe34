"""Reading shorthand never raises, keeps its places, is linear, and reads a plain line as the grammar does."""

from __future__ import annotations

import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shorthand_tools import english, kinds, read, steps_of

from larkshead.model import ByPass, Element, Repeat, Step
from larkshead.reading import Reading
from larkshead.reading.grammar.lexer import tokenize
from larkshead.reading.grammar.lines import reader as linereader
from larkshead.reading.grammar.lines.plain import PlainLines

WORDS = (
    "R",
    "Ch",
    "SR",
    "SCMR",
    "JK",
    "5",
    "3",
    "-",
    "+",
    "p",
    "vsp",
    "cl",
    "RW",
    "LJ",
    "to",
    "last",
    "of",
    "prev",
    "ring",
    "chain",
    "(",
    ")",
    "[",
    "]",
    "x",
    "*",
    "**",
    "rep",
    "from",
    "times",
    "more",
    "in all",
    ",",
    ".",
    ";",
    ":",
    "\n",
    "\n\n",
    "/",
    "=",
    "Sh1",
    "Sh2",
    "mm",
    "leave",
    "Rnd 1",
    "Row 2",
    "as",
    "same",
    "A",
    "B",
    "1.",
    "2)",
    "until",
    "there are",
    "join",
    "joining",
    "attach",
    "cut",
    "sep by",
    "B",
    "each",
    "all",
    "first",
    "second",
    "turn",
    "Total",
    "Abbreviations",
    "is",
    "with",
    "between",
    "base",
    "mock picot",
    "ditto",
    "dash",
    "colon",
    "where",
    "following",
    "repeats",
    "= 1 scallop",
    "scallops",
    "S1",
    "(sh 2)",
    "Rows 1, 3:",
    "R1, R3:",
    "thrown",
    "bare thread",
    "evenly",
    "go on",
    "#",
    "|",
    "- 8 -",
    "and",
    "the",
    "word",
    "?",
    "’",
    "–",
)


def spans(reading: Reading) -> list[tuple[int, int]]:
    """Every span a reading records for its steps and work items."""
    found: list[tuple[int, int]] = []
    waiting: list[Step] = [step for part in reading.pattern.parts for step in part.steps]
    while waiting:
        step = waiting.pop()
        span = reading.origins.of(step)
        if span is not None:
            found.append(tuple(span))
        if isinstance(step, Element):
            found += [
                tuple(place) for at in range(len(step.work)) if (place := reading.origins.of(step, at)) is not None
            ]
        elif isinstance(step, Repeat):
            waiting += step.steps
        elif isinstance(step, ByPass):
            waiting += [step.step, *(other for steps in step.passes.values() for other in steps)]
    found += [tuple(notice.span) for notice in reading.notices if notice.span is not None]
    return found


@given(st.lists(st.sampled_from(WORDS), max_size=60).map(" ".join))
@settings(max_examples=300)
def test_words_of_the_trade_in_any_order_are_read(text: str) -> None:
    reading = read(text)
    assert all(0 <= start <= end <= len(text) for start, end in spans(reading))


@given(st.text(max_size=200))
def test_any_text_is_read(text: str) -> None:
    reading = read(text)
    assert all(0 <= start <= end <= len(text) for start, end in spans(reading))


LINE = st.from_regex(
    r"\A(R|Ch|r|ch|Ring|C)(\d:)? ?\d{1,2}([-+–]\d{1,2}){0,4}( cl| clr\.?|, close)?(,? (RW|rw\.?|turn))?\Z"
)


@given(st.lists(LINE, min_size=1, max_size=8))
@settings(max_examples=200)
def test_a_plain_line_says_what_the_grammar_says(lines: list[str]) -> None:
    text = "\n".join(lines) + "\n"
    quick = read(text)
    found = PlainLines.tokens
    try:
        PlainLines.tokens = lambda self, text, convention, stretches: (tokenize(text, convention),) * 2  # type: ignore[method-assign]
        slow = read(text)
    finally:
        PlainLines.tokens = found  # type: ignore[method-assign]
    assert steps_of(quick.pattern) == steps_of(slow.pattern)
    assert spans(quick) == spans(slow)


def test_plain_lines_are_met_as_such() -> None:
    text = "R 5-5-5 cl RW\nCh 6-6 RW\nR 5+5-5 cl RW\n"
    tokens, words = PlainLines.of(english()).tokens(text, english(), linereader._stretches(text)[0])
    assert [token.kind for token in tokens if token.kind != "NL"] == ["PLAIN"] * 3
    assert [token.kind for token in words][:3] == ["ring", "NUM", "DASH"]


HOSTILE = {
    "counts": "R " + "5-" * 20_000,
    "brackets": "(" * 20_000 + "R 5-5" + ")" * 20_000,
    "brackets repeated": "(" * 5_000 + "R 5-5" + ") x 2 " * 5_000,
    "never closed": "( R 5-5 " * 5_000,
    "repeats of repeats": "R 5-5 RW" + " x 2" * 5_000,
    "marks": "* R 5-5 " * 3_000 + "* x 3 " * 3_000,
    "a run of marks": "*" * 50_000,
    "numbers without end": "R " + "9" * 5_000 + "\n*R 5-5* x " + "9" * 5_000,
    "copies of copies": "Rnd 1: R 5-5\n"
    + "".join(f"Rnd {n}: rep Rnd {n - 1}\nrep Rnd {n - 1}\n" for n in range(2, 60)),
    "names of names": "A = R 5-5\n"
    + "".join(f"{b} = " + f"{a} " * 9 + "R 1-1\n" for a, b in zip("ABCDEFGH", "BCDEFGHI", strict=True))
    + "I I",
    "one long line": "R 5-5, " * 60_000,
    "a billion times": "*R 5-5 RW* x 1000000000\nR 5 p sep by 1000000000, 5\nR 900000000 p sep by 2",
    "places": "R 5+5 (last p of prev R)\n" * 2_000,
    "covers": "all + to last p of ring before.\n" * 2_000,
    "zeros": "\0" * 20_000,
}


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_text_ends(name: str) -> None:
    begun = time.process_time()
    read(HOSTILE[name])
    assert time.process_time() - begun < 30


def test_what_is_not_read_is_said() -> None:
    assert kinds("R " + "5-" * 100_000, "error") == ["too-long"]
    assert "nesting" in kinds(HOSTILE["brackets"], "error")
    assert "nesting" in kinds(HOSTILE["repeats of repeats"], "error")
    assert "too-many-steps" in kinds(HOSTILE["copies of copies"], "error")
