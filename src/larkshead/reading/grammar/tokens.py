"""Tokens: the user's words as language-neutral kinds with values and places.

Kinds in lower case are concepts and words of the convention (``ring``, ``picot``, ``previous``); kinds in capitals are
structural: NUM, ORD, FRACTION, UNIT, DASH, PLUS, PLUSMINUS, DOT, OPEN, SHUT, COMMA, SEMI, COLON, STOP, SLASH, CARET, MARK,
EQUALS, QUOTE, BULLET, NL (end of line), PARA (blank line), WORD (a word the convention does not know).
"""

from __future__ import annotations

from typing import Any, NamedTuple


class Token(NamedTuple):
    """One token. ``value``: the number, the unit, or the text as spelt; ``spaced``: white space stands before it."""

    kind: str
    value: Any
    start: int
    end: int
    spaced: bool
    text: str


END = Token("END", None, 0, 0, True, "")
