"""Keeping what the user's text holds from steering a terminal."""

from __future__ import annotations

import re

# Terminal codes, the other control characters but tab and line ends, and the marks that turn the direction of text.
_CODES = re.compile(
    "\x1b\\[[0-?]*[ -/]*[@-~]|\x1b\\][^\x07\x1b\\n]*(?:\x07|\x1b\\\\)"
    "|[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f\u200e\u200f\u202a-\u202e\u2066-\u2069]"
)
_PLAIN = re.compile("[^\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f\u200e\u200f\u202a-\u202e\u2066-\u2069]*")


def is_printable(text: str) -> bool:
    """True when nothing in the text steers a terminal."""
    return _PLAIN.fullmatch(text) is not None


def blank_codes(text: str) -> tuple[str, list[int]]:
    """The text with each terminal code or control character turned to as many spaces, and where they stood."""
    places: list[int] = []

    def blank(found: re.Match[str]) -> str:
        places.append(found.start())
        return " " * len(found.group())

    return _CODES.sub(blank, text), places


def printable(text: str) -> str:
    """The text on one line, with control characters shown as escapes."""
    if is_printable(text) and "\n" not in text and "\r" not in text:
        return text
    return (
        _CODES.sub(lambda m: m.group().encode("unicode_escape").decode("ascii"), text)
        .replace("\r", "\\r")
        .replace("\n", "\\n")
    )
