"""Sentences that go for every picot of the pattern: ``All picots are very small``, ``every picot is a long one``."""

from __future__ import annotations

from larkshead.reading.grammar.places import ELEMENTS, PICOTS
from larkshead.reading.grammar.tokens import Token

_SIZES = {"small": "small", "large": "long", "long": "long"}
_ENDS = frozenset({"STOP", "PARA", "SEMI", "END"})
# Where these are told the sentence is about some picots, or about work.
_OTHERWISE = frozenset({"double_stitch", "close", "reverse_work", "join", "middle", "ORD", "first", "last"})
_REACH = 24


def size_of_picots(tokens: list[Token]) -> str:
    """The size that all picots have, where the text says so outside of its steps; else empty. Linear in the text."""
    for at, token in enumerate(tokens):
        if token.kind not in PICOTS or not at:
            continue
        lead = at - 1
        while lead > 0 and tokens[lead].kind in ("glue", "of", "this") and at - lead < 4:
            lead -= 1
        if tokens[lead].kind not in ("all", "each"):
            continue
        if lead and tokens[lead - 1].kind not in (*_ENDS, "COLON", "NL", "glue", "WORD", "this"):
            continue
        size = _told(tokens, at)
        if size:
            return size
    return ""


def _told(tokens: list[Token], at: int) -> str:
    """The size told behind the picots named at ``at``, up to the end of the sentence."""
    for i in range(at + 1, min(at + _REACH, len(tokens))):
        token = tokens[i]
        if token.kind in _ENDS or token.kind in _OTHERWISE:
            return ""
        if token.kind in ELEMENTS:
            # Those of some elements only, or work.
            return ""
        if token.kind in _SIZES and tokens[i - 1].kind not in ("UNIT", "QUOTE"):
            return _SIZES[token.kind]
        if token.kind in ("small_picot", "long_picot"):
            return PICOTS[token.kind]
    return ""
