"""The rule round-out-of-order."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from larkshead.linting import Context, Finding
from larkshead.model import Part


def check(context: Context) -> Iterator[Finding]:
    """The headings of rounds or rows skip or repeat a number.

    Defect: the numbers of the rounds (rows, motifs) of a pattern do not go up by one.
    Why: joins to "round 2" then have no round, or two, to go to; or a round has been left out.
    Exempt: a pattern whose first number is not 1 (a passage, or numbering carried on); rounds told together;
        numbering that goes down all through (from the outside in); numbering that begins anew.
    Good:
        Shuttle and ball.
        Round 1
        R 5-5-5 cl
        Round 2
        C 6-6
        Round 3
        C 7-7
    Bad:
        Shuttle and ball.
        Round 1
        R 5-5-5 cl
        Round 2
        C 6-6
        Round 4
        C 7-7
    Source: instructions in logical order [FK-TE].
    """
    kinds: dict[str, list[Part]] = {}
    for part in context.pattern.parts:
        if part.number is not None and part.kind:
            kinds.setdefault(part.kind, []).append(part)
    for kind, parts in kinds.items():
        numbers = [part.number or 0 for part in parts]
        if len(numbers) < 2 or all(after == before - 1 for before, after in pairwise(numbers)):
            continue
        for before, part in pairwise(parts):
            number, last = part.number or 0, before.number or 0
            if number == last + 1 or number == 1 or part.times > 1 or before.times > 1:
                continue
            yield context.finding(
                f"{kind} {number} comes after {kind} {last}"
                + (f"; there is no {kind} {last + 1}" if number > last + 1 else ""),
                part,
                related=[(before, None, f"{kind} {last}")],
            )
            break
