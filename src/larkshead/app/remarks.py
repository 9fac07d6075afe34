"""Notices, losses and findings as remarks for a report."""

from __future__ import annotations

from typing import TYPE_CHECKING

from larkshead.app.errors import CannotRun
from larkshead.reading import Notice, Reading, Source, Span
from larkshead.reports import Mend, Place, Remark

if TYPE_CHECKING:
    from larkshead.app.convert import Converted
    from larkshead.linting.findings import Finding

# How much of a line is kept before and behind a place, for reports that show it.
_BEFORE, _BEHIND = 300, 600
# What the severity of a loss is: what is gone, or put in, weighs more than what has another shape.
_LOSS_SEVERITY = {"dropped": "warning", "approximated": "note", "assumed": "note"}


def of_notice(notice: Notice, source: Source) -> Remark:
    """A reader's notice as a remark."""
    return _remark("notice", notice.kind, notice.severity, notice.message, source, notice.span, notice.related)


def of_finding(finding: Finding, source: Source) -> Remark:
    """A rule's finding as a remark."""
    remark = _remark("finding", finding.rule, finding.severity, finding.message, source, finding.span, finding.related)
    fix = finding.fix
    if fix is not None:
        remark.mend = Mend(fix.safety, fix.message, [(Place.of(source, span), text) for span, text in fix.edits])
    return remark


def of_losses(converted: Converted) -> list[Remark]:
    """The losses of a conversion, and what differs without one, as remarks on the text that was read."""
    reading = converted.reading
    remarks = [
        _remark(
            "loss", loss.kind, _LOSS_SEVERITY[loss.kind], loss.message, reading.source, _span(reading, loss.step), []
        )
        for loss in converted.losses
    ]
    for difference in converted.differences:
        message = f"written as {converted.style} and read back, {difference.message}; this is a fault of larkshead"
        span = _span(reading, difference.step)
        remarks.append(_remark("notice", "read-back-differs", "error", message, reading.source, span, []))
    return remarks


def of_failure(failure: CannotRun) -> Remark:
    """What stopped a file, or the whole run, as a remark."""
    return Remark("notice", failure.kind, "error", failure.message, failure.file)


def of_warning(message: str) -> Remark:
    """A plugin that was left out."""
    return Remark("notice", "plugin-left-out", "warning", message)


def _span(reading: Reading, step: object) -> Span | None:
    return None if step is None else reading.origins.of(step)


def _remark(
    sort: str,
    name: str,
    severity: str,
    message: str,
    source: Source,
    span: Span | None,
    related: list[tuple[Span, str]],
) -> Remark:
    remark = Remark(sort, name, severity, message, source.name)  # type: ignore[arg-type]
    remark.related = [Place.of(source, where, words) for where, words in related]
    if span is not None:
        remark.place = Place.of(source, span)
        remark.text, remark.text_column = _line(source.text, span, remark.place.column)
    return remark


def _line(text: str, span: Span, column: int) -> tuple[str, int]:
    """The user's line where a span begins, and the column it begins at; the surroundings in an endless line."""
    start = span.start - min(column - 1, _BEFORE)
    end = text.find("\n", span.start, span.start + _BEHIND)
    return text[start : end if end >= 0 else span.start + _BEHIND], column - (span.start - start)
