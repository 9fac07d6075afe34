"""From rows to what is said, in order: repeats opened and closed round their rows, places resolved to elements."""

from __future__ import annotations

from copy import deepcopy
from typing import cast

from larkshead.model import Attach, ByPass, Element, ElementKind, Join, LockJoin, Place, Step
from larkshead.reading import Notice, Origins
from larkshead.reading.grammar.items import items_of, spans_of
from larkshead.reading.grammar.meanings import Varying
from larkshead.reading.grammar.said import (
    Piece,
    Said,
    SaidChange,
    SaidElement,
    SaidLine,
    SaidOpen,
    SaidShut,
    SaidStep,
    SaidTotal,
)
from larkshead_table.places import Places
from larkshead_table.plans import Plan
from larkshead_table.spans import Stretch


class Telling:
    """Tells the rows of a pattern to the shared assembly."""

    def __init__(
        self,
        plans: list[Plan],
        stretches: list[Stretch],
        places: Places,
        notices: list[Notice],
        origins: Origins,
        default: Place | None = None,
    ) -> None:
        self.default = default
        self.plans = plans
        self.stretches = stretches
        self.places = places
        self.notices = notices
        self.origins = origins
        self.said: list[Said] = []
        self.loose: list[SaidChange] = []
        self.instead: dict[int, list[tuple[int, Plan]]] = {}

    def tell(self) -> list[Said]:
        """Everything the rows say."""
        opens: dict[int, list[Stretch]] = {}
        shuts: dict[int, list[Stretch]] = {}
        copies: dict[int, list[Stretch]] = {}
        for stretch in self.stretches:
            if stretch.copied:
                copies.setdefault(stretch.behind, []).append(stretch)
            else:
                opens.setdefault(stretch.first, []).append(stretch)
                shuts.setdefault(stretch.last, []).append(stretch)
        self._gather_instead()
        for at, plan in enumerate(self.plans):
            if plan.heading is not None:
                self._tell_changes()
                self.said.append(plan.heading)
            for stretch in sorted(opens.get(at, ()), key=lambda s: -s.last):
                self._open(stretch)
            if plan.instead is None:
                self._row(at, plan)
            for stretch in sorted(shuts.get(at, ()), key=lambda s: -s.first):
                self._shut(stretch)
            for stretch in copies.get(at, ()):
                self._open(stretch)
                for row in range(stretch.first, stretch.last + 1):
                    self._row(row, deepcopy(self.plans[row]))
                self._shut(stretch)
        self._tell_changes()
        return self.said

    def _tell_changes(self) -> None:
        """Changes on some passes, behind the rows of their part; picots in place of joins before joins told besides."""
        picots = [told for told in self.loose if told.change.into == "picot"]
        self.said += [*picots, *(told for told in self.loose if told.change.into != "picot")]
        self.loose = []

    # --- repeats -----------------------------------------------------------------------------------------------

    def _open(self, stretch: Stretch) -> None:
        self.said.append(SaidOpen("rows", stretch.span, stretch.times))

    def _shut(self, stretch: Stretch) -> None:
        self.said.append(SaidShut("rows", stretch.span, stretch.times, how="" if stretch.times else "length_wanted"))

    # --- rows --------------------------------------------------------------------------------------------------

    def _row(self, at: int, plan: Plan) -> None:
        self.said.append(SaidLine())
        self.said += plan.before
        others = self.instead.get(at, [])
        for unit in plan.units:
            if unit.element is not None:
                self._element(at, unit.element, others)
                others = []
                self.said += [SaidTotal(total, span) for total, span in unit.totals]
            for said in (*unit.locks, *unit.after):
                self._resolve(said, at)
                if others and isinstance(said, SaidStep):
                    self.origins.record(said.step, said.span)
                    said = SaidStep(ByPass(said.step, self._passes(others)), said.span)
                    others = []
                self.said.append(said)
        for change in plan.loose:
            self._resolve(change, at)
        self.loose += plan.loose

    def _element(self, at: int, element: SaidElement, others: list[tuple[int, Plan]]) -> None:
        for item, _ in element.pieces:
            for one in (item.item, *item.passes.values()) if isinstance(item, Varying) else (item,):
                if isinstance(one, Join):
                    if not one.places and self.default is not None:
                        one.places = [deepcopy(self.default)]
                    self._all(one.places, at, element.kind)
        if others:
            self.said.append(SaidStep(ByPass(self._built(element), self._passes(others)), element.span))
        else:
            self.said.append(element)

    def _passes(self, others: list[tuple[int, Plan]]) -> dict[str | int, list[Step]]:
        """What is worked instead on the passes that rows of their own tell."""
        return {plan.instead[1]: self._steps(plan, row) for row, plan in others if plan.instead is not None}

    def _gather_instead(self) -> None:
        """Rows that tell what is worked on some pass stand with the row they go for."""
        labels: dict[str, int] = {}
        for at, plan in enumerate(self.plans):
            if plan.instead is None:
                labels.update((label, at) for label in plan.labels)
                continue
            row = labels.get(plan.instead[0])
            if row is None or not self.plans[row].works:
                message = f"nothing is worked in row {plan.instead[0]}"
                self.notices.append(Notice("unread-text", "warning", message, plan.span))
                plan.instead = None
            else:
                self.instead.setdefault(row, []).append((at, plan))

    def _steps(self, plan: Plan, at: int) -> list[Step]:
        """The steps a row tells, for a pass of another row."""
        steps: list[Step] = []
        for unit in plan.units:
            if unit.element is not None:
                for item, _ in unit.element.pieces:
                    if isinstance(item, Join):
                        self._all(item.places, at)
                steps.append(self._built(unit.element))
            for said in (*unit.locks, *unit.after):
                if isinstance(said, SaidStep):
                    self._resolve(said, at)
                    self.origins.record(said.step, said.span)
                    steps.append(said.step)
                elif isinstance(said, SaidElement):
                    steps.append(self._built(said))
        return steps

    def _built(self, said: SaidElement) -> Element:
        """The element of the model."""
        pieces: list[Piece] = [(item.item if isinstance(item, Varying) else item, span) for item, span in said.pieces]
        kind = cast(ElementKind, said.kind)
        element = Element(kind, items_of(pieces), said.label, said.thread, said.technique, said.size, said.half_closed)
        self.origins.record(element, said.span, spans_of(pieces))
        return element

    # --- places ------------------------------------------------------------------------------------------------

    def _resolve(self, said: Said, at: int) -> None:
        if isinstance(said, SaidStep) and isinstance(said.step, LockJoin | Attach):
            for place in said.step.places:
                self.places.settle(place, at)
                self.places.check(place, said.span)
        elif isinstance(said, SaidChange):
            for place in said.change.places:
                self.places.settle(place, at, on_pass=True)
        elif isinstance(said, SaidElement):
            for item, _ in said.pieces:
                if isinstance(item, Join):
                    self._all(item.places, at)

    def _all(self, places: list[Place], at: int, by: str = "") -> None:
        for place in places:
            self.places.settle(place, at, by=by)
