"""From text to tokens: numbers, marks, the convention's phrases, the pattern's own forms."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shorthand_tools import english

from larkshead.reading.grammar.lexer import tokenize


def told(text: str, own: dict[str, tuple[str, object]] | None = None) -> list[tuple[str, object]]:
    return [(token.kind, token.value) for token in tokenize(text, english(), own)]


def forms(text: str) -> str:
    return " ".join(kind for kind, _ in told(text))


@pytest.mark.parametrize(
    ("text", "kinds"),
    [
        ("R 5-5", "ring NUM DASH NUM"),
        ("R5–5", "ring NUM DASH NUM"),
        ("Ch 7 rw", "chain NUM reverse_work"),
        ("4±4", "NUM PLUSMINUS NUM"),
        ("4·4", "NUM DOT NUM"),
        ("cl r", "close"),
        ("d s", "double_stitch"),
        ("p's", "picot"),
        ("RA 6", "ring label NUM"),
        ("ChB 6", "chain label NUM"),
        ("4+LJ", "NUM PLUS lock_join"),
        ("6p3P3", "NUM picot NUM picot NUM"),
        ("** x 3", "MARK times NUM"),
    ],
)
def test_kinds(text: str, kinds: str) -> None:
    assert forms(text) == kinds


@pytest.mark.parametrize(
    ("text", "number"),
    [("l0", 10), ("I2", 12), ("1O", 10), ("twenty-four", 24), ("two dozen", 24), ("seven", 7)],
)
def test_numbers(text: str, number: int) -> None:
    assert told(text)[0] == ("NUM", number)


@pytest.mark.parametrize(
    ("text", "value"),
    [("3/8 in", "3/8"), ('1/4"', "1/4"), ("¼ inch", "1/4"), ("2.5 mm", "2.5"), ("1/2 of an inch", "1/2")],
)
def test_fractions_by_the_unit_behind_them(text: str, value: str) -> None:
    assert told(text)[0] == ("FRACTION", value)


def test_a_slash_between_counts_is_no_fraction() -> None:
    assert forms("SR 4/4 cl") == "split_ring NUM SLASH NUM close"


@pytest.mark.parametrize(
    ("text", "kinds"), [("2d ring", "ORD ring"), ("2d p 3d", "NUM double_stitch picot NUM double_stitch")]
)
def test_2d_is_an_ordinal_before_what_it_counts_and_else_doubles(text: str, kinds: str) -> None:
    assert forms(text) == kinds


def test_an_own_form_rules_over_the_convention() -> None:
    own = {"sp": ("bare_thread", None), "T": ("small_picot", None), "-B-": ("ITEM", "beaded")}
    assert told("3T3 sp -B-", own) == [
        ("NUM", 3),
        ("small_picot", None),
        ("NUM", 3),
        ("bare_thread", None),
        ("ITEM", "beaded"),
    ]


def test_an_own_form_of_letters_stands_alone() -> None:
    assert [kind for kind, _ in told("rest s 5s", {"s": ("second_half", None)})] == [
        "WORD",
        "second_half",
        "NUM",
        "second_half",
    ]


def test_an_own_stop_is_a_mark_between_figures_only() -> None:
    own = {".": ("DOT", None)}
    assert [kind for kind, _ in told("5.5. Turn.", own)] == ["NUM", "DOT", "NUM", "STOP", "reverse_work", "STOP"]


@given(st.text(alphabet="R C5-+.,()[]*/'\n\té–·xp1lO±^=:;#" + "abc", max_size=80))
def test_tokens_keep_their_places(text: str) -> None:
    tokens = tokenize(text, english())
    last = 0
    for token in tokens:
        assert last <= token.start < token.end <= len(text)
        last = token.end
    covered = "".join(text[t.start : t.end] for t in tokens)
    assert "".join(covered.split()).count("R") == text.count("R")


@pytest.mark.parametrize("form", ["#", "# #", "- 8 -", "//", "/ 2 /", "(+)", "[", "\\", "-–", ".:", "a b", "1 x"])
def test_any_form_may_be_the_patterns_own(form: str) -> None:
    assert "own" in dict(told(f"5 {form} 5", {form: ("own", None)}))
