"""What is other on some passes, and turns told once for a passage, laid on the steps."""

from __future__ import annotations

from copy import copy

from larkshead.model import (
    BareThread,
    ByPass,
    Element,
    Join,
    Note,
    NoTurn,
    Picot,
    Repeat,
    StatedTotal,
    Step,
    Turn,
)
from larkshead.reading.grammar.layout.steps import LaySteps
from larkshead.reading.grammar.passes import apply_change, lay_change
from larkshead.reading.grammar.said import (
    Change,
    SaidChange,
    SaidCover,
)
from larkshead.reading.source import Span

# What stands between two elements without being worked.
_NO_WORK = (Turn, NoTurn, Note, StatedTotal)


def _is_ring(step: Step | None) -> bool:
    """Whether a step is a ring, or begins with one."""
    while isinstance(step, Repeat | ByPass):
        step = step.step if isinstance(step, ByPass) else step.steps[0] if step.steps else None
    return isinstance(step, Element) and "ring" in step.kind


class LayPasses(LaySteps):
    """What is other on some passes, and turns told once for a passage, laid on the steps."""

    def _lay(self, change: Change) -> bool:
        """A change told apart laid on its element; a join that is a picot on the first pass stays a join on the
        others.
        """
        if change.into == "picot" and change.passes == "first":
            return self._first_is_picot(self.part.steps, change)
        if isinstance(change.passes, int) and self._on_number(change):
            return True
        return lay_change(self.part.steps, change, self.origins)

    def _first_is_picot(self, steps: list[Step], change: Change) -> bool:
        for at, step in enumerate(steps):
            if isinstance(step, Repeat):
                if self._first_is_picot(step.steps, change):
                    return True
                continue
            plain = step.step if isinstance(step, ByPass) else step
            if (
                isinstance(plain, Element)
                and any(isinstance(i, Join) for i in plain.work)
                and (not change.element_kind or plain.kind == change.element_kind)
            ):
                spot = next(i for i, item in enumerate(plain.work) if isinstance(item, Join))
                first = copy(plain)
                first.work = [*plain.work[:spot], Picot(), *plain.work[spot + 1 :]]
                self.origins.record(first, self.origins.of(plain) or change.span)
                repeated = steps is not self.part.steps
                others = step.passes if isinstance(step, ByPass) else {}
                steps[at] = self._by_pass(plain, {"first": [first], **others}) if repeated else first
                return True
        return False

    def _SaidChange(self, said: SaidChange) -> None:
        """A change told right behind a repeat goes for its last pass; others wait until the part is told."""
        change = said.change
        last = next((s for s in reversed(self.steps[-4:]) if isinstance(s, Repeat)), None)
        if change.passes == "last" and last is not None and lay_change([last], change, self.origins):
            return
        self.pending.append(said)

    def _on_number(self, change: Change) -> bool:
        """A change of the ninth ring: the element and pass it falls on, counted through the part."""
        found: list[tuple[list[Step], int, int]] = []
        self._elements_of(self.part.steps, 1, change.element_kind or "ring", found)
        number = change.passes
        assert isinstance(number, int)
        for where, at, passes in found:
            if number > passes:
                number -= passes
                continue
            step = where[at]
            plain = step.step if isinstance(step, ByPass) else step
            assert isinstance(plain, Element)
            changed = copy(plain)
            changed.work = list(plain.work)
            if not apply_change(changed.work, change):
                return False
            self.origins.record(changed, self.origins.of(plain) or change.span)
            if passes == 1:
                where[at] = changed
                return True
            which: str | int = "last" if number == passes else "first" if number == 1 else number
            others = dict(step.passes) if isinstance(step, ByPass) else {}
            others[which] = [changed]
            where[at] = self._by_pass(plain, others)
            return True
        return False

    def _elements_of(self, steps: list[Step], passes: int, kind: str, found: list[tuple[list[Step], int, int]]) -> None:
        for at, step in enumerate(steps):
            if isinstance(step, Repeat):
                self._elements_of(step.steps, passes * (step.times or 1), kind, found)
            elif (isinstance(step, Element) and step.kind == kind) or (
                isinstance(step, ByPass) and isinstance(step.step, Element) and step.step.kind == kind
            ):
                found.append((steps, at, passes))

    def _resolve_varying(self, steps: list[Step], repeat: Repeat | None) -> None:
        """Elements with items that vary by pass differ by pass in their repeat; outside one the first is the first."""
        if not self.varying:
            return
        seen = 0
        for at, step in enumerate(steps):
            if isinstance(step, Repeat):
                self._resolve_varying(step.steps, step)
            elif isinstance(step, Element) and id(step) in self.varying:
                passes = self.varying.pop(id(step))
                seen += 1
                if repeat is not None:
                    others: dict[str | int, list[Step]] = {}
                    for which, work in passes.items():
                        other = copy(step)
                        other.work = work
                        self.origins.record(other, self.origins.of(step) or Span(0, 0))
                        others["last" if which == repeat.times else which] = [other]
                    steps[at] = self._by_pass(step, others)
                elif (seen == 1 and "first" in passes) or seen in passes:
                    step.work[:] = passes["first" if seen == 1 and "first" in passes else seen]

    def _SaidCover(self, said: SaidCover) -> None:
        if said.what == "space":
            self.spaces = said
        else:
            self.cover = said

    def _cover_spaces(self) -> None:
        """Bare thread told once for all: between any two rings that follow each other, where no other is told."""
        if self.spaces is not None and isinstance(self.spaces.step, BareThread):
            self._spaces_in(self.part.steps, self.spaces.step, self.spaces.span, None)

    def _spaces_in(self, steps: list[Step], space: BareThread, span: Span, after: Step | None) -> None:
        out: list[Step] = []
        for at, step in enumerate(steps):
            following = next((s for s in steps[at + 1 :] if not isinstance(s, _NO_WORK)), after)
            if isinstance(step, Repeat) and step.steps:
                first = next((s for s in step.steps if not isinstance(s, _NO_WORK)), None)
                self._spaces_in(step.steps, space, span, first)
            out.append(step)
            behind = steps[at + 1] if at + 1 < len(steps) else None
            if isinstance(behind, Turn | NoTurn) or not _is_ring(following):
                continue
            before = step if not isinstance(step, Turn | NoTurn) else (steps[at - 1] if at else None)
            if _is_ring(before) and not isinstance(before, Repeat):
                made = BareThread(copy(space.length))
                self.origins.record(made, span)
                out.append(made)
        steps[:] = out

    def _cover_turns(self) -> None:
        """Turns told once for the whole passage: after its elements, or between them."""
        if self.cover is None or self.cover.what != "turn":
            return
        if self.cover.between:
            self._turns_between(self.part.steps, self.cover.span, [False])
        else:
            self.part.steps[:] = self._turns_after(self.part.steps, self.cover.span)

    def _turns_after(self, steps: list[Step], span: Span) -> list[Step]:
        out: list[Step] = []
        for at, step in enumerate(steps):
            if isinstance(step, Repeat):
                step.steps[:] = self._turns_after(step.steps, span)
            out.append(step)
            following = steps[at + 1] if at + 1 < len(steps) else None
            if isinstance(step, Element | ByPass) and not isinstance(following, Turn | NoTurn):
                turn = Turn()
                self.origins.record(turn, span)
                out.append(turn)
        return out

    def _turns_between(self, steps: list[Step], span: Span, begun: list[bool]) -> None:
        out: list[Step] = []
        for step in steps:
            if isinstance(step, Repeat):
                first = begun[0]
                self._turns_between(step.steps, span, begun)
                if (
                    not first
                    and (step.times is None or step.times > 1)
                    and step.steps
                    and isinstance(step.steps[0], Element | ByPass)
                ):
                    turn = Turn()
                    self.origins.record(turn, span)
                    other = ByPass(turn, {"first": []})
                    self.origins.record(other, span)
                    step.steps.insert(0, other)
            elif isinstance(step, Element | ByPass):
                if begun[0] and not (out and isinstance(out[-1], Turn | NoTurn)):
                    turn = Turn()
                    self.origins.record(turn, span)
                    out.append(turn)
                begun[0] = True
            out.append(step)
        steps[:] = out
