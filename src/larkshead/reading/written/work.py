"""Elements, known again by the phrases they were written with."""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cached_property
from typing import Any

from larkshead.conventions.phrasebook import either
from larkshead.model import (
    ELEMENT_KINDS,
    Beads,
    Element,
    Halves,
    Join,
    Picot,
    SideChange,
    Stitches,
    Thrown,
    WorkItem,
)
from larkshead.reading.source import Span
from larkshead.reading.written.book import WrittenBook
from larkshead.reading.written.places import PlaceReader

_PICOTS = {"picot": "", "small_picot": "small", "long_picot": "long"}
_JOINS = {"join": "picot", "lock_join": "lock", "folded_join": "folded"}
_KINDS = ("twisted", "downward", "graduated")
_SIZES = ("large", "small")
_DEEPEST = 30

Items = tuple[list[WorkItem], list[Span]]


class WorkReader:
    """Reads elements written in the words of one convention and style. None: not written so."""

    def __init__(self, book: WrittenBook) -> None:
        self.book = book
        self.places = PlaceReader.of(book)
        self._head_patterns: dict[str, re.Pattern[str]] = {}
        self._works: dict[tuple[str, tuple[str, ...] | None], Items | None] = {}

    # Elements

    def element(self, text: str, depth: int = 0) -> tuple[Element, list[Span]] | None:
        """A whole element on one line, and where in the text its items stand."""
        found = self._element.fullmatch(text)
        if not found or depth > _DEEPEST:
            return None
        element = self.head(found["head"])
        if element is None:
            return None
        return self._fill(element, found["work"], found.start("work"), found["close"], depth)

    def _fill(
        self, element: Element, work: str, at: int, close: str | None, depth: int
    ) -> tuple[Element, list[Span]] | None:
        read = self.work(work, None, depth)
        if read is None:
            return None
        element.work = list(read[0])
        element.half_closed = close is not None and close == self.book.fill("half_closed")
        return element, [Span(span.start + at, span.end + at) for span in read[1]]

    def head(self, text: str, key: str = "head") -> Element | None:
        """The element a head names, without its work."""
        found = self._heads(key).fullmatch(text)
        if found is None:
            return None
        book = self.book
        number, label = found["number"], found["label"]
        return Element(
            self._kinds[found["kind"]],  # type: ignore[arg-type]
            [],
            number if number else book.unquote(label) if label is not None else None,
            book.read_thread(found["thread"]),
            self._technique(found["technique"]),
            self._sizes[found["size"]] if found["size"] else "",
        )

    def _technique(self, text: str | None) -> str:
        if not text:
            return ""
        return next((str(k) for k, v in self.book.entries("nouns").items() if v == text), self.book.unquote(text))

    @cached_property
    def _kinds(self) -> dict[str, str]:
        return self.book.words_for({kind.replace(" ", "_"): kind for kind in ELEMENT_KINDS})

    @cached_property
    def _sizes(self) -> dict[str, str]:
        return {self.book.word(size) or size: size for size in _SIZES}

    @cached_property
    def _head_slots(self) -> dict[str, str]:
        book = self.book
        return {
            "thread": book.thread,
            "size": either([*self._sizes]),
            "kind": either([*self._kinds]),
            "number": r"\d+",
            "label": book.name,
            "technique": book.words,
        }

    def _heads(self, key: str) -> re.Pattern[str]:
        if key not in self._head_patterns:
            self._head_patterns[key] = self.book.compiled(key, self._head_slots)
        return self._head_patterns[key]

    @cached_property
    def _closes(self) -> str:
        return either([self.book.fill("closed"), self.book.fill("half_closed")])

    @cached_property
    def _element(self) -> re.Pattern[str]:
        head = self.book.unnamed("head", self._head_slots)
        return self.book.compiled("element", {"head": head, "work": ".+?", "close": self._closes})

    @cached_property
    def _thrown(self) -> re.Pattern[str]:
        head = self.book.unnamed("thrown_head", self._head_slots)
        return self.book.compiled("thrown", {"head": head, "work": ".+?", "close": self._closes})

    # Work

    def work(self, text: str, apart: list[str] | None = None, depth: int = 0) -> Items | None:
        """The items of a work; ``apart`` gives the places of its joins, in order, where they stand elsewhere.

        The items and spans may be shared: they are not to be changed.
        """
        key = (text, None if apart is None else tuple(apart))
        if key not in self._works:
            self._works[key] = self._read(text, apart, depth)
        return self._works[key]

    def _read(self, text: str, apart: list[str] | None, depth: int) -> Items | None:
        if text == self.book.fill("no_work"):
            return [], []
        items: list[WorkItem] = []
        spans: list[Span] = []
        places = list(apart) if apart is not None else None
        at = 0
        while at < len(text):
            at = self._between.match(text, at).end()  # type: ignore[union-attr]
            end = self._read_item(text, at, items, places) or self._read_thrown(text, at, items, depth)
            if end is None:
                return None
            spans.append(Span(at, end))
            at = end
        return None if places else (items, spans)

    def _read_item(self, text: str, at: int, items: list[WorkItem], places: list[str] | None) -> int | None:
        """One plain item; where it ends."""
        for expression, make in self._items:
            found = expression.match(text, at)
            if found:
                items.append(make(found, places))
                return found.end()
        return None

    def _read_thrown(self, text: str, at: int, items: list[WorkItem], depth: int) -> int | None:
        """A thrown element in brackets."""
        end = self.book.bracket_end(text, at)
        found = self._thrown.fullmatch(text, at, end) if end else None
        if not found or depth > _DEEPEST:
            return None
        element = self.head(found["head"], "thrown_head")
        filled = element and self._fill(element, found["work"], 0, found["close"], depth + 1)
        if not filled:
            return None
        items.append(Thrown(filled[0]))
        return end

    @cached_property
    def _between(self) -> re.Pattern[str]:
        marks = set(self.book.fill("between_items") + self.book.fill("between_counts")) | {" "}
        return re.compile(f"[{re.escape(''.join(sorted(marks)))}]*")

    @cached_property
    def _items(self) -> list[tuple[re.Pattern[str], Callable[[Any, list[str] | None], WorkItem]]]:
        """The expression for each kind of item, and what makes the item of it; the most particular first."""
        book = self.book
        n = {"n": r"\d+"}
        beads = book.unnamed("with_beads", n)
        picots = book.words_for(_PICOTS)
        joins = book.words_for(_JOINS)
        marks = {str(mark): name for name, mark in book.entries("marks").items() if mark}
        picot_slots = {
            "kind": f"(?:{either([book.word(k) or k for k in _KINDS])}|{book.quoted})",
            "picot": either([*picots]),
            "length": book.length,
            "beads": beads,
        }
        join_slots = {"join": either([*joins]), "beads": beads, "place": book.run}
        side = book.fill("side_change").strip(" ,;")

        def made_picot(found: re.Match[str], places: list[str] | None) -> Picot:
            kind = found["kind"]
            known = next((k for k in _KINDS if kind == (book.word(k) or k)), None)
            size: Any = picots[found["picot"]]
            return Picot(
                size,
                book.read_length(found["length"]),
                self._bead_count(found["beads"]),
                known or book.unquote(kind or ""),
            )

        def made_join(found: re.Match[str], places: list[str] | None) -> Join:
            kind: Any = joins[found["join"]]
            return Join(self._join_places(found["place"], places), kind, self._bead_count(found["beads"]))

        def marked_join(found: re.Match[str], places: list[str] | None) -> Join:
            return Join(self._join_places(found["place"], places))

        made: list[tuple[str, Callable[[Any, list[str] | None], WorkItem]]] = [
            (book.expression("first_halves", n), lambda found, _: Halves(1, int(found["n"] or 1))),
            (book.expression("second_halves", n), lambda found, _: Halves(2, int(found["n"] or 1))),
            (book.expression("beads", n), lambda found, _: Beads(int(found["n"] or 1))),
            (book.expression("picot", picot_slots), made_picot),
            (book.expression("join", join_slots), made_join),
            (re.escape(side), lambda found, _: SideChange()),
            (book.expression("stitches", n), lambda found, _: Stitches(int(found["n"] or 1))),
        ]
        items = [(re.compile(rf"(?:{expression})(?!\w)"), make) for expression, make in made]
        if "picot" in marks.values():
            picot = next(mark for mark, name in marks.items() if name == "picot")
            # The mark is only ever written between two counts; a run of them is somebody else's sign.
            items.append((re.compile(rf"{re.escape(picot)}(?= ?\d)"), lambda found, _: Picot()))
        if "join" in marks.values():
            join = next(mark for mark, name in marks.items() if name == "join")
            slots = {"join": re.escape(join), "place": book.run}
            items.append((re.compile(book.expression("join_mark", slots)), marked_join))
        return items

    def _join_places(self, told: str | None, places: list[str] | None) -> Any:
        if places is None:
            return self.places.places(told)
        here = places.pop(0) if places else ""
        return self.places.places("" if here == self.book.fill("unsaid_place") else here)

    def _bead_count(self, text: str | None) -> int:
        found = re.search(r"\d+", text) if text else None
        return int(found.group()) if found else 0
