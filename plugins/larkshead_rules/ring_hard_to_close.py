"""The rule ring-hard-to-close."""

from __future__ import annotations

from collections.abc import Iterator

from larkshead.linting import Context, Finding

MANY = 50
MANY_HALVES = 28


def check(context: Context) -> Iterator[Finding]:
    """A ring so long that it is hard to draw up.

    Defect: a ring of more than 50 double stitches, or a Josephine ring of more than 28 half stitches.
    Why: so much thread does not slide; it breaks, or the ring stays open.
    Exempt: half-closed rings, mock rings, and split rings, which are drawn up from two ends; padded and other
        named techniques.
    Good:
        One shuttle.
        R 12-12 cl
    Bad:
        One shuttle.
        R 40-40 cl
    Source: closing trouble and breaking thread [BO-OPEN], [TN-JK]; threshold common practice, no source.
    """
    for element in context.shaped(lambda shape: shape.ds > MANY or shape.halves > MANY_HALVES):
        step = element.step
        if element.kind == "josephine ring" and element.shape.halves > MANY_HALVES:
            size = f"{element.shape.halves} half stitches"
        elif element.kind == "ring" and element.shape.ds > MANY and not step.half_closed and not step.technique:
            size = f"{element.shape.ds} double stitches"
        else:
            continue
        yield context.finding(f"{context.name(element.worked[0])} of {size} will be hard to draw up", step)
