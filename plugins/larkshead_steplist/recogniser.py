"""How sure it is that a text is a step list."""

from __future__ import annotations

import re

from larkshead.reading.source import Source

_LINE = re.compile(
    r"\s*(?:ON \S+ )?(?:"
    r"(?:R|C|Ch|SR|SC|MR|JR)(?: (?:\d+|p|lp|sp|j|lj|b|h[12]:\d+|/))*(?: -> .*)?"
    r"|TURN|NOTURN|SWITCH|CUT|MP|BT (?:\?|[\d./, -]+(?:mm|cm|m|in|yd)?)|(?:LJ|ATTACH)(?: -> .*)?"
    r"|REP (?:\?|\d+) \{|\})(?:\s+#.*)?\s*"
)
_UNLIKE_OTHERS = re.compile(r"\s*(?:TURN|NOTURN|SWITCH|BT |REP (?:\?|\d+) \{|\}|ON (?:first|last|[\d,]+) [A-Z])|.* -> ")
_LOOKED_AT = 200


def recognise(source: Source) -> float:
    """0 for no, 1 for certainly: every line must be a step, and some of a form that only a step list has."""
    text = source.text[:20_000]
    lines = [line for line in text.split("\n") if line.strip() and not line.startswith("#")][:_LOOKED_AT]
    if len(source.text) > len(text) and len(lines) > 1:
        lines.pop()
    if not lines:
        return 0.0
    steps = sum(1 for line in lines if _LINE.fullmatch(line))
    share = steps / len(lines)
    if share < 0.8:
        return 0.0
    own = any(_UNLIKE_OTHERS.match(line) for line in lines)
    return share**4 * (0.98 if own else 0.8)
