"""What rows and elements are called: numbers, letters, ordinals, words of the pattern's own."""

from __future__ import annotations

from larkshead.reading.grammar.places import ELEMENTS
from larkshead.reading.grammar.tokens import Token
from larkshead_table.repeats import label_key

# Kinds of words that may be what an element is called.
_NAME_KINDS = frozenset(
    {"WORD", "middle", "centre", "last", "first", "ORD", "next", "opposite", "small", "large", "base", "tip", "fabric"}
)


def is_numbered(tokens: list[Token]) -> bool:
    """Whether a cell begins with the number or letter of its row."""
    return (
        len(tokens) > 2
        and tokens[1].kind in ("STOP", "SHUT", "COLON")
        and (
            tokens[0].kind == "NUM"
            or (len(tokens[0].text) == 1 and tokens[0].text.isalpha() and tokens[0].kind not in ELEMENTS)
        )
    )


def row_label(token: Token) -> str:
    """The key of a row named by a number, a letter, or an ordinal."""
    return str(token.value) if token.kind == "ORD" else label_key(token.text)


def is_name(tokens: list[Token]) -> bool:
    """Whether a cell may be what an element is called: one to three words that say nothing else."""
    return 0 < len(tokens) <= 3 and all(token.kind in _NAME_KINDS and token.text[0].isalpha() for token in tokens)
