"""Reading shorthand: abbreviations and marks, one line an element or many to a line."""

from __future__ import annotations

from larkshead.conventions import Convention
from larkshead.reading import Reading, Source
from larkshead.reading.grammar.linereader import read_lines


def read(source: Source, convention: Convention) -> Reading:
    """The reading of a shorthand text."""
    return read_lines(source, convention, "shorthand")
