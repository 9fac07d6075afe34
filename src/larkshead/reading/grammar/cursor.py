"""A position in a list of tokens, with the looks ahead that the grammar needs."""

from __future__ import annotations

from collections.abc import Collection

from larkshead.reading.grammar.tokens import END, Token
from larkshead.reading.source import Span


class Cursor:
    """Walks over tokens. ``skip`` kinds (words the convention does not know, filler) are passed over by ``soft`` looks."""

    __slots__ = ("at", "limit", "tokens")

    def __init__(self, tokens: list[Token], at: int = 0, limit: int | None = None) -> None:
        self.tokens = tokens
        self.at = at
        self.limit = len(tokens) if limit is None else limit

    def peek(self, ahead: int = 0) -> Token:
        """The token ``ahead`` of the position; END past the limit."""
        i = self.at + ahead
        return self.tokens[i] if i < self.limit else END

    def kind(self, ahead: int = 0) -> str:
        i = self.at + ahead
        return self.tokens[i].kind if i < self.limit else "END"

    def next(self) -> Token:
        token = self.peek()
        if self.at < self.limit:
            self.at += 1
        return token

    def take(self, *kinds: str) -> Token | None:
        """The token at the position when it is of one of the kinds, and step over it."""
        if self.kind() in kinds:
            return self.next()
        return None

    def matches(self, *kinds: str | Collection[str]) -> bool:
        """Whether the tokens from here are of these kinds; a set stands for any of it."""
        for ahead, kind in enumerate(kinds):
            here = self.kind(ahead)
            if (here != kind) if isinstance(kind, str) else (here not in kind):
                return False
        return True

    def skip(self, kinds: Collection[str]) -> int:
        """Step over tokens of these kinds; how many."""
        start = self.at
        while self.at < self.limit and self.tokens[self.at].kind in kinds:
            self.at += 1
        return self.at - start

    def find(self, kinds: Collection[str], stop: Collection[str] = (), reach: int = 40) -> int | None:
        """How far ahead the next token of these kinds is, unless one of ``stop`` or ``reach`` comes first."""
        for ahead in range(reach):
            here = self.kind(ahead)
            if here in kinds:
                return ahead
            if here in stop or here == "END":
                return None
        return None

    def span(self, start: int, end: int | None = None) -> Span:
        """The span of the tokens from ``start`` up to ``end`` (the position)."""
        last = (self.at if end is None else end) - 1
        if not self.tokens:
            return Span(0, 0)
        first = min(start, len(self.tokens) - 1)
        return Span(self.tokens[first].start, self.tokens[max(first, min(last, len(self.tokens) - 1))].end)
