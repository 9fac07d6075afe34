"""Recognising shorthand."""

from __future__ import annotations

from larkshead.reading import Source
from larkshead.reading.texture import running, tabular


def recognise(source: Source) -> float:
    """How much a text looks like abbreviations and counts strung together."""
    return 0.9 * (1 - running(source.text)) * (1 - tabular(source.text))
