"""From what is said to a pattern: repeats laid round their steps, references filled in, labels kept, origins recorded."""

from __future__ import annotations

from copy import deepcopy
from dataclasses import replace

from larkshead.model import (
    Attach,
    BareThread,
    ByPass,
    Cut,
    Element,
    LockJoin,
    MockPicot,
    Note,
    NoTurn,
    Part,
    Pattern,
    Picot,
    Repeat,
    SideChange,
    StatedTotal,
    Step,
    Stitches,
    Switch,
    Turn,
    WorkItem,
)
from larkshead.reading.grammar.building import Building
from larkshead.reading.grammar.evidence import ALL_ROUND, settle_rounds
from larkshead.reading.grammar.going_on import go_on_until, period_of, sizes_of
from larkshead.reading.grammar.items import items_of, spans_of
from larkshead.reading.grammar.passes import apply_change, lay_change
from larkshead.reading.grammar.said import (
    Alike,
    Change,
    Piece,
    Said,
    SaidAlikePart,
    SaidChange,
    SaidCover,
    SaidElement,
    SaidHeading,
    SaidMark,
    SaidNote,
    SaidOpen,
    SaidRepeat,
    SaidShut,
    SaidStep,
    SaidStepLabel,
    SaidUnit,
)
from larkshead.reading.grammar.totals import tally
from larkshead.reading.source import Span

_PASS_LIMIT = 10**12


