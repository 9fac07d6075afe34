"""The rule label-used-twice."""

from __future__ import annotations

from collections.abc import Iterator

from larkshead.linting import Context, Finding


def check(context: Context) -> Iterator[Finding]:
    """Two elements of one round carry the same number or letter.

    Defect: two elements written in one part have the same label, and the label is a number or a single letter.
    Why: a join to that label can mean either.
    Exempt: labels in words (corner ring); numbering that begins anew in each round; an element worked again in
        a repeat.
    Good:
        Shuttle and ball.
        R1 5-5-5 cl RW
        C1 6-6 RW
        R2 5+5-5 cl, joining to the last picot of R1
    Bad:
        Shuttle and ball.
        R1 5-5-5 cl RW
        C1 6-6 RW
        R1 5+5-5 cl, joining to the last picot of R1
    Source: common practice, no source.
    """
    seen: dict[tuple[int, bool, str], object] = {}
    for element in context.written:
        label = (element.step.label or "").strip().casefold()
        if not label or len(label) > 4 or element.by_pass:
            continue
        key = (element.part, element.is_ring, label)
        if key not in seen:
            seen[key] = element.step
        elif seen[key] is not element.step:
            yield context.finding(
                f"a second {element.kind} of this round is called {element.step.label}",
                element.step,
                related=[(seen[key], None, "the first so called")],
            )
