"""Working a pattern: the loop that goes through it step by step."""

from __future__ import annotations

from larkshead.garbage import NoCollecting
from larkshead.model import (
    Attach,
    BareThread,
    ByPass,
    Cut,
    Element,
    HideEnds,
    Join,
    LockJoin,
    MockPicot,
    Part,
    Pattern,
    Place,
    Repeat,
    Step,
    Switch,
    Turn,
)
from larkshead.working.limits import Limits, beyond_limits
from larkshead.working.picots import places_of
from larkshead.working.places import Places
from larkshead.working.plans import JOIN, PICOT, Plan, Plans
from larkshead.working.scopes import Frame
from larkshead.working.threads import Threads
from larkshead.working.weights import instead, passes_worked
from larkshead.working.worked import (
    Position,
    Problem,
    Worked,
    WorkedAction,
    WorkedElement,
    WorkedJoin,
    WorkedPart,
    WorkedPicot,
)
from larkshead.working.written import Written

_UNSAID = Place()


def work(pattern: Pattern, limits: Limits | None = None) -> Worked:
    """Work a pattern: expand every pass, resolve every place, follow every thread.

    Never raises on content. What cannot be resolved stays with its reason; a pattern beyond the limits comes back
    with a problem and nothing worked, before any of it is expanded.
    """
    plans = Plans()
    problem, weights = beyond_limits(pattern, limits or Limits(), plans)
    open_repeats: list[Step] = list(weights.open_repeats.values())
    if problem is not None:
        return Worked(pattern, problems=[problem], open_repeats=open_repeats, threads_known=bool(pattern.threads))
    with NoCollecting():
        written = Written(pattern, plans)
        worker = _Worker(pattern, written)
        worker.run()
        if worker.places.picots.found_joined_counted:
            # A number fitted only with the joined picots counted: the pattern counts so throughout.
            worker = _Worker(pattern, written, joined_counted=True)
            worker.run()
    worker.worked.open_repeats = open_repeats
    return worker.worked


class _Steps:
    """Where the work stands in one list of steps: a repeat's, with its pass, or what is worked instead of a step."""

    __slots__ = ("at", "frame", "of_passes", "passes", "steps")

    def __init__(
        self, steps: list[Step], frame: Frame | None, passes: tuple[int, ...], of_passes: tuple[int, ...]
    ) -> None:
        self.steps = steps
        self.frame = frame
        self.passes = passes
        self.of_passes = of_passes
        self.at = 0


