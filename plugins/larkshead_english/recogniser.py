"""Recognising English of old books by the words its convention names."""

from __future__ import annotations

import os

from larkshead.conventions.recognition import recognise
from larkshead.reading import Source


def recognise_vintage(source: Source) -> float:
    """How much a text is worded as books of 1850 to 1915 are."""
    return recognise(os.path.join(os.path.dirname(__file__), "en-vintage.yaml"), source.text)
