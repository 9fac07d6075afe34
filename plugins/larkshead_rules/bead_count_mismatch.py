"""The rule bead-count-mismatch."""

from __future__ import annotations

from collections.abc import Iterator

from larkshead.linting import Context, Finding


def check(context: Context) -> Iterator[Finding]:
    """The beads worked are not those strung.

    Defect: a thread is said to be strung with a number of beads, and another number is worked.
    Why: beads cannot be added once the work is begun; too few end it, too many hang on the thread.
    Exempt: open lengths; beads put on with a hook at a join; a number given for more than one thread or piece.
    Fix: none; both numbers are told.
    Good (steplist):
        C 3 p b 3 p b 3
    Bad (shorthand):
        Materials: shuttle and ball, 5 beads. String all 5 beads on the ball thread before you begin.
        Abbreviations: C chain, bp picot with one bead.
        C 3 bp 3 bp 3
    Source: [BO-BEAD]; arithmetic.
    """
    strung = [thread for thread in context.pattern.threads if thread.beads]
    if len(strung) != 1 or not context.complete:
        return
    beads = strung[0].beads or 0
    worked = sum(made.beads for made in context.elements)
    if not worked or worked == beads:
        return
    first = next(element for element in context.written if element.worked[0].beads)
    yield context.finding(
        f"{beads} beads are strung on the {strung[0].name}, and {worked} are worked",
        first.step,
        span=context.span(strung[0]),
        related=[(first.step, None, "the first bead")],
        severity="error" if worked > beads else "warning",
    )
