"""Patterns for these tests, read from step lists."""

from __future__ import annotations

from larkshead.conventions import Convention
from larkshead.linting import Context
from larkshead.reading import Reading, Source
from larkshead.working import work


def read(text: str, notation: str = "steplist") -> Reading:
    """A step list as read."""
    from larkshead_steplist.reader import read as read_steps

    assert notation == "steplist"
    reading: Reading = read_steps(Source(text, "test.steps"), Convention("none"))
    return reading


def context_of(text: str) -> Context:
    """What a rule is given for a step list."""
    reading = read(text)
    return Context(work(reading.pattern), reading)
