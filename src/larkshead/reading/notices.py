"""What a reader has to say of its reading: what it assumed, could not read, or found to disagree."""

from __future__ import annotations

from typing import Literal

from larkshead.reading.source import Span
from larkshead.records import dataclass, field

Severity = Literal["error", "warning", "note"]


@dataclass(slots=True)
class Notice:
    """One remark of a reader.

    ``kind`` is a short slug: ``unread-text``, ``assumed``, ``contradiction``, ``unclear-count``, ``open-bracket``, ...
    ``severity`` error when the reading cannot be trusted there, warning when the text is defective or truly ambiguous,
    note for what was assumed or kept aside.
    """

    kind: str
    severity: Severity
    message: str
    span: Span | None = None
    related: list[tuple[Span, str]] = field(default_factory=list)
