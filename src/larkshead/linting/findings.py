"""What a rule finds."""

from __future__ import annotations

from typing import Literal

from larkshead.reading import Severity, Span
from larkshead.records import dataclass, field


@dataclass(slots=True)
class Fix:
    """Text edits that mend a finding: ``sure`` when the pattern as worked cannot change, ``ask`` otherwise."""

    edits: list[tuple[Span, str]]
    safety: Literal["sure", "ask"] = "ask"
    message: str = ""


@dataclass(slots=True)
class Finding:
    """One finding of a rule, in the reader's terms; spans are places in the user's own text.

    ``step`` is the written step it speaks of and ``item`` the index in its work, where there is one: a step worked on
    many passes is reported once, and an allowance finds its place by it.
    """

    rule: str
    severity: Severity
    message: str
    span: Span | None = None
    related: list[tuple[Span, str]] = field(default_factory=list)
    fix: Fix | None = None
    step: object | None = field(default=None, repr=False, compare=False)
    item: int | None = field(default=None, repr=False, compare=False)
