"""From what lines of shorthand say to a pattern: repeats laid round their steps, copies filled in, passes that differ, totals checked."""

from __future__ import annotations

from copy import copy

from larkshead.model import (
    Attach,
    BareThread,
    ByPass,
    Cut,
    Element,
    ElementRef,
    Join,
    LockJoin,
    Note,
    NoTurn,
    Part,
    Pattern,
    Picot,
    Place,
    Repeat,
    StatedTotal,
    Step,
    Stitches,
    Switch,
    Thrown,
    Turn,
    WorkItem,
)
from larkshead.reading.grammar.building import Building
from larkshead.reading.grammar.evidence import settle_rounds
from larkshead.reading.grammar.meanings import Varying, copy_item
from larkshead.reading.grammar.passes import apply_change, lay_change
from larkshead.reading.grammar.said import (
    Alike,
    Change,
    Piece,
    Said,
    SaidChange,
    SaidCopy,
    SaidCover,
    SaidElement,
    SaidHeading,
    SaidLine,
    SaidMark,
    SaidMock,
    SaidNote,
    SaidOpen,
    SaidPlain,
    SaidRepeat,
    SaidShut,
    SaidStep,
    SaidStepLabel,
)
from larkshead.reading.grammar.totals import part_steps, tally
from larkshead.reading.source import Span

_MOST = 10**12
# Marks and brackets open at once, and steps looked back over for the element a reference means.
_LOOK_BACK = 2000
_DEEPEST = 100
_MOST_COPIES = 200_000


