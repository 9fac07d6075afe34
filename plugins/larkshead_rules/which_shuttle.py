"""The rule which-shuttle."""

from __future__ import annotations

from collections.abc import Iterator

from larkshead.linting import Context, Finding


def check(context: Context) -> Iterator[Finding]:
    """An element does not name its shuttle where its sisters do.

    Defect: two shuttles are in use, an element names none, and all its sisters name one.
    Why: either shuttle could make it, and the colours or the way the thread lies come out differently.
    Exempt: patterns of one shuttle; a standing remark on which shuttle makes what; elements of which several name none.
    Good:
        Two shuttles.
        *C 4 DNR
        TR with SH2 5-5 cl DNR
        Repeat from * 3 more times.
        C 4 DNR
        TR with SH2 5-5 cl
    Bad:
        Two shuttles.
        *C 4 DNR
        TR with SH2 5-5 cl DNR
        Repeat from * 3 more times.
        C 4 DNR
        TR 5-5 cl
    Source: [BS-TWO], [TS-FIVE].
    """
    if sum(thread.role == "shuttle" for thread in context.pattern.threads) < 2:
        return
    for family in context.families():
        unnamed = [member for member in family if not member.step.thread]
        named = [member for member in family if member.step.thread]
        if len(unnamed) != 1 or not named or sum(member.times for member in named) < 2:
            continue
        member = unnamed[0]
        yield context.finding(
            f"{context.name(member.worked[0])} does not say which shuttle makes it; "
            f"its sisters name {named[0].step.thread}",
            member.step,
            related=[(named[0].step, None, f"{named[0].step.thread} here")],
        )
