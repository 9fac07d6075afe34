"""The rule split-ring-sides-unstated."""

from __future__ import annotations

from collections.abc import Iterator

from larkshead.linting import Context, Finding
from larkshead.model import SideChange


def check(context: Context) -> Iterator[Finding]:
    """A split ring without the division between its two threads.

    Defect: the work of a split ring does not say where the second thread takes over.
    Why: where the thread climbs out depends on it; half and half is only a guess.
    Exempt: patterns in which no split ring says it (a standing remark is then likely); a remark on halves.
    Good:
        Two shuttles.
        SR 6 / 6 cl
    Bad:
        Two shuttles.
        SR 12 cl
    Source: the slash divides the sides in written patterns [NT-4], [GS-NEED].
    """
    if context.remarks.anywhere("half_and_half"):
        return
    for element in context.written:
        if element.kind == "split ring" and element.step.work:
            if any(isinstance(item, SideChange) for item in element.step.work):
                continue
            yield context.finding(
                f"{context.name(element.worked[0])} does not say how its {element.shape.ds} stitches are divided "
                f"between the two threads",
                element.step,
            )
