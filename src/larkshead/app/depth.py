"""Brackets within brackets and lines without end: more than any pattern has are told before a reader gets lost in them."""

from __future__ import annotations

import re

from larkshead.reading import Notice, Source, Span

MOST = 200
_BRACKET = re.compile(r"[()\[\]{}]")


def too_deep(source: Source) -> Notice | None:
    """A notice at the first bracket that stands deeper than brackets can be followed; None where none does."""
    if source.text.count("(") + source.text.count("[") + source.text.count("{") <= MOST:
        return None
    depth = 0
    for found in _BRACKET.finditer(source.text):
        if found.group() in "([{":
            depth += 1
            if depth > MOST:
                message = f"brackets stand within brackets more than {MOST} deep"
                return Notice("too-deep", "error", message, Span(found.start(), found.end()))
        elif depth:
            depth -= 1
    return None


def too_long(source: Source, most: int) -> Notice | None:
    """A notice at the first line of more than ``most`` characters; None where there is none."""
    text = source.text
    at = 0
    while len(text) - at > most:
        end = text.rfind("\n", at, at + most + 1)
        if end < 0:
            end = text.find("\n", at)
            length = (len(text) if end < 0 else end) - at
            message = f"a line of {length:,} characters; {most:,} are read at most"
            return Notice("too-long", "error", message, Span(at, at + 1))
        at = end + 1
    return None
