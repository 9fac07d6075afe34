"""Kinds of words that running text is read by."""

from __future__ import annotations

from larkshead.reading.grammar.items import FILLER

SELECTORS = frozenset({"each", "last", "ORD", "from", "after", "previous", "this", "only", "all"})
JOINS = frozenset({"join", "joining", "folded_join", "lock_join", "fasten"})
INTRO = frozenset(
    {
        *FILLER,
        "with",
        "COMMA",
        "denied",
        "by",
        "to",
        "from",
        "restating",
        "COLON",
        "large",
        "small",
        "shuttle",
        "ORD",
        "after",
        "each",
        "times",
        "only",
    }
)
