"""The rule uneven-graduation."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from larkshead.linting import Context, Finding
from larkshead.model import Picot

FEWEST = 4


def check(context: Context) -> Iterator[Finding]:
    """Picots of different lengths do not rise and fall evenly.

    Defect: the stated lengths of an element's picots neither rise (or fall) all through, nor rise to the middle
        and fall again the same way.
    Why: graduated picots draw a line to the eye, and one that is out of turn breaks it.
    Exempt: one-sided graduation; lengths that alternate; a remark that it is meant.
    Good (steplist):
        R 5 p 2 lp 2 p 5
    Bad (prose):
        Shuttle and ball. Ring: 5 ds, p of 3 mm, 2 ds, p of 5 mm, 2 ds, p of 9 mm, 2 ds, p of 3 mm, 2 ds, p of 5 mm, 5
        ds, close.
    Source: graduated picots are a design element and are measured [BO-PIC], [BO-GAUGE].
    """
    for element in context.written:
        made = element.worked[0].picots
        if len(made) < FEWEST or made[0].made is None or made[0].made.length is None:
            continue
        picots = [item for item in element.step.work if isinstance(item, Picot)]
        lengths = [item.length.mm if item.length is not None else None for item in picots]
        known = [length for length in lengths if length is not None]
        if len(known) < FEWEST or len(known) < len(lengths) or len(set(known)) < 3:
            continue
        if _even(known) or context.remarks.near("on_purpose", element.step):
            continue
        shown = ", ".join(str(item.length) for item in picots)
        yield context.finding(
            f"the picots of {context.name(element.worked[0])} neither rise all through nor rise and fall alike: "
            f"{shown}",
            element.step,
        )


def _even(lengths: Sequence[float]) -> bool:
    rising = list(pairwise(lengths))
    if all(one <= other for one, other in rising) or all(one >= other for one, other in rising):
        return True
    mirrored = list(lengths) == list(reversed(lengths))
    alternating = len(set(lengths[::2])) == 1 and len(set(lengths[1::2])) == 1
    return mirrored or alternating
