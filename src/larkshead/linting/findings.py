"""What a rule finds."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from larkshead.reading import Severity, Span


@dataclass(slots=True)
class Fix:
    """Text edits that mend a finding: ``sure`` when the pattern as worked cannot change, ``ask`` otherwise."""

    edits: list[tuple[Span, str]]
    safety: Literal["sure", "ask"] = "ask"
    message: str = ""


@dataclass(slots=True)
class Finding:
    """One finding of a rule, in the reader's terms; spans are places in the user's own text."""

    rule: str
    severity: Severity
    message: str
    span: Span | None = None
    related: list[tuple[Span, str]] = field(default_factory=list)
    fix: Fix | None = None
