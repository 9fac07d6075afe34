"""What a reader gives back."""

from __future__ import annotations

from larkshead.model import Pattern
from larkshead.reading.notices import Notice
from larkshead.reading.origins import Origins
from larkshead.reading.source import Source, Span
from larkshead.records import dataclass, field


@dataclass(slots=True)
class Reading:
    """A pattern with its origins and notices. A reader never raises on content: it reports.

    ``abbreviations_used`` are the abbreviations and marks met in the instructions with their places, in reading order;
    ``abbreviations_defined`` those the text explains, in a list or where they stand, as written there.
    """

    source: Source
    pattern: Pattern
    origins: Origins = field(default_factory=Origins)
    notices: list[Notice] = field(default_factory=list)
    style: str = ""
    convention: str = ""
    abbreviations_used: list[tuple[str, Span]] = field(default_factory=list)
    abbreviations_defined: set[str] = field(default_factory=set)
