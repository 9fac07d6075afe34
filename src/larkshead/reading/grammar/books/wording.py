"""Of which elements and which of their picots the words of a clause speak."""

from __future__ import annotations

from larkshead.reading.grammar.books.told import NOUNS
from larkshead.reading.grammar.places import PICOTS
from larkshead.reading.grammar.tokens import Token

_ITEMS = {"last": "last", "middle": "middle"}


def items_told(tokens: list[Token]) -> list[str | int]:
    """Which picots are spoken of: ``the 1st purl``, ``its two centre purl``; empty where none are."""
    for at, token in enumerate(tokens):
        if token.kind not in PICOTS:
            continue
        found: list[str | int] = []
        count = 1
        for before in reversed(tokens[max(0, at - 7) : at]):
            if before.kind == "ORD":
                found.insert(0, int(before.value))
            elif before.kind in _ITEMS:
                found.insert(0, _ITEMS[before.kind])
            elif before.kind == "NUM":
                count = int(before.value)
            elif before.kind not in ("glue", "COMMA", "small", "large", "long", "this", "WORD"):
                break
        if count > 1 and len(found) == 1 and count < 10:
            found = found * count
        return found or ["only"]
    return []


def select(tokens: list[Token]) -> tuple[str, str, str | int]:
    """Of which elements something is said: their kind and size, and which of them (each, last, a number)."""
    kind = size = ""
    which: str | int = ""
    for at, token in enumerate(tokens):
        if token.kind not in NOUNS and token.kind != "motif":
            if token.kind == "following" or token.kind == "henceforth":
                which = which or "each"
            continue
        here: str | int = ""
        sized = ""
        numbers = []
        for i in range(at - 1, max(-1, at - 12), -1):
            before = tokens[i].kind
            if before == "each":
                here = "each"
            elif before == "last":
                here = "last"
            elif before in ("next", "following"):
                here = here or "each"
            elif before == "ORD":
                numbers.append(int(tokens[i].value))
            elif before in ("large", "small"):
                sized = before
            elif before not in ("glue", "of", "NUM", "COMMA", "WORD", "work", "OPEN", "SHUT", "middle", "all"):
                break
        if len(numbers) > 1:
            here = "each"
        elif numbers and here == "":
            here = numbers[0]
        if token.kind == "motif":
            which = which or ("each" if here in ("each", "") else which)
            continue
        if not kind or (which == "" and here != ""):
            kind, size, which = NOUNS[token.kind], sized or size, here if here != "" else which
        if token.value == "several" and which == "":
            which = "each"
    return kind, size, which
