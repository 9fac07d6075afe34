"""The rule unlike-sisters."""

from __future__ import annotations

from collections.abc import Iterator

from larkshead.linting import Context, Finding, WrittenElement

# What a family has to show before one of its members is called an outlier.
FEW = 2
MANY = 3


def check(context: Context) -> Iterator[Finding]:
    """An element differs in its stitch counts, picots or beads from its sisters.

    Defect: of the elements at one place of a repeat or round, one or two have other counts (picots and joins
        taken as alike) than all the rest, by a little; or a first or last pass written out differs from the
        block it belongs to.
    Why: the odd one pulls its round out of true; and the reader cannot know which of the two counts is meant.
    Exempt: elements the text tells apart (corner, large and small, a named technique); what is said to change
        on a pass; a first and a last element that agree with each other; a series that grows; a shape that
        occurs again elsewhere; a remark that it is meant.
    Fix: the sisters' counts, where they all agree.
    Good:
        Shuttle and ball.
        R 5-5-5-5 cl RW
        C 6-6 RW
        *R 5+5-5-5 cl RW, joining to the last picot of the previous R
        C 6-6 RW
        Repeat from * 4 more times.
    Bad:
        Shuttle and ball.
        R 5-5-5-5 cl RW
        C 6-6 RW
        *R 5+5-5-5 cl RW, joining to the last picot of the previous R
        C 7-7 RW
        Repeat from * 4 more times.
    Source: common practice, no source; a corner really may need 5 where the side has 6 [ZH-MOCK].
    """
    for family in context.families():
        members = [member for member in family if _comparable(member)]
        if len({id(member.shape) for member in members}) < 2 or len({_form(member) for member in members}) < 2:
            continue
        majority = _majority(members)
        if majority is None:
            continue
        usual = [member for member in members if _form(member) == _form(majority)]
        odd = [member for member in members if _form(member) != _form(majority)]
        if not odd or sum(member.times for member in odd) > FEW:
            continue
        if len({_form(member) for member in odd}) > 1 + (len(usual) >= MANY) or not _settled(usual):
            continue
        if len(odd) == FEW and odd[0].first and odd[-1].last and _form(odd[0]) == _form(odd[1]):
            continue
        for member in odd:
            if _close(member, majority, usual) and not _excused(context, member, family):
                yield _found(context, member, majority, usual)


def _found(context: Context, member: WrittenElement, majority: WrittenElement, usual: list[WrittenElement]) -> Finding:
    passes = sum(sister.times for sister in usual)
    fix = context.counts_fix(member, majority.shape.counts) if member.shape.alike == majority.shape.alike else None
    return context.finding(
        f"{context.name(member.worked[0])} is worked {member.shape}, "
        f"{'its sister' if passes == 1 else f'its {passes} sisters'} {majority.shape}"
        + (" with other beads" if member.shape.pattern == majority.shape.pattern else ""),
        member.step,
        related=[(majority.step, None, f"a sister: {majority.shape}")],
        fix=fix,
    )


def _form(element: WrittenElement) -> tuple[object, ...]:
    return (*element.shape.pattern, element.shape.beads)


def _comparable(element: WrittenElement) -> bool:
    step = element.step
    return step.kind in ("ring", "chain", "mock ring") and not element.shape.halves and not step.half_closed


def _majority(members: list[WrittenElement]) -> WrittenElement | None:
    """The member whose form is worked most; None where no form is worked more than the others."""
    passes: dict[tuple[object, ...], int] = {}
    for member in members:
        passes[_form(member)] = passes.get(_form(member), 0) + member.times
    ranked = sorted(passes.values(), reverse=True)
    if len(ranked) < 2 or ranked[0] < FEW or ranked[0] == ranked[1]:
        return None
    return next(member for member in members if passes[_form(member)] == ranked[0])


def _settled(usual: list[WrittenElement]) -> bool:
    """True when those that agree are enough to judge by: three written out, or one worked again and again."""
    return len(usual) >= MANY or any(member.in_repeat and member.times >= FEW for member in usual)


def _close(member: WrittenElement, majority: WrittenElement, usual: list[WrittenElement]) -> bool:
    """True when a slip of the pen could have made the one out of the other."""
    mine, theirs = member.shape, majority.shape
    if mine.alike == theirs.alike:
        return all(
            abs(one - other) <= max(2, other // 3) for one, other in zip(mine.counts, theirs.counts, strict=True)
        )
    if member.first or member.last or sum(sister.times for sister in usual) < MANY:
        return False
    short, full = sorted((mine.counts, theirs.counts), key=len)
    if len(full) - len(short) != 1 or len(full) < MANY or short != mine.counts:
        return False
    left_out = any(short == full[:at] + full[at + 1 :] for at in range(len(full)))
    run_together = any(short == (*full[:at], full[at] + full[at + 1], *full[at + 2 :]) for at in range(len(full) - 1))
    return left_out or run_together


def _families_by_form(context: Context) -> dict[tuple[object, ...], set[int]]:
    """The families that have an element of each form."""
    found: dict[tuple[object, ...], set[int]] = {}
    for element in context.written:
        found.setdefault(_form(element), set()).add(element.family)
    return found


def _excused(context: Context, member: WrittenElement, family: list[WrittenElement]) -> bool:
    elsewhere = len(context.cached("families by form", lambda: _families_by_form(context))[_form(member)]) > 1
    return (
        (elsewhere and len(member.shape.counts) > 1)
        or member.by_pass
        or context.remarks.near("on_purpose", member.step)
        or context.remarks.near("corner", member.step)
    )