class _Worker:
    def __init__(self, pattern: Pattern, written: Written, joined_counted: bool = False) -> None:
        self.pattern = pattern
        self.threads = Threads(pattern, written.two_shuttles)
        self.places = Places(pattern, written, joined_counted)
        self.record = self.places.record
        self.scopes = self.places.scopes
        self.worked = Worked(pattern, threads_known=self.threads.known, ends=self.threads.ends)
        self.worked.joined_picots_counted = joined_counted
        self.sequence = self.worked.sequence
        self.part = 0
        self.side = "front"
        self.numbers = {"ring": 0, "chain": 0}
        self.part_worked: WorkedPart | None = None
        self.said: set[int] = set()
        self.passes: tuple[int, ...] = ()
        self.of_passes: tuple[int, ...] = ()

    # Parts, repeats, passes

    def run(self) -> None:
        for index, part in enumerate(self.pattern.parts):
            times = max(part.times, 0)
            frame = Frame(0, times, True) if times > 1 else None
            for copy in range(1, times + 1):
                self._work_part(part, index, copy, frame)

    def _work_part(self, part: Part, index: int, copy: int, frame: Frame | None) -> None:
        start = len(self.sequence)
        self.part = index
        self.numbers = {"ring": 0, "chain": 0}
        self.scopes.begin_part(part, index, start)
        self.places.begin_walks()
        worked = WorkedPart(part, start, start, index, copy, self.places.position)
        self.worked.parts.append(worked)
        self.part_worked = worked
        passes: tuple[int, ...] = ()
        of_passes: tuple[int, ...] = ()
        self.scopes.frames = []
        number = Frame(1, 1, True)
        if frame is not None:
            frame.number, frame.start = copy, start
            number, passes, of_passes = frame, (copy,), (frame.last,)
        self._steps(_Steps(part.steps, number, passes, of_passes))
        worked.end = len(self.sequence)
        if worked.began is None:
            worked.began = self.places.position

    def _steps(self, top: _Steps) -> None:
        stack = [top]
        frames = self.scopes.frames
        here = top
        self.passes, self.of_passes = here.passes, here.of_passes
        while True:
            if here.at == len(here.steps):
                frame = here.frame
                if frame is not None and here is not top and frame.number < frame.last:
                    self._next_pass(here, frame)
                    continue
                if frame is not None and here is not top:
                    frames.pop()
                stack.pop()
                if not stack:
                    return
                here = stack[-1]
                self.passes, self.of_passes = here.passes, here.of_passes
                continue
            step = here.steps[here.at]
            here.at += 1
            if isinstance(step, Element):
                self._element(step)
            elif isinstance(step, Repeat):
                times = passes_worked(step)
                if times and step.steps:
                    known = step.times is not None
                    frame = Frame(0, times, known, len(self.sequence), first=len(self.sequence))
                    frames.append(frame)
                    here = _Steps(step.steps, frame, here.passes, (*here.of_passes, times if known else 0))
                    stack.append(here)
                    self._next_pass(here, frame)
            elif isinstance(step, ByPass):
                around = next(one.frame for one in reversed(stack) if one.frame is not None)
                here = _Steps(instead(step, around.number, around.last), None, here.passes, here.of_passes)
                stack.append(here)
            else:
                self._action(step)

    def _next_pass(self, here: _Steps, frame: Frame) -> None:
        frame.number += 1
        frame.start = len(self.sequence)
        if self.record.written.passes_named:
            frame.starts.append(frame.start)
        here.at = 0
        outer = here.passes if frame.number == 1 else here.passes[:-1]
        here.passes = self.passes = (*outer, frame.number)
        self.of_passes = here.of_passes

    # Elements

    def _element(self, step: Element) -> None:
        part = self.part_worked
        if part is not None and part.began is None:
            self._begin(part)
        plan = self.record.plan(step)
        element = self._begin_element(step, plan, None)
        if plan.plain:
            if plan.picots:
                element.picots = self._plain_picots(element, plan)
        else:
            self._make(element, plan)
        self.places.stand(element)

    def _begin_element(self, step: Element, plan: Plan, host: WorkedElement | None) -> WorkedElement:
        threads = self.threads
        core, working = threads.of(step, (host.core, host.working) if host is not None else None)
        if not working and threads.known and id(step) not in self.said:
            self.said.add(id(step))
            message = f"a {step.kind} is worked with two threads; only {core} is here"
            self.worked.problems.append(Problem("no-second-thread", message, step))
        family = plan.family
        number = self.numbers[family] = self.numbers[family] + 1
        sequence = self.sequence
        element = WorkedElement(
            step, plan, self.part, len(sequence), number, self.passes, self.of_passes, core, working, self.side,
            (), (), host, family == "ring",
        )  # fmt: skip
        sequence.append(element)
        self.record.add(element)
        return element

    @staticmethod
    def _plain_picots(element: WorkedElement, plan: Plan) -> list[WorkedPicot]:
        work = element.step.work
        return [
            WorkedPicot(element, number, number, index, work[index])  # type: ignore[arg-type]
            for number, (_, index) in enumerate(plan.makes, 1)
        ]

    def _make(self, element: WorkedElement, plan: Plan) -> None:
        """Make the picots, joins and thrown elements of an element; those thrown off it are worked where they stand."""
        hosts = self.places.elements.hosts
        hosts[element] = None
        waiting: list[tuple[WorkedElement, Plan, int, int]] = []
        at = place = 0
        while True:
            if at == len(plan.makes):
                hosts.popitem()
                if not waiting:
                    return
                element, plan, at, place = waiting.pop()
                continue
            what, index = plan.makes[at]
            item = element.step.work[index]
            at += 1
            if what == PICOT:
                place += 1
                picots = element.picots
                if not picots:
                    element.picots = picots = []
                picots.append(WorkedPicot(element, len(picots) + 1, place, index, item))  # type: ignore
            elif what == JOIN:
                place += item.kind != "lock"  # type: ignore[union-attr]
                self._join(element, index, item, place)  # type: ignore[arg-type]
            else:
                waiting.append((element, plan, at, place))
                thrown = item.element  # type: ignore[union-attr]
                plan = self.record.plan(thrown, True)
                element = self._begin_element(thrown, plan, element)
                hosts[element] = None
                at = place = 0

    def _join(self, element: WorkedElement, index: int, item: Join, place: int) -> None:
        for goal in item.places or (_UNSAID,):
            join = WorkedJoin(element.step, element, index, goal, item.kind, position=place, part=self.part)
            self.places.resolve(join)
            if element.joins:
                element.joins.append(join)  # type: ignore[attr-defined]
            else:
                element.joins = [join]

    # Actions

    def _action(self, step: Step) -> None:
        places = self.places
        action = WorkedAction(step, self.part, len(self.sequence), self.passes, self.of_passes)
        self.sequence.append(action)
        if isinstance(step, Turn):
            self.side = "back" if self.side == "front" else "front"
        elif isinstance(step, BareThread):
            self.record.bare.append(action)
        elif isinstance(step, LockJoin):
            joins = self._joins(step, step.places or [_UNSAID], "lock")
            action.joins = joins
            places.stand(Position("join", joins[-1].into, joins[-1].picot, joins[-1].spot))
        elif isinstance(step, MockPicot):
            self._mock_picot(action)
        elif isinstance(step, Switch):
            self.threads.switch(step)
        elif isinstance(step, Cut):
            self._cut(step)
        elif isinstance(step, Attach):
            self.threads.attach(step)
            said = [place for place in step.places if not place.unsaid]
            action.joins = joins = self._joins(step, said, "attach")
            where = joins[-1] if joins else None
            places.stand(Position("attached", where.into, where.picot, where.spot) if where else Position("attached"))
        elif isinstance(step, HideEnds):
            self.threads.ends.hidden.append(step.way)
        action.stood = places.stood

    def _joins(self, step: Step, goals: list[Place], kind: str) -> list[WorkedJoin]:
        joins = []
        for goal in goals:
            join = WorkedJoin(step, None, -1, goal, kind, part=self.part)
            self.places.resolve(join)
            joins.append(join)
        return joins

    def _mock_picot(self, action: WorkedAction) -> None:
        element = self.places.last_element
        if element is None:
            return
        picot = WorkedPicot(element, len(element.picots) + 1, places_of(element) + 1, -1, None, (), True)
        if element.picots:
            element.picots.append(picot)  # type: ignore[attr-defined]
        else:
            element.picots = [picot]
        self.record.mocks.append(picot)
        action.picot = picot
        self.places.stand(Position("tip", element, picot))

    def _cut(self, step: Cut) -> None:
        self.threads.cut(step)
        if not self.threads.live:
            self.side = "front"
            self.places.stand(Position("nowhere"))
            self.scopes.begin_stretch(len(self.sequence))
            self.places.begin_walks()

    def _begin(self, part: WorkedPart) -> None:
        """Note where the thread stands as a part's first element begins, and how it got there."""
        part.began = began = self.places.position
        before = self.sequence[part.start :]
        if any(isinstance(one.step, Attach) for one in before):
            part.climb = "attached"
        elif began.at in ("start", "nowhere"):
            part.climb = "start" if began.at == "start" else "cut"
        elif began.at == "tip":
            part.climb = "mock picot"
        elif any(isinstance(one.step, LockJoin) for one in before):
            part.climb = "lock join"
        elif began.at == "top":
            part.climb = "split ring"
        elif began.element is not None and began.at == "end" and began.element.kind == "split chain":
            part.climb = "split chain"
