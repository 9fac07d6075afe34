"""The rule unused-joining-picot."""

from __future__ import annotations

from collections.abc import Iterator

from larkshead.linting import Context, Finding


def check(context: Context) -> Iterator[Finding]:
    """A picot made for joining is never joined.

    Defect: a picot said to be small, which is made only to be joined to, is not joined on any pass, and the
        pattern goes on after it.
    Why: either the join into it was forgotten, or another picot was joined in its place.
    Exempt: the last round, or a piece of one round, whose small picots are for sewing on or for neighbours;
        picots said to stay free; open lengths; elements all of whose picots are small (then they are for show).
    Good (steplist):
        R 6 sp 6 p 6 # A
        C 5
        R 6 j 6 p 6 -> ring A, picot 1
    Bad (steplist):
        # Round 1
        R 6 sp 6 p 6
        C 5
        R 6 j 6 p 6 -> previous ring, last picot
        # Round 2
        C 9
    Source: common practice, no source; the half-joined square [AM-SQ].
    """
    last = context.elements[-1].part if context.elements else 0
    if context.remarks.anywhere("stays_free"):
        return
    for element in context.written:
        picots = element.worked[0].picots
        if not picots or element.part == last:
            continue
        small = [picot for picot in picots if picot.made is not None and picot.made.size == "small"]
        if not small or len(small) == len(picots) > 1:
            continue
        for picot in small:
            used = any(one.uses for made in element.worked for one in made.picots if one.item == picot.item)
            if not used:
                yield context.finding(
                    f"the small picot of {context.name(element.worked[0])} is made for a join and is never joined",
                    element.step,
                    picot.item,
                )
