"""A rule with a fault of its own."""

from __future__ import annotations

from collections.abc import Iterator

from larkshead.linting import Context, Finding


def check(context: Context) -> Iterator[Finding]:
    """Divide by nothing."""
    yield context.finding(f"{1 // len(context.pattern.parts[:0])} of nothing")
