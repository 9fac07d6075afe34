"""What a rule is given: the pattern as worked and as written, where it stands in the text, and who is whose sister."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from itertools import chain
from operator import attrgetter
from typing import TYPE_CHECKING, Any, TypeVar

from larkshead.host.specs import RuleSpec
from larkshead.linting.findings import Finding, Fix
from larkshead.linting.fixes import counts_fix, number_fix
from larkshead.linting.remarks import Remarks
from larkshead.linting.repeats import steps_in
from larkshead.linting.shapes import Shape, shape_of
from larkshead.linting.sisters import group_sisters
from larkshead.linting.written import Gap, Joined, WrittenElement, gaps_of
from larkshead.model import Element, Pattern, Repeat, Step, Thrown
from larkshead.reading import Notice, Reading, Severity, Span
from larkshead.working.plans import Plan
from larkshead.working.worked import Worked, WorkedAction, WorkedElement, WorkedPicot

if TYPE_CHECKING:
    from larkshead.conventions import Convention

Made = TypeVar("Made")
Related = tuple[object, int | None, str]
_SEVERITIES: dict[str, Severity] = {"error": "error", "warning": "warning", "note": "note"}


class Context:
    """One pattern, for every rule that looks at it.

    ``worked`` the pattern as worked; ``pattern`` as written; ``reading`` the text it was read from (None for a pattern
    made in memory); ``convention`` the one it was read with (None where not known). What is computed from these is
    computed once and shared between the rules.
    """

    __slots__ = ("_by_step", "_cache", "_families", "convention", "pattern", "reading", "rule", "worked")

    def __init__(self, worked: Worked, reading: Reading | None = None, convention: Convention | None = None) -> None:
        self.worked = worked
        self.pattern: Pattern = worked.pattern
        self.reading = reading
        self.convention = convention
        # The rule being run: its name and usual severity go into what it finds.
        self.rule: RuleSpec | None = None
        self._cache: dict[str, Any] = {}
        self._by_step: dict[int, WrittenElement] | None = None
        self._families: dict[int, list[WrittenElement]] = {}

    # What is written

    @property
    def written(self) -> list[WrittenElement]:
        """Every written element, in the order first worked, with its family of sisters set."""
        return self.cached("written", self._make_written)

    def written_of(self, element: WorkedElement) -> WrittenElement:
        """The written element that a worked one is a pass of."""
        return self.by_step[id(element.step)]

    @property
    def by_step(self) -> dict[int, WrittenElement]:
        """Written elements by the ``id`` of their step."""
        if self._by_step is None:
            self._by_step = {id(element.step): element for element in self.written}
        return self._by_step

    def shaped(self, test: Callable[[Shape], bool]) -> list[WrittenElement]:
        """The written elements whose shape passes a test, in the order first worked. Elements worked alike share their
        shape, which is tested once."""
        shapes = self.cached("shapes", lambda: {id(element.shape): element.shape for element in self.written})
        passed = {key for key, shape in shapes.items() if test(shape)}
        return [element for element in self.written if id(element.shape) in passed] if passed else []

    def sisters(self, element: WrittenElement) -> list[WrittenElement]:
        """The other written elements an element is judged against; a pass of its own repeat is not among them."""
        return [other for other in self._families[element.family] if other is not element]

    def families(self) -> Iterable[list[WrittenElement]]:
        """All groups of sisters, each in working order; an element without sisters is a group of one."""
        _ = self.written
        return self._families.values()

    def _make_written(self) -> list[WrittenElement]:
        written: list[WrittenElement] = []
        by_step: dict[int, WrittenElement] = {}
        # Elements worked alike have one shape together.
        shapes: dict[Plan, Shape] = {}
        lasts: dict[tuple[int, bool], WrittenElement] = {}
        for made in self.elements:
            step = made.step
            found = by_step.get(id(step))
            if found is None:
                shape = shapes.get(made.plan)
                if shape is None:
                    shape = shapes[made.plan] = shape_of(step)
                found = by_step[id(step)] = WrittenElement(step, shape, made.part, len(written), made.is_ring)
                written.append(found)
            found.worked.append(made)
            sort = made.part, made.is_ring
            found.first = found.first or sort not in lasts
            lasts[sort] = found
        for last in lasts.values():
            last.last = True
        group_sisters(self.pattern, written)
        families: dict[int, list[WrittenElement]] = {}
        for element in written:
            families.setdefault(element.family, []).append(element)
        self._families = families
        return written

    # What is worked

    @property
    def elements(self) -> list[WorkedElement]:
        """Every element as worked."""
        return self.cached("elements", lambda: self.worked.elements)

    def actions(self, *kinds: type[Step]) -> list[WorkedAction]:
        """Every action of some kinds as worked, in working order."""
        by_kind = self.cached("actions", self._sort_actions)
        found = [by_kind[kind] for kind in kinds if kind in by_kind]
        return found[0] if len(found) == 1 else sorted(chain.from_iterable(found), key=attrgetter("index"))

    def _sort_actions(self) -> dict[type[Step], list[WorkedAction]]:
        by_kind: dict[type[Step], list[WorkedAction]] = {}
        for made in self.worked.sequence:
            if isinstance(made, WorkedAction):
                by_kind.setdefault(type(made.step), []).append(made)
        return by_kind

    @property
    def shared_picots(self) -> list[WorkedPicot]:
        """Every picot as worked that more than one join goes into, in working order of their elements."""
        return self.cached(
            "shared picots", lambda: [one for made in self.elements for one in made.picots if len(one.uses) > 1]
        )

    @property
    def gaps(self) -> list[Gap]:
        """What lies between elements worked one after the other, each gap of the text once."""
        return self.cached("gaps", lambda: list(gaps_of(self.worked.sequence)))

    @property
    def joins(self) -> list[Joined]:
        """Every join as worked, those inside elements and those between them."""
        return self.cached(
            "joins", lambda: [Joined(join, made) for made in self.worked.sequence for join in made.joins]
        )

    def cached(self, key: str, make: Callable[[], Made]) -> Made:
        """What ``make`` gives, made on the first call; rules that share work agree on a key."""
        if key not in self._cache:
            self._cache[key] = make()
        made: Made = self._cache[key]
        return made

    @property
    def complete(self) -> bool:
        """True when every repeat has a number and working was not cut short: totals then mean something."""
        return not self.worked.open_repeats and not any(
            problem.kind.startswith("too-many") for problem in self.worked.problems
        )

    @property
    def is_whole(self) -> bool:
        """True for a pattern that says what it is or what it takes; False for what may be a passage of one."""
        pattern = self.pattern
        return bool(pattern.title or pattern.materials or pattern.threads)

    # What the text says

    def span(self, step: object, item: int | None = None) -> Span | None:
        """Where a step, or one item of its work, stands in the text; None where the text is not known."""
        if self.reading is None:
            return None
        found = self.reading.origins.of(step, item)
        if found is None and isinstance(step, Element):
            written = self.by_step.get(id(step))
            host = written.worked[0].thrown_from if written is not None else None
            if host is not None:
                return self.span(host.step, _place_in(host.step, step))
        return found

    def repeat_around(self, step: object) -> Repeat | None:
        """The outermost repeat that holds a step."""
        return self.cached("repeats around", self._make_repeats_around).get(id(step))

    def _make_repeats_around(self) -> dict[int, Repeat]:
        return {
            id(inner): step
            for part in self.pattern.parts
            for step in part.steps
            if isinstance(step, Repeat)
            for inner in steps_in(step.steps)
        }

    def end_of_repeat(self, repeat: Repeat) -> Span | None:
        """Where a repeat says how often: what is left of its text after the last of its steps, or all of it."""
        whole = self.span(repeat)
        if whole is None:
            return None
        ends = [span.end for step in steps_in(repeat.steps) if (span := self.span(step)) is not None]
        start = max((end for end in ends if end < whole.end), default=whole.start)
        words = self.quote(Span(start, whole.end))
        return Span(start + len(words) - len(words.lstrip()), whole.end) if words.strip() else whole

    def quote(self, span: Span | None) -> str:
        """The words of a span; empty where the text is not known."""
        return self.reading.source.quote(span) if self.reading is not None and span is not None else ""

    @property
    def notices(self) -> Sequence[Notice]:
        """What the reader had to say."""
        return self.reading.notices if self.reading is not None else ()

    @property
    def remarks(self) -> Remarks:
        """Remarks of the text that excuse what would otherwise be a finding."""
        return self.cached("remarks", lambda: Remarks(self.pattern, self.reading, self.convention))

    def thread_places(self) -> list[tuple[Span | None, str]]:
        """Where the text lists the threads, as related places of a finding."""
        return [(self.span(thread), f"{thread.name} is listed here") for thread in self.pattern.threads]

    def common_forms(self) -> set[str]:
        """The forms, in lower case, of the abbreviations the convention says everyone knows; none without a
        convention."""
        if self.convention is None:
            return set()
        known = self.convention.everyone_knows
        return {form for form, (concept, _) in self.convention.forms.items() if concept in known}

    # What is found

    def finding(
        self,
        message: str,
        step: object | None = None,
        item: int | None = None,
        *,
        span: Span | None = None,
        related: Iterable[Related | tuple[Span | None, str]] = (),
        severity: Severity | None = None,
        fix: Fix | None = None,
    ) -> Finding:
        """A finding at a step, at an item of its work, or at a span, of the rule being run and with its usual severity.

        ``related`` are other places it speaks of: (step, item, words) or (span, words).
        """
        places: list[tuple[Span, str]] = []
        for place in related:
            where = self.span(place[0], place[1]) if len(place) == 3 else place[0]
            if where is not None:
                places.append((where, place[-1]))
        if span is None and step is not None:
            span = self.span(step, item)
        name, usual = (self.rule.name, self.rule.severity) if self.rule is not None else ("", "warning")
        return Finding(name, severity or _SEVERITIES.get(usual, "note"), message, span, places, fix, step, item)

    def counts_fix(self, element: WrittenElement, counts: Sequence[int]) -> Fix | None:
        """A fix that gives an element other stitch counts, where the text holds just those numbers."""
        return counts_fix(self.reading, element.step, counts)

    def number_fix(self, step: object, old: int, new: int, message: str, span: Span | None = None) -> Fix | None:
        """A fix that replaces the one number ``old`` in the text of a step, or in a span of it."""
        return number_fix(self.reading, span or self.span(step), old, new, message)

    def name(self, element: WorkedElement) -> str:
        """What a designer calls an element: its label, or its kind and number in its part."""
        kind = element.kind
        label = (element.step.label or "").strip()
        if label:
            return label if any(mark.isalpha() for mark in label) and len(label) > 1 else f"{kind} {label}"
        return f"{kind} {element.number}{self.of_part(element.part)}"

    def of_part(self, index: int) -> str:
        """`` of round 2`` for a numbered or named part, nothing where the pattern has one part only."""
        parts = self.pattern.parts
        if len(parts) < 2 or not 0 <= index < len(parts):
            return ""
        part = parts[index]
        named = f"{part.kind or 'part'} {part.number}" if part.number is not None else part.name
        return f" of {named}" if named else ""


def _place_in(host: Element, thrown: Element) -> int | None:
    return next((at for at, item in enumerate(host.work) if isinstance(item, Thrown) and item.element is thrown), None)
