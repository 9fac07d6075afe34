"""Lines read by themselves mean what the grammar makes of them: same pattern, same places, same notices."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from unittest.mock import patch

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from larkshead.app.workbench import Workbench
from larkshead.conventions import Convention
from larkshead.model import ByPass, Element, Repeat, Step
from larkshead.reading import Reading, Source, Span
from larkshead.reading.grammar.lexer import tokenize
from larkshead.reading.grammar.lines.plain import PlainLines
from larkshead.reading.grammar.lines.reader import read_lines
from larkshead.reading.grammar.tokens import Token

CONVENTION = Workbench().convention("en")


def by_the_grammar(text: str) -> Reading:
    """The reading with no line read by itself."""

    def tokens(
        _: PlainLines, text: str, convention: Convention, stretches: list[Span]
    ) -> tuple[list[Token], list[Token]]:
        made = [token for span in stretches for token in tokenize(text, convention, None, span.start, span.end)]
        return made, made

    with patch.object(PlainLines, "tokens", tokens):
        return read_lines(Source(text), CONVENTION, "shorthand")


def steps_of(steps: Iterable[Step]) -> Iterator[Step]:
    for step in steps:
        yield step
        if isinstance(step, Repeat):
            yield from steps_of(step.steps)
        elif isinstance(step, ByPass):
            yield from steps_of([step.step])
            for others in step.passes.values():
                yield from steps_of(others)


def places(reading: Reading) -> list[object]:
    """Where every step and every item of its work stands."""
    found: list[object] = []
    for part in reading.pattern.parts:
        for step in steps_of(part.steps):
            found.append(reading.origins.of(step))
            if isinstance(step, Element):
                found += [reading.origins.of(step, at) for at in range(len(step.work))]
    return found


def assert_alike(text: str) -> None:
    fast, slow = read_lines(Source(text), CONVENTION, "shorthand"), by_the_grammar(text)
    assert fast.pattern == slow.pattern
    assert places(fast) == places(slow)
    assert fast.notices == slow.notices
    assert fast.abbreviations_defined == slow.abbreviations_defined
    assert {form for form, _ in fast.abbreviations_used} == {form for form, _ in slow.abbreviations_used}


counts = st.lists(st.integers(1, 30).map(str), min_size=1, max_size=5)
mark = st.sampled_from(("-", "-", "-", "+", " - ", " + ", "–"))


@st.composite
def plain_lines(draw: st.DrawFn) -> str:
    """A ring or chain with its counts, in the ways a designer types it."""
    head = draw(st.sampled_from(("R ", "Ch ", "R: ", "Ch: ", "r ", "Ring ", "chain: ")))
    if draw(st.booleans()):
        head = head.strip(" :") + str(draw(st.integers(1, 40))) + ": "
    first, *others = draw(counts)
    work = first + "".join(draw(mark) + count for count in others)
    close = draw(st.sampled_from(("", " cl", ", cl", " cl.", " close")))
    turn = draw(st.sampled_from(("", " RW", ", RW", "; rw", " rw.")))
    return head + work + close + turn + draw(st.sampled_from(("", "", " ")))


OTHERS = (
    "", "Round 2", "Row 1:", "Tie and cut.", "R 5-5 + (last p of prev R) 5 cl RW", "(R 3-3 cl RW) x 3",
    "*R 4-4 cl, RW", "Repeat from * 3 more times.", "LJ to base of first R", "SR 4-4 / 5-5 cl", "DNT", "x 3",
    "R 6 - 6 cl / RW", "joining to the last p of R1", "Total: 40 ds", "A: R 4-4 cl RW", "3 times",
    "R = ring", "- = picot", "+ = join", "RW = turn the work", "Turn after each ring.",
)  # fmt: skip


@settings(max_examples=150, deadline=None)
@given(st.lists(plain_lines(), min_size=1, max_size=12))
def test_plain_lines_alone(lines: list[str]) -> None:
    assert_alike("\n".join(lines) + "\n")


@settings(max_examples=250, deadline=None)
@given(st.lists(st.one_of(plain_lines(), st.sampled_from(OTHERS)), min_size=1, max_size=12))
def test_plain_lines_among_others(lines: list[str]) -> None:
    assert_alike("\n".join(lines))


@pytest.mark.parametrize(
    "text",
    [
        "R1: 5-5-5-5 cl RW\nCh1: 6-6 RW\nR2: 5+5-5-5 cl RW\nCh2: 6-6 RW\n",
        "Abbreviations: R1 = first ring\nR1: 5-5 cl RW\nR2: 5+5 cl\n",
        "R 5-5 cl RW\n\n\nR 5+5 cl RW",
        "R 5-5 cl RW\n  R 5+5 cl RW\n",
    ],
)
def test_labels_and_blank_lines(text: str) -> None:
    assert_alike(text)


def test_most_lines_of_a_plain_text_are_read_by_themselves() -> None:
    text = "R1: 5-5-5-5 cl RW\nCh1: 6-6 RW\nR2: 5+5-5-5 cl RW\nTie and cut.\n"
    tokens, _ = PlainLines.of(CONVENTION).tokens(text, CONVENTION, [Span(0, len(text))])
    assert [token.kind for token in tokens].count("PLAIN") == 3
