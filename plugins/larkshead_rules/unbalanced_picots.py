"""The rule unbalanced-picots."""

from __future__ import annotations

from collections.abc import Iterator

from larkshead.linting import Context, Finding, WrittenElement

SMALL = 2
# One element in so many may be uneven before unevenness is taken for the design.
RARE = 4


def check(context: Context) -> Iterator[Finding]:
    """The groups of one element do not mirror about its middle, as if one number were mistyped.

    Defect: the stitch counts of an element would read the same from both ends if one of them were changed by 1
        or 2, while its sisters (or, where it has none, all other elements) do read the same from both ends; or
        the two sides of a split ring have different totals while other split rings are even.
    Why: a ring whose picots sit off its middle pulls the ring beside it askew, and every later join with it.
    Exempt: elements whose sisters share the unevenness, or that occur mirrored elsewhere (wings, leaves, corner
        pairs); rings whose end groups together make one more like the others; onion, dimpled and other named
        techniques; work in half stitches; a remark that it is meant.
    Fix: the sisters' counts, where they all agree.
    Good:
        Shuttle and ball.
        R 5-5-5-5 cl RW
        *C 6-6 RW
        R 5+5-5-5 cl RW, joining to the last picot of the previous R
        Repeat from * 4 more times.
    Bad:
        Shuttle and ball.
        R 5-5-5-5 cl RW
        *C 6-6 RW
        R 5+5-4-5 cl RW, joining to the last picot of the previous R
        Repeat from * 4 more times.
    Bad:
        Two shuttles.
        *SR 4-4 / 7 cl
        SR 8 / 4-4 cl
        Repeat from * 4 more times.
    Source: common practice, no source; sums as first check [SD-TE].
    """
    yield from _uneven_groups(context)
    yield from _uneven_sides(context)


def _uneven_groups(context: Context) -> Iterator[Finding]:
    uneven = sum(_plain(element) for element in context.shaped(lambda shape: not shape.mirrors))
    if not uneven:
        return
    judged = [element for element in context.written if _plain(element)]
    if uneven > max(1, len(judged) // RARE):
        return
    patterns = {element.shape.counts for element in judged}
    for element in judged:
        counts = element.shape.counts
        pair = _mistyped_pair(counts)
        if pair is None or counts[::-1] in patterns or _spread_round(element):
            continue
        sisters = [sister for sister in context.sisters(element) if _plain(sister)]
        others = sisters or [other for other in judged if other is not element and len(other.shape.counts) > 1]
        if not others or (not sisters and len(others) < 2):
            continue
        if not all(other.shape.mirrors for other in others) or context.remarks.near("on_purpose", element.step):
            continue
        near, far = counts[pair[0]], counts[pair[1]]
        agreed = {sister.shape.counts for sister in sisters if len(sister.shape.counts) == len(counts)}
        fix = context.counts_fix(element, next(iter(agreed))) if len(agreed) == 1 else None
        yield context.finding(
            f"{context.name(element.worked[0])} is worked {element.shape}: {near} on one side stands against {far} "
            f"on the other, and its {'sisters' if sisters else 'fellows'} are even ({others[0].shape})",
            element.step,
            related=[(others[0].step, None, f"even here: {others[0].shape}")],
            fix=fix,
        )


def _uneven_sides(context: Context) -> Iterator[Finding]:
    parted = context.shaped(lambda shape: any("/" in mark for mark in shape.marks))
    split = [element for element in parted if element.kind == "split ring"]
    for element in split:
        sides = element.shape.sides()
        difference = abs(sides[0] - sides[1]) if len(sides) == 2 else 0
        if not 0 < difference <= SMALL or element.shape.halves:
            continue
        sisters = context.sisters(element) or [other for other in split if other is not element]
        even = [other for other in sisters if len(set(other.shape.sides())) == 1]
        if not even or len(even) < len(sisters) or context.remarks.near("on_purpose", element.step):
            continue
        yield context.finding(
            f"{context.name(element.worked[0])} has {sides[0]} stitches on its first side and {sides[1]} on its "
            f"second; other split rings are even ({even[0].shape})",
            element.step,
            related=[(even[0].step, None, f"even here: {even[0].shape}")],
        )


def _plain(element: WrittenElement) -> bool:
    step, shape = element.step, element.shape
    return (
        step.kind in ("ring", "chain", "mock ring")
        and not step.technique
        and not step.half_closed
        and not shape.halves
        and not any("t" in mark for mark in shape.marks[1:])
    )


def _spread_round(element: WrittenElement) -> bool:
    """A ring whose picots are spread evenly: what is left at its two ends makes one more like group."""
    counts = element.shape.counts
    inner = set(counts[1:-1])
    return element.is_ring and len(inner) == 1 and counts[0] + counts[-1] in inner


def _mistyped_pair(counts: tuple[int, ...]) -> tuple[int, int] | None:
    """The one pair of counts, by index, that keeps an element from mirroring by no more than a little."""
    if 0 in counts:
        return None
    last = len(counts) - 1
    pairs = [(at, last - at) for at in range(len(counts) // 2) if counts[at] != counts[last - at]]
    if len(pairs) != 1 or abs(counts[pairs[0][0]] - counts[pairs[0][1]]) > SMALL:
        return None
    return pairs[0]
