"""The lines of a text, and those that stand before the steps."""

from __future__ import annotations

from typing import NamedTuple

from larkshead.model import Pattern
from larkshead.reading.written.around import AroundReader
from larkshead.reading.written.steps import NotWritten


class Line(NamedTuple):
    """One line of a text and where it begins."""

    text: str
    start: int


# Longer lines are written for no pattern of any sense; they are left to readers that bound what they look at.
_LONGEST = 100_000


def lines_of(text: str) -> list[Line]:
    """The lines of a text, without white space at their ends; NotWritten for lines beyond all measure."""
    lines: list[Line] = []
    start = 0
    for line in text.split("\n"):
        if len(line) > _LONGEST:
            raise NotWritten("a line that is too long")
        lines.append(Line(line.rstrip(), start))
        start += len(line) + 1
    while lines and not lines[-1].text:
        lines.pop()
    return lines


def before_steps(lines: list[Line], around: AroundReader, pattern: Pattern) -> list[Line]:
    """Take up the title and what is said under it; the lines that are left."""
    at = 0
    while at < len(lines) and not lines[at].text:
        at += 1
    following = lines[at + 1].text if at + 1 < len(lines) else ""
    if at < len(lines) and around.is_title(lines[at].text) and (not following or around.before(following, Pattern())):
        pattern.title = lines[at].text
        at += 1
    while at < len(lines) and lines[at].text and around.before(lines[at].text, pattern):
        at += 1
    return lines[at:]
