"""Repeats laid round what was told: marks and brackets, units and named passages, numbers to be reached."""

from __future__ import annotations

from copy import deepcopy
from itertools import islice

from larkshead.model import (
    Attach,
    BareThread,
    ByPass,
    Cut,
    Element,
    Join,
    LockJoin,
    MockPicot,
    Note,
    NoTurn,
    Picot,
    Repeat,
    Step,
    Turn,
)
from larkshead.reading.grammar.building import Building
from larkshead.reading.grammar.evidence import ALL_ROUND
from larkshead.reading.grammar.going_on import go_on_until, period_of, sizes_of
from larkshead.reading.grammar.passes import apply_change
from larkshead.reading.grammar.said import (
    SaidChange,
    SaidCover,
    SaidMark,
    SaidOffer,
    SaidOpen,
    SaidRepeat,
    SaidShut,
)
from larkshead.reading.grammar.totals import size_of
from larkshead.reading.source import Span

_PASS_LIMIT = 10**12
# Steps that a text in words may have made by saying that they are like others.
MOST_COPIES = 20_000
# Notes behind which a step is no longer the one just told.
_MOST_NOTES = 100


class Repeated(Building):
    """The steps told so far, and the repeats that go round them."""

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
        # The repeat whose number is that of the place it goes on to.
        self.reached: Repeat | None = None
        # What work told elsewhere offers, each with the number of the part it is told in.
        self.offers: list[tuple[int, SaidOffer]] = []
        self.copies = 0
        self.copying_stopped = False

    def add(self, step: Step, span: Span) -> None:
        if isinstance(step, Cut) and self._just_cut():
            return
        if isinstance(step, Turn) and isinstance(self._last_told(), NoTurn):
            self.notice("contradiction", "warning", "said not to turn, and to turn, at the same place", span)
        super().add(step, span)

    def copied(self, steps: list[Step], span: Span) -> list[Step]:
        """Steps told before, for another place; none where the text copies copies without end."""
        self.copies += size_of(steps)
        if self.copies > MOST_COPIES:
            if not self.copying_stopped:
                self.copying_stopped = True
                message = f"more than {MOST_COPIES:,} steps are told as like others; those from here on are not read"
                self.notice("too-many-steps", "error", message, span)
            return []
        return deepcopy(steps)

    def _just_cut(self) -> bool:
        """Nothing worked since a cut: cutting told twice is one cut."""
        return isinstance(self._last_told(), Cut)

    def _last_told(self) -> Step | None:
        """The last step that is no note; None where so many notes follow that nothing goes on from it."""
        return next((s for s in islice(reversed(self.steps), _MOST_NOTES) if not isinstance(s, Note)), None)

    def _close_label(self) -> None:
        if self.label is not None:
            self.labels[self.label] = (self.labels[self.label][0], len(self.steps))

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
        if said.counts and last[1] >= len(self.steps):
            self._repeat_until(first[0], said)
            return
        times = self._times(said)
        if last[1] >= len(self.steps):
            self._wrap(first[0], times, said.span)
        else:
            copy = self.copied(self.steps[first[0] : last[1]], said.span)
            if copy and said.times is None and not (said.open_ended or said.around):
                # "3. Repeat step 1.": it is worked once more.
                self.steps.extend(copy)
            elif copy:
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
        parted = next((i for i, step in enumerate(self.steps) if isinstance(step, Repeat | Cut)), len(self.steps))
        for i in range(len(self.steps) - 1, -1, -1):
            if isinstance(self.steps[i], Repeat | Cut | Attach | LockJoin | MockPicot) and i < len(self.steps) - 1:
                if isinstance(self.steps[i], LockJoin) and i <= parted:
                    continue
                step = self.steps[i]
                if isinstance(step, Repeat) and i in self.units.values() and len(step.steps) == 1:
                    # "A group is three rings. Work a group, turn, ...": the passage begins with what is named.
                    return i
                return max(i + 1, named)
        return named

    def _repeat_unit(self, said: SaidRepeat) -> None:
        """So many times what was just told; told a second time with nothing worked since, it confirms or contradicts."""
        named = next((self.units[name] for name in said.labels if name in self.units), None)
        start = self._unit_start() if named is None or named >= len(self.steps) else named
        if not self._worked(self.steps[start:]) or (self._just_repeated() and not self.marks):
            self._again(said)
            return
        kinds = {element.kind for element in self._elements(self.steps[start:])}
        if said.mark == "reach" and said.times and len(kinds) == 1 and len(self._elements(self.steps[start:])) > 1:
            # "a ring, another, another, until there are six of them"
            said.counts = {kinds.pop(): said.times}
            self._repeat_counts(said)
            return
        until = "length wanted" if said.open_ended else ALL_ROUND if said.around else ""
        if said.mark == "until":
            self.notice("open-repeat", "note", "how often to repeat is not said in numbers", said.span)
        if said.times is None and not self.marks:
            start = self._open_unit(start, said)
        self._wrap(self._second_telling(start, said), self._times(said), said.span, until)
        self.reached = self.told_repeat if said.mark == "reached" else None
        self.marks.clear()

    def _second_telling(self, start: int, said: SaidRepeat) -> int:
        """More of what was told twice over: the passes are those of the second telling."""
        if said.mark != "those" or said.times is None:
            return start
        body = [(i, _look(step)) for i, step in enumerate(self.steps[start:], start) if not isinstance(step, Note)]
        half = len(body) // 2
        if half < 2 or len(body) % 2 or [look for _, look in body[:half]] != [look for _, look in body[half:]]:
            return start
        return body[half][0]

    def _open_unit(self, start: int, said: SaidRepeat) -> int:
        """Where the pass that goes on begins: at the second telling of what was told twice, made whole by what came between."""
        places = [i for i in range(start, len(self.steps)) if isinstance(self.steps[i], Element)]
        if len(places) < 2:
            return start
        period = period_of([self.steps[i] for i in places])  # type: ignore[misc]
        if period >= len(places):
            return start
        if any(not isinstance(step, Note) for step in self.steps[places[-1] + 1 :]):
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
        if last is self.reached and said.times == (last.times or 0) - 1:
            # "on to the sixth, so that's five chains": the passes end at the place of that number.
            last.times = said.times
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
            wanted -= len(worked_elements(self.steps[start]))
        if wanted == 0:
            worked: list[Step] = [s for s in self.steps[start:] if isinstance(s, Element | Repeat | ByPass)]
            for step in self.copied(worked, said.span):
                self.add(step, said.span)

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
        until = go_on_until(body, said.counts)
        if until is None:
            self.notice("contradiction", "warning", "the numbers do not come out even with what is told", said.span)
            return
        first, passes, over = until
        if passes <= 1 and not over:
            return
        if "space" in said.labels and first and isinstance(body[first - 1], BareThread):
            first -= 1
            over += 1 if over else 0
        tail = [deepcopy(step) for step in body[first : first + over]]
        self._wrap(start + first, passes, said.span)
        for step in tail:
            self.add(step, said.span)
        self.marks.clear()


def _look(step: Step) -> object:
    """What a step looks like, wherever its joins go."""
    if isinstance(step, Element):
        return step.kind, tuple(getattr(item, "count", "") for item in step.work if not isinstance(item, Picot | Join))
    return type(step)


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


def worked_elements(step: Step) -> list[Element]:
    inner = flatten([step])
    return inner * min(step.times or 1, 1000) if isinstance(step, Repeat) else inner
