"""Recognising running text."""

from __future__ import annotations

from larkshead.reading import Source
from larkshead.reading.texture import running, tabular


def recognise(source: Source) -> float:
    """How much a text looks like sentences."""
    return 0.9 * running(source.text) * (1 - tabular(source.text))
