"""Totals said in the text, each beside what is worked over the stretch it speaks of."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from larkshead.linting.totals import Totals, totals_of
from larkshead.model import StatedTotal
from larkshead.records import dataclass
from larkshead.working.worked import WorkedElement, WorkedPart

if TYPE_CHECKING:
    from larkshead.linting.context import Context


@dataclass(slots=True)
class Stated:
    """A total said (``said``, by the names of StatedTotal) and the totals worked over its stretch.

    ``where`` names the stretch in words; ``of`` is the element it is said of, where it is one; ``at`` the index of the
    saying in the worked sequence.
    """

    step: StatedTotal
    said: dict[str, int]
    worked: Totals
    where: str
    of: object | None = None
    about: bool = False
    at: int = 0
    part: int = 0

    def by_joins(self, off: set[str]) -> bool:
        """True when only stitches differ, by just one for every join."""
        joins = self.worked["joins"]
        return (
            off == {"ds"}
            and joins > 1
            and self.said["ds"] - self.worked["ds"]
            in (
                joins,
                joins + self.worked["lock_joins"],
            )
        )


def stated_totals(context: Context) -> list[Stated]:
    """Every total said of a stretch whose work is known for certain, once for each saying; computed once."""
    return context.cached("stated totals", lambda: list(_stated(context)))


def _stated(context: Context) -> Iterator[Stated]:
    seen: set[int] = set()
    for made in context.actions(StatedTotal):
        step = made.step
        if not isinstance(step, StatedTotal) or (id(step) in seen and step.scope != "element"):
            continue
        seen.add(id(step))
        yield from _beside(context, step, made.index, made.part)


def _beside(context: Context, step: StatedTotal, at: int, part: int) -> Iterator[Stated]:
    sequence = context.worked.sequence
    if step.scope == "element" or step.each:
        for element in _elements_meant(context, step, at):
            name = context.name(element)
            yield Stated(step, dict(step.counts), totals_of([element]), name, element.step, step.about, at, part)
        return
    if not context.complete:
        return
    if step.scope == "pattern":
        start, end, where = 0, len(sequence), "the whole"
    else:
        start, end, where = _part_meant(context, step, part)
        end = min(end, at) if step.scope == "sofar" else end
        where = "the work so far" if step.scope == "sofar" else where
    if step.of and step.scope == "pattern":
        found = _part_named(context, step.of)
        if found is not None:
            start, end, where = found.start, found.end, step.of
        else:
            called = _all_called(context, step.of)
            if called:
                yield Stated(step, dict(step.counts), totals_of(called), where, None, step.about, at, part)
            return
    yield Stated(step, dict(step.counts), _totals_between(context, start, end), where, None, step.about, at, part)


def _totals_between(context: Context, start: int, end: int) -> Totals:
    """The totals of a stretch; where they are told again and again, each goes on from the one before."""
    known: dict[int, tuple[int, Totals]] = context.cached("totals from a place on", dict)
    reached, before = known.get(start, (start, None))
    if reached > end:
        reached, before = start, None
    totals = totals_of(context.worked.sequence[reached:end], before)
    known[start] = end, totals
    return totals


def _all_called(context: Context, words: str) -> list[WorkedElement]:
    """Every element that goes by these words."""
    known: dict[str, list[WorkedElement]] = context.cached("elements called so", dict)
    if words not in known:
        known[words] = [made for made in context.elements if _called(made, words)]
    return known[words]


def _elements_meant(context: Context, step: StatedTotal, at: int) -> list[WorkedElement]:
    sequence = context.worked.sequence
    if step.each:
        meant = _all_called(context, step.of)
        return list({id(made.step): made for made in reversed(meant)}.values())[::-1]
    for before in range(at - 1, -1, -1):
        made = sequence[before]
        if isinstance(made, WorkedElement) and made.thrown_from is None and (not step.of or _called(made, step.of)):
            return [made]
    return []


def _part_meant(context: Context, step: StatedTotal, part: int) -> tuple[int, int, str]:
    found = _part_named(context, step.of) if step.of else None
    if found is None:
        found = next((p for p in context.worked.parts if p.number == part), None)
    if found is None:
        return 0, len(context.worked.sequence), "the whole"
    named = context.of_part(found.number).removeprefix(" of ") or "this part"
    return found.start, found.end, named


def _part_named(context: Context, name: str) -> WorkedPart | None:
    wanted = " ".join(name.casefold().split())
    for worked in context.worked.parts:
        part = worked.part
        names = {part.name.casefold()} if part.name else set()
        if part.number is not None:
            names |= {f"{part.kind or 'part'} {part.number}".casefold(), str(part.number)}
        if wanted in names:
            return worked
    return None


def _called(made: WorkedElement, name: str) -> bool:
    """True when an element is what ``name`` speaks of: a label, the words of a label, a kind, a size with a kind."""
    step = made.step
    wanted = " ".join(name.casefold().split())
    label = (step.label or "").casefold()
    names = {label, step.kind, f"{step.size} {step.kind}".strip()}
    return wanted in names or wanted.removesuffix("s") in names
