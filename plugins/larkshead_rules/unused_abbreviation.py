"""The rule unused-abbreviation."""

from __future__ import annotations

import re
from collections.abc import Iterator

from larkshead.linting import Context, Finding
from larkshead.reading import Span


def check(context: Context) -> Iterator[Finding]:
    """An abbreviation is listed and never used.

    Defect: the pattern's list explains a form that stands nowhere else in the text.
    Why: the reader looks for what is not there, and wonders what was left out.
    Exempt: a house list shared by a book, or by several motifs (a list of which hardly half is used).
    Fix: none.
    Good:
        Abbreviations: R ring, - picot, cl close.
        R 5-5-5 cl
    Bad:
        Abbreviations: R ring, - picot, cl close, LJ lock join.
        R 5-5-5 cl
    Source: [JK-TE], [TT-TE].
    """
    reading = context.reading
    entries = context.pattern.abbreviations
    if reading is None or not entries:
        return
    spans = [span for entry in entries if (span := context.span(entry)) is not None]
    if len(spans) < len(entries):
        return
    text = reading.source.text
    listed = Span(min(span.start for span in spans), max(span.end for span in spans))
    elsewhere = f"{text[: listed.start]}\n{text[listed.end :]}"
    used = {form.casefold() for form, _ in reading.abbreviations_used}
    unused = [entry for entry in entries if entry.form.casefold() not in used and not _stands(entry.form, elsewhere)]
    if len(unused) * 2 > len(entries):
        return
    for entry in unused:
        yield context.finding(f"{entry.form} is explained and never used", entry)


def _stands(form: str, text: str) -> bool:
    """True when the form stands in the text by itself or before a figure (R1)."""
    before = r"(?<![^\W\d_])" if form[:1].isalpha() else ""
    after = r"(?![^\W\d_])" if form[-1:].isalpha() else ""
    return re.search(f"{before}{re.escape(form)}{after}", text) is not None