class Assembly(Building):
    """Puts a pattern together from what is said, in order."""

    def __init__(self) -> None:
        super().__init__()
        self.marks: dict[str, int] = {}
        self.mark_ends: dict[str, int] = {}
        self.groups: list[tuple[str, int, int | None, Span]] = []
        self.labels: dict[str, tuple[int, int]] = {}
        self.label: str | None = None
        self.shuttle = "shuttle 1"
        self.covers: list[SaidCover] = []
        self.known: list[Element] = []
        self.pending: list[tuple[SaidChange, int]] = []
        self.units: dict[str, int] = {}
        self.told_repeat: Repeat | None = None

    def build(self, said: list[Said]) -> Pattern:
        """The pattern of everything said."""
        for thing in said:
            getattr(self, "_" + type(thing).__name__)(thing)
        self._end_part()
        for settled in settle_rounds(self.pattern.parts):
            self.notice(
                "assumed",
                "note",
                f"worked {settled.passes} times, since the round before offers {settled.places} places",
                self.origins.of(settled.repeat),
            )
        self.check_totals()
        return self.pattern

    def add(self, step: Step, span: Span) -> None:
        if isinstance(step, Cut) and self._just_cut():
            return
        last = next((s for s in reversed(self.steps) if not isinstance(s, Note)), None)
        if isinstance(step, Turn) and isinstance(last, NoTurn):
            self.notice("contradiction", "warning", "said not to turn, and to turn, at the same place", span)
        self.origins.record(step, span)
        self.steps.append(step)

    def _just_cut(self) -> bool:
        """Nothing worked since a cut: cutting told twice is one cut."""
        last = next((s for s in reversed(self.steps) if not isinstance(s, Note)), None)
        return isinstance(last, Cut)

    # --- parts -------------------------------------------------------------------------------------------------

    def _end_part(self) -> None:
        for bracket, _, _, span in self.groups:
            if bracket != "line":
                self.notice("unmatched-repeat", "warning", f"this {bracket} is never closed", span)
        self.groups.clear()
        self._place_changes()
        self._cover_turns()
        if self.part.steps or self.part.kind:
            self.pattern.parts.append(self.part)

    def _SaidHeading(self, said: SaidHeading) -> None:
        self._end_part()
        self.part = Part(said.kind, said.number, said.name, said.times)
        self.origins.record(self.part, said.span)
        self.steps = self.part.steps
        self.marks = {}
        self.mark_ends = {}
        self.units = {}
        self.labels = {}
        self.label = None

    def _SaidStepLabel(self, said: SaidStepLabel) -> None:
        if said.label.isalpha() and said.label.islower() and (self.label or "").isdigit():
            return
        self._close_label()
        self.label = said.label
        self.labels[said.label] = (len(self.steps), len(self.steps))

    def _close_label(self) -> None:
        if self.label is not None:
            self.labels[self.label] = (self.labels[self.label][0], len(self.steps))

    # --- steps -------------------------------------------------------------------------------------------------

    def _SaidStep(self, said: SaidStep) -> None:
        step = said.step
        if isinstance(step, Switch) and step.to:
            if step.to == self.shuttle:
                return
            self.shuttle = step.to
        self.add(step, said.span)

    def _SaidNote(self, said: SaidNote) -> None:
        last = self.steps[-1] if self.steps else None
        at = self.origins.of(last) if isinstance(last, Note) else None
        if isinstance(last, Note) and at is not None and said.span.start - at.end <= 3:
            # Words parted only by a comma or by what a statement looked at and left are one note.
            last.text = f"{last.text} {said.text}"
            self.origins.record(last, at.join(said.span))
        else:
            self.add(Note(said.text), said.span)
        if said.vague:
            self.notice("unclear-count", "warning", f"this leaves a number open: {said.text}", said.span)
        if said.unread:
            self.notice("unread-text", "note", f"not read as work, kept as a note: {said.text[:60]}", said.span)

    def _SaidAlikePart(self, said: SaidAlikePart) -> None:
        """The steps of an earlier part once more, with what differs."""
        earlier = [p for p in self.pattern.parts if p.steps]
        wanted = (
            [p for p in earlier if p.kind == said.kind and p.number == said.number]
            if said.number is not None
            else earlier
        )
        if not wanted:
            self.notice("unread-text", "warning", "this refers to a part that is not told", said.span)
            return
        for step in wanted[-1].steps:
            if not isinstance(step, Note):
                self.add(deepcopy(step), said.span)
        for change in said.changes:
            if not lay_change(self.part.steps, change, self.origins, final=True):
                self.notice("unread-text", "warning", "a change is told that could not be placed", said.span)

    def _SaidUnit(self, said: SaidUnit) -> None:
        self.units[said.name] = len(self.steps)

    def _SaidCover(self, said: SaidCover) -> None:
        self.covers.append(said)

    def _SaidElement(self, said: SaidElement) -> None:
        work: list[WorkItem]
        if said.alike is not None:
            model = self._model_for(said.alike, said.kind, said.size)
            if model is None:
                self.notice("unread-text", "warning", "this refers to an element that is not told", said.span)
                self.add(Note("?"), said.span)
                return
            work = deepcopy(model.work)
            for change in (*said.alike.changes, *said.changes):
                apply_change(work, change)
        else:
            work = items_of(said.pieces)
            if said.kind.startswith("split") and not any(isinstance(x, SideChange) for x in work):
                _part_sides(work, said.pieces)
            for change in said.changes:
                apply_change(work, change)
        element = Element(said.kind, work, said.label, said.thread, said.technique, said.size, said.half_closed)  # type: ignore[arg-type]
        self.origins.record(element, said.span, spans_of(said.pieces) if said.alike is None else None)
        self.known.append(element)
        if said.stated is not None:
            self.hold(StatedTotal({"ds": said.stated}, "element"), tally([element]), said.span)
        if work and isinstance(work[0], Picot) and said.alike is None:
            self.notice(
                "unclear-count", "warning", "a picot with no stitch before it: a count may be missing", said.span
            )
        if said.numbers and not _in_a_row(said.numbers):
            self._by_number(element, said)
        elif said.count > 1:
            self.add(Repeat([element], min(said.count, _PASS_LIMIT)), said.span)
        else:
            self.steps.append(element)

    def _by_number(self, element: Element, said: SaidElement) -> None:
        """``Rings 1, 3 and 5``: each where its number puts it among the others told by number."""
        for number in said.numbers:
            copy = replace(element, work=deepcopy(element.work), label=str(number))
            self.origins.record(copy, said.span, spans_of(said.pieces))
            at = len(self.steps)
            while at and isinstance(self.steps[at - 1], Element) and (self.steps[at - 1].label or "").isdigit():  # type: ignore[union-attr]
                if int(self.steps[at - 1].label) < number:  # type: ignore[union-attr, arg-type]
                    break
                at -= 1
            self.steps.insert(at, copy)

    def _model_for(self, alike: Alike, kind: str, size: str = "") -> Element | None:
        """The element a reference means."""
        wanted = alike.kind or kind
        same = [e for e in self.known if e.kind == wanted]
        if size and alike.label is None and alike.number is None:
            same = [e for e, s in zip(same, sizes_of(same), strict=True) if s in (size, "")] or same
        if alike.label is not None:
            return next((e for e in reversed(self.known) if e.label == alike.label), None)
        if alike.number is not None:
            labelled = next((e for e in same if e.label == str(alike.number)), None)
            if labelled is not None:
                return labelled
            return same[alike.number - 1] if 0 < alike.number <= len(same) else None
        return same[-1] if same else None

    # --- repeats -----------------------------------------------------------------------------------------------

    def _SaidMark(self, said: SaidMark) -> None:
        """The first of a pair begins the passage, the second ends it."""
        if said.mark in self.marks:
            self.mark_ends.setdefault(said.mark, len(self.steps))
            return
        self.marks[said.mark] = len(self.steps)

    def _SaidOpen(self, said: SaidOpen) -> None:
        self.groups.append((said.bracket, len(self.steps), said.times, said.span))

    def _SaidShut(self, said: SaidShut) -> None:
        if not self.groups:
            if said.times:
                self.notice("unmatched-repeat", "warning", "this bracket was never opened", said.span)
            return
        _, start, times, span = self.groups.pop()
        times = said.times or times
        if times:
            self._wrap(start, times, span.join(said.span))

    def _wrap(self, start: int, times: int | None, span: Span, until: str = "", end: int | None = None) -> None:
        """Lay a repeat round the steps from ``start`` (to ``end``)."""
        body = self.steps[start:end]
        if not self._worked(body) and not any(isinstance(s, LockJoin | BareThread) for s in body):
            return
        repeat = Repeat(body, times, until)
        self.origins.record(repeat, span)
        self.steps[start:end] = [repeat]
        self.told_repeat = repeat
        for label, (first, last) in list(self.labels.items()):
            if first >= start:
                self.labels[label] = (start, start)
            elif last > start:
                self.labels[label] = (first, start)

    def _SaidRepeat(self, said: SaidRepeat) -> None:
        self._close_label()
        handler = getattr(self, "_repeat_" + said.what)
        handler(said)

    def _times(self, said: SaidRepeat) -> int | None:
        """How often in all: a repeat comes on top of the first working unless it is told in all."""
        if said.times is None:
            return None
        return said.times if said.how == "all" else said.times + 1

    def _repeat_mark(self, said: SaidRepeat) -> None:
        start = self.marks.pop(said.mark, None)
        if start is None or start >= len(self.steps):
            self.notice("unmatched-repeat", "warning", f"there is no {said.mark} to repeat from", said.span)
            return
        if said.counts:
            self._repeat_until(start, said)
            return
        times = self._times(said)
        if times is None and not (said.open_ended or said.around):
            self.notice("open-repeat", "note", "how often to repeat is not said", said.span)
        end = self.mark_ends.pop(said.mark, None)
        end = end if end is not None and end > start else None
        self._wrap(
            start, times, said.span, "length wanted" if said.open_ended else "all round" if said.around else "", end
        )

    def _repeat_last(self, said: SaidRepeat) -> None:
        if self.steps:
            last = len(self.steps) - 1
            while last > 0 and isinstance(self.steps[last], Note):
                last -= 1
            self._wrap(last, said.times, said.span)

    def _repeat_steps(self, said: SaidRepeat) -> None:
        first = self.labels.get(said.first or "")
        last = self.labels.get(said.last or said.first or "")
        if first is None and said.last is None and self.part.kind and str(self.part.number) == said.first:
            self._wrap(0, self._times(said), said.span)
            return
        if first is None or last is None:
            missing = said.first if first is None else said.last
            self.notice("unmatched-repeat", "warning", f"there is no step {missing} to repeat", said.span)
            return
        times = self._times(said)
        if last[1] >= len(self.steps):
            self._wrap(first[0], times, said.span)
        else:
            copy = deepcopy(self.steps[first[0] : last[1]])
            self.add(Repeat(copy, said.times), said.span)

    def _repeat_labels(self, said: SaidRepeat) -> None:
        starts = [self.labels[label][0] for label in said.labels if label in self.labels]
        if not starts:
            names = {e.label: i for i, e in enumerate(self.steps) if isinstance(e, Element)}
            starts = [names[label] for label in said.labels if label in names]
        if starts:
            until = "length wanted" if said.open_ended else ALL_ROUND if said.around else ""
            self._wrap(min(starts), self._times(said), said.span, until)

    def _repeat_named(self, said: SaidRepeat) -> None:
        """So many times the elements named: the last ones told."""
        wanted = [k for k in said.labels if k != "space"]
        start = len(self.steps)
        for i in range(len(self.steps) - 1, -1, -1):
            step = self.steps[i]
            if isinstance(step, Element) and step.kind in wanted:
                wanted.remove(step.kind)
                start = i
            if not wanted:
                break
        if "space" in said.labels:
            before = start
            while before > 0 and isinstance(self.steps[before - 1], BareThread | Note):
                before -= 1
            start = before
        if wanted or start >= len(self.steps):
            self._repeat_unit(said)
            return
        self._wrap(start, self._times(said), said.span)
        self.marks.clear()

    def _repeat_all(self, said: SaidRepeat) -> None:
        start = min(self.marks.values()) if self.marks else self._unit_start()
        if said.counts:
            self._repeat_until(start, said)
        elif said.times is not None or said.open_ended or said.around:
            until = "length wanted" if said.open_ended else ALL_ROUND if said.around else ""
            self._wrap(start, self._times(said), said.span, until)

    def _repeat_until(self, start: int, said: SaidRepeat) -> None:
        """``until there are 7 rings``: as many passes as give that number with what stands before."""
        body = self.steps[start:]
        for kind, wanted in said.counts.items():
            inside = sum(1 for s in body if isinstance(s, Element) and (kind == "each" or s.kind == kind))
            before = sum(1 for s in self.steps[:start] if isinstance(s, Element) and s.kind == kind)
            if inside:
                passes, over = divmod(wanted - before, inside)
                if over or passes < 1:
                    self.notice("contradiction", "warning", f"{wanted} {kind}s do not come out even", said.span)
                if passes >= 1:
                    self._wrap(start, passes, said.span)
                return
        self.notice("open-repeat", "note", "how often to repeat is not said", said.span)

    def _unit_start(self) -> int:
        """Where the passage just told begins: at an open mark, else behind the last repeat, cut or fastening on."""
        if self.marks:
            return min(self.marks.values())
        named = max((at for at in self.units.values() if at < len(self.steps)), default=0)
        for i in range(len(self.steps) - 1, -1, -1):
            if isinstance(self.steps[i], Repeat | Cut | Attach | LockJoin | MockPicot) and i < len(self.steps) - 1:
                if isinstance(self.steps[i], LockJoin) and not any(isinstance(s, Repeat | Cut) for s in self.steps[:i]):
                    continue
                return max(i + 1, named)
        return named

    def _repeat_unit(self, said: SaidRepeat) -> None:
        """So many times what was just told; told a second time with nothing worked since, it confirms or contradicts."""
        named = next((self.units[name] for name in said.labels if name in self.units), None)
        start = self._unit_start() if named is None or named >= len(self.steps) else named
        if not self._worked(self.steps[start:]) or (self._just_repeated() and not self.marks):
            self._again(said)
            return
        until = "length wanted" if said.open_ended else ALL_ROUND if said.around else ""
        if said.mark == "until":
            self.notice("open-repeat", "note", "how often to repeat is not said in numbers", said.span)
        if said.times is None and not self.marks:
            start = self._open_unit(start, said)
        self._wrap(start, self._times(said), said.span, until)
        self.marks.clear()

    def _open_unit(self, start: int, said: SaidRepeat) -> int:
        """Where the pass that goes on begins: at the second telling of what was told twice, made whole by what came between."""
        places = [i for i in range(start, len(self.steps)) if isinstance(self.steps[i], Element)]
        if len(places) < 2:
            return start
        period = period_of([self.steps[i] for i in places])  # type: ignore[misc]
        if period >= len(places):
            return start
        if places[-1] != len(self.steps) - 1:
            return places[len(places) - period]
        before = places[len(places) - 1 - period]
        between = [deepcopy(step) for step in self.steps[before + 1 : places[-1]] if not isinstance(step, Note)]
        for step in between:
            self.add(step, said.span)
        return places[-1]

    def _just_repeated(self) -> bool:
        """The last thing worked is a repeat told just before."""
        last = next((s for s in reversed(self.steps) if isinstance(s, Element | Repeat | ByPass)), None)
        return last is not None and last is self.told_repeat

    def _worked(self, steps: list[Step]) -> bool:
        return any(isinstance(s, Element | Repeat | ByPass) for s in steps)

    def _again(self, said: SaidRepeat) -> None:
        """A number told of a repeat that stands already."""
        last = next((s for s in reversed(self.steps) if isinstance(s, Repeat)), None)
        if last is None or said.times is None:
            return
        if last.times is None:
            last.times, last.until = said.times, ""
        elif said.times not in (last.times, last.times + 1, last.times - 1):
            self.notice(
                "contradiction", "warning", f"{said.times} times is said where {last.times} were told", said.span
            )

    def _repeat_follow(self, said: SaidRepeat) -> None:
        """What came after the element told before the last ones comes after each of these, too."""
        at = next((i for i in range(len(self.steps) - 1, -1, -1) if isinstance(self.steps[i], Element | Repeat)), None)
        if at is None:
            return
        step = self.steps[at]
        inner = step.steps[-1] if isinstance(step, Repeat) else step
        if not isinstance(inner, Element):
            return
        before = [i for i in range(at) if isinstance(self.steps[i], Element) and self.steps[i].kind == inner.kind]  # type: ignore[union-attr]
        if not before:
            return
        after = [deepcopy(s) for s in self.steps[before[-1] + 1 : at] if not isinstance(s, Note)]
        for copied in after:
            self.origins.record(copied, said.span)
        if isinstance(step, Repeat):
            step.steps.extend(after)
        else:
            self.steps[at + 1 : at + 1] = after

    def _repeat_ahead(self, said: SaidRepeat) -> None:
        self.groups.append(("line", len(self.steps), said.times, said.span))

    def _repeat_alike(self, said: SaidRepeat) -> None:
        """So many more elements like the last one (of its kind)."""
        name = next(iter(said.counts), "")
        size, kind = name.split(" ", 1) if name.startswith(("large ", "small ")) else ("", name)
        told = flatten(self.steps) or flatten([s for p in self.pattern.parts for s in p.steps])
        wanted = [e for e in told if not kind or e.kind == kind]
        if size:
            wanted = [e for e, s in zip(wanted, sizes_of(wanted), strict=True) if s in (size, "")]
        if not wanted:
            self.notice("unread-text", "warning", "more of what is not told", said.span)
            return
        if said.mark == "first":
            earlier = flatten([s for p in self.pattern.parts[:1] for s in p.steps]) or wanted
            wanted = [earlier[0]]
        copy = deepcopy(wanted[-1])
        for change in said.changes:
            apply_change(copy.work, change)
        self.origins.record(copy, said.span)
        self.known.append(copy)
        self.add(Repeat([copy], said.times) if (said.times or 1) > 1 else copy, said.span)

    def _repeat_copy(self, said: SaidRepeat) -> None:
        """The last so many elements told, once more."""
        wanted, start = said.times or 0, len(self.steps)
        while start > 0 and wanted > 0:
            start -= 1
            wanted -= len(_worked_elements(self.steps[start]))
        if wanted == 0:
            for step in self.steps[start:]:
                if isinstance(step, Element | Repeat | ByPass):
                    self.add(deepcopy(step), said.span)

    def _elements(self, steps: list[Step]) -> list[Element]:
        return [s for s in steps if isinstance(s, Element)]

    def _repeat_counts(self, said: SaidRepeat) -> None:
        """Go on with what was told until there are so many: the last period told is worked again, the last pass cut short
        where the numbers say so."""
        start = self._unit_start()
        body = self.steps[start:]
        if not self._worked(body) or (self._just_repeated() and not self.marks):
            said.times = next(iter(said.counts.values()), None)
            self._again(said)
            return
        if "each" in said.counts:
            said.counts = {e.kind: said.counts["each"] for e in self._elements(body)}
        until = go_on_until(body, said.counts)
        if until is None:
            self.notice("contradiction", "warning", "the numbers do not come out even with what is told", said.span)
            return
        first, passes, over = until
        if passes <= 1 and not over:
            return
        tail = [deepcopy(step) for step in body[first : first + over]]
        self._wrap(start + first, passes, said.span)
        for step in tail:
            self.add(step, said.span)
        self.marks.clear()

    # --- changes and covers ------------------------------------------------------------------------------------

    def _SaidChange(self, said: SaidChange) -> None:
        """A change goes for the passage told just before it, or for what follows where nothing stands before."""
        start = self._segment_start()
        if self._worked(self.steps[start:]):
            segment = self.steps[start:]
            self._hold_number(segment, said.change)
            if lay_change(segment, said.change, self.origins):
                self.steps[start:] = segment
                return
        self.pending.append((said, start))

    def _hold_number(self, steps: list[Step], change: Change) -> None:
        """``the eighth and last ring``: there should be eight."""
        if change.number is None or not change.element_kind:
            return
        found = sum(1 for step in steps for e in _worked_elements(step) if e.kind == change.element_kind)
        if found not in (0, change.number):
            self.notice(
                "contradiction",
                "warning",
                f"the text disagrees with itself: {change.number} is said to be the last of {found}",
                change.span,
            )

    def _segment_start(self) -> int:
        """Behind the last cut that work follows."""
        last = max((i for i, s in enumerate(self.steps) if isinstance(s, Element | Repeat | ByPass)), default=-1)
        return max((i + 1 for i, s in enumerate(self.steps[: last + 1]) if isinstance(s, Cut)), default=0)

    def _place_changes(self) -> None:
        """Changes told apart, laid on the elements and passes they speak of, once the part is told."""
        for said, start in self.pending:
            segment = self.part.steps[start:] if start < len(self.part.steps) else self.part.steps[:]
            laid = lay_change(segment, said.change, self.origins, final=True)
            self.part.steps[start if start < len(self.part.steps) else 0 :] = segment
            if not laid:
                self.notice("unread-text", "warning", "a change is told that could not be placed", said.span)
        self.pending.clear()

    def _cover_turns(self) -> None:
        """Turns and thread told once for the whole passage, laid after (or only between) its elements."""
        for cover in self.covers:
            step = Turn() if cover.what == "turn" else cover.step
            if step is None:
                continue
            if cover.what == "before":
                self.part.steps[:] = self._laid_before(self.part.steps, step, cover.span)
                continue
            self.part.steps[:] = self._laid(self.part.steps, step, cover.span)
            last = next(
                (i for i in range(len(self.part.steps) - 1, -1, -1) if not isinstance(self.part.steps[i], Note)), None
            )
            if cover.between and last is not None and isinstance(self.part.steps[last], type(step)):
                del self.part.steps[last]

    def _laid_before(self, steps: list[Step], cover: Step, span: Span) -> list[Step]:
        out: list[Step] = []
        for step in steps:
            if isinstance(step, Repeat):
                step.steps[:] = self._laid_before(step.steps, cover, span)
            elif isinstance(step, Element | ByPass):
                laid = deepcopy(cover)
                self.origins.record(laid, span)
                out.append(laid)
            out.append(step)
        return out

    def _laid(self, steps: list[Step], cover: Step, span: Span) -> list[Step]:
        out: list[Step] = []
        for i, step in enumerate(steps):
            if isinstance(step, Repeat):
                step.steps[:] = self._laid(step.steps, cover, span)
            out.append(step)
            if not isinstance(step, Element | ByPass):
                continue
            following = next((s for s in steps[i + 1 :] if not isinstance(s, Note)), None)
            if isinstance(cover, Turn) and isinstance(following, Turn | NoTurn):
                continue
            if isinstance(following, type(cover)):
                continue
            laid = replace(cover) if not isinstance(cover, Turn) else Turn()
            self.origins.record(laid, span)
            out.append(laid)
        return out


def flatten(steps: list[Step]) -> list[Element]:
    """Every element as written, those in repeats once."""
    out: list[Element] = []
    for step in steps:
        if isinstance(step, Repeat):
            out += flatten(step.steps)
        elif isinstance(step, ByPass):
            out += flatten([step.step])
        elif isinstance(step, Element):
            out.append(step)
    return out


def _worked_elements(step: Step) -> list[Element]:
    inner = flatten([step])
    return inner * min(step.times or 1, 1000) if isinstance(step, Repeat) else inner


def _in_a_row(numbers: list[int]) -> bool:
    return all(b == a + 1 for a, b in zip(numbers, numbers[1:], strict=False))


def _part_sides(work: list[WorkItem], pieces: list[Piece]) -> None:
    """Two counts in a row with nothing between them: there the second thread takes over."""
    for i in range(1, len(work)):
        if isinstance(work[i], Stitches) and isinstance(work[i - 1], Stitches):
            work.insert(i, SideChange())
            pieces.insert(i, (work[i], pieces[i][1]))
            return
