"""The rule unmatched-repeat."""

from __future__ import annotations

from collections.abc import Iterator

from larkshead.linting import Context, Finding

NOTICE = "unmatched-repeat"


def check(context: Context) -> Iterator[Finding]:
    """A repeat goes back to a mark that was never set, or a bracket has no fellow.

    Defect: "repeat from *" where no * stands before it in this part; brackets round a repeated passage that do
        not pair.
    Why: nobody can tell what is to be repeated.
    Exempt: a repeat from the beginning; a star that points to a footnote; a mark that stands at the head of a
        table row.
    Good:
        Shuttle and ball.
        R 5-5-5 cl RW
        *C 6-6 RW
        R 5+5-5 cl RW, joining to the last picot of the previous R
        Repeat from * 4 more times.
    Bad:
        Shuttle and ball.
        R 5-5-5 cl RW
        C 6-6 RW
        R 5+5-5 cl RW, joining to the last picot of the previous R
        Repeat from * 4 more times.
    Source: common practice, no source.
    """
    for notice in context.notices:
        if notice.kind == NOTICE:
            yield context.finding(notice.message, span=notice.span, related=notice.related)
