"""Elements told: their names, their work, references to others, places of their joins."""

from __future__ import annotations

from abc import abstractmethod

from larkshead.model import (
    Place,
)
from larkshead.reading.grammar.core import PAIRS, Core
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.items import ITEM_STARTS, WorkSyntax, read_times, read_work
from larkshead.reading.grammar.places import ELEMENTS, PICOTS, read_place
from larkshead.reading.grammar.said import (
    Alike,
    SaidElement,
)


class Elements(Core):
    """Elements told: their names, their work, references to others, places of their joins."""

    def element(self, count: int = 1, size: str = "", number: int | None = None, start: int | None = None) -> bool:
        c = self.c
        start = c.at if start is None else start
        back = c.at
        while c.kind() in ("small", "large", "WORD") and c.kind(1) in (*ELEMENTS, "small", "large"):
            size = c.kind() if c.kind() in ("small", "large") else size
            c.next()
        token = c.next()
        if token.kind == "label":
            kind, label = self.labels.get(token.text, "ring"), token.text
            element = SaidElement(kind, c.span(start), label=label)
        elif token.kind in ELEMENTS:
            element = SaidElement(ELEMENTS[token.kind], c.span(start), size=size)
            if token.kind == "thrown_ring":
                element.technique = "thrown"
        else:
            c.at = back
            return False
        element.count = count
        if number is not None:
            element.first, element.label = number, str(number)
        self._label(element)
        c.take("COLON", "EQUALS", "DASH") if c.kind(1) in ITEM_STARTS or c.kind() in ("COLON", "EQUALS") else None
        if self._bracketed(element, start):
            return True
        alike = self._alike(element)
        if not alike:
            self._body(element)
        if not element.pieces and element.alike is None:
            c.at = back
            return False
        return self.tell_whole(element, start)

    def tell_whole(self, element: SaidElement, start: int) -> bool:
        """An element whose work is read, told with what stands behind it: closing, places of its joins, how many."""
        self._after_element(element)
        element.span = self.c.span(start)
        self.tell(element)
        return True

    def tell(self, element: SaidElement) -> None:
        """An element told; its work may go on in the next clause unless it was closed."""
        self.said.append(element)
        closed = self.c.at > 0 and self.c.tokens[self.c.at - 1].kind in ("close", "half_closed")
        self.open = None if closed or element.alike else element

    def _label(self, element: SaidElement) -> None:
        """A number or letter right behind the element's name, or a range of them."""
        c = self.c
        token = c.peek()
        if token.kind == "NUM" and self._is_label_number():
            c.next()
            element.first = int(token.value)
            element.label = str(token.value)
            self._range(element)
            self._told_apart(element)
        elif (
            token.kind in ("WORD", "label")
            and len(token.text) == 1
            and token.text.isupper()
            and c.kind(1) not in ("picot",)
        ):
            c.next()
            element.label = token.text
        elif token.kind == "ORD":
            pass

    def _told_apart(self, element: SaidElement) -> None:
        """``Ring 2, large:``: what else is said of an element between its number and the colon."""
        c = self.c
        ahead = self._words_to_colon(0)
        if not ahead:
            return
        element.size = next((c.kind(i) for i in range(ahead) if c.kind(i) in ("small", "large")), element.size)
        c.at += ahead

    def _words_to_colon(self, ahead: int) -> int:
        """How far ahead the colon stands behind a comma and a word or two; 0 where it does not."""
        c = self.c
        if c.kind(ahead) != "COMMA":
            return 0
        for at in range(ahead + 1, ahead + 4):
            if c.kind(at) == "COLON":
                return at if at > ahead + 1 else 0
            if c.kind(at) not in ("small", "large", "WORD", "glue", "middle"):
                return 0
        return 0

    def _is_label_number(self) -> bool:
        c = self.c
        after = c.peek(1)
        if after.kind in ("COLON", "EQUALS") or self._words_to_colon(1):
            return True
        if after.kind == "STOP" and c.kind(2) in ("NUM", "NL"):
            return False
        if after.kind == "NUM":
            return True
        if after.kind == "OPEN":
            return not c.peek().spaced
        if (
            after.kind in ("DASH", "to")
            and c.kind(2) in (*ELEMENTS, "NUM")
            and (c.kind(2) != "NUM" or c.kind(3) in ("NUM", "COLON", "like", "same", "glue", "OPEN"))
        ):
            return True
        if after.kind == "COMMA" and not c.peek().spaced and c.kind(2) in ELEMENTS:
            return True
        return after.kind in ("like", "small_picot", "is") and not c.peek().spaced

    def _range(self, element: SaidElement) -> None:
        c = self.c
        if c.kind() in ("DASH", "to") and c.kind(1) in ELEMENTS and c.kind(2) == "NUM":
            element.last = int(c.peek(2).value)
            c.at += 3
        elif (
            c.kind() in ("DASH", "to")
            and c.kind(1) == "NUM"
            and c.kind(2) in ("COLON", "NUM", "OPEN", "like", "same", "glue")
        ):
            element.last = int(c.peek(1).value)
            c.at += 2
        while c.kind() == "COMMA" and c.kind(1) in ELEMENTS and c.kind(2) == "NUM":
            element.last = int(c.peek(2).value)
            c.at += 3
        if element.last is not None and element.first is not None and element.last > element.first:
            element.count = min(element.last - element.first + 1, 10**9)

    def _bracketed(self, element: SaidElement, start: int) -> bool:
        """``Ring ( 5 p 5 )``: the whole count in brackets."""
        c = self.c
        if c.kind() != "OPEN" or c.kind(1) not in ITEM_STARTS:
            return False
        back = c.at
        bracket = c.next()
        syntax = self._syntax(element)
        pieces = read_work(c, syntax)
        shut = c.take("SHUT")
        if not pieces or shut is None or shut.text != PAIRS[bracket.text] or c.kind() in ("times", "NUM", "twice"):
            c.at = back
            return False
        element.pieces = pieces
        self._after_element(element)
        element.span = c.span(start)
        self.said.append(element)
        return True

    def _syntax(self, element: SaidElement) -> WorkSyntax:
        split = element.kind.startswith("split")
        return WorkSyntax(self.syntax.marks, split, self.syntax.lines, element.kind == "josephine ring")

    @abstractmethod
    def _body(self, element: SaidElement) -> None:
        """The work, behind the words that lead to it; nothing stepped over where there is none."""

    def _alike(self, element: SaidElement) -> bool:
        """``as ring 1``, ``like the first``, ``same as SR2``, ``the same``, ``as before``."""
        c = self.c
        back = c.at
        c.skip({"glue", "COMMA"})
        if not (c.kind() == "like" or (c.kind() == "same" and c.kind(1) not in PICOTS)):
            c.at = back
            return False
        while c.kind() in ("like", "same", "glue"):
            c.next()
        alike = Alike()
        if c.kind() in ELEMENTS:
            alike.kind = ELEMENTS[c.next().kind]
            if c.kind() in ("NUM", "ORD"):
                alike.number = int(c.next().value)
            elif c.kind() == "label" or (c.kind() == "WORD" and len(c.peek().text) == 1 and c.peek().text.isupper()):
                alike.label = c.next().text
        elif c.kind() == "ORD":
            alike.number = int(c.next().value)
            if c.kind() in ELEMENTS:
                alike.kind = ELEMENTS[c.next().kind]
        elif c.kind() in ("NUM", "label"):
            alike.label = c.next().text
        elif c.kind() in ("previous", "last"):
            alike.which = "previous"
            c.next()
        element.alike = alike
        return True

    def _after_element(self, element: SaidElement) -> None:
        """Closing, places of its joins in brackets or told behind, how many of it."""
        c = self.c
        while True:
            back = c.at
            c.skip({"COMMA"} if c.kind(1) in ("close", "half_closed", "OPEN") else ())
            if c.take("close"):
                continue
            if c.take("half_closed"):
                element.half_closed = True
                continue
            if c.kind() == "OPEN" and self._targets(element):
                continue
            times = (
                read_times(c)
                if c.kind() == "times" and element.count == 1 and c.kind(1) == "NUM" and not self._times_is_groups()
                else None
            )
            if times is not None:
                element.count = times
                continue
            c.at = back
            return

    def _times_is_groups(self) -> bool:
        return bool(self.open_groups)

    def _targets(self, element: SaidElement) -> bool:
        """Places in brackets behind an element, in the order of its joins; other brackets are remarks."""
        from larkshead.model import Join

        c = self.c
        back = c.at
        ahead = c.find({"SHUT"}, ("PARA",), 40)
        if ahead is None:
            return False
        end = c.at + ahead
        c.next()
        if (
            c.kind() in ITEM_STARTS
            and c.kind() not in ("PLUS", "join", "folded_join", "lock_join", "NUM")
            and c.kind() not in PICOTS
        ):
            c.at = back
            return False
        if c.kind() in ELEMENTS and c.kind(1) in ("NUM",) and c.kind(2) in ("DASH", "picot"):
            c.at = back
            return False
        if c.kind() in ("shuttle", "switch"):
            c.at = back
            return False
        joins = [item for item, _ in element.pieces if isinstance(item, Join)]
        places: list[Place] = []
        inner = Cursor(c.tokens, c.at, end)
        while inner.kind() != "END":
            place = read_place(inner, bracket=True)
            if place is not None:
                places.append(place)
            else:
                inner.next()
        unsaid = [j for j in joins if not j.places]
        for join, place in zip(unsaid, places, strict=False):
            join.places = [place]
        c.at = end + 1
        return True

    def ordinal(self) -> bool:
        """``1st ring: ...``, ``second ring ...``."""
        c = self.c
        start = c.at
        number = int(c.next().value)
        if c.kind() in ELEMENTS or c.kind() in ("small", "large"):
            return self.element(number=number, start=start)
        c.at = start
        return False
