"""Elements and their work in a convention's words.

The work of an element is written in one of two ways:

- with marks between the counts (``5-5+5-5``) where the style has marks and every mark stands between two counts;
- else in words (``5 p p 5``, ``5 double stitches, picot``).

A join's place follows the join at once, or is handed to the caller (the table has a column for places).
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from larkshead.model import Beads, Element, Halves, Join, Picot, SideChange, Stitches, Thrown, WorkItem
from larkshead.writing.places import places_words
from larkshead.writing.wording import Wording, is_number, one_line

_PICOTS = {"": "picot", "small": "small_picot", "long": "long_picot"}
_JOINS = {"picot": "join", "lock": "lock_join", "folded": "folded_join"}
_CLOSED = frozenset(("ring", "split ring", "mock ring", "josephine ring"))


class ElementWording:
    """Writes elements. ``items`` is the table from kind of work item to the function that says it."""

    def __init__(self, wording: Wording) -> None:
        self.wording = wording
        self._counts: dict[int, str] = {}
        self.items: dict[type, Callable[[Any, Element, list[str] | None], str]] = {
            Stitches: self._stitches,
            Halves: self._halves,
            Picot: self._picot,
            Join: self._join,
            Beads: self._beads,
            SideChange: self._side_change,
            Thrown: self._thrown,
        }

    def element(self, element: Element) -> str:
        """A whole element on one line: head, work, close."""
        head, work = self.head(element), self.work(element)
        return self.wording.fill("element", head=head, work=work, close=self.close(element))

    def head(self, element: Element, key: str = "head") -> str:
        """What names an element: thread, size, kind, label, technique."""
        wording = self.wording
        label = wording.label(element.label)
        return wording.fill(
            key,
            thread=wording.thread(element.thread),
            size=wording.noun(element.size) if element.size else "",
            kind=wording.noun(element.kind),
            label=label if element.label is None or not is_number(element.label) else "",
            number=label if element.label is not None and is_number(element.label) else "",
            technique=self._technique(element.technique),
        )

    def close(self, element: Element) -> str:
        """How a ring is closed; empty for chains."""
        if element.half_closed:
            return self.wording.fill("half_closed")
        return self.wording.fill("closed") if element.kind in _CLOSED else ""

    def remark(self, element: Element) -> str:
        """The free words that go with an element."""
        return one_line(element.remark)

    def work(self, element: Element, apart: list[str] | None = None) -> str:
        """The work of an element. With ``apart``, the places of its joins are added there and left out here."""
        wording = self.wording
        if not element.work:
            return wording.fill("no_work")
        if wording.phrase("marks") and _marks_do(element.work):
            return self._with_marks(element, apart)
        between, between_counts = wording.fill("between_items"), wording.fill("between_counts")
        said: list[str] = []
        before: WorkItem | None = None
        for item in element.work:
            if before is not None:
                plain = isinstance(item, SideChange) or isinstance(before, SideChange)
                counts = isinstance(item, Stitches | Beads) and isinstance(before, Stitches | Picot | Join | Beads)
                counts = counts or (isinstance(item, Thrown) and isinstance(before, Join))
                said.append("" if plain else between_counts if counts else between)
            said.append(self.items[type(item)](item, element, apart))
            before = item
        return "".join(said).strip(between + between_counts)

    def _with_marks(self, element: Element, apart: list[str] | None) -> str:
        """Counts with marks between them, close together where nothing but marks stands there."""
        said = []
        tight = True
        for item in element.work:
            if isinstance(item, Picot) and not item.size:
                said.append(self.wording.mark("picot"))
            elif isinstance(item, Join) and item.kind == "picot" and not item.beads:
                place = self._place(item, apart)
                tight = tight and not place
                said.append(self.wording.fill("join_mark", join=self.wording.mark("join"), place=place))
            elif isinstance(item, Stitches):
                said.append(str(item.count))
            else:
                words = self.items[type(item)](item, element, apart)
                said.append(words.strip())
                tight = tight and isinstance(item, SideChange)
        if not tight:
            return " ".join(said)
        side = self.wording.fill("side_change").strip()
        return "".join(f" {text} " if text == side else text for text in said)

    # One function for each kind of item

    def _stitches(self, item: Stitches, element: Element, apart: list[str] | None) -> str:
        said = self._counts.get(item.count)
        if said is None:
            said = self._counts[item.count] = self.wording.fill("stitches", n=item.count)
        return said

    def _halves(self, item: Halves, element: Element, apart: list[str] | None) -> str:
        return self.wording.fill("second_halves" if item.half == 2 else "first_halves", n=item.count)

    def _picot(self, item: Picot, element: Element, apart: list[str] | None) -> str:
        wording = self.wording
        kind = ""
        if item.kind:
            kind = wording.word(item.kind) or wording.quoted(item.kind)
        return wording.fill(
            "picot",
            kind=kind,
            picot=wording.word(_PICOTS[item.size]),
            length=wording.length(item.length),
            beads=wording.fill("with_beads", n=item.beads) if item.beads else "",
        )

    def _join(self, item: Join, element: Element, apart: list[str] | None) -> str:
        wording = self.wording
        return wording.fill(
            "join",
            join=wording.word(_JOINS[item.kind]),
            beads=wording.fill("with_beads", n=item.beads) if item.beads else "",
            place=self._place(item, apart),
        )

    def _place(self, item: Join, apart: list[str] | None) -> str:
        words = places_words(self.wording, item.places)
        if apart is None:
            return words
        apart.append(words)
        return ""

    def _beads(self, item: Beads, element: Element, apart: list[str] | None) -> str:
        return self.wording.fill("beads", n=item.count)

    def _side_change(self, item: SideChange, element: Element, apart: list[str] | None) -> str:
        return self.wording.fill("side_change")

    def _thrown(self, item: Thrown, element: Element, apart: list[str] | None) -> str:
        thrown = item.element
        if thrown.remark:
            self.wording.lose("dropped", f"the remark on a thrown {thrown.kind}: {one_line(thrown.remark)}", thrown)
        head = self.head(thrown, "thrown_head")
        return self.wording.fill("thrown", head=head, work=self.work(thrown), close=self.close(thrown))

    def _technique(self, technique: str) -> str:
        if not technique:
            return ""
        wording = self.wording
        return str(wording.phrase(f"nouns.{technique}") or wording.free(technique))


def _marks_do(work: list[WorkItem]) -> bool:
    """Whether every picot and join stands between two counts, so that marks say all of it."""
    before_count = False
    for item in work:
        if isinstance(item, Stitches):
            if before_count:
                return False
            before_count = True
        elif isinstance(item, Picot):
            if not before_count or item.beads or item.length or item.kind:
                return False
            before_count = False
        elif isinstance(item, Join | SideChange):
            if not before_count or (isinstance(item, Join) and item.beads):
                return False
            before_count = False
        else:
            return False
    return before_count
