"""From what is said to a pattern: repeats laid round their steps, references filled in, labels kept, origins recorded."""

from __future__ import annotations

import itertools
from copy import deepcopy
from dataclasses import replace

from larkshead.model import (
    BareThread,
    ByPass,
    Cut,
    Element,
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
from larkshead.reading.grammar.evidence import ALL_ROUND, settle_rounds
from larkshead.reading.grammar.going_on import sizes_of
from larkshead.reading.grammar.items import items_of, spans_of
from larkshead.reading.grammar.passes import apply_change, lay_change
from larkshead.reading.grammar.prose.parted import Series, small_enough
from larkshead.reading.grammar.prose.repeated import worked_elements
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
    SaidNote,
    SaidOffer,
    SaidRepeat,
    SaidStep,
    SaidStepLabel,
)
from larkshead.reading.grammar.totals import tally
from larkshead.reading.source import Span

_PASS_LIMIT = 10**12


class Assembly(Series):
    """Puts a pattern together from what is said, in order."""

    def build(self, said: list[Said]) -> Pattern:
        """The pattern of everything said."""
        _list_out(said)
        for thing in said:
            if not isinstance(thing, SaidChange | SaidRepeat | SaidCover) or not self.too_much(thing.span):
                getattr(self, "_" + type(thing).__name__)(thing)
        self._end_part()
        for settled in settle_rounds(self.pattern.parts):
            self.notice(
                "assumed",
                "note",
                f"worked {settled.passes} times, since the round before offers {settled.places} places",
                self.origins.of(settled.repeat),
            )
        self._settle_by_offers()
        self.check_totals()
        return self.pattern

    def _end_part(self) -> None:
        for bracket, _, _, span in self.groups:
            if bracket != "line":
                self.notice("unmatched-repeat", "warning", f"this {bracket} is never closed", span)
        self.groups.clear()
        self._settle_expected()
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
        for step in self.copied([step for step in wanted[-1].steps if not isinstance(step, Note)], said.span):
            self.add(step, said.span)
        for change in said.changes:
            if not lay_change(self.part.steps, change, self.origins, final=True):
                self.notice("unread-text", "warning", "a change is told that could not be placed", said.span)

    def _SaidOffer(self, said: SaidOffer) -> None:
        number = len(self.pattern.parts)
        if not self.offers or self.offers[-1][0] != number:
            self.offers.append((number, said))

    def _settle_by_offers(self) -> None:
        """What is told to go all round work that is not told here goes to every place that work is said to leave."""
        for number, said in self.offers:
            for part in self.pattern.parts[number : number + 1]:
                step = next((s for s in part.steps if isinstance(s, Repeat)), None)
                if step is None or step.times is not None or step.until not in ("", ALL_ROUND):
                    continue
                step.times, step.until = said.places, ""
                self.notice(
                    "assumed",
                    "note",
                    f"worked {said.places} times, since so many places are said to be there",
                    said.span,
                )

    def _SaidCover(self, said: SaidCover) -> None:
        self.covers.append(said)

    def _SaidElement(self, said: SaidElement) -> None:
        for one in _told_in_a_list(said):
            self._element(one)

    def _element(self, said: SaidElement) -> None:
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

    def _SaidChange(self, said: SaidChange) -> None:
        """A change goes for the passage told just before it, or for what follows where nothing stands before."""
        start = self._segment_start()
        if self._worked(self.steps[start:]):
            segment = self.steps[start:]
            if self._is_next(segment, said.change):
                self._add_changed(segment, said.change, said.span)
                return
            self._hold_number(segment, said.change)
            if lay_change(segment, said.change, self.origins):
                self.steps[start:] = segment
                return
        self.pending.append((said, start))

    def _is_next(self, steps: list[Step], change: Change) -> bool:
        """``Turn, leave 5 mm, and the fourth ring is joined in the same manner to the second``: the ring itself is told by that."""
        last = next((step for step in reversed(steps) if not isinstance(step, Note)), None)
        if not isinstance(last, Turn | BareThread) or not change.element_kind or change.by_passage:
            return False
        told = [step for step in steps if not isinstance(step, Note)]
        kinds: list[str] = [step.kind for step in told if isinstance(step, Element)]
        alone = not any(isinstance(step, Repeat | ByPass) for step in told)
        return alone and change.passes == kinds.count(change.element_kind) + 1 and change.into == "join"

    def _add_changed(self, steps: list[Step], change: Change, span: Span) -> None:
        model = next(s for s in reversed(steps) if isinstance(s, Element) and s.kind == change.element_kind)
        copy = deepcopy(model)
        copy.label = str(change.passes)
        apply_change(copy.work, change)
        self.known.append(copy)
        self.add(copy, span)

    def _hold_number(self, steps: list[Step], change: Change) -> None:
        """``the eighth and last ring``: there should be eight."""
        if change.number is None or not change.element_kind:
            return
        found = sum(1 for step in steps for e in worked_elements(step) if e.kind == change.element_kind)
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
            if cover.between:
                self._none_behind_last(self.part.steps, type(step))

    def _none_behind_last(self, steps: list[Step], kind: type[Step]) -> None:
        """What stands between elements does not stand behind the last one: its pass is told apart."""
        at = next((i for i in range(len(steps) - 1, -1, -1) if not isinstance(steps[i], Note)), None)
        if at is None:
            return
        last = steps[at]
        if isinstance(last, kind):
            del steps[at]
        elif (
            isinstance(last, Repeat)
            and (last.times or 0) > 1
            and last.steps
            and small_enough(last.steps)
            and isinstance(last.steps[-1], kind | Repeat)
        ):
            end = deepcopy(last.steps)
            self._record_again(end, self.origins.of(last))
            self._none_behind_last(end, kind)
            last.times = (last.times or 0) - 1
            steps[at + 1 : at + 1] = end
            if last.times == 1:
                steps[at : at + 1] = last.steps

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


def _list_out(said: list[Said]) -> None:
    """``Three rings: five, picot, five; eight, picot, eight; ...``: the number is that of the list."""
    for i, thing in enumerate(said):
        if not isinstance(thing, SaidElement) or not 1 < thing.count < 40 or thing.alike is not None or thing.label:
            continue
        listed = said[i + 1 : i + thing.count]
        if len(listed) == thing.count - 1 and all(
            isinstance(one, SaidElement) and one.unnamed and one.kind == thing.kind and one.count == 1 for one in listed
        ):
            thing.count = 1


def _told_in_a_list(said: SaidElement) -> list[SaidElement]:
    """``Three rings: five, picot, five; seven, picot, seven; five, picot, five``: as many as there are counts told apart."""
    if said.count < 2 or said.numbers or said.alike is not None or said.kind.startswith("split"):
        return [said]
    parts: list[list[Piece]] = [[]]
    for piece in said.pieces:
        if parts[-1] and isinstance(piece[0], Stitches) and isinstance(parts[-1][-1][0], Stitches):
            parts.append([])
        parts[-1].append(piece)
    if len(parts) != said.count:
        return [said]
    return [replace(said, pieces=part, count=1, changes=said.changes) for part in parts]


def _in_a_row(numbers: list[int]) -> bool:
    return all(b == a + 1 for a, b in itertools.pairwise(numbers))


def _part_sides(work: list[WorkItem], pieces: list[Piece]) -> None:
    """Two counts in a row with nothing between them: there the second thread takes over."""
    for i in range(1, len(work)):
        if isinstance(work[i], Stitches) and isinstance(work[i - 1], Stitches):
            work.insert(i, SideChange())
            pieces.insert(i, (work[i], pieces[i][1]))
            return
