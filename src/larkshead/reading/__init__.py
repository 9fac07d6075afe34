"""Reading: the user's text, places in it, and what every reader gives back."""

from larkshead.reading.notices import Notice, Severity
from larkshead.reading.origins import Origins
from larkshead.reading.reading import Reading
from larkshead.reading.source import Position, Source, Span

__all__ = ["Notice", "Origins", "Position", "Reading", "Severity", "Source", "Span"]
