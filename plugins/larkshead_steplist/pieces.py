"""Steps put together again from the lines they stand on: pieces of an element, and steps that differ by pass.

An element with others thrown off it stands in pieces: ``C 3``, ``SWITCH``, ``R 2 p 2``, ``SWITCH``, and then
``C 3 # continued``; where no stitches follow the thrown element, the second switch says ``# back``.
"""

from __future__ import annotations

from copy import copy

from larkshead.model import ByPass, Element, Step, Switch, Thrown
from larkshead.reading.origins import Origins
from larkshead.reading.source import Span
from larkshead.records import dataclass, field

# Elements thrown off elements, and repeats within repeats: no pattern comes near it, and what walks the model stays
# within the stack.
DEEPEST = 100
Entry = tuple[Step, str]


@dataclass(slots=True)
class Slot:
    """One base line with its mark, and what its ON lines put in its place."""

    step: Step
    mark: str
    passes: dict[str | int, Entry] = field(default_factory=dict)


def steps_of(items: list[Step | Slot], origins: Origins) -> list[Step]:
    """The steps of one block."""
    groups: list[list[Slot]] = []
    for item in items:
        slot = item if isinstance(item, Slot) else Slot(item, "")
        # How many groups before this one belong to the same step.
        back = 0
        if slot.mark == "more":
            back = 1
        elif slot.mark == "back":
            back = 3
        elif slot.mark == "continued":
            last = groups[-1][-1] if groups else None
            back = 3 + 1 if last and isinstance(last.step, Switch) and last.mark == "" else 1
        if back and len(groups) >= back:
            whole = groups[-back]
            for group in groups[len(groups) - back + 1 :]:
                whole += group
            whole.append(slot)
            del groups[len(groups) - back + 1 :]
        else:
            groups.append([slot])
    steps: list[Step] = []
    for group in groups:
        steps += _step_of(group, origins)
    return steps


def _step_of(group: list[Slot], origins: Origins) -> list[Step]:
    base = _merged([(slot.step, slot.mark) for slot in group], origins)
    keys = dict.fromkeys(key for slot in group for key in slot.passes)
    if not keys:
        return base
    passes = {key: _merged([slot.passes.get(key, (slot.step, slot.mark)) for slot in group], origins) for key in keys}
    if len(base) != 1:
        # Lines that belong together but make no one step: each differs by pass on its own.
        return [*base[:-1], _by_pass(base[-1], passes, origins)] if base else []
    return [_by_pass(base[0], passes, origins)]


def _by_pass(step: Step, passes: dict[str | int, list[Step]], origins: Origins) -> ByPass:
    made = ByPass(step, passes)
    span = origins.of(step)
    if span is not None:
        origins.record(made, span)
    return made


def _merged(entries: list[Entry], origins: Origins) -> list[Step]:
    """The steps that a run of lines makes: pieces put together, fillers left away."""
    out: list[Step] = []
    growing: dict[int, _Growing] = {}
    for step, mark in entries:
        if mark in ("left out", "more"):
            continue
        if mark == "back" and _throws(out[-3:]) and _depth(out[-1], growing) < DEEPEST:
            whole = _growing(out[-3], growing, origins)
            whole.throw(out[-1], _depth(out[-1], growing), origins)
            out[-3:] = [whole.element]
        elif mark == "continued" and len(out) > 3 and _goes_on(out[-4:], step) and _depth(out[-2], growing) < DEEPEST:
            whole = _growing(out[-4], growing, origins)
            whole.throw(out[-2], _depth(out[-2], growing), origins)
            whole.go_on(step, origins)
            out[-4:] = [whole.element]
        elif mark == "continued" and out and _same_kind(out[-1], step):
            whole = _growing(out[-1], growing, origins)
            whole.go_on(step, origins)
            out[-1] = whole.element
        else:
            out.append(step)
    for made in growing.values():
        origins.record(made.element, made.span, made.items)
    return out


def _throws(steps: list[Step]) -> bool:
    """An element, a change of shuttles, and the element thrown off the first."""
    return (
        len(steps) == 3
        and isinstance(steps[0], Element)
        and isinstance(steps[1], Switch)
        and isinstance(steps[2], Element)
    )


def _goes_on(steps: list[Step], piece: Step) -> bool:
    return _throws(steps[:3]) and isinstance(steps[3], Switch) and _same_kind(steps[0], piece)


def _same_kind(step: Step, piece: Step) -> bool:
    return isinstance(step, Element) and isinstance(piece, Element) and step.kind == piece.kind


class _Growing:
    """An element to which pieces are added: an object of its own, since passes may share the pieces."""

    def __init__(self, piece: Element, origins: Origins) -> None:
        self.element = copy(piece)
        self.element.work = piece.work.copy()
        self.span, self.items = _spans(piece, origins)
        self.depth = 0

    def throw(self, thrown: Step, depth: int, origins: Origins) -> None:
        assert isinstance(thrown, Element)
        self.depth = max(self.depth, depth + 1)
        span = origins.of(thrown) or self.span
        self.element.work.append(Thrown(thrown))
        self.items.append(span)
        self.span = self.span.join(span)

    def go_on(self, piece: Step, origins: Origins) -> None:
        assert isinstance(piece, Element)
        span, items = _spans(piece, origins)
        self.element.work += piece.work
        self.items += items
        self.span = self.span.join(span)


def _depth(step: Step, growing: dict[int, _Growing]) -> int:
    """How deep elements are thrown off elements there."""
    found = growing.get(id(step))
    return found.depth if found else 0


def _growing(step: Step, growing: dict[int, _Growing], origins: Origins) -> _Growing:
    assert isinstance(step, Element)
    found = growing.get(id(step))
    if found is None:
        found = _Growing(step, origins)
        growing[id(found.element)] = found
    return found


def _spans(element: Element, origins: Origins) -> tuple[Span, list[Span]]:
    whole = origins.of(element) or Span(0, 0)
    return whole, [origins.of(element, at) or whole for at in range(len(element.work))]
