"""Remarks: notices of readers, losses of writers and findings of rules, all in one shape for reports."""

from __future__ import annotations

from typing import Any, Literal

from larkshead.reading import Severity, Source, Span
from larkshead.records import dataclass, field

SEVERITIES: tuple[Severity, ...] = ("note", "warning", "error")


@dataclass(slots=True)
class Place:
    """A stretch of the user's text; lines and columns from 1, ``end_column`` exclusive. ``words`` say what is there."""

    line: int
    column: int
    end_line: int
    end_column: int
    words: str = ""

    @classmethod
    def of(cls, source: Source, span: Span, words: str = "") -> Place:
        """The place of a span in its source."""
        start, end = source.position(span.start), source.position(max(span.start, span.end))
        return cls(start.line, start.column, end.line, end.column, words)


@dataclass(slots=True)
class Mend:
    """How a finding could be mended: texts to put in place of what stands there.

    ``safety`` is sure when the pattern as worked cannot change by it, else ask.
    """

    safety: str
    message: str
    edits: list[tuple[Place, str]]


@dataclass(slots=True)
class Remark:
    """One thing said about a file (or about the program, then ``file`` is None).

    ``name`` is the rule's name for a finding, else the kind of the notice or loss; ``sort`` tells which. ``text`` is
    the user's own line where the remark stands, for reports that show it; of an endless line it is the surroundings,
    and ``text_column`` is where in the line they begin.
    """

    sort: Literal["finding", "notice", "loss"]
    name: str
    severity: Severity
    message: str
    file: str | None = None
    place: Place | None = None
    related: list[Place] = field(default_factory=list)
    text: str = ""
    text_column: int = 1
    mend: Mend | None = None

    def as_json(self) -> dict[str, Any]:
        """The shape that ``report.json`` among the schemas describes."""
        found: dict[str, Any] = {
            "file": self.file,
            "rule" if self.sort == "finding" else "kind": self.name,
            "severity": self.severity,
            "message": self.message,
            **_json(self.place),
            "related": [{**_json(place), "message": place.words} for place in self.related],
        }
        if self.mend is not None:
            edits = [{**_json(place), "text": text} for place, text in self.mend.edits]
            found["fix"] = {"safety": self.mend.safety, "message": self.mend.message, "edits": edits}
        return found

    def at_least(self, level: str) -> bool:
        """True when this counts as much as ``level`` (note, warning, error) or more; never for ``never``."""
        return level in SEVERITIES and SEVERITIES.index(self.severity) >= SEVERITIES.index(level)


def _json(place: Place | None) -> dict[str, int | None]:
    if place is None:
        return {"line": None, "column": None, "end_line": None, "end_column": None}
    return {
        "line": place.line,
        "column": place.column,
        "end_line": place.end_line,
        "end_column": place.end_column,
    }


@dataclass(slots=True)
class FileReport:
    """The remarks on one file; ``coverage`` how much of its words was understood, kept as notes, and not read."""

    file: str
    remarks: list[Remark] = field(default_factory=list)
    coverage: tuple[int, int, int] | None = None


@dataclass(slots=True)
class Report:
    """All there is to report in one run; ``color`` when it is printed where colours show, ``summary`` when a last line
    should sum it up; ``doubts`` is how many warnings and errors the readers gave, which are told apart."""

    files: list[FileReport] = field(default_factory=list)
    color: bool = False
    summary: bool = False
    doubts: int = 0
