"""Places told by rows: ``last p of 3``, ``p of row 1``, ``base of step 4`` mean the element worked in that row."""

from __future__ import annotations

from larkshead.model import ElementRef, PartRef, Place
from larkshead.reading import Notice, Span
from larkshead.reading.grammar.said import SaidElement
from larkshead_table.plans import Plan
from larkshead_table.spans import Stretch
from larkshead_table.works import sums

_ROWS = ("row", "step")


class Places:
    """Turns rows named in places into elements. Elements named so get the row's label where they have none of their own."""

    def __init__(
        self, plans: list[Plan], labels: dict[str, list[int]], stretches: list[Stretch], notices: list[Notice]
    ) -> None:
        self.notices = notices
        self.plans = plans
        self.labels = labels
        self.stretches = [stretch for stretch in stretches if not stretch.copied]
        self.named = any(element.label is not None or element.first is not None for plan in plans for element in plan.elements)
        self.parts = {plan.heading.kind for plan in plans if plan.heading is not None}

    def settle(self, place: Place, at: int, span: Span) -> None:
        """Name the element of the row that a place in row ``at`` speaks of; a notice at ``span`` where there is none."""
        self._settle(place, at)
        wrong = self._wrong(place)
        if wrong:
            self.notices.append(Notice("contradiction", "warning", wrong, span))

    def _wrong(self, place: Place) -> str:
        """What is wrong with a place by the rows alone: an element that is not told, a picot it does not have."""
        ref = place.element
        if place.part is not None or ref is None or ref.label is None:
            return ""
        called = [
            element
            for plan in self.plans
            for element in plan.elements
            if element.label is not None
            and element.label.lower() == ref.label.lower()
            and (not ref.kind or element.kind.endswith(ref.kind))
        ]
        if not called:
            lettered = any(element.label is not None and element.label[0].isalpha() for plan in self.plans for element in plan.elements)
            named = f"{ref.kind or 'element'} {ref.label}"
            return f"there is no {named} in this table" if ref.label.isalpha() and lettered else ""
        there = sums(called[-1].pieces)
        spots = there["picots"] + there["joins"]
        if place.spot != "picot" or not called[-1].pieces:
            return ""
        name = f"{called[-1].kind} {called[-1].label}"
        if not spots:
            return f"{name} has no picots to join to"
        if isinstance(place.picot, int) and place.picot > spots:
            return f"{name} has {spots} picots; there is no picot {place.picot}"
        return ""

    def _settle(self, place: Place, at: int) -> None:
        part, ref = place.part, place.element
        if part is not None and part.kind in _ROWS and part.kind not in self.parts:
            row = self._row(part, at)
            if row is not None:
                place.part = None
                self._point(place, row, at, ref.kind if ref is not None else "")
            return
        if ref is None or ref.label is None:
            return
        if self._is_named(ref):
            if not ref.kind:
                label = ref.label.lower()
                ref.kind = next(e.kind for p in self.plans for e in p.elements if (e.label or "").lower() == label)
            return
        row = self._row(PartRef("row", ref.which, ref.label), at)
        if row is None or not self.plans[row].elements:
            return
        if ref.kind and (self.plans[row].elements[-1].kind != ref.kind or row >= at):
            return
        self._point(place, row, at, ref.kind)

    def _is_named(self, ref: ElementRef) -> bool:
        """Whether an element bears this number itself."""
        return any(
            element.label is not None and element.label.lower() == (ref.label or "").lower() and (not ref.kind or element.kind.endswith(ref.kind))
            for plan in self.plans
            for element in plan.elements
        )

    def _row(self, part: PartRef, at: int) -> int | None:
        if part.which == "previous" or part.which == "last":
            row = at - 1
            while row >= 0 and not self.plans[row].elements:
                row -= 1
            return row if row >= 0 else None
        label = str(part.which) if part.which is not None else (part.label or "").lower()
        rows = self.labels.get(label)
        if not rows:
            return None
        before = [row for row in rows if row <= at]
        return before[-1] if before else rows[0]

    def _point(self, place: Place, row: int, at: int, kind: str) -> None:
        elements = [element for element in self.plans[row].elements if not kind or element.kind == kind]
        if not elements:
            return
        element = elements[-1]
        number = self._number(element, row, at)
        if element.label is not None:
            place.element = ElementRef(element.kind, None, element.label, element.size)
        elif number is not None and sums(element.pieces)["picots"] + sums(element.pieces)["joins"]:
            place.element = ElementRef(element.kind, number)
        else:
            element.label = next((label for label in self.plans[row].labels if label), None) or str(row + 1)
            place.element = ElementRef(element.kind, None, element.label)

    def _number(self, element: SaidElement, row: int, at: int) -> int | None:
        """The element's number among its kind in this part, where no repeat makes it another on each pass."""
        if any(stretch.first <= row for stretch in self.stretches if stretch.last < at or stretch.first <= at):
            return None
        number = 0
        for plan in self.plans[: row + 1]:
            if plan.heading is not None:
                number = 0
            number += sum(1 for other in plan.elements if other.kind == element.kind)
            if element in plan.elements:
                break
        if any(plan.heading is not None for plan in self.plans[row + 1 : at + 1]):
            return None
        return number
