"""Lengths in running text."""

from __future__ import annotations

import pytest
from shorthand_tools import english

from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.lengths import read_length
from larkshead.reading.grammar.lexer import tokenize


@pytest.mark.parametrize(
    ("text", "length"),
    [
        ("3 mm", "3mm"),
        ("3mm", "3mm"),
        ('1/4"', "1/4in"),
        ("3/8 in", "3/8in"),
        ("5-10 mm", "5..10mm"),
        ("2.5 cm", "2.5cm"),
        ("1 1/2 inches", "1 1/2in"),
        ("a quarter of an inch", "1/4in"),
        ("three eighths of an inch", "3/8in"),
    ],
)
def test_lengths(text: str, length: str) -> None:
    c = Cursor(tokenize(text, english()))
    assert str(read_length(c)) == length
    assert c.at == len(c.tokens)


def test_about_is_kept() -> None:
    found = read_length(Cursor(tokenize("about 5 mm", english())))
    assert found is not None and found.about


@pytest.mark.parametrize("text", ["5-5", "5 p", "R 5", ""])
def test_counts_are_no_lengths(text: str) -> None:
    c = Cursor(tokenize(text, english()))
    assert read_length(c) is None
    assert c.at == 0
