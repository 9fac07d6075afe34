"""Joins in count strings: told by a mark or word, with their places."""

from __future__ import annotations

from larkshead.model import ElementRef, Join, Place
from larkshead.reading.grammar.counts.counting import (
    ITEM_KINDS,
    Counting,
)
from larkshead.reading.grammar.meanings import JOINS, Meaning, Varying, copy_item
from larkshead.reading.grammar.places import ELEMENTS, PICOTS, places_between, read_place
from larkshead.reading.notices import Notice

_PLACE_ENDS = frozenset({"COMMA", "STOP", "SEMI", "NL", "PARA", "END", "SHUT", "reverse_work", "cut"})


class CountJoins(Counting):
    """A layer of the walk over a count string."""

    __slots__ = ()

    def _join_word(self, kind: str) -> bool:
        """A join told by a word or letter: in the work where more work or its end follows, else a statement of its
        own.
        """
        c = self.c
        start = c.at
        meaning = c.next().value
        join = Join([], JOINS[kind])  # type: ignore[arg-type]
        if c.kind() in JOINS:
            join.kind = JOINS[c.next().kind]  # type: ignore[assignment]
        self._bead_and_place(join)
        if kind == "lock_join" or (self.counted is False and not self.pieces):
            more = c.at + 1 if c.kind() == "COMMA" and kind != "lock_join" else c.at
            inside = more >= c.limit and self.depth > 0 and bool(self.pieces)
            if not inside and (
                more >= c.limit
                or (c.tokens[more].kind not in ("NUM", "DASH", "OPEN") and c.tokens[more].kind not in PICOTS)
            ):
                c.at = start
                return False
        elif (
            c.tokens[start - 1].kind == "COMMA"
            and c.kind() != "NUM"
            and not (c.kind() == "COMMA" and c.kind(1) in ITEM_KINDS)
            and not self.syntax.chain
            and any(isinstance(item, Join | Varying) for item, _ in self.pieces)
        ):
            # "R 5+5-5, join to last p" names the place of a join written already; behind a chain it is a step.
            c.at = start
            return False
        if not join.places and self.counted and c.kind() == "WORD" and kind == "join" and len(c.tokens[start].text) > 2:
            # "5-5-5-5 joined side by side" speaks of the whole.
            c.at = start
            return False
        if isinstance(meaning, Meaning) and meaning.place is not None and not join.places:
            copied = copy_item(join, meaning.place)
            assert isinstance(copied, Join)
            join = copied
        self.counted = False
        self.add(join, c.span(start))
        return True

    def _finish_join(self, join: Join, start: int) -> bool:
        self._bead_and_place(join)
        self.counted = False
        self.add(join, self.c.span(start))
        return True

    def _bead_and_place(self, join: Join) -> None:
        c = self.c
        if c.kind() == "bead" and not c.peek().spaced:
            c.next()
            join.beads = 1
        self._place(join)

    def _place(self, join: Join) -> None:
        """The place of a join, in brackets right behind it or told there."""
        c = self.c
        back = c.at
        if c.kind() == "OPEN":
            end = self.syntax.match[c.at] if c.at < len(self.syntax.match) else -1
            if end < 0 or end > c.limit:
                c.next()
                c.skip(("to", "PLUS", "join"))
                place = read_place(c, bracket=True)
                if place is None:
                    c.at = back
                    return
                join.places.append(place)
                self.syntax.notices.append(
                    Notice(
                        "open-bracket",
                        "note",
                        "this bracket is never closed; it is read to the end of the place",
                        c.span(back, back + 1),
                    )
                )
                return
            if (
                c.kind(1) == "NUM"
                and c.kind(2) in ("double_stitch", "DASH", "picot", "COMMA", "PLUS", "NUM")
                and c.kind(3) != "of"
            ):
                return
            join.places.extend(places_between(c.tokens, c.at + 1, end)[:1])
            if not join.places:
                words = " ".join(t.text for t in c.tokens[c.at + 1 : end])
                join.places.append(Place(words=words))
            c.at = end + 1
            return
        if c.kind() in ELEMENTS and c.kind(1) == "NUM" and not c.peek(1).spaced and c.kind(2) != "COLON":
            # "4+R1-4": the element joined to, and a hyphen behind it.
            place = Place("picot", words=c.peek().text + c.peek(1).text)
            place.element = ElementRef(ELEMENTS[c.kind()], None, str(c.peek(1).value))
            join.places.append(place)
            c.at += 2
            if c.kind() == "DASH" and c.kind(1) == "NUM":
                c.next()
            return
        if c.kind() in (
            "to",
            "glue",
            "from",
            "this",
            "last",
            "previous",
            "next",
            "first",
            "same",
            "middle",
            "ORD",
            *PICOTS,
        ) and not (c.kind() in PICOTS and c.kind(1) in ("NUM", "DASH") and not self._numbered_picot()):
            if c.kind() == "glue" and c.kind(1) == "NUM":
                return
            place = read_place(c)
            if place is not None:
                join.places.append(place)
            else:
                c.at = back
                self._place_in_words(join)

    def _numbered_picot(self) -> bool:
        """Whether a picot with its number stands here, and no work that goes on behind it: ``lj p2``, not ``j p 5``."""
        c = self.c
        after = c.kind(2)
        return (
            c.kind(1) == "NUM"
            and c.peek().spaced
            and not c.peek(1).spaced
            and after in _PLACE_ENDS | {"of", "to", "OPEN"}
        )

    def _place_in_words(self, join: Join) -> None:
        """``join to start``: a place that no word of the trade tells, kept in its own words."""
        c = self.c
        end = c.at + 1
        while end < c.limit and c.tokens[end].kind in ("WORD", "glue") and end - c.at < 5:
            end += 1
        if c.kind() == "to" and end > c.at + 1 and (end >= c.limit or c.tokens[end].kind in _PLACE_ENDS):
            join.places.append(Place(words=" ".join(t.text for t in c.tokens[c.at + 1 : end])))
            c.at = end
