"""Steps and copies of steps as lines tell them, with what must be known of them later."""

from __future__ import annotations

from copy import copy

from larkshead.model import (
    Attach,
    BareThread,
    ByPass,
    Cut,
    Element,
    Join,
    LockJoin,
    Note,
    NoTurn,
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
from larkshead.reading.grammar.meanings import Varying, copy_item
from larkshead.reading.grammar.passes import apply_change
from larkshead.reading.grammar.said import (
    Alike,
    Change,
    Piece,
    SaidChange,
    SaidCover,
    SaidElement,
    SaidFollowed,
    SaidMock,
    SaidNote,
    SaidStep,
)
from larkshead.reading.grammar.totals import size_of
from larkshead.reading.source import Span

_MOST = 10**12
# What stands behind each of several elements told at once.
_BEHIND_EACH = (Turn, NoTurn, BareThread)
_MOST_COPIES = 200_000


class LaySteps(Building):
    """Steps and copies of steps as lines tell them, with what must be known of them later."""

    def __init__(self) -> None:
        super().__init__()
        self.marks: list[tuple[str, int]] = []
        self.closed: dict[str, tuple[int, int]] = {}
        self.groups: list[tuple[str, int, int | None, Span, bool]] = []
        self.labels: dict[str, tuple[int, int]] = {}
        self.label: str | None = None
        # What letters of lines mean that are worked in an order told.
        self.defined: dict[str, list[Step]] = {}
        self.shuttle = "shuttle 1"
        self.cover: SaidCover | None = None
        self.spaces: SaidCover | None = None
        self.known: list[Element] = []
        # Those of them that may have joins.
        self.joined: list[Element] = []
        self.by_label: dict[str, Element] = {}
        self.tails: dict[int, list[Step]] = {}
        self.pending: list[SaidChange] = []
        self.varying: dict[int, dict[str | int, list[WorkItem]]] = {}
        self.lines: list[int] = [0]
        self.block = 0
        self.clause: int | None = None
        # Where the last repeat told behind its passage stands.
        self.line_repeat = -2
        self.alike_open: Element | None = None
        # The repeat of a range of elements (R2-R5) whose line has not ended, and the numbers of those with gaps.
        self.range_open: Repeat | None = None
        self.named_seen = False
        self.numbered: dict[int, list[int]] = {}
        # A repeat of elements behind each of which stands what the line tells from there on.
        self.followed: tuple[Repeat, int] | None = None
        self.part_numbers: dict[int, list[int]] = {}
        self.alike_tail: list[Step] = []
        # Elements only named ("R+") that are other than those they are named after.
        self.made_other: set[int] = set()
        self.mock: int | None = None
        self.depths: dict[int, int] = {}
        self.around = False
        self.copies = 0
        self.laid = 0
        self.copying_stopped = False
        self.kinds: dict[str, list[Element]] = {}
        self.step_elements: dict[str, Element] = {}
        # Elements of each kind in the order worked, up to the first repeat.
        self.plain_order: dict[str, list[Element]] | None = None
        # The labels and numbers of elements by their kind, once all is told; the highest number where several have one.
        self.names_by_kind: dict[str, list[str]] | None = None
        self.most_numbered: dict[str, int] = {}
        self.step_open: str | None = None
        self.step_places: list[Place] = []

    def _by_pass(self, step: Element, passes: dict[str | int, list[Step]]) -> ByPass:
        made = ByPass(step, passes)
        span = self.origins.of(step)
        if span is not None:
            self.origins.record(made, span)
        return made

    def _copied(self, steps: list[Step], span: Span) -> list[Step]:
        """Steps told before, for another place; none where the text copies copies without end."""
        self.copies += size_of(steps)
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

    def _SaidStep(self, said: SaidStep) -> None:
        step = said.step
        if isinstance(step, Switch):
            if step.to and step.to == self.shuttle:
                return
            self.shuttle = step.to or ("shuttle 2" if self.shuttle == "shuttle 1" else "shuttle 1")
        if isinstance(step, Cut):
            self._end_lines()
        if isinstance(step, LockJoin | Attach):
            self.step_places.extend(step.places)
        self.alike_open = None if isinstance(step, Turn | NoTurn) else self.alike_open
        if self.range_open is not None and self.range_open is self.steps[-1] and isinstance(step, _BEHIND_EACH):
            # "R2-R5: 4+4-4 cl RW": the turn stands behind each of them.
            self.origins.record(step, said.span)
            self.range_open.steps.append(step)
            return
        self.add(step, said.span)
        if isinstance(step, Turn | NoTurn | BareThread):
            for back in range(len(self.steps) - 2, max(-1, len(self.steps) - 5), -1):
                element = self.steps[back]
                if isinstance(element, Element):
                    self.tails.setdefault(id(element), []).append(step)
                    break

    def _SaidFollowed(self, said: SaidFollowed) -> None:
        repeat = self.steps[-1] if self.steps else None
        if isinstance(repeat, Repeat):
            self.followed = (repeat, len(self.steps))

    def _end_followed(self) -> None:
        """What was told behind each of several elements goes into their repeat."""
        if self.followed is None:
            return
        repeat, start = self.followed
        self.followed = None
        if 0 < start < len(self.steps) and self.steps[start - 1] is repeat:
            repeat.steps += self.steps[start:]
            del self.steps[start:]

    def _end_lines(self) -> None:
        """What is told beforehand to be worked so often ends where the thread is cut."""

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

    def _SaidElement(self, said: SaidElement) -> None:
        self._finish_alike()
        if said.alike is not None and said.alike.which in ("bare", "named"):
            self._definitions()
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
        if said.alike is not None and said.alike.which in ("bare", "named") and said.alike.changes:
            self.made_other.add(id(element))
        if said.alike is None:
            self._note_varying(element, said.pieces)
        self.origins.record(element, said.span, spans)
        self.kinds.setdefault(said.kind, []).append(element)
        if self.step_open is not None:
            self.step_elements[self.step_open] = element
            self.step_open = None
        self.known.append(element)
        self.joined.append(element)
        if said.label is not None:
            first = said.first or 0
            for number in said.numbers or range(first, first + min(said.count, 50)):
                label = str(number) if said.first is not None else said.label
                self.by_label[label] = self.by_label[f"{said.kind} {label}"] = element
        if said.count > 1:
            self._touching(element, said.count)
            repeat = Repeat([element], min(said.count, _MOST))
            self.add(repeat, said.span)
            if said.last is not None:
                self.range_open = repeat
            if said.numbers:
                self.numbered[id(repeat)] = said.numbers
        else:
            self.steps.append(element)
        if said.alike is not None and said.alike.which == "named" and model is not None:
            tail = self._copied(self.tails.get(id(model), []), said.span)
            self.tails[id(element)] = tail
            self.steps.extend(tail)
        elif said.alike is not None and said.alike.which != "bare" and model is not None and self.tails.get(id(model)):
            self.alike_open = element
            self.alike_tail = self.tails[id(model)]

    def _definitions(self) -> None:
        """Elements told once each, and nothing besides, before a line that only names them, say what the names mean."""
        if self.named_seen:
            return
        self.named_seen = True
        told = [step for step in self.part.steps if isinstance(step, Element)]
        kinds = {(element.kind, element.size) for element in told}
        if (
            self.steps is self.part.steps
            and len(kinds) == len(told)
            and not self.groups
            and all(isinstance(step, Element | Note | StatedTotal) for step in self.steps)
        ):
            self.steps[:] = [step for step in self.steps if not isinstance(step, Element)]
            self.lines = [0]
            self.marks = [(mark, len(self.steps)) for mark, _ in self.marks]
            self.block = len(self.steps)
            self.labels.clear()

    def _touching(self, element: Element, count: int) -> None:
        """Rings written with joins on both sides, and nothing before them to join to: where two touch, the first has
        the picot.
        """
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
        if element is None or not self.steps:
            return
        if self.range_open is not None and self.range_open is self.steps[-1] and self.range_open.steps[0] is element:
            if len(self.range_open.steps) == 1:
                self.range_open.steps += self._copied(self.alike_tail, self.origins.of(element) or Span(0, 0))
            return
        at = len(self.steps) - 1
        while at > self.lines[-1] and isinstance(self.steps[at], Note | StatedTotal):
            at -= 1
        if self.steps[at] is not element:
            return
        if self.lines[-1] < at and any(isinstance(s, Element) for s in self.steps[self.lines[-1] : at]):
            return
        tail = self._copied(self.alike_tail, self.origins.of(element) or Span(0, 0))
        self.tails[id(element)] = tail
        self.steps[at + 1 : at + 1] = tail

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
        if change.into == "place" or (
            change.into == "join" and not change.item_told and any(isinstance(item, Join) for item in work)
        ):
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
        if alike.which in ("bare", "named") and self.made_other:
            same = [element for element in same if id(element) not in self.made_other] or same
        if alike.size:
            same = [element for element in same if element.size == alike.size] or same
        if alike.number is not None:
            other = self.by_label.get(f"{wanted} {alike.number}") or self.by_label.get(str(alike.number))
            if other is not None:
                return other
            return same[alike.number - 1] if 0 < alike.number <= len(same) else None
        return same[-1] if same else None


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


def _mock_work(steps: list[Step], work: list[WorkItem], depth: int) -> bool:
    """The work of a mock ring from the chains and thrown rings it is made of; False where other steps stand among
    them.
    """
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
