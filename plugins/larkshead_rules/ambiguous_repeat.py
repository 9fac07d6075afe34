"""The rule ambiguous-repeat."""

from __future__ import annotations

from collections.abc import Iterator

from larkshead.linting import Context, Finding
from larkshead.model import Repeat


def check(context: Context) -> Iterator[Finding]:
    """How often a passage is worked is not settled.

    Defect: a repeat gives no number and no end to work to.
    Why: the reader cannot know when the round is full.
    Exempt: "for the length wanted", "all round", "until"; a number of elements given elsewhere that settles it makes it
        a note.
    Good:
        Shuttle and ball.
        R 5-5-5 cl RW
        *C 6-6 RW
        R 5+5-5 cl RW, joining to the last picot of the previous R
        Repeat from * for the length wanted.
    Bad:
        Shuttle and ball.
        R 5-5-5 cl RW
        *C 6-6 RW
        R 5+5-5 cl RW, joining to the last picot of the previous R
        Repeat from *.
    Source: [CC-TEST]; common practice, no source.
    """
    for repeat in context.worked.open_repeats:
        if not isinstance(repeat, Repeat) or repeat.until:
            continue
        yield context.finding(
            "the text does not say how often this is repeated", repeat, span=context.end_of_repeat(repeat)
        )
    if context.worked.open_repeats:
        return
    for notice in context.notices:
        if notice.kind == "open-repeat":
            message = f"how often this is repeated is not said here: {notice.message}"
            yield context.finding(message, None, span=notice.span, severity="note")
