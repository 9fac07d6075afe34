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


def beads_on_picots(tokens: list[Token]) -> int:
    """How many beads every picot carries, where a sentence says so (``a bead goes on every picot``); else 0."""
    for at, token in enumerate(tokens):
        if token.kind not in ("each", "all") or at + 1 >= len(tokens):
            continue
        noun = at + 1
        while noun < len(tokens) and tokens[noun].kind in ("glue", "of", "this") and noun - at < 3:
            noun += 1
        if noun >= len(tokens) or tokens[noun].kind not in PICOTS:
            continue
        sentence = _sentence(tokens, at)
        kinds = {t.kind for t in sentence}
        numbers = [int(t.value) for t in sentence if t.kind == "NUM"]
        if (
            "bead" in kinds
            and len(numbers) < 2
            and not kinds & {"double_stitch", "join", "close", "but", "ORD", "last"}
        ):
            return numbers[0] if numbers else 1
    return 0


def _sentence(tokens: list[Token], at: int) -> list[Token]:
    """The tokens of the sentence around ``at``, a few on either hand."""
    begin = at
    while begin > 0 and at - begin < _REACH and tokens[begin - 1].kind not in _ENDS:
        begin -= 1
    end = at
    while end < len(tokens) and end - at < _REACH and tokens[end].kind not in _ENDS:
        end += 1
    return tokens[begin:end]


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
