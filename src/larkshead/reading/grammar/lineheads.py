"""Figures at the head of lines: the numbers of steps, or of the shuttles that work them."""

from __future__ import annotations

from larkshead.reading.grammar.shapes import NOUNS
from larkshead.reading.grammar.tokens import Token

# What a line says behind its number.
_BEHIND_NUMBER = frozenset(
    {*NOUNS, "like", "same", "repeat", "label", "shuttle", "lock_join", "cut", "attach", "small", "large"}
)


def number_lines(tokens: list[Token]) -> list[Token]:
    """``1  R 6-6`` and ``2  Ch 4``: figures that run 1, 2, 3 at the head of lines number the lines (kind STEPNUM);
    ``1: R``, ``2: R``, ``1: Ch`` name the shuttle of each line.
    """
    heads: list[int] = []
    coloned: list[int] = []
    for at, token in enumerate(tokens):
        if token.kind != "NUM" or (at and tokens[at - 1].kind not in ("NL", "PARA")) or at + 2 >= len(tokens):
            continue
        after = tokens[at + 1]
        if after.kind in _BEHIND_NUMBER and after.spaced:
            heads.append(at)
        elif after.kind == "COLON" and tokens[at + 2].kind in NOUNS:
            coloned.append(at)
    numbers = [tokens[at].value for at in heads]
    if len(numbers) > 2 and numbers == list(range(1, len(numbers) + 1)):
        tokens = list(tokens)
        for at in heads:
            tokens[at] = tokens[at]._replace(kind="STEPNUM")
    named = [tokens[at].value for at in coloned]
    if set(named) == {1, 2} and len(named) > 2:
        out: list[Token] = []
        shuttles = set(coloned)
        for at, token in enumerate(tokens):
            if at in shuttles:
                out.append(Token("shuttle", None, token.start, token.start, True, ""))
            out.append(token)
        return out
    return tokens
