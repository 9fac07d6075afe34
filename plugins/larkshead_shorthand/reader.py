"""Reading shorthand: abbreviations and marks, one line an element or many to a line."""

from __future__ import annotations

from larkshead.conventions import Convention
from larkshead.reading import Reading, Source
from larkshead.reading.grammar.linereader import read_lines
from larkshead_shorthand.written import read_written


def read(source: Source, convention: Convention) -> Reading:
    """The reading of a shorthand text: exactly where larkshead wrote it, else as a reader would take it."""
    return read_written(source, convention) or read_lines(source, convention, "shorthand")
