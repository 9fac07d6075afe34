"""The rule stated-total-mismatch."""

from __future__ import annotations

from collections.abc import Iterator

from larkshead.linting import Context, Finding
from larkshead.linting.stated import Stated, stated_totals

_NAMES = {"ds": "double stitches"}
_SORTS = ("split_rings", "split_chains", "mock_rings", "josephine_rings")
NEAR = 0.1


def check(context: Context) -> Iterator[Finding]:
    """A total said in the text is not what is worked.

    Defect: a number of stitches, rings, chains, picots, joins or beads that the text gives for an element, a
        round, the work so far or the whole is not the sum of what is worked.
    Why: readers check their work against it, and a thread is measured off by it; one of the two numbers is
        wrong.
    Exempt: "about"; totals that count split rings as rings, lock joins as joins or a mock picot as a picot, or
        that do not; patterns with a repeat left open. Where stitches differ by one for every join, the author
        counts the join as a stitch: that is a habit, told once as a note.
    Fix: the total as worked, when the other totals said beside it are right.
    Good:
        Shuttle and ball.
        R 5-5-5 cl RW
        *C 6-6 RW
        R 5+5-5 cl RW, joining to the last picot of the previous R
        Repeat from * 4 more times.
        Total: 6 rings, 5 chains, 150 double stitches.
    Bad:
        Shuttle and ball.
        R 5-5-5 cl RW
        *C 6-6 RW
        R 5+5-5 cl RW, joining to the last picot of the previous R
        Repeat from * 4 more times.
        Total: 6 rings, 5 chains, 156 double stitches.
    Source: [SD-TE], [WT-TE], a join counted as a stitch [BO-503], a lock join as none [NT-3].
    """
    habit: list[Stated] = []
    wrong: list[tuple[Stated, dict[str, int]]] = []
    for stated in stated_totals(context):
        off = _off(stated)
        if off and stated.by_joins(set(off)):
            habit.append(stated)
        elif off:
            wrong.append((stated, off))
    for stated, off in wrong:
        yield _found(context, stated, off)
    if habit:
        stated = habit[0]
        yield context.finding(
            f"the {stated.said['ds']} double stitches said for {stated.where} count each of the "
            f"{stated.worked['joins'] + stated.worked['lock_joins']} joins as a stitch; without them there are "
            f"{stated.worked['ds']}",
            stated.step,
            severity="note",
        )


def _off(stated: Stated) -> dict[str, int]:
    """The names whose number said is not a number worked, with the number worked."""
    off: dict[str, int] = {}
    for name, said in stated.said.items():
        ways = stated.worked.ways(name, stated.said)
        if name in _SORTS and not stated.worked[name]:
            # None of this sort was found in the text at all: it goes by another name there.
            continue
        if said in ways or (stated.about and any(abs(said - way) <= NEAR * max(way, 1) for way in ways)):
            continue
        off[name] = ways[0]
    return off


def _found(context: Context, stated: Stated, off: dict[str, int]) -> Finding:
    told = ", ".join(f"{stated.said[name]} {_named(name, stated.said[name])}" for name in off)
    made = ", ".join(f"{count} {_named(name, count)}" for name, count in off.items())
    fix = None
    if len(off) == 1 and (len(stated.said) > 1 or next(iter(off)) == "ds"):
        name, count = next(iter(off.items()))
        fix = context.number_fix(stated.step, stated.said[name], count, "say the total as worked")
    return context.finding(
        f"the text says {told} for {stated.where}, but {made} {'is' if made.startswith('1 ') else 'are'} worked",
        stated.step,
        related=[(stated.of, None, "counted here")] if stated.of is not None else (),
        fix=fix,
    )


def _named(name: str, count: int) -> str:
    name = _NAMES.get(name, name.replace("_", " "))
    if count != 1:
        return name
    return name[:-2] if name.endswith("ches") else name.removesuffix("s")
