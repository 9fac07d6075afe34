"""The user's text and places in it."""

from __future__ import annotations

from bisect import bisect_right
from typing import NamedTuple


class Span(NamedTuple):
    """A stretch of the source text, in characters from its start; ``end`` is exclusive."""

    start: int
    end: int

    def join(self, other: Span) -> Span:
        """The smallest span that holds both."""
        return Span(min(self.start, other.start), max(self.end, other.end))


class Position(NamedTuple):
    """A line and column of the user's file, both from 1."""

    line: int
    column: int


class Source:
    """A text with its name (a path, or ``-`` for standard input) and its line structure."""

    __slots__ = ("_starts", "name", "text")

    def __init__(self, text: str, name: str = "-") -> None:
        self.text = text
        self.name = name
        self._starts: list[int] | None = None

    def position(self, offset: int) -> Position:
        """Line and column of a character offset."""
        if self._starts is None:
            starts = [0]
            at = self.text.find("\n")
            while at >= 0:
                starts.append(at + 1)
                at = self.text.find("\n", at + 1)
            self._starts = starts
        line = bisect_right(self._starts, max(0, min(offset, len(self.text))))
        return Position(line, offset - self._starts[line - 1] + 1)

    def quote(self, span: Span) -> str:
        """The words of a span."""
        return self.text[span.start : span.end]
