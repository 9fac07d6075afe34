"""Nothing is lost silently: every number and every word of the trade is in the pattern, a note or a notice."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from larkshead.app.shown import account, show_reading
from larkshead.app.workbench import Workbench
from larkshead.reading import Reading, Source
from larkshead.reading.coverage import coverage_of
from larkshead.reading.grammar.account import is_telling
from larkshead.reading.grammar.lexer import tokenize

BENCH = Workbench()
CONVENTION = BENCH.convention("en")
WORDED = sorted(n for n, p in BENCH.registry.notations.items() if p.spec.reader is not None and p.spec.worded)
_PIECES = [
    "4 ds", "picot", "3 picots with 2 between", "join to the last picot of ring 2", "close", "reverse", "ring of",
    "chain:", "R 4-4-4", "Ch 5-5", "SR 4-4 / 4-4", "lock join", "repeat from *", "*", "six times", "twice", "(", ")",
    "leave 3 mm of bare thread", "a bead", "sorry", "four", "the first", "each", "last ring", "as ring 1", "blue",
    "I like it", "cut", "tie on", "round 2", "until there are 7 rings", "96 stitches in all", "mock picot", "7", "and",
    "then", "with shuttle 2", "but", "joining", "to the base", "any", "long picot", "in place of", "wobbly", "of them",
]  # fmt: skip


def read(text: str, style: str) -> Reading:
    return BENCH.read(Source(text, "pattern.txt"), style, "en")


def lost_words(reading: Reading) -> list[str]:
    """The numbers and words of the trade that nothing speaks of."""
    lost = coverage_of(reading).lost
    return [
        token.text
        for token in tokenize(reading.source.text, CONVENTION)
        if is_telling(token, CONVENTION) and any(span.start <= token.start < span.end for span in lost)
    ]


@pytest.mark.parametrize("style", WORDED)
@settings(max_examples=150, deadline=None)
@given(
    pieces=st.lists(st.sampled_from(_PIECES), min_size=1, max_size=14),
    joints=st.lists(st.sampled_from([" ", " ", ", ", ". ", "; ", "\n", "\n\n"]), min_size=14, max_size=14),
)
def test_no_number_and_no_word_of_the_trade_is_lost(style: str, pieces: list[str], joints: list[str]) -> None:
    text = "Ring: 4 ds, picot, 4 ds.\n" if style == "prose" else "R 4-4\n" if style == "shorthand" else "R | 4-4\n"
    text += "".join(piece + joint for piece, joint in zip(pieces, joints, strict=False))
    assert lost_words(read(text, style)) == []


def test_every_word_is_counted_once() -> None:
    text = "Ring: 4 ds, picot, 4 ds, close. I like it in blue. Turn.\n"
    coverage = coverage_of(read(text, "prose"))
    assert coverage.words == len(text.replace(":", "").replace(",", "").replace(".", "").split())
    assert coverage.noted >= 4
    assert coverage.lost == []


def test_what_is_taken_back_is_said() -> None:
    reading = read("Ring: 4 ds, three picots, sorry, two picots with 3 ds between, 4 ds, close.\n", "prose")
    assert [(n.kind, "three picots" in n.message) for n in reading.notices] == [("set-aside", True)]


def test_a_notation_that_is_no_language_leaves_nothing_to_understand() -> None:
    assert account(BENCH, BENCH.read(Source("R 4 p 4\n", "a.steps"), "steplist")) is None


def test_each_stretch_shows_what_it_became() -> None:
    text = "Round 1. Ring: 4 ds, picot, 4 ds, close. Turn. I like it in blue.\nChain of 5 ds. Repeat 6 times.\n"
    shown = [became for _, became in show_reading(BENCH, read(text, "prose")) if became]
    assert shown == [["round 1"], ["R 4 p 4"], ["TURN"], ["kept as a note"], ["C 5"], ["REP 7 {"]]


@pytest.mark.parametrize("style", WORDED)
def test_the_stretches_are_the_whole_text(style: str) -> None:
    text = "* R 4-4 close, turn, Ch 5, turn; repeat from * 5 times. Blue is nice.\n\nRound 2. R 3+3, 7 of them\n"
    reading = read(text, style)
    shown = " ".join(reading.source.quote(clause.span) for clause, _ in show_reading(BENCH, reading))
    assert re.findall(r"\w+", shown) == re.findall(r"\w+", text)


def test_words_parted_only_by_marks_are_told_of_once() -> None:
    text = "Chain: 4 ds. A wobble of 3, 5, 7 and 9 mm is quite all right.\n"
    told = [n.message for n in read(text, "prose").notices if n.kind == "unread-text"]
    assert len(told) <= 1
