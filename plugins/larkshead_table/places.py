"""Places told by rows: ``last p of 3``, ``p of row 1``, ``base of step 4`` mean the element worked in that row."""

from __future__ import annotations

from larkshead.model import ElementRef, Join, PartRef, Place
from larkshead.reading import Notice, Span
from larkshead.reading.grammar.said import SaidElement
from larkshead_table.plans import Plan
from larkshead_table.spans import Stretch, last_up_to
from larkshead_table.works import sums

_ROWS = ("row", "step")


class Places:
    """Turns rows named in places into elements, which get the row's label where they have no name of their own."""

    def __init__(
        self, plans: list[Plan], labels: dict[str, list[int]], stretches: list[Stretch], notices: list[Notice]
    ) -> None:
        self.notices = notices
        self.plans = plans
        self.labels = labels
        self.parts = {plan.heading.kind for plan in plans if plan.heading is not None}
        # Elements by their names, their numbers among their kind within the part, the part of each row.
        self.called: dict[str, list[SaidElement]] = {}
        self.lettered = False
        self.numbers: dict[int, int] = {}
        self.part_of: list[int] = []
        part = 0
        counts: dict[str, int] = {}
        for plan in plans:
            if plan.heading is not None:
                part += 1
                counts = {}
            self.part_of.append(part)
            for element in plan.elements:
                counts[element.kind] = counts.get(element.kind, 0) + 1
                self.numbers[id(element)] = counts[element.kind]
                if element.label is not None:
                    self.called.setdefault(element.label.lower(), []).append(element)
                    self.lettered = self.lettered or element.label[:1].isalpha()
        # The first row of each part that is worked again.
        self.again: dict[int, int] = {}
        for stretch in stretches:
            if not stretch.copied:
                part = self.part_of[stretch.first]
                self.again[part] = min(self.again.get(part, stretch.first), stretch.first)

    def lay_told(self) -> None:
        """Places told of joins named by their element, laid on those joins."""
        for at, plan in enumerate(self.plans):
            for target, owner in plan.told:
                self.settle(owner, at)
                element = self._element(owner)
                joins = [item for item, _ in element.pieces if isinstance(item, Join)] if element is not None else []
                join = _chosen(joins, owner.picot)
                if join is None:
                    self.notices.append(
                        Notice("unread-text", "warning", "there is no such join in this table", target.span)
                    )
                else:
                    join.places = [target.place]

    def _element(self, place: Place) -> SaidElement | None:
        ref = place.element
        if ref is None:
            return None
        if ref.label is not None:
            return self._named(ref)
        return next(
            (
                e
                for plan in self.plans
                for e in plan.elements
                if self.numbers[id(e)] == ref.which and e.kind == ref.kind
            ),
            None,
        )

    def check(self, place: Place, span: Span) -> None:
        """A notice at ``span`` where a place names an element that is not told, or a picot it does not have."""
        ref = place.element
        if place.part is not None or ref is None or ref.label is None:
            return
        element = self._named(ref)
        wrong = ""
        if element is None:
            if ref.label.isalpha() and self.lettered:
                wrong = f"there is no {ref.kind or 'element'} {ref.label} in this table"
        elif place.spot == "picot" and element.pieces:
            there = sums(element.pieces)
            spots = there["picots"] + there["joins"]
            name = f"{element.kind} {element.label}"
            if not spots:
                wrong = f"{name} has no picot to join to"
            elif isinstance(place.picot, int) and place.picot > spots:
                wrong = f"{name} has {spots} picots; there is no picot {place.picot}"
        if wrong:
            self.notices.append(Notice("contradiction", "warning", wrong, span))

    def _named(self, ref: ElementRef) -> SaidElement | None:
        """The last element that bears the name, None where none does."""
        found = self.called.get((ref.label or "").lower(), ())
        return next((e for e in reversed(found) if not ref.kind or e.kind.endswith(ref.kind)), None)

    def settle(self, place: Place, at: int, on_pass: bool = False, by: str = "") -> None:
        """Name the element of the row that a place in row ``at`` speaks of; ``on_pass`` when told of one pass only, ``by``
        the kind of the element that joins, which is likelier where a row has several."""
        part, ref = place.part, place.element
        if part is not None and part.kind in _ROWS and part.kind not in self.parts:
            row = self._row(part, at)
            if row is not None:
                place.part = None
                self._point(place, row, ref.kind if ref is not None and ref.kind else "", at, on_pass, by)
            return
        if ref is None or ref.label is None:
            return
        element = self._named(ref)
        if element is not None:
            ref.kind = ref.kind or element.kind
            return
        row = self._row(PartRef("row", ref.which, ref.label), at)
        if row is None or not self.plans[row].elements:
            return
        element = self.plans[row].elements[-1]
        if ref.kind and (element.kind != ref.kind or row >= at or self.numbers[id(element)] == ref.which):
            return
        self._point(place, row, ref.kind, at, on_pass, by)

    def _row(self, part: PartRef, at: int) -> int | None:
        if part.which in ("previous", "last"):
            row = at - 1
            while row >= 0 and not self.plans[row].elements:
                row -= 1
            return row if row >= 0 else None
        label = str(part.which) if part.which is not None else (part.label or "").lower()
        return last_up_to(self.labels.get(label), at)

    def _point(self, place: Place, row: int, kind: str, at: int, on_pass: bool, by: str) -> None:
        there_are = self.plans[row].elements[::-1]
        element = next((e for e in there_are if not kind and e.kind == by), None)
        element = element or next((e for e in there_are if not kind or e.kind == kind), None)
        if element is None:
            return
        there = sums(element.pieces)
        if element.label is not None:
            place.element = ElementRef(element.kind, None, element.label, element.size)
        elif (self._counted(row, at) or (on_pass and self.numbers[id(element)] == 1)) and (
            there["picots"] + there["joins"]
        ):
            place.element = ElementRef(element.kind, self.numbers[id(element)])
        else:
            element.label = next((label for label in self.plans[row].labels if label), None) or str(row + 1)
            self.called.setdefault(element.label.lower(), []).append(element)
            place.element = ElementRef(element.kind, None, element.label)

    def _counted(self, row: int, at: int) -> bool:
        """Whether an element can go by its number: its part is the one at hand, with no repeat before it."""
        part = self.part_of[row]
        return part == self.part_of[at] and self.again.get(part, row + 1) > row


def _chosen(joins: list[Join], which: str | int | None) -> Join | None:
    """The join meant among those of an element: by number, the last, or the first one whose place is not told."""
    if isinstance(which, int):
        return joins[which - 1] if 0 < which <= len(joins) else None
    if which == "last":
        return joins[-1] if joins else None
    return next((join for join in joins if not join.places), joins[0] if joins else None)
