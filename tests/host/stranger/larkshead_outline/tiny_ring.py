"""The rule tiny-ring."""

from __future__ import annotations

from collections.abc import Iterator

from larkshead.linting import Context, Finding


def check(context: Context) -> Iterator[Finding]:
    """A ring of very few stitches.

    Defect: a ring of fewer than six double stitches.
    Why: so small a ring shows the gap at its base.
    Exempt: nothing.
    Good:
        R 5-5 cl
    Bad:
        R 2-2 cl
    Source: common practice, no source
    """
    for element in context.elements:
        if element.is_ring and element.ds < 6:
            yield context.finding(f"a ring of only {element.ds} stitches", element.step)
