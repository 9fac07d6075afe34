"""Places in an old book: picots of elements named in its way, thread left bare, and what else a clause says of them."""

from __future__ import annotations

from larkshead.model import ElementRef, PartRef, Place
from larkshead.model.places import RELATIVE
from larkshead.reading.grammar.books.actions import Actions
from larkshead.reading.grammar.books.counts import counts_ahead
from larkshead.reading.grammar.books.walk import BREAKS, VERBS
from larkshead.reading.grammar.books.wording import items_told
from larkshead.reading.grammar.places import PICOTS, read_place


class Spots(Actions):
    """Places in an old book."""

    def place_here(self) -> Place | None:
        """The place at the position, with what larkshead has no name for kept in its words."""
        c = self.c
        start = c.at
        c.skip({"glue"})
        thread = self._bare_thread()
        if thread is not None:
            return thread
        number = c.peek()
        if number.kind == "NUM":
            c.next()
            c.skip({"of", "glue"})
        while c.kind() == "WORD" and c.kind(1) in ("WORD", *PICOTS) and c.at - start < 6:
            c.next()
        place = read_place(c)
        if place is None:
            c.at = start
            return None
        element = place.element
        if element is not None and isinstance(element.which, str) and element.which not in RELATIVE:
            if element.which == "middle":
                place.part = place.part
            element.which = None
            place.words = place.words or self.source.quote(c.span(start))
        if element is not None and element.kind == "" and element.which == "same":
            place.element = ElementRef("", "previous")
        part = place.part
        if part is not None and isinstance(part.which, str) and part.which not in RELATIVE:
            part.which = None
        if place.words:
            place.words = " ".join(self.source.quote(c.span(start)).split())
        return place

    def _bare_thread(self) -> Place | None:
        """``the cotton between two circles``, ``the cotton, which joins 2 circles in the 1st row``: the thread left bare there."""
        c = self.c
        start = c.at
        if c.kind() != "thread" or not (
            c.kind(1) in ("between", "which") or (c.kind(1) == "COMMA" and c.kind(2) == "which")
        ):
            return None
        place = Place("bare thread", words="")
        while c.kind() not in ("SEMI", "STOP", "PARA", "END", "EQUALS") and c.at - start < 14:
            if c.kind() in ("row", "round"):
                number = next((int(t.value) for t in reversed(c.tokens[start : c.at][-3:]) if t.kind == "ORD"), None)
                place.part = PartRef(c.next().kind, number if number is not None else "previous")
                break
            if c.kind() == "COMMA" and c.at > start + 1:
                break
            c.next()
        return place

    def skip_place_rest(self) -> None:
        """Step over what else is said of a place, up to the next thing told."""
        c = self.c
        relative = False
        while c.kind() not in BREAKS:
            relative = relative or c.kind() in ("which", "core")
            if not relative and (c.kind() in VERBS or counts_ahead(c)) and c.kind() != "consisting":
                break
            if not relative and c.kind() in ("space", "by", "after") and c.kind() != "by":
                break
            if relative and c.kind() in ("repeat", "instead"):
                break
            if c.kind(1) == "COMMA" and c.kind(2) == "which":
                c.next()
            if c.kind() == "glue" and c.kind(1) in ("repeat", "work", "cut", "reverse_work", "knot") and not relative:
                break
            c.next()

    def instead_ahead(self) -> list[str | int]:
        """Behind a place: ``, instead of working the middle purl``, ``at the place of the 1st purl``; which picots, stepped over."""
        c = self.c
        back = c.at
        ahead = c.find({"instead"}, {"SEMI", "STOP", "PARA", "END", "fasten", "join", "repeat", "draw"}, 4)
        if ahead is None:
            return []
        c.at += ahead + 1
        begin = c.at
        picot = c.find(set(PICOTS), {"SEMI", "STOP", "PARA", "END", "COMMA"}, 9)
        if picot is None:
            c.at = back
            return []
        c.at += picot + 1
        return items_told(c.tokens[begin : c.at])
