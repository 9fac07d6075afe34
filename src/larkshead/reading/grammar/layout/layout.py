"""From what lines of shorthand say to a pattern: repeats laid round their steps, copies filled in, passes that
differ, totals checked.
"""

from __future__ import annotations

from collections.abc import Iterator

from larkshead.model import (
    ByPass,
    Element,
    ElementRef,
    Join,
    LockJoin,
    NoTurn,
    Part,
    Pattern,
    Place,
    Repeat,
    Step,
    Turn,
)
from larkshead.reading.grammar.evidence import settle_rounds
from larkshead.reading.grammar.layout.repeats import _COUNTS, LayRepeats
from larkshead.reading.grammar.said import (
    Said,
    SaidCopy,
    SaidHeading,
    SaidLine,
    SaidPlain,
    SaidSequence,
    SaidStepLabel,
)
from larkshead.reading.grammar.totals import part_steps, tally
from larkshead.reading.grammar.untold import lacks
from larkshead.reading.source import Span

__all__ = ["Layout", "LockJoin"]

# Elements looked over for changes at most, all changes taken together.
_MOST_LAID = 1_000_000


class Layout(LayRepeats):
    """Puts a pattern together from what lines say, in order; linear in what is said."""

    def build(self, said: list[Said]) -> Pattern:
        """The pattern of everything said."""
        handlers = {name: getattr(self, name) for name in dir(self) if name.startswith("_Said")}
        for thing in said:
            handlers["_" + type(thing).__name__](thing)
        self._end_part()
        if self.part_numbers:
            self._parts_in_order()
        for settled in settle_rounds(self.pattern.parts) if self.around else ():
            self.notice(
                "assumed",
                "note",
                f"worked {settled.passes} times, since the round before offers {settled.places} places",
                self.origins.of(settled.repeat),
            )
        self._settle_open()
        self.check_totals()
        self._settle_steps()
        self._check_places()
        return self.pattern

    def _settle_open(self) -> None:
        """One repeat whose number is not told, and a total that tells it: ``11 rings in all``."""
        open_ones = [
            step
            for part in self.pattern.parts
            for step in part.steps
            if isinstance(step, Repeat) and step.times is None and step.until != "length wanted"
        ]
        if len(open_ones) != 1:
            return
        repeat = open_ones[0]
        inside = tally(repeat.steps)
        for stated, _ in self.totals:
            if stated.scope == "element" or stated.of or stated.about:
                continue
            others = tally(part_steps(self.pattern.parts))
            for name in ("rings", "chains"):
                wanted = stated.counts.get(name)
                if wanted is None or not inside.get(name):
                    continue
                number, over = divmod(wanted - (others.get(name, 0) - inside[name]), inside[name])
                if not over and number > 0:
                    repeat.times, repeat.until = number, ""
                    self.notices[:] = [notice for notice in self.notices if notice.kind != "open-repeat"]
                    message = f"worked {number} times, since the text tells {wanted} {name}"
                    self.notice("open-repeat", "note", message, self.origins.of(repeat))
                    return

    def _parts_in_order(self) -> None:
        """``Rows 1, 3, 5: ...`` and ``Rows 2, 4: ...``: parts worked in the order of their numbers."""
        parts: list[Part] = []
        waiting: dict[int, Part] = {}
        for part in [*self.pattern.parts, None]:
            numbers = self.part_numbers.get(id(part), []) if part is not None else []
            if part is not None and (numbers or (waiting and part.number is not None)):
                same = all(other.kind == part.kind for other in waiting.values())
                numbers = numbers or [part.number or 0]
                if same and not waiting.keys() & set(numbers):
                    waiting.update(dict.fromkeys(numbers, part))
                    continue
            parts += self._ordered(waiting)
            waiting = {}
            if part is not None and id(part) in self.part_numbers:
                waiting = dict.fromkeys(numbers, part)
            elif part is not None:
                parts.append(part)
        self.pattern.parts[:] = parts

    def _ordered(self, waiting: dict[int, Part]) -> list[Part]:
        told = list({id(part): part for part in waiting.values()}.values())
        numbers = sorted(waiting)
        if len(told) < 2 or numbers != list(range(numbers[0], numbers[-1] + 1)):
            return told
        ordered: list[Part] = []
        for number in numbers:
            model = waiting[number]
            span = self.origins.of(model) or Span(0, 0)
            first = not any(part.steps is model.steps for part in ordered)
            listed = len(self.part_numbers.get(id(model), []))
            part = Part(model.kind, number, model.name, model.times // max(listed, 1))
            part.steps = model.steps if first else self._copied(model.steps, span)
            self.origins.record(part, span)
            ordered.append(part)
        return ordered

    def _settle_steps(self) -> None:
        """Places that name the step of a list mean the element told there; it takes the step's label where it has
        none.
        """
        if not self.step_elements:
            return
        for element in self.joined:
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
        """Joins that name an element that is not told, or a picot it does not have; numbers left out among the
        labels.
        """
        rings: dict[str, int] | None = None
        for element in self.joined:
            for at, item in enumerate(element.work):
                for place in item.places if isinstance(item, Join) else ():
                    ref = place.element
                    if ref is None or place.part is not None or (ref.label is None and not isinstance(ref.which, int)):
                        continue
                    name = ref.label or str(ref.which)
                    there = self.by_label.get(f"{ref.kind} {name}" if ref.kind else name) or self._by_number(ref)
                    if there is None:
                        if rings is None:
                            rings = tally(part_steps(self.pattern.parts))
                        message = self._not_told(ref, name, rings)
                    else:
                        message = "" if there is element else lacks(there, place)
                    if message:
                        self.notice("contradiction", "warning", message, self.origins.of(element, at))

    def _by_number(self, ref: ElementRef) -> Element | None:
        """The element a number means where none is labelled: the so-manieth of its kind, told before any repeat."""
        if not isinstance(ref.which, int) or len(self.pattern.parts) > 1 or not self.pattern.parts:
            return None
        if self.plain_order is None:
            self.plain_order = {}
            for step in self.pattern.parts[0].steps:
                if isinstance(step, Repeat | ByPass):
                    break
                if isinstance(step, Element):
                    self.plain_order.setdefault(step.kind, []).append(step)
        order = self.plain_order.get(ref.kind or "ring", [])
        labelled = self._names_of(ref.kind or "ring")
        return order[ref.which - 1] if not labelled and 0 < ref.which <= len(order) else None

    def _names_of(self, kind: str) -> list[str]:
        """The labels and numbers that elements of a kind bear."""
        if self.names_by_kind is None:
            self.names_by_kind = {}
            for key in self.by_label:
                of, blank, name = key.rpartition(" ")
                if blank:
                    self.names_by_kind.setdefault(of, []).append(name)
        return self.names_by_kind.get(kind, [])

    def _not_told(self, ref: ElementRef, name: str, worked: dict[str, int]) -> str:
        """What is wrong with a name no element bears: others of its kind are named so, or there are not as many."""
        kind = ref.kind or "ring"
        names = self._names_of(kind)
        if name.isdigit():
            if kind not in self.most_numbered:
                numbers = [int(label) for label in names if label.isdigit()]
                self.most_numbered[kind] = max(numbers) if len(numbers) > 1 else -1
            most = self.most_numbered[kind]
            there = max(worked.get(_COUNTS.get(kind, "rings"), 0), most)
            return f"there is no {kind} {name}" if most >= 0 and int(name) > there else ""
        if len(name) > 1:
            return ""
        lettered = any(not label.isdigit() for label in names) or any(
            len(label) == 1 and label.isalpha() for label in self.step_elements
        )
        return f"there is no {kind} {name}" if lettered else ""

    def _SaidLine(self, said: SaidLine) -> None:
        self._finish_alike()
        self._end_followed()
        self.range_open = None
        while self.groups and self.groups[-1][0] in (("line", "lines") if said.blank else ("line",)):
            self._shut(self.groups[-1][2], "all", self.groups[-1][3])
        if self.lines[-1] != len(self.steps):
            self.lines.append(len(self.steps))
        self.clause = None
        if said.blank:
            self.block = len(self.steps)

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
        if line.joins:
            self.joined.append(element)
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

    def _end_lines(self) -> None:
        while self.groups and self.groups[-1][0] in ("line", "lines"):
            self._shut(self.groups[-1][2], "all", self.groups[-1][3])

    def _end_part(self) -> None:
        self._finish_alike()
        self._end_followed()
        self._end_lines()
        for bracket, _, _, span, closed in self.groups:
            if closed:
                continue
            self.notice("unmatched-repeat", "warning", f"the bracket {bracket} opened here is never closed", span)
        self.groups.clear()
        for said in self.pending:
            self.laid += len(self.known)
            if self.laid > _MOST_LAID:
                message = "more is said to differ from pass to pass than is read; changes from here on are left out"
                self.notice("too-many-changes", "error", message, said.span)
                break
            if not self._lay(said.change):
                self.notice("unread-text", "warning", "a change is told that could not be placed", said.span)
        self.pending.clear()
        self._in_order()
        self._resolve_varying(self.part.steps, None)
        self._cover_turns()
        self._cover_spaces()
        if self.part.steps or self.part.kind:
            self.pattern.parts.append(self.part)

    def _in_order(self) -> None:
        """``R1, R3, R5: ...`` and ``R2, R4: ...``: worked in the order of their numbers."""
        steps = self.part.steps
        at = 0
        while self.numbered and at < len(steps):
            end = at
            numbers: dict[int, Repeat] = {}
            while end < len(steps):
                step = steps[end]
                if isinstance(step, Repeat) and id(step) in self.numbered:
                    numbers.update(dict.fromkeys(self.numbered[id(step)], step))
                elif isinstance(step, Element) and numbers and step.label is not None and step.label.isdecimal():
                    stop = end + 1
                    while stop < len(steps) and isinstance(steps[stop], Turn | NoTurn):
                        stop += 1
                    alone = Repeat(steps[end:stop], 1)
                    self.origins.record(alone, self.origins.of(step) or Span(0, 0))
                    numbers[int(step.label[:9])] = alone
                    end = stop - 1
                else:
                    break
                end += 1
            if end - at > 1 and sorted(numbers) == list(range(min(numbers), max(numbers) + 1)):
                ordered: list[Step] = []
                for number in sorted(numbers):
                    span = self.origins.of(numbers[number]) or Span(0, 0)
                    ordered += self._copied(numbers[number].steps, span)
                steps[at:end] = ordered
                end = at + len(ordered)
            at = max(end, at + 1)
        self.numbered.clear()

    def _SaidHeading(self, said: SaidHeading) -> None:
        self._end_part()
        before = self.pattern.parts
        self.part = Part(said.kind, said.number, said.name, said.times)
        if said.numbers:
            self.part_numbers[id(self.part)] = said.numbers
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
            self._make_other(copied, said)
            if said.times > 1:
                self.add(Repeat(copied, said.times), said.span)
            else:
                self.part.steps.extend(copied)

    def _make_other(self, steps: list[Step], said: SaidHeading) -> None:
        repeats = [step for step in steps if isinstance(step, Repeat)]
        if said.again is not None and len(repeats) == 1:
            repeats[0].times, repeats[0].until = said.again, ""
        for other in said.instead:
            for element in _elements(steps):
                if element.kind == other.kind:
                    element.work, _ = self._work(other.pieces)

    def _SaidStepLabel(self, said: SaidStepLabel) -> None:
        self._close_label()
        self.label = said.label
        self.step_open = said.label
        self.labels.pop(said.label, None)
        self.labels[said.label] = (len(self.steps), len(self.steps))

    def _SaidSequence(self, said: SaidSequence) -> None:
        """Lines told by letter in their order. Told once each for nothing but this, they are what the letters mean."""
        self._close_label()
        self._finish_alike()
        self._end_followed()
        named = {label for labels, _ in said.groups for label in labels}
        for label in named:
            first, last = self.labels.get(label, (0, 0))
            if first < last:
                self.defined[label] = self.steps[first:last]
        missing = sorted(named - self.defined.keys())
        if missing:
            self.notice("unmatched-repeat", "warning", f"there is no step {missing[0]} to work", said.span)
            return
        start = min((self.labels[label][0] for label in named if label in self.labels), default=len(self.steps))
        told = [label for label, (first, last) in self.labels.items() if first >= start and first < last]
        if set(told) == named and self.steps is self.part.steps:
            del self.steps[start:]
            self.lines = [at for at in self.lines if at <= start] or [0]
            self.block = min(self.block, start)
        else:
            start = len(self.steps)
        for labels, times in said.groups:
            steps = [step for label in labels for step in self._copied(self.defined[label], said.span)]
            if times > 1:
                self.add(Repeat(steps, times), said.span)
            else:
                self.steps.extend(steps)
        if said.times > 1:
            self._wrap(start, said.times, said.span)
        self.labels.clear()
        self.label = None

    def _SaidCopy(self, said: SaidCopy) -> None:
        """The steps of a labelled line, or an element by its label, told again."""
        self._close_label()
        found = self.labels.get(said.label)
        if found is not None and found[0] == found[1]:
            found = None
        if found is not None:
            self.steps.extend(self._copied(self.steps[found[0] : found[1]], said.span))
            return
        element = self.by_label.get(said.label)
        if element is None:
            self.notice("unmatched-repeat", "warning", f"there is no step {said.label} to work again", said.span)
            return
        self.steps.extend(self._copied([element, *self.tails.get(id(element), [])], said.span))


def _elements(steps: list[Step]) -> Iterator[Element]:
    """The elements among steps, those in repeats and passes, too."""
    waiting = list(steps)
    while waiting:
        step = waiting.pop()
        if isinstance(step, Element):
            yield step
        elif isinstance(step, Repeat):
            waiting.extend(step.steps)
        elif isinstance(step, ByPass):
            waiting.append(step.step)
