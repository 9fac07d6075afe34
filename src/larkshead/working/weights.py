"""How often each written step is worked, by arithmetic: nothing is expanded."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from larkshead.model import Action, ByPass, Element, Part, Pattern, Repeat, Step
from larkshead.records import dataclass, field

PassNumbers = frozenset[int]
_NONE: PassNumbers = frozenset()
_MOST_PLACES = 10_000
_BRANCHING: frozenset[type] = frozenset({Repeat, ByPass})


def instead(step: ByPass, number: int, last: int) -> list[Step]:
    """What is worked in place of a step on pass ``number`` of ``last``.

    A pass named by its number goes before ``first`` and ``last``. A pass that is the only one is the first and
    the last: what is said of the first then goes before, since a last pass joins to passes that are not there.
    """
    passes = step.passes
    if number in passes:
        return passes[number]
    if number == 1 and "first" in passes:
        return passes["first"]
    if number == last and "last" in passes:
        return passes["last"]
    return [step.step]


def passes_worked(repeat: Repeat) -> int:
    """How many passes the working makes of a repeat: what is written, and of an open one two, or three where its last
    pass differs (a first, a plain and a last one)."""
    if repeat.times is not None:
        return max(repeat.times, 0)
    differs = any(isinstance(step, ByPass) and "last" in step.passes for step in repeat.steps)
    return 3 if differs else 2


@dataclass(slots=True)
class Weighted:
    """A written element or action with how often it is worked; ``open`` inside a repeat of unknown number."""

    step: Element | Action
    times: int
    open: bool
    part: int


# Elements and actions with how often each is worked, whether in a repeat of unknown number, and the part.
Stretch = tuple[Sequence[Element | Action], int, bool, int]


@dataclass(slots=True)
class Weights:
    """A walk over the steps as written, with how often each is worked.

    ``passes`` and ``levels_of_passes`` grow with the walk: passes of all repeats, and passes times their depth;
    ``depth`` is the deepest nesting met; ``cut_short`` is set where the pattern as written has more than ``most``
    steps.
    """

    pattern: Pattern
    most: int = 2_000_000
    passes: int = 0
    levels_of_passes: int = 0
    depth: int = 0
    cut_short: bool = False
    open_repeats: dict[int, Repeat] = field(default_factory=dict)
    _entered: dict[int, int] = field(default_factory=dict)

    def walk(self) -> Iterator[Weighted]:
        """Every element and action as written, with how often it is worked (those never worked left out)."""
        for steps, times, is_open, part in self.stretches():
            for step in steps:
                yield Weighted(step, times, is_open, part)

    def stretches(self) -> Iterator[Stretch]:
        """The same, together what is worked equally often without a repeat between."""
        seen = 0
        for number, part in enumerate(self.pattern.parts):
            if _BRANCHING.isdisjoint(map(type, part.steps)):
                times = max(part.times, 0)
                self.passes += times
                if times:
                    steps = part.steps[: max(self.most - seen, 0)]
                    seen += len(part.steps)
                    yield steps, times, False, number  # type: ignore[misc]
                self.cut_short = seen > self.most
            else:
                for step, frame in self._steps_of(part):
                    seen += 1
                    self.cut_short = self.cut_short or seen > self.most
                    if self.cut_short:
                        return
                    yield (step,), frame.outer * frame.count, frame.open, number
            if self.cut_short:
                return

    def _steps_of(self, part: Part) -> Iterator[tuple[Element | Action, _Frame]]:
        times = max(part.times, 0)
        if not times:
            return
        self.passes += times
        stack: list[tuple[Iterator[Step], _Frame]] = [(iter(part.steps), _Frame(1, times, None, _NONE, False, 0))]
        while stack:
            steps, frame = stack[-1]
            step = next(steps, None)
            if step is None:
                stack.pop()
            elif isinstance(step, Repeat):
                stack.extend(self._enter(step, frame))
            elif isinstance(step, ByPass):
                stack.extend(_choices(step, frame))
            else:
                yield step, frame
                continue
            if step is not None and self._goes_on_for_ever(step):
                self.cut_short = True
                return

    def _goes_on_for_ever(self, step: Step) -> bool:
        """Whether one and the same repeat stands in more places than anyone would write: repeats that share their steps
        can stand in as many as two to the power of their number.
        """
        entered = self._entered[id(step)] = self._entered.get(id(step), 0) + 1
        return entered > _MOST_PLACES

    def _enter(self, repeat: Repeat, frame: _Frame) -> Iterator[tuple[Iterator[Step], _Frame]]:
        around = frame.outer * frame.count
        times = passes_worked(repeat)
        if repeat.times is None:
            self.open_repeats.setdefault(id(repeat), repeat)
        if not around or not times:
            return
        depth = frame.depth + 1
        self.depth = max(self.depth, depth)
        self.passes += around * times
        self.levels_of_passes += around * times * depth
        is_open = frame.open or repeat.times is None
        yield iter(repeat.steps), _Frame(around, times, None, _NONE, is_open, depth)


@dataclass(slots=True)
class _Frame:
    """Steps worked on some passes of the repeat around them: ``only`` these, or all ``last`` passes ``but`` these."""

    outer: int
    last: int
    only: PassNumbers | None
    but: PassNumbers
    open: bool
    depth: int
    count: int = 0

    def __post_init__(self) -> None:
        self.count = self.last - len(self.but) if self.only is None else len(self.only)

    def worked_on(self, number: int) -> bool:
        if not 1 <= number <= self.last:
            return False
        return number in self.only if self.only is not None else number not in self.but

    def without(self, numbers: PassNumbers) -> _Frame:
        only = self.only - numbers if self.only is not None else None
        return _Frame(self.outer, self.last, only, self.but | numbers, self.open, self.depth)

    def on(self, number: int) -> _Frame:
        return _Frame(self.outer, self.last, frozenset((number,)), _NONE, self.open, self.depth)


def _choices(step: ByPass, frame: _Frame) -> Iterator[tuple[Iterator[Step], _Frame]]:
    """The step with the passes it is worked on, and each list of steps worked instead with its passes."""
    named: dict[int, None] = {}
    for name in step.passes:
        number = 1 if name == "first" else frame.last if name == "last" else name
        if isinstance(number, int) and frame.worked_on(number):
            named[number] = None
    others = frame.without(frozenset(named))
    if others.count:
        yield iter((step.step,)), others
    for number in named:
        yield iter(instead(step, number, frame.last)), frame.on(number)
