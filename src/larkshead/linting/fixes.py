"""Text edits that mend a finding, made only where the text says exactly what is to be replaced."""

from __future__ import annotations

import re
from collections.abc import Sequence

from larkshead.linting.findings import Fix
from larkshead.linting.shapes import Shape, shape_of
from larkshead.model import Element, Stitches
from larkshead.reading import Reading, Span


def counts_fix(reading: Reading | None, element: Element, counts: Sequence[int]) -> Fix | None:
    """Give an element other stitch counts; None unless each count to be changed stands in the text as that number."""
    if reading is None:
        return None
    shape = shape_of(element)
    if len(shape.counts) != len(counts):
        return None
    edits: list[tuple[Span, str]] = []
    for group, (old, new) in enumerate(zip(shape.counts, counts, strict=True)):
        if old == new:
            continue
        item = _stitches_of(element, shape, group)
        span = reading.origins.of(element, item) if item is not None else None
        if span is None or reading.source.quote(span).strip() != str(old):
            return None
        edits.append((span, str(new)))
    return Fix(edits, "ask", "give it the counts of its sisters") if edits else None


def number_fix(reading: Reading | None, span: Span | None, old: int, new: int, message: str) -> Fix | None:
    """Replace the one number ``old`` that stands in a span; None where it stands there not once or more than once."""
    if reading is None or span is None:
        return None
    found = [hit for hit in re.finditer(r"\d+", reading.source.quote(span)) if hit.group() == str(old)]
    if len(found) != 1:
        return None
    start = span.start + found[0].start()
    return Fix([(Span(start, start + len(str(old))), str(new))], "ask", message)


def _stitches_of(element: Element, shape: Shape, group: int) -> int | None:
    """The index of the one item that holds the stitches of a group."""
    low = shape.items[group - 1] if group else -1
    high = shape.items[group] if group < len(shape.items) else len(element.work)
    items = [at for at in range(low + 1, high) if isinstance(element.work[at], Stitches)]
    return items[0] if len(items) == 1 else None
