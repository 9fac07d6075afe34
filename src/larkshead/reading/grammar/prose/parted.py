"""Series of like passages: named and counted before or after they are told, parted by something, the last one without what follows the others."""

from __future__ import annotations

from copy import deepcopy

from larkshead.model import BareThread, ByPass, Cut, Element, Note, NoTurn, Repeat, Step, Turn
from larkshead.reading.grammar.items import items_of, spans_of
from larkshead.reading.grammar.prose.repeated import Repeated
from larkshead.reading.grammar.said import SaidBeside, SaidBetween, SaidEvery, SaidRepeat, SaidTail, SaidTrim, SaidUnit
from larkshead.reading.source import Span

# Steps of a passage whose last time is told apart, at most.
_MOST_APART = 500
_WORKED = (Element, Repeat, ByPass)


class Series(Repeated):
    """The repeats of named passages, and what stands between one and the next."""

    def __init__(self) -> None:
        super().__init__()
        # How many there are to be of a passage that is not told yet.
        self.expected: dict[str, tuple[int, Span]] = {}
        self.between_at: int | None = None
        self.between: list[Step] = []
        self.trim: SaidTrim | None = None
        # The name of the passage repeated last.
        self.told_name = ""

    def _SaidUnit(self, said: SaidUnit) -> None:
        if said.told:
            self.units.setdefault(said.name, self._unit_start())
        elif said.like:
            self.units[said.name] = self.units.get(said.like, self._unit_start())
        elif (
            said.name not in self.units
            or self._just_repeated()
            or not self._worked(self.steps[self.units[said.name] :])
        ):
            self.units[said.name] = len(self.steps)

    def _repeat_unit(self, said: SaidRepeat) -> None:
        name = next(iter(said.labels), "")
        told = self.units.get(name, self._unit_start())
        if name and said.times is not None and not self._worked(self.steps[told:]):
            self.expected[name] = (said.times, said.span)
            return
        if name and self._just_repeated() and self.told_name not in ("", name):
            # "Two hearts make a group. Five groups": the passage is made of those counted before.
            self._wrap(told, self._times(said), said.span)
        else:
            super()._repeat_unit(said)
        self.told_name = name
        self.expected.pop(name, None)
        self._lay_between()

    def _repeat_whole(self, said: SaidRepeat) -> None:
        """A passage counted before it was told is told to its end."""
        name = next(iter(said.labels), "")
        start = self.units.get(name)
        if name in self.expected and start is not None and self._worked(self.steps[start:]):
            times, span = self.expected.pop(name)
            self._wrap(start, times, span)
            self.told_name = name

    def _repeat_lot(self, said: SaidRepeat) -> None:
        """So many more of the passage worked last, apart from those; ``mark`` part: a share of as many as the first lot."""
        lots = [s for s in self.steps if isinstance(s, Repeat)]
        if not lots:
            self.notice("unread-text", "warning", "more of what is not told", said.span)
            return
        for again in self.copied([lots[-1]], said.span):
            assert isinstance(again, Repeat)
            again.times = said.times
            self._record_again([again], said.span)
            self.add(again, said.span)
            self.told_repeat = again

    def _repeat_another(self, said: SaidRepeat) -> None:
        """One more of a named passage, after those that were counted."""
        at = self._last_worked()
        last = self.steps[at] if at is not None else None
        if not isinstance(last, Repeat) or last is not self.told_repeat:
            return
        body = self.copied(last.steps, said.span)
        _cut_short(body, "")
        self._record_again(body, said.span)
        self.steps.extend(body)

    def _SaidBetween(self, said: SaidBetween) -> None:
        if said.opens:
            self.between_at = len(self.steps)
            return
        at, self.between_at = self.between_at, None
        if at is None or all(isinstance(step, Note) for step in self.steps[at:]):
            return
        self.between = [step for step in self.steps[at:] if not isinstance(step, Note)]
        self.steps[at:] = [step for step in self.steps[at:] if isinstance(step, Note)]
        if self._just_repeated():
            self._lay_between()

    def _lay_between(self) -> None:
        """Lay what stands between the passages of the series just counted, and take from the last what it has not."""
        at = self._last_worked()
        last = self.steps[at] if at is not None else None
        if at is None or not isinstance(last, Repeat) or last is not self.told_repeat:
            return
        if self.between and last.steps and all(isinstance(step, BareThread) for step in self.between):
            ending = next((step for step in reversed(last.steps) if not isinstance(step, Note)), None)
            if isinstance(ending, BareThread):
                # The thread told with the passage stands between it and the next, and not behind the last.
                self.between, self.trim = [], SaidTrim(self.origins.of(last) or Span(0, 0))
        if self.between and last.times is not None and last.times > 1 and small_enough(last.steps):
            end = deepcopy(last.steps)
            self._record_again(end, self.origins.of(last))
            last.steps.extend(self.between)
            self._end_apart(at, last, end)
            self.between = []
        if self.trim is not None:
            self._SaidTrim(self.trim)

    def _SaidTrim(self, said: SaidTrim) -> None:
        at = self._last_worked()
        last = self.steps[at] if at is not None else None
        if at is None or not isinstance(last, Repeat) or last is not self.told_repeat:
            self.trim = said
            return
        self.trim = None
        if not small_enough(last.steps):
            return
        end = deepcopy(last.steps)
        if last.times is None or last.times < 2 or not _cut_short(end, said.kind):
            return
        self._record_again(end, self.origins.of(last))
        self._end_apart(at, last, end)

    def _end_apart(self, at: int, repeat: Repeat, end: list[Step]) -> None:
        """The last pass of a repeat told apart, since it is another."""
        repeat.times = (repeat.times or 1) - 1
        self.steps[at + 1 : at + 1] = end
        if repeat.times == 1:
            self.steps[at : at + 1] = repeat.steps

    def _SaidBeside(self, said: SaidBeside) -> None:
        at = self._last_worked()
        last = self.steps[at] if at is not None else None
        step = deepcopy(said.step)
        self.origins.record(step, said.span)
        if isinstance(last, Repeat):
            last.steps.insert(0 if said.before else len(last.steps), step)
        elif at is not None:
            self.steps.insert(at if said.before else at + 1, step)

    def _SaidTail(self, said: SaidTail) -> None:
        self.trim = None
        told = next((step for step in reversed(self.steps) if not isinstance(step, Note)), None)
        ending = (
            next((s for s in reversed(told.steps) if not isinstance(s, Note)), None)
            if isinstance(told, Repeat)
            else told
        )
        if not isinstance(ending, type(said.step)):
            self.add(said.step, said.span)

    def _SaidEvery(self, said: SaidEvery) -> None:
        """A series of like elements becomes passes of so many, of which one is another."""
        at = self._last_worked()
        last = self.steps[at] if at is not None else None
        plain = [step for step in last.steps if isinstance(step, Element)] if isinstance(last, Repeat) else []
        if not isinstance(last, Repeat) or at is None or last.times is None or len(plain) != 1:
            self.notice("unread-text", "warning", "this speaks of a series that is not told", said.span)
            return
        other = Element(plain[0].kind, items_of(said.element.pieces))
        self.origins.record(other, said.element.span, spans_of(said.element.pieces))

        def passes(times: int) -> list[Step]:
            if times < 1:
                return []
            body = deepcopy(last.steps)
            self._record_again(body, self.origins.of(last))
            return body if times == 1 else [self._recorded(Repeat(body, times), said.span)]

        changed: list[Step] = []
        for step in last.steps:
            if step is plain[0]:
                changed.append(other)
            elif not isinstance(step, Note):
                changed.append(self._recorded(deepcopy(step), said.span))
        rounds, over = divmod(last.times, said.step)
        whole = [*passes(said.first - 1), *changed, *passes(said.step - said.first)]
        rest = passes(over)
        if over >= said.first:
            again = deepcopy(changed)
            self._record_again(again, said.span)
            rest = [*passes(said.first - 1), *again, *passes(over - said.first)]
        laid: list[Step] = (
            whole if rounds == 1 else [self._recorded(Repeat(whole, rounds), said.span)] if rounds else []
        )
        self.steps[at : at + 1] = [*laid, *rest]
        self.told_repeat = next((s for s in laid if isinstance(s, Repeat)), None)

    def _recorded(self, step: Step, span: Span) -> Step:
        self.origins.record(step, span)
        return step

    def _settle_expected(self) -> None:
        """Passages counted before they were told are worked so many times, once they are told."""
        for name, (times, span) in self.expected.items():
            start = self.units.get(name)
            if start is None or not self._worked(self.steps[start:]):
                continue
            end = len(self.steps)
            while end > start and isinstance(self.steps[end - 1], Note | Cut):
                end -= 1
            self._wrap(start, times, span, end=end)
            self._lay_between()
        self.expected.clear()
        if self.between or self.trim:
            self._lay_between()
        # What was to part a series that is never counted stands where it was told.
        self.steps.extend(self.between)
        self.between, self.trim = [], None

    def _last_worked(self) -> int | None:
        return next((i for i in range(len(self.steps) - 1, -1, -1) if isinstance(self.steps[i], _WORKED)), None)

    def _record_again(self, steps: list[Step], span: Span | None) -> None:
        if span is None:
            return
        for step in steps:
            self.origins.record(step, span)
            if isinstance(step, Repeat):
                self._record_again(step.steps, span)


def small_enough(steps: list[Step]) -> bool:
    """Whether a passage is no longer than one that is told apart for its end: copies of copies would grow without end."""
    left = _MOST_APART
    rest = [*steps]
    while rest and left > 0:
        step = rest.pop()
        left -= 1
        if isinstance(step, Repeat):
            rest += step.steps
    return left > 0


def _cut_short(steps: list[Step], kind: str) -> bool:
    """Drop what follows the last element (of another kind than ``kind``); whether anything was there to drop."""
    keep = len(steps)
    while keep and (
        isinstance(steps[keep - 1], BareThread | Turn | NoTurn | Note)
        or (kind and isinstance(steps[keep - 1], Element) and steps[keep - 1].kind == kind)  # type: ignore[union-attr]
    ):
        keep -= 1
    dropped = any(not isinstance(step, Note) for step in steps[keep:])
    if not keep or not dropped:
        return False
    del steps[keep:]
    return True
