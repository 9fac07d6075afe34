"""Reading prose: full sentences, numbered steps, or running speech."""

from __future__ import annotations

from larkshead.conventions import Convention
from larkshead.reading import Reading, Source
from larkshead.reading.grammar.reader import read_prose
from larkshead_prose.written import read_written


def read(source: Source, convention: Convention) -> Reading:
    """The reading of a text in words: exactly where larkshead wrote it, else as a reader would take it."""
    return read_written(source, convention) or read_prose(source, convention, "prose")
