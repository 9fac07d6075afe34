"""The rule crowded-picot."""

from __future__ import annotations

from collections.abc import Iterator

from larkshead.linting import Context, Finding

ORDINARY = 4
SMALL = 2
USUAL_MM = 2.0


def check(context: Context) -> Iterator[Finding]:
    """More joins go into one picot than it can hold.

    Defect: more than four joins into an ordinary picot, or more than two into one said to be small; a picot
        with a stated length takes one more for each millimetre above two.
    Why: every join takes up a bit of the picot; the last ones cannot be made, or pull it out of shape.
    Exempt: long picots without a stated length; mock picots; joins over a ring or bead.
    Good:
        Shuttle and ball.
        R 9-9 cl RW
        *C 5+5 RW, joining to the picot of the R
        Repeat from * 2 more times.
    Bad (steplist):
        R 9 sp 9 # hub
        REP 3 {
        C 5 j 5 -> ring hub, picot 1
        }
    Source: a bit of the picot is used up by every join [BO-EDG], [BO-PIC]; thresholds common practice, no
        source.
    """
    told: set[tuple[int, int]] = set()
    for picot in context.shared_picots:
        if len(picot.uses) <= SMALL or picot.made is None or picot.mock:
            continue
        element = picot.element
        size, length = picot.made.size, picot.made.length or context.pattern.picot_length
        millimetres = length.mm if length is not None else None
        if size == "long" and millimetres is None:
            continue
        holds = SMALL if size == "small" else ORDINARY
        if millimetres is not None and millimetres > USUAL_MM:
            holds += int(millimetres - USUAL_MM)
        place = (id(element.step), picot.item)
        if len(picot.uses) <= holds or place in told:
            continue
        told.add(place)
        first = picot.uses[0]
        yield context.finding(
            f"{len(picot.uses)} joins go into one {size + ' ' if size else ''}picot of {context.name(element)}; "
            f"it holds about {holds}",
            element.step,
            picot.item,
            related=[(first.step, first.item if first.item >= 0 else None, "joined here")],
            severity="note" if size != "small" and len(picot.uses) <= holds + 2 else None,
        )
