"""The rule ends-not-hidden."""

from __future__ import annotations

from collections.abc import Iterator

from larkshead.linting import Context, Finding
from larkshead.model import Cut


def check(context: Context) -> Iterator[Finding]:
    """Threads are cut, and nothing is said of what is done with their ends.

    Defect: a whole pattern (one with a title and materials) ends with a cut, and nowhere are ends hidden, sewn in or
    worked
        over.
    Why: a knot alone works loose.
    Exempt: passages of a pattern; tails used as tassels or hangers; a finishing paragraph anywhere.
    Good (steplist):
        R 5 p 5
        CUT
        # Hide ends
    Bad:
        Cornflower edging
        Materials: shuttle and ball, size 20.
        R 5-5-5 cl RW
        C 6-6. Tie and cut.
    Source: a knot alone works loose [TT-MAGIC]; fewer starts, fewer ends [TS-ENDS].
    """
    pattern = context.pattern
    if not pattern.title or not (pattern.materials or pattern.threads) or context.worked.ends.hidden:
        return
    if context.remarks.anywhere("ends"):
        return
    cuts = context.actions(Cut)
    if cuts:
        yield context.finding("the threads are cut, and nothing is said of hiding the ends", cuts[-1].step)
