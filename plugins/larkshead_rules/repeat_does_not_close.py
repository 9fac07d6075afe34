"""The rule repeat-does-not-close."""

from __future__ import annotations

import re
from collections.abc import Iterator

from larkshead.linting import Context, Finding
from larkshead.linting.repeats import Repeated, repeats_of
from larkshead.linting.stated import Stated, stated_totals
from larkshead.working.worked import WorkedElement

REACH = 4
_NUMBERED = re.compile(r"(.*?)[\s.#-]*(\d+)$")
_SORTS = ("split_rings", "split_chains", "mock_rings", "josephine_rings")
_ELEMENTS = ("rings", "chains", "split_rings", "split_chains", "mock_rings", "josephine_rings")


def check(context: Context) -> Iterator[Finding]:
    """The passes of a repeat do not give what the text says they give.

    Defect: with the number of passes as written, the elements do not come to the number said right after the
        repeat, nor to the number of the next labelled element (R6 after R1 and four more); or all totals of the
        pattern would be right with one pass more or fewer, and none is as it stands.
    Why: the number of a repeat is what is most easily left behind when a pattern is copied from another; the
        reader works a whole repeat too many.
    Exempt: repeats left open; totals of which some are right as the pattern stands; a last pass that differs.
    Fix: the number of passes that the other numbers agree on.
    Good:
        Shuttle and ball.
        R1 5-5-5-5 cl RW
        *C 6-6 RW
        R 5+5-5-5 cl RW, joining to the last picot of the previous R
        Repeat from * 3 more times: 5 rings and 4 chains so far.
        C 6-6 RW
        R6 5+5-5-5 cl, joining to the last picot of the previous R.
    Bad:
        Shuttle and ball.
        R1 5-5-5-5 cl RW
        *C 6-6 RW
        R 5+5-5-5 cl RW, joining to the last picot of the previous R
        Repeat from * 4 more times: 5 rings and 4 chains so far.
        C 6-6 RW
        R6 5+5-5-5 cl, joining to the last picot of the previous R.
    Source: [CC-TEST], [SD-TE].
    """
    if not context.complete:
        return
    for repeated in repeats_of(context):
        found = (
            _by_what_is_said_next(context, repeated)
            or _by_the_next_label(context, repeated)
            or _by_the_totals(context, repeated)
        )
        if found is not None:
            yield found


def _by_what_is_said_next(context: Context, repeated: Repeated) -> Finding | None:
    """A count of the work so far that stands between the repeat and the next element."""
    sequence = context.worked.sequence
    for stated in stated_totals(context):
        between = sequence[repeated.end : stated.at]
        if stated.step.scope != "sofar" or stated.at < repeated.end:
            continue
        if any(isinstance(made, WorkedElement) for made in between):
            continue
        passes = _passes_missing(repeated, [stated])
        if passes:
            return _found(context, repeated, passes, f"the text says {_told(stated)} so far", stated)
    return None


def _by_the_next_label(context: Context, repeated: Repeated) -> Finding | None:
    """The number in the label of the first ring (or chain) after the repeat, where labels run with what is worked."""
    seen: set[bool] = set()
    for made in context.worked.sequence[repeated.end : repeated.end + 12]:
        if not isinstance(made, WorkedElement) or made.part != repeated.part or made.is_ring in seen:
            continue
        seen.add(made.is_ring)
        label = _NUMBERED.fullmatch((made.step.label or "").strip())
        kind = "rings" if made.is_ring else "chains"
        each = repeated.one_pass.ways(kind)[0]
        if label is None or not each or made.passes or not _runs_with_numbers(context, made, label.group(1)):
            continue
        off = int(label.group(2)) - made.number
        passes = off // each if off % each == 0 else 0
        if passes and abs(passes) <= REACH and repeated.times + passes >= 1:
            told = f"{made.step.label} follows, and it is number {made.number} of the {kind}"
            return _found(context, repeated, passes, told, None, made)
    return None


def _runs_with_numbers(context: Context, made: WorkedElement, stem: str) -> bool:
    """True when the numbered labels of this sort before the element are those of its place in the part."""
    earlier = False
    for other in context.written:
        if other.part != made.part or other.is_ring != made.is_ring or other.worked[0].index >= made.index:
            continue
        label = _NUMBERED.fullmatch((other.step.label or "").strip())
        if label is None or label.group(1) != stem or other.times > 1:
            continue
        if int(label.group(2)) != other.worked[0].number:
            return False
        earlier = True
    return earlier


def _by_the_totals(context: Context, repeated: Repeated) -> Finding | None:
    """All totals said after the repeat are off by a whole number of its passes, and by the same."""
    later = [
        stated
        for stated in stated_totals(context)
        if stated.of is None
        and not stated.about
        and stated.step.scope in ("part", "pattern")
        and (stated.step.scope == "pattern" or stated.part == repeated.part)
    ]
    touched = {name for stated in later for name in stated.said if repeated.one_pass.ways(name)[0]}
    if len(touched) < 2 or not touched & set(_ELEMENTS):
        return None
    passes = _passes_missing(repeated, later)
    if not passes:
        return None
    return _found(context, repeated, passes, f"the text says {_told(later[0])} in all", later[0])


def _passes_missing(repeated: Repeated, stated: list[Stated]) -> int:
    """How many passes more (or fewer) make every number said right; 0 where it is right as it is or none does."""
    for passes in sorted(range(-REACH, REACH + 1), key=abs):
        if repeated.times + passes < 1:
            continue
        if all(_right(one, name, repeated, passes) for one in stated for name in one.said):
            return passes
    return 0


def _right(stated: Stated, name: str, repeated: Repeated, passes: int) -> bool:
    if name in _SORTS and not stated.worked[name]:
        # None of this sort was found in the text at all: it goes by another name there.
        return True
    ways = stated.worked.ways(name, stated.said)
    each = repeated.one_pass.ways(name, stated.said)
    return any(stated.said[name] == way + passes * one for way in ways for one in each)


def _told(stated: Stated) -> str:
    return ", ".join(
        f"{number} {'double stitches' if name == 'ds' else name.replace('_', ' ')}"
        for name, number in stated.said.items()
    )


def _found(
    context: Context,
    repeated: Repeated,
    passes: int,
    told: str,
    stated: Stated | None,
    after: WorkedElement | None = None,
) -> Finding:
    right = repeated.times + passes
    span = context.end_of_repeat(repeated.step)
    related: list[tuple[object, int | None, str]] = []
    if stated is not None:
        related.append((stated.step, None, "said here"))
    if after is not None:
        related.append((after.step, None, "the next numbered element"))
    fix = context.number_fix(repeated.step, repeated.times - 1, right - 1, "repeat it so often", span)
    fix = fix or context.number_fix(repeated.step, repeated.times, right, "repeat it so often", span)
    return context.finding(
        f"the repeat is worked {repeated.times} {'time' if repeated.times == 1 else 'times'} in all, "
        f"but {told}: that takes {right}",
        repeated.step,
        span=span,
        related=related,
        fix=fix,
    )
