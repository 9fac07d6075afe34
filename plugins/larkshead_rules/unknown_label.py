"""The rule unknown-label."""

from __future__ import annotations

from collections.abc import Iterator

from larkshead.linting import Context, Finding
from larkshead.linting.places import places_in, steps_with_places


def check(context: Context) -> Iterator[Finding]:
    """A label is referred to that nothing carries.

    Defect: a join names an element by a letter or a name that no element of the pattern carries, before or
        after.
    Why: the reader looks for an element that is not there.
    Exempt: names of other motifs; running numbers, which may count elements without a label; labels taken from
        a photograph.
    Fix: none.
    Good:
        Shuttle and ball.
        Ring A 5-5-5 cl RW
        C 6-6 RW
        Ring B 5+5-5 cl, joining to the last picot of ring A
    Bad:
        Shuttle and ball.
        Ring A 5-5-5 cl RW
        C 6-6 RW
        Ring B 5+5-5 cl, joining to the last picot of ring E
    Source: common practice, no source.
    """
    labels = {(element.step.label or "").strip().casefold() for element in context.written}
    labels.discard("")
    if not labels:
        return
    for step in steps_with_places(context.pattern):
        for item, place in places_in(step):
            name = (place.element.label or "").strip() if place.element is not None and place.part is None else ""
            if not name or any(mark.isdigit() for mark in name) or name.casefold() in labels:
                continue
            if any(label.endswith(" " + name.casefold()) for label in labels):
                continue
            kind = place.element.kind if place.element is not None else "element"
            yield context.finding(f"nothing in the pattern is called {kind or 'element'} {name}", step, item)
