"""Reading prose: full sentences, numbered steps, or running speech."""

from __future__ import annotations

from larkshead.conventions import Convention
from larkshead.reading import Reading, Source
from larkshead.reading.grammar.reader import read_prose


def read(source: Source, convention: Convention) -> Reading:
    """The reading of a text in words."""
    return read_prose(source, convention, "prose")
