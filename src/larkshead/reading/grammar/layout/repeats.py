"""Repeats laid round the steps they are told of."""

from __future__ import annotations

from larkshead.model import (
    Attach,
    Cut,
    Element,
    Note,
    Repeat,
    StatedTotal,
)
from larkshead.reading.grammar.layout.passes import LayPasses
from larkshead.reading.grammar.layout.steps import _MOST
from larkshead.reading.grammar.said import (
    SaidMark,
    SaidOpen,
    SaidRepeat,
    SaidShut,
)
from larkshead.reading.grammar.totals import tally
from larkshead.reading.source import Span

# Marks and brackets open at once, and steps looked back over for the element a reference means.
_LOOK_BACK = 2000
_DEEPEST = 100
_COUNTS = {
    "ring": "rings",
    "chain": "chains",
    "split ring": "split_rings",
    "split chain": "split_chains",
    "mock ring": "mock_rings",
    "josephine ring": "josephine_rings",
}


class LayRepeats(LayPasses):
    """Repeats laid round the steps they are told of."""

    def _SaidMark(self, said: SaidMark) -> None:
        if said.mark == ";":
            self.clause = len(self.steps)
            return
        at = self._open_mark(said.mark)
        if said.closing and at is not None:
            self.closed[said.mark] = (self.marks[at][1], len(self.steps))
            return
        if at is not None:
            del self.marks[at:]
        self.closed.pop(said.mark, None)
        self.marks.append((said.mark, len(self.steps)))

    def _open_mark(self, mark: str) -> int | None:
        return next((i for i in range(len(self.marks) - 1, -1, -1) if self.marks[i][0] == mark), None)

    def _SaidOpen(self, said: SaidOpen) -> None:
        self.groups.append(
            (said.bracket, len(self.steps), said.times, said.span, said.closed or said.bracket in ("line", "lines"))
        )

    def _SaidShut(self, said: SaidShut) -> None:
        if not self.groups:
            if said.times:
                self.notice("unmatched-repeat", "warning", "the bracket that closes here was never opened", said.span)
            return
        self._shut(said.times, said.how, said.span, said.how == "length_wanted", said.how == "around")

    def _shut(self, times: int | None, how: str, end: Span, open_ended: bool = False, around: bool = False) -> None:
        _, start, before, span, _ = self.groups.pop()
        times = times or before
        if times is not None and how == "more":
            times += 1
        if times is not None or open_ended or around:
            self._wrap(start, times, span.join(end), "length wanted" if open_ended else "all round" if around else "")

    def _wrap(self, start: int, times: int | None, span: Span, until: str = "", end: int | None = None) -> None:
        """Lay a repeat round the steps from ``start`` on."""
        end = len(self.steps) if end is None else end
        body = self.steps[start:end]
        while body and isinstance(body[0], Note | StatedTotal) and len(body) > 1:
            body = body[1:]
            start += 1
        if not any(not isinstance(step, Note | StatedTotal) for step in body):
            return
        depth = 1 + max((self.depths.get(id(step), 0) for step in body), default=0)
        if depth > _DEEPEST:
            self.notice("nesting", "error", f"repeats nested more than {_DEEPEST} deep; this one is not read", span)
            return
        repeat = Repeat(body, times, until)
        self.around = self.around or (times is None and bool(until))
        self.depths[id(repeat)] = depth
        self.origins.record(repeat, span)
        self.steps[start:end] = [repeat]
        inside: list[tuple[str, int]] = []
        for label in reversed(self.labels):
            first, last = self.labels[label]
            if last <= start and first < start:
                break
            inside.append((label, min(first, start)))
        for label, first in reversed(inside):
            del self.labels[label]
            self.labels[label] = (first, start + 1)
        while len(self.lines) > 1 and self.lines[-1] > start:
            self.lines.pop()
        self.marks = [(mark, at) for mark, at in self.marks if at <= start]

    def _SaidRepeat(self, said: SaidRepeat) -> None:
        self._finish_alike()
        self._close_label()
        getattr(self, "_repeat_" + said.what)(said)

    def _times(self, said: SaidRepeat) -> int | None:
        """How often in all: a repeat comes on top of the first working unless it is told in all."""
        if said.times is None:
            return None
        return min(said.times if said.how == "all" else said.times + 1, _MOST)

    def _until(self, said: SaidRepeat) -> str:
        return "length wanted" if said.open_ended else "all round" if said.around else ""

    def _close_label(self) -> None:
        if self.label is not None and self.label in self.labels:
            self.labels[self.label] = (self.labels[self.label][0], len(self.steps))

    def _repeat_mark(self, said: SaidRepeat) -> None:
        closed = self.closed.pop(said.mark, None)
        at = self._open_mark(said.mark)
        if at is None:
            self.notice("unmatched-repeat", "warning", f"there is no {said.mark} to repeat from", said.span)
            return
        start = self.marks[at][1]
        del self.marks[at:]
        if start >= len(self.steps):
            self.notice("unmatched-repeat", "warning", f"nothing stands between {said.mark} and the repeat", said.span)
            return
        if said.counts:
            self._repeat_until(start, said)
            return
        times = self._times(said)
        if times is None and not (said.open_ended or said.around):
            self.notice("open-repeat", "warning", "how often to repeat is not said", said.span)
        end = closed[1] if closed is not None and closed[0] == start and closed[1] <= len(self.steps) else None
        self._wrap(start, times, said.span, self._until(said), end)

    def _repeat_line(self, said: SaidRepeat) -> None:
        """The line so far, or the line before where this one has told nothing."""
        start = self.lines[-1]
        if not any(not isinstance(s, Note | StatedTotal) for s in self.steps[start:]) and len(self.lines) > 1:
            start = self.lines[-2]
        for at in range(len(self.steps) - 2, start - 1, -1):
            if isinstance(self.steps[at], Cut | Attach):
                start = at + 1
                break
        groups = [g for g in self.groups[-3:] if g[1] >= start]
        if groups:
            start = groups[-1][1]
        if self.clause is not None and start < self.clause < len(self.steps) and self.line_repeat == self.clause - 1:
            # "R ..., Ch ... x5; R ..., Ch ... x4"
            start = self.clause
        self._wrap(start, self._times(said), said.span)
        self.line_repeat = start

    def _repeat_lines(self, said: SaidRepeat) -> None:
        """So many of the lines told last."""
        number = int(said.first or 1)
        starts = [at for at in self.lines if at < len(self.steps)]
        if number > len(starts):
            self.notice("unmatched-repeat", "warning", f"there are no {number} lines to repeat", said.span)
            return
        times = self._times(said)
        if times is None and not (said.open_ended or said.around):
            self.notice("open-repeat", "warning", "how often to repeat is not said", said.span)
        self._wrap(starts[-number], times, said.span, self._until(said))

    def _repeat_ditto(self, said: SaidRepeat) -> None:
        """The line before told again, or the element just told where the line has one."""
        if any(isinstance(step, Element) for step in self.steps[self.lines[-1] :]):
            model = next(step for step in reversed(self.steps) if isinstance(step, Element))
            self.steps.extend(self._copied([model], said.span))
        elif len(self.lines) > 1:
            self.steps.extend(self._copied(self.steps[self.lines[-2] : self.lines[-1]], said.span))

    def _repeat_clause(self, said: SaidRepeat) -> None:
        """What stands behind the last semicolon of the line, or the line."""
        start = self.clause
        if start is None or start >= len(self.steps):
            self._repeat_line(said)
        else:
            self._wrap(start, self._times(said), said.span)

    def _repeat_block(self, said: SaidRepeat) -> None:
        """The lines since the last blank line, repeat or cut; ``x 6`` stands alone on its line."""
        start = min(self.block, len(self.steps))
        for at in range(len(self.steps) - 1, start - 1, -1):
            if isinstance(self.steps[at], Repeat | Cut | Attach):
                start = at + 1
                break
        if start >= len(self.steps):
            self._repeat_line(said)
        else:
            self._wrap(start, self._times(said), said.span)

    def _repeat_bracket(self, said: SaidRepeat) -> None:
        for at in range(len(self.steps) - 1, -1, -1):
            step = self.steps[at]
            if isinstance(step, Repeat):
                self.steps.extend(self._copied([Repeat(step.steps, said.times)], said.span))
                return
        self._repeat_line(said)

    def _repeat_steps(self, said: SaidRepeat) -> None:
        if said.part and self._repeat_parts(said):
            return
        first = None if said.element_kind else self.labels.get(said.first or "")
        last = self.labels.get(said.last or said.first or "")
        if first is None or last is None:
            first, last = self._elements_labelled(said)
        if first is None and said.part in ("row", "step") and not self.labels:
            first = last = self._line_numbered(said)
        if first is None or last is None:
            missing = said.first if first is None else said.last
            self.notice("unmatched-repeat", "warning", f"there is no step {missing} to repeat", said.span)
            return
        if said.counts:
            self._repeat_until(first[0], said)
            return
        times = self._times(said)
        if last[1] >= len(self.steps):
            if times is None:
                self._wrap(first[0], None, said.span, self._until(said))
            else:
                self._wrap(first[0], times, said.span)
        else:
            copied = self._copied(self.steps[first[0] : last[1]], said.span)
            if said.times is None and not (said.open_ended or said.around):
                # "3. Repeat step 1.": it is worked once more.
                self.steps.extend(copied)
            else:
                self.add(Repeat(copied, said.times), said.span)

    def _line_numbered(self, said: SaidRepeat) -> tuple[int, int] | None:
        """The steps of a line by its number among those that work something, where neither parts nor steps have one."""
        if self.part.kind or said.first is None or not said.first.isdecimal() or said.last not in (None, said.first):
            return None
        starts = [at for at in self.lines if at < len(self.steps)]
        number = int(said.first[:9])
        if not 0 < number <= len(starts):
            return None
        return starts[number - 1], starts[number] if number < len(starts) else len(self.steps)

    def _elements_labelled(self, said: SaidRepeat) -> tuple[tuple[int, int] | None, tuple[int, int] | None]:
        """The places of elements by their labels: ``Repeat rings 3 and 4``."""
        found: list[tuple[int, int] | None] = []
        for label, kind in (
            (said.first, said.element_kind),
            (said.last or said.first, said.last_kind or said.element_kind),
        ):
            at = next(
                (
                    i
                    for i in range(len(self.steps) - 1, max(-1, len(self.steps) - _LOOK_BACK), -1)
                    if isinstance(self.steps[i], Element)
                    and getattr(self.steps[i], "label", None) == label
                    and (not kind or getattr(self.steps[i], "kind", None) == kind)
                ),
                None,
            )
            if at is None:
                found.append(None)
                continue
            end = at + 1
            while end < len(self.steps) and not isinstance(self.steps[end], Element | Repeat):
                end += 1
            found.append((at, end))
        return found[0], found[1]

    def _repeat_parts(self, said: SaidRepeat) -> bool:
        """``Repeat Rnd 2 three more times``: the part told before, worked again."""
        number = int(said.first) if said.first and said.first.isdigit() else None
        if number is None:
            return False
        if self.part.number == number and said.last in (None, said.first):
            if said.times is not None:
                self.part.times = self._times(said) or 1
            return True
        model = next((p for p in self.pattern.parts if p.number == number), None)
        if model is None:
            return False
        copied = self._copied(model.steps, said.span)
        if (said.times or 1) > 1:
            self.add(Repeat(copied, said.times), said.span)
        else:
            self.steps.extend(copied)
        return True

    def _repeat_last(self, said: SaidRepeat) -> None:
        """``Repeat the last ring 3 more times``: the element told last, with the turn behind it."""
        back = max(0, len(self.steps) - _LOOK_BACK)
        wanted = {said.element_kind, said.last_kind or said.element_kind}
        for at in range(len(self.steps) - 1, back - 1, -1):
            step = self.steps[at]
            if isinstance(step, Element):
                wanted.discard(step.kind)
            if not wanted:
                until = self._until(said)
                self._wrap(at, self._times(said) or (None if until else 2), said.span, until)
                return
        self.notice("unmatched-repeat", "warning", f"there is no {said.element_kind} to repeat", said.span)

    def _repeat_since(self, said: SaidRepeat) -> None:
        """``Repeat from B``: what stands since the step or element of that name."""
        first = None if said.element_kind else self.labels.get(said.labels[0])
        if first is None:
            first = self._elements_labelled(said)[0]
        if first is None:
            self.notice("unmatched-repeat", "warning", f"there is no step {said.labels[0]} to repeat", said.span)
            return
        times = self._times(said)
        if times is None and not (said.open_ended or said.around):
            self.notice("open-repeat", "warning", "how often to repeat is not said", said.span)
        self._wrap(first[0], times, said.span, self._until(said))

    def _repeat_labels(self, said: SaidRepeat) -> None:
        starts = [self.labels[label][0] for label in said.labels if label in self.labels]
        if not starts:
            back = max(0, len(self.steps) - _LOOK_BACK)
            names = {e.label: i for i, e in enumerate(self.steps[back:], back) if isinstance(e, Element)}
            starts = [names[label] for label in said.labels if label in names]
        if not starts:
            self.notice("unmatched-repeat", "warning", "there is no step of that name to repeat", said.span)
            return
        self._wrap(min(starts), self._times(said), said.span, self._until(said))

    def _repeat_all(self, said: SaidRepeat) -> None:
        start = min((at for _, at in self.marks), default=0)
        if said.counts:
            self._repeat_counts(said)
        elif said.times is not None or said.open_ended or said.around:
            if not self.marks:
                cuts = [
                    i
                    for i, step in enumerate(self.steps[-_LOOK_BACK:], max(0, len(self.steps) - _LOOK_BACK))
                    if isinstance(step, Cut | Attach)
                ]
                start = cuts[-1] + 1 if cuts and cuts[-1] + 1 < len(self.steps) else start
            self._wrap(start, self._times(said), said.span, self._until(said))
        self.marks.clear()

    def _repeat_until(self, start: int, said: SaidRepeat) -> None:
        """``until there are 7 rings``: as many passes as give that number with what stands before."""
        inside = tally(self.steps[start:])
        before = tally(self.steps[:start])
        for kind, wanted in said.counts.items():
            name = _COUNTS.get(kind, "rings")
            each = inside.get(name, 0)
            if each:
                passes, over = divmod(wanted - before.get(name, 0), each)
                if over or passes < 1:
                    self.notice(
                        "contradiction", "warning", f"{wanted} {name} do not come out even with what is told", said.span
                    )
                if passes >= 1:
                    self._wrap(start, passes, said.span)
                return
        self.notice("open-repeat", "warning", "how often to repeat is not said", said.span)

    def _repeat_counts(self, said: SaidRepeat) -> None:
        """Go on with the last period told until there are so many of each kind."""
        start = min((at for _, at in self.marks), default=0)
        body = [i for i in range(start, len(self.steps)) if isinstance(self.steps[i], Element)]
        if not body:
            if any(isinstance(step, Repeat) for step in self.steps):
                self.hold(
                    StatedTotal({_COUNTS.get(k, "rings"): n for k, n in said.counts.items()}),
                    tally(self.part.steps),
                    said.span,
                )
            return
        elements = [self.steps[i] for i in body]
        last = elements[-1]
        assert isinstance(last, Element)
        period = len(elements)
        for back in range(1, len(elements)):
            other = elements[-1 - back]
            assert isinstance(other, Element)
            if other.kind == last.kind and other.size == last.size and len(other.work) == len(last.work):
                period = back
                break
        first = body[len(body) - period]
        if period == len(elements):
            first = start
        unit, before = tally(self.steps[first:]), tally(self.steps[:first])
        passes: int | None = None
        for kind, wanted in said.counts.items():
            names = [n for n in _COUNTS.values() if unit.get(n)] if kind == "each" else [_COUNTS.get(kind, "rings")]
            for name in names:
                if unit.get(name):
                    number, over = divmod(wanted - before.get(name, 0), unit[name])
                    if kind == "each":
                        # So many of each thing a pass makes, be there two of a kind in it.
                        number = wanted if period == len(elements) else wanted - before.get(name, 0) // unit[name]
                        over = 0
                    if number < 1 or over:
                        self.notice(
                            "contradiction",
                            "warning",
                            f"{wanted} {name} do not come out even with what is told",
                            said.span,
                        )
                    passes = number if passes is None else max(passes, number)
        if passes is not None and passes > 1:
            self._wrap(first, passes, said.span)
        self.marks.clear()
