"""The rule stray-turn."""

from __future__ import annotations

from collections.abc import Iterator

from larkshead.linting import Context, Finding, Gap
from larkshead.model import BareThread, Cut


def check(context: Context) -> Iterator[Finding]:
    """A turn where the like gaps have none.

    Defect: between two rings of a clover (no thread between them, one joined to the other) the work is turned,
        while it is not turned between the others.
    Why: the rings of a clover lie side by side on one side of the work; the turned one would fall behind the
        others.
    Exempt: rings with bare thread between them; one-shuttle work turned at every ring; a ring thrown to the
        other side.
    Good:
        Shuttle and ball.
        Abbreviations: Ra, Rb and Rc the three rings, C chain, - picot, + join, RW reverse work.
        *Ra 4-4-4 cl DNR
        Rb 4+6-6-4 cl DNR, joining to the last picot of Ra
        Rc 4+4-4 cl RW, joining to the last picot of Rb
        C 8 RW
        Repeat from * 3 more times.
    Bad:
        Shuttle and ball.
        Abbreviations: Ra, Rb and Rc the three rings, C chain, - picot, + join, RW reverse work.
        *Ra 4-4-4 cl RW
        Rb 4+6-6-4 cl DNR, joining to the last picot of Ra
        Rc 4+4-4 cl RW, joining to the last picot of Rb
        C 8 RW
        Repeat from * 3 more times.
    Source: do not turn round a floating ring [BO-TOR]; rings of a clover have no thread between [WL-02].
    """
    close = [gap for gap in context.gaps if _side_by_side(gap)]
    unturned: dict[int, Gap] = {}
    for gap in close:
        if not gap.turns:
            unturned.setdefault(gap.before.part, gap)
    for gap in close:
        other = unturned.get(gap.before.part)
        if gap.turns % 2 and other is not None and not context.remarks.near("on_purpose", gap.before.step):
            yield context.finding(
                f"the work is turned between {context.name(gap.before)} and {context.name(gap.after)}; it is "
                f"not between {context.name(other.before)} and {context.name(other.after)}",
                gap.before.step,
                related=[(other.before.step, None, "not turned after this one")],
            )


def _side_by_side(gap: Gap) -> bool:
    """Two rings worked one straight after the other, the second joined to the first."""
    if not (gap.before.is_ring and gap.after.is_ring) or gap.before.part != gap.after.part:
        return False
    if gap.has(BareThread, Cut) or "split" in gap.before.kind + gap.after.kind:
        return False
    return any(join.into is gap.before for join in gap.after.joins)
