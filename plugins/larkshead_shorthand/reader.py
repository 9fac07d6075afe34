"""Reading shorthand: abbreviations and marks, one line an element or many to a line."""

from __future__ import annotations

from larkshead.conventions import Convention
from larkshead.reading import Reading, Source
from larkshead.reading.grammar.lines.reader import read_lines
from larkshead_shorthand.written import read_written


def read(source: Source, convention: Convention) -> Reading:
    """The reading of a shorthand text: exactly where larkshead wrote it, else as a reader would take it."""
    written = read_written(source, convention)
    if written is not None and _works(written):
        return written
    found = read_lines(source, convention, "shorthand")
    # Headings and notes alone may be what larkshead wrote, or an element that it would have written otherwise.
    return found if written is None or _works(found) else written


def _works(reading: Reading) -> bool:
    return any(part.steps for part in reading.pattern.parts)