class Layout(Building):
    """Puts a pattern together from what lines say, in order; linear in what is said."""

    def __init__(self) -> None:
        super().__init__()
        self.marks: list[tuple[str, int]] = []
        self.closed: dict[str, tuple[int, int]] = {}
        self.groups: list[tuple[str, int, int | None, Span, bool]] = []
        self.labels: dict[str, tuple[int, int]] = {}
        self.label: str | None = None
        self.shuttle = "shuttle 1"
        self.cover: SaidCover | None = None
        self.known: list[Element] = []
        self.by_label: dict[str, Element] = {}
        self.tails: dict[int, list[Step]] = {}
        self.pending: list[SaidChange] = []
        self.varying: dict[int, dict[str | int, list[WorkItem]]] = {}
        self.lines: list[int] = [0]
        self.block = 0
        self.clause: int | None = None
        self.alike_open: Element | None = None
        self.alike_tail: list[Step] = []
        self.mock: int | None = None
        self.depths: dict[int, int] = {}
        self.around = False
        self.copies = 0
        self.copying_stopped = False
        self.kinds: dict[str, list[Element]] = {}
        self.step_elements: dict[str, Element] = {}
        self.step_open: str | None = None
        self.step_places: list[Place] = []

    def build(self, said: list[Said]) -> Pattern:
        """The pattern of everything said."""
        handlers = {name: getattr(self, name) for name in dir(self) if name.startswith("_Said")}
        for thing in said:
            handlers["_" + type(thing).__name__](thing)
        self._end_part()
        for settled in settle_rounds(self.pattern.parts) if self.around else ():
            self.notice(
                "assumed",
                "note",
                f"worked {settled.passes} times, since the round before offers {settled.places} places",
                self.origins.of(settled.repeat),
            )
        self.check_totals()
        self._settle_steps()
        self._check_places()
        return self.pattern

    def _settle_steps(self) -> None:
        """Places that name the step of a list mean the element told there; it takes the step's label where it has none."""
        if not self.step_elements:
            return
        for element in self.known:
            for item in element.work:
                for place in item.places if isinstance(item, Join) else ():
                    self._settle_step(place)
        for place in self.step_places:
            self._settle_step(place)

    def _settle_step(self, place: Place) -> None:
        part, ref = place.part, place.element
        label = ""
        if part is not None and part.kind == "step" and part.which is not None:
            label = str(part.which)
        elif part is None and ref is not None and ref.label is not None:
            label = ref.label
            if (
                f"{ref.kind} {label}" in self.by_label
                or (not ref.kind and label in self.by_label)
                or (ref.kind and label.isdigit())
            ):
                return
        found = self.step_elements.get(label)
        if found is None:
            return
        if found.label is None:
            found.label = label
            self.by_label[label] = self.by_label[f"{found.kind} {label}"] = found
        place.part = None
        place.element = ElementRef(found.kind, None, found.label)

    def _check_places(self) -> None:
        """Joins that name an element that is not told, or a picot it does not have; numbers left out among the labels."""
        rings: dict[str, int] | None = None
        for element in self.known:
            for at, item in enumerate(element.work):
                for place in item.places if isinstance(item, Join) else ():
                    ref = place.element
                    if ref is None or place.part is not None or (ref.label is None and not isinstance(ref.which, int)):
                        continue
                    name = ref.label or str(ref.which)
                    there = self.by_label.get(f"{ref.kind} {name}" if ref.kind else name)
                    if there is None:
                        if rings is None:
                            rings = tally(part_steps(self.pattern.parts))
                        message = self._not_told(ref, name, rings)
                    else:
                        message = "" if there is element else _lacks(there, place)
                    if message:
                        self.notice("contradiction", "warning", message, self.origins.of(element, at))

    def _not_told(self, ref: ElementRef, name: str, worked: dict[str, int]) -> str:
        """What is wrong with a name no element bears: others of its kind are named so, or there are not as many."""
        kind = ref.kind or "ring"
        like = [
            key
            for key in self.by_label
            if key.startswith(f"{kind} ") and key.rpartition(" ")[2].isdigit() == name.isdigit()
        ]
        if name.isdigit():
            numbers = [int(key.rpartition(" ")[2]) for key in like]
            there = max(worked.get(_COUNTS.get(kind, "rings"), 0), *numbers) if numbers else 0
            return f"there is no {kind} {name}" if len(numbers) > 1 and int(name) > there else ""
        return f"there is no {kind} {name}" if like and len(name) == 1 else ""

    # --- parts and lines ---------------------------------------------------------------------------------------

    def _SaidLine(self, said: SaidLine) -> None:
        self._finish_alike()
        while self.groups and self.groups[-1][0] == "line":
            self._shut(self.groups[-1][2], "all", self.groups[-1][3])
        if self.lines[-1] != len(self.steps):
            self.lines.append(len(self.steps))
        self.clause = None
        if said.blank:
            self.block = len(self.steps)

    def _end_part(self) -> None:
        self._finish_alike()
        while self.groups and self.groups[-1][0] == "line":
            self._shut(self.groups[-1][2], "all", self.groups[-1][3])
        for bracket, _, _, span, closed in self.groups:
            if closed:
                continue
            self.notice("unmatched-repeat", "warning", f"the bracket {bracket} opened here is never closed", span)
        self.groups.clear()
        for said in self.pending:
            if not self._lay(said.change):
                self.notice("unread-text", "warning", "a change is told that could not be placed", said.span)
        self.pending.clear()
        self._resolve_varying(self.part.steps, False)
        self._cover_turns()
        if self.part.steps or self.part.kind:
            self.pattern.parts.append(self.part)

    def _lay(self, change: Change) -> bool:
        """A change told apart laid on its element; a join that is a picot on the first pass stays a join on the others."""
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
            elif (
                isinstance(step, Element)
                and any(isinstance(i, Join) for i in step.work)
                and (not change.element_kind or step.kind == change.element_kind)
            ):
                spot = next(i for i, item in enumerate(step.work) if isinstance(item, Join))
                first = copy(step)
                first.work = [*step.work[:spot], Picot(), *step.work[spot + 1 :]]
                self.origins.record(first, self.origins.of(step) or change.span)
                repeated = steps is not self.part.steps
                steps[at] = self._by_pass(step, {"first": [first]}) if repeated else first
                return True
        return False

    def _by_pass(self, step: Element, passes: dict[str | int, list[Step]]) -> ByPass:
        made = ByPass(step, passes)
        span = self.origins.of(step)
        if span is not None:
            self.origins.record(made, span)
        return made

    def _SaidHeading(self, said: SaidHeading) -> None:
        self._end_part()
        before = self.pattern.parts
        self.part = Part(said.kind, said.number, said.name, said.times)
        self.origins.record(self.part, said.span)
        self.steps = self.part.steps
        self.marks.clear()
        self.closed.clear()
        self.labels.clear()
        self.label = None
        self.cover = None if self.cover is None else self.cover
        self.lines = [0]
        self.block = 0
        if said.like is not None:
            model = next((p for p in reversed(before) if p.number == said.like or said.like < 0), None)
            if model is None:
                self.notice("unmatched-repeat", "warning", f"there is no {said.kind} {said.like} to repeat", said.span)
                return
            self.part.times = 1
            copied = self._copied(model.steps, said.span)
            if said.times > 1:
                self.add(Repeat(copied, said.times), said.span)
            else:
                self.part.steps.extend(copied)

    def _copied(self, steps: list[Step], span: Span) -> list[Step]:
        """Steps told before, for another place; none where the text copies copies without end."""
        self.copies += _size(steps)
        if self.copies > _MOST_COPIES:
            if not self.copying_stopped:
                self.copying_stopped = True
                message = f"more than {_MOST_COPIES:,} steps are told as like others; those from here on are not read"
                self.notice("too-many-steps", "error", message, span)
            return []
        copied = copy_steps(steps)
        for step in copied:
            self._record_all(step, span)
        return copied

    def _record_all(self, step: Step, span: Span) -> None:
        waiting = [step]
        while waiting:
            one = waiting.pop()
            self.origins.record(one, span)
            if isinstance(one, Repeat):
                waiting.extend(one.steps)
            elif isinstance(one, ByPass):
                waiting.append(one.step)
                for steps in one.passes.values():
                    waiting.extend(steps)

    def _SaidStepLabel(self, said: SaidStepLabel) -> None:
        self._close_label()
        self.label = said.label
        self.step_open = said.label
        self.labels.pop(said.label, None)
        self.labels[said.label] = (len(self.steps), len(self.steps))

    def _close_label(self) -> None:
        if self.label is not None and self.label in self.labels:
            self.labels[self.label] = (self.labels[self.label][0], len(self.steps))

    def _SaidCopy(self, said: SaidCopy) -> None:
        """The steps of a labelled line, or an element by its label, told again."""
        self._close_label()
        found = self.labels.get(said.label)
        if said.label == self.label:
            found = None
        if found is not None:
            self.steps.extend(self._copied(self.steps[found[0] : found[1]], said.span))
            return
        element = self.by_label.get(said.label)
        if element is None:
            self.notice("unmatched-repeat", "warning", f"there is no step {said.label} to work again", said.span)
            return
        self.steps.extend(self._copied([element, *self.tails.get(id(element), [])], said.span))

    # --- steps -------------------------------------------------------------------------------------------------

    def _SaidStep(self, said: SaidStep) -> None:
        step = said.step
        if isinstance(step, Switch):
            if step.to and step.to == self.shuttle:
                return
            self.shuttle = step.to or ("shuttle 2" if self.shuttle == "shuttle 1" else "shuttle 1")
        if isinstance(step, LockJoin | Attach):
            self.step_places.extend(step.places)
        self.alike_open = None if isinstance(step, Turn | NoTurn) else self.alike_open
        self.add(step, said.span)
        if isinstance(step, Turn | NoTurn | BareThread):
            for back in range(len(self.steps) - 2, max(-1, len(self.steps) - 5), -1):
                element = self.steps[back]
                if isinstance(element, Element):
                    self.tails.setdefault(id(element), []).append(step)
                    break

    def _SaidMock(self, said: SaidMock) -> None:
        """A mock ring put together of the chains worked since it was begun, with the rings thrown off them."""
        if said.opens:
            self.mock = len(self.steps)
            return
        if self.mock is None or self.mock > len(self.steps):
            return
        work: list[WorkItem] = []
        steps = self.steps[self.mock :]
        if not _mock_work(steps, work, 0) or not any(isinstance(item, Stitches) for item in work):
            self.mock = None
            return
        element = Element("mock ring", work)
        notes = [step for step in steps if isinstance(step, Note | StatedTotal)]
        first = next((self.origins.of(s) for s in steps if isinstance(s, Element | Repeat)), None)
        self.origins.record(element, first.join(said.span) if first else said.span)
        del self.steps[self.mock :]
        self.steps.extend([*notes, element])
        self.mock = None

    def _SaidNote(self, said: SaidNote) -> None:
        self.add(Note(said.text), said.span)
        if said.unread:
            self.notice("unread-text", "note", f"not read as work, kept as a note: {said.text[:60]}", said.span)

    def _SaidCover(self, said: SaidCover) -> None:
        self.cover = said

    def _SaidPlain(self, said: SaidPlain) -> None:
        """A plain line: its element, its turn, and the line's end."""
        if self.alike_open is not None:
            self._finish_alike()
        if self.groups and self.groups[-1][0] == "line":
            self._SaidLine(SaidLine())
        line = said.line
        at = said.at
        element = Element(line.kind, said.work, line.label)  # type: ignore[arg-type]
        record = self.origins.record
        record(element, Span(at, at + line.end), line.spans, at)
        self.known.append(element)
        self.kinds.setdefault(line.kind, []).append(element)
        if line.label is not None:
            self.by_label[line.label] = self.by_label[f"{line.kind} {line.label}"] = element
        steps = self.steps
        if self.lines[-1] != len(steps):
            self.lines.append(len(steps))
        self.clause = None
        steps.append(element)
        if line.turn >= 0:
            turn = Turn()
            record(turn, Span(at + line.turn, at + line.turn_end))
            steps.append(turn)
            self.tails[id(element)] = [turn]
        self.lines.append(len(steps))

    def _SaidElement(self, said: SaidElement) -> None:
        self._finish_alike()
        if said.thread and said.kind == "ring" and said.thread != self.shuttle and said.technique != "thrown":
            self.shuttle = said.thread
            self.add(Switch(said.thread), said.span)
        spans: list[Span] | None = None
        if said.alike is not None:
            model = self._model_for(said.alike, said.kind)
            if model is None:
                self.notice("unread-text", "warning", "this refers to an element that is not told", said.span)
                self.add(Note("?"), said.span)
                return
            work = [copy_item(item) for item in model.work]
            for change in (*said.alike.changes, *said.changes):
                self._apply(work, change)
        else:
            work, spans = self._work(said.pieces)
        element = Element(
            said.kind,  # type: ignore[arg-type]
            work,
            said.label,
            said.thread,
            said.technique,
            said.size,
            said.half_closed,
            said.remark,
        )
        if said.alike is None:
            self._note_varying(element, said.pieces)
        self.origins.record(element, said.span, spans)
        self.kinds.setdefault(said.kind, []).append(element)
        if self.step_open is not None:
            self.step_elements[self.step_open] = element
            self.step_open = None
        self.known.append(element)
        if said.label is not None:
            for number in range(min(said.count, 50)) if said.first is not None else (0,):
                label = str(said.first + number) if said.first is not None else said.label
                self.by_label[label] = self.by_label[f"{said.kind} {label}"] = element
        if said.count > 1:
            self._touching(element, said.count)
            self.add(Repeat([element], min(said.count, _MOST)), said.span)
        else:
            self.steps.append(element)
        if said.alike is not None and said.alike.which != "bare" and model is not None and self.tails.get(id(model)):
            self.alike_open = element
            self.alike_tail = self.tails[id(model)]

    def _touching(self, element: Element, count: int) -> None:
        """Rings written with joins on both sides, and nothing before them to join to: where two touch, the first has the picot."""
        spots = [i for i, item in enumerate(element.work) if isinstance(item, Join | Picot)]
        if count < 3 or len(spots) < 2 or any(e is not element and e.kind == element.kind for e in self.known):
            return
        ends = [element.work[spots[0]], element.work[spots[-1]]]
        if not all(isinstance(item, Join) and not item.places for item in ends):
            return
        both = list(element.work)
        element.work[spots[-1]] = Picot()
        first = list(element.work)
        first[spots[0]] = Picot()
        self.varying[id(element)] = {"first": first, "last": both}
        self.notice(
            "assumed",
            "note",
            "where two of these touch, the one made first has a picot and the other joins to it",
            self.origins.of(element),
        )

    def _finish_alike(self) -> None:
        """``R3 as R2``, alone on its line and with no turn told: the turn behind R2 belongs to it."""
        element = self.alike_open
        self.alike_open = None
        if element is None or not self.steps or self.steps[-1] is not element:
            return
        if self.lines[-1] < len(self.steps) - 1 and any(
            isinstance(s, Element) for s in self.steps[self.lines[-1] : -1]
        ):
            return
        tail = self._copied(self.alike_tail, self.origins.of(element) or Span(0, 0))
        self.tails[id(element)] = tail
        self.steps.extend(tail)

    def _work(self, pieces: list[Piece]) -> tuple[list[WorkItem], list[Span]]:
        items: list[WorkItem] = []
        spans: list[Span] = []
        for item, span in pieces:
            items.append(item.item if isinstance(item, Varying) else item)
            spans.append(span)
        return items, spans

    def _note_varying(self, element: Element, pieces: list[Piece]) -> None:
        """Remember what an element's varying items are on other passes, until its repeat is known."""
        keys: dict[str | int, None] = {}
        for item, _ in pieces:
            if isinstance(item, Varying):
                keys.update(dict.fromkeys(item.passes))
        if keys:
            self.varying[id(element)] = {
                key: [(item.passes.get(key, item.item) if isinstance(item, Varying) else item) for item, _ in pieces]
                for key in keys
            }

    def _apply(self, work: list[WorkItem], change: Change) -> None:
        if change.into == "place":
            join = next((item for item in work if isinstance(item, Join)), None)
            if join is not None:
                join.places = list(change.places)
            return
        apply_change(work, change)

    def _model_for(self, alike: Alike, kind: str) -> Element | None:
        """The element a reference means."""
        wanted = alike.kind or kind
        if alike.label is not None:
            return self.by_label.get(f"{wanted} {alike.label}") or self.by_label.get(alike.label)
        same = self.kinds.get(wanted, [])
        if alike.number is not None:
            other = self.by_label.get(f"{wanted} {alike.number}") or self.by_label.get(str(alike.number))
            if other is not None:
                return other
            return same[alike.number - 1] if 0 < alike.number <= len(same) else None
        return same[-1] if same else None

    # --- repeats -----------------------------------------------------------------------------------------------

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
            (said.bracket, len(self.steps), said.times, said.span, said.closed or said.bracket == "line")
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
        self._wrap(start, self._times(said), said.span)

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
        first = self.labels.get(said.first or "")
        last = self.labels.get(said.last or said.first or "")
        if first is None or last is None:
            first, last = self._elements_labelled(said)
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
            self.add(Repeat(copied, said.times), said.span)

    def _elements_labelled(self, said: SaidRepeat) -> tuple[tuple[int, int] | None, tuple[int, int] | None]:
        """The places of elements by their labels: ``Repeat rings 3 and 4``."""
        found: list[tuple[int, int] | None] = []
        for label in (said.first, said.last or said.first):
            at = next(
                (
                    i
                    for i in range(len(self.steps) - 1, max(-1, len(self.steps) - _LOOK_BACK), -1)
                    if isinstance(self.steps[i], Element) and getattr(self.steps[i], "label", None) == label
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
                        number, over = wanted if period == len(elements) else number, 0
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

    # --- passes, covers, totals --------------------------------------------------------------------------------

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

    def _resolve_varying(self, steps: list[Step], repeated: bool) -> None:
        """Elements with items that vary by pass become steps that differ by pass; outside a repeat the first is the first."""
        if not self.varying:
            return
        seen = 0
        for at, step in enumerate(steps):
            if isinstance(step, Repeat):
                self._resolve_varying(step.steps, True)
            elif isinstance(step, Element) and id(step) in self.varying:
                passes = self.varying.pop(id(step))
                seen += 1
                if repeated:
                    others: dict[str | int, list[Step]] = {}
                    for which, work in passes.items():
                        other = copy(step)
                        other.work = work
                        self.origins.record(other, self.origins.of(step) or Span(0, 0))
                        others[which] = [other]
                    steps[at] = self._by_pass(step, others)
                elif (seen == 1 and "first" in passes) or seen in passes:
                    step.work[:] = passes["first" if seen == 1 and "first" in passes else seen]

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


def _lacks(there: Element, place: Place) -> str:
    """What an element named as a place does not have; empty where it has it."""
    if place.spot != "picot":
        return ""
    spots = sum(isinstance(item, Picot | Join) for item in there.work)
    name = f"{there.kind} {there.label or ''}".strip()
    if not spots and there.work:
        return f"{name} has no picot to join to"
    if isinstance(place.picot, int) and place.picot > spots:
        return f"{name} has {spots} picots; there is no picot {place.picot}"
    return ""


def copy_steps(steps: list[Step]) -> list[Step]:
    """Steps of their own like those given; places, which nothing changes, are shared."""
    out: list[Step] = []
    for step in steps:
        fresh = copy(step)
        if isinstance(fresh, Element):
            fresh.work = [copy_item(item) if isinstance(item, Join) else item for item in fresh.work]
        elif isinstance(fresh, Repeat):
            fresh.steps = copy_steps(fresh.steps)
        elif isinstance(fresh, ByPass):
            fresh.step = copy_steps([fresh.step])[0]
            fresh.passes = {which: copy_steps(others) for which, others in fresh.passes.items()}
        out.append(fresh)
    return out


def _size(steps: list[Step]) -> int:
    """How many steps stand among the steps, as written."""
    number = 0
    waiting: list[Step] = list(steps)
    while waiting:
        step = waiting.pop()
        number += 1
        if isinstance(step, Repeat):
            waiting.extend(step.steps)
        elif isinstance(step, ByPass):
            waiting.append(step.step)
            for others in step.passes.values():
                waiting.extend(others)
    return number


def _mock_work(steps: list[Step], work: list[WorkItem], depth: int) -> bool:
    """The work of a mock ring from the chains and thrown rings it is made of; False where other steps stand among them."""
    for step in steps:
        if isinstance(step, Repeat):
            if depth > 4 or step.times is None or step.times * len(step.steps) > 500:
                return False
            for _ in range(step.times):
                if not _mock_work(step.steps, work, depth + 1):
                    return False
        elif isinstance(step, Element) and step.kind == "chain":
            work.extend(copy(item) for item in step.work)
        elif isinstance(step, Element):
            thrown = copy(step)
            thrown.technique = "thrown"
            work.append(Thrown(thrown))
        elif not isinstance(step, Note | StatedTotal | NoTurn | Switch):
            return False
    return True


_COUNTS = {
    "ring": "rings",
    "chain": "chains",
    "split ring": "split_rings",
    "split chain": "split_chains",
    "mock ring": "mock_rings",
    "josephine ring": "josephine_rings",
}

__all__ = ["Layout", "LockJoin"]
