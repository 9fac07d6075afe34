"""Totals said in the text, known again by the phrases they were written with."""

from __future__ import annotations

import re
from functools import cached_property
from typing import Any

from larkshead.conventions.phrasebook import either
from larkshead.model import StatedTotal
from larkshead.reading.written.book import WrittenBook

# What totals count, by the concept each is said with.
COUNTED = {
    "double_stitch": "ds",
    "ring": "rings",
    "chain": "chains",
    "split_ring": "split_rings",
    "split_chain": "split_chains",
    "mock_ring": "mock_rings",
    "josephine_ring": "josephine_rings",
    "picot": "picots",
    "join": "joins",
    "lock_join": "lock_joins",
    "bead": "beads",
}
_SCOPES = ("element", "sofar", "part", "pattern")


class TotalReader:
    """Reads totals written in the words of one convention and style."""

    def __init__(self, book: WrittenBook) -> None:
        self.book = book

    @cached_property
    def _totals(self) -> list[tuple[str, re.Pattern[str]]]:
        book = self.book
        slots = {"counts": r"\d.*", "about": re.escape(book.fill("about")), "of": book.words}
        return [(scope, book.compiled(f"totals.{scope}", slots)) for scope in ("each", *_SCOPES)]

    def total(self, line: str) -> StatedTotal | None:
        """The total a text tells; None where it tells none."""
        for scope, expression in self._totals:
            found = expression.fullmatch(line)
            counts = self._counts(found["counts"]) if found else None
            if found and counts:
                each = scope == "each"
                told: Any = "element" if each else scope
                return StatedTotal(counts, told, each, self._of(found["of"]), bool(found["about"]))
        return None

    @cached_property
    def _counted(self) -> dict[str, str]:
        return self.book.words_for(COUNTED)

    def _counts(self, text: str) -> dict[str, int] | None:
        book = self.book
        one = book.compiled("counted", {"n": r"\d+", "what": either([*self._counted])})
        counts: dict[str, int] = {}
        for item in book.listed(text):
            found = one.fullmatch(item)
            if not found:
                return None
            counts[self._counted[found["what"]]] = int(found["n"])
        return counts

    def _of(self, text: str | None) -> str:
        if not text:
            return ""
        concept = next((c for c in COUNTED if text in (self.book.word(c), self.book.word(c, 2))), None)
        return concept.replace("_", " ") if concept else self.book.unquote(text)
