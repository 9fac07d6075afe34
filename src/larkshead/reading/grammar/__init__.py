"""The one grammar of written patterns: tokens of any language in, a pattern out."""

from larkshead.reading.grammar.reader import read_text

__all__ = ["read_text"]
