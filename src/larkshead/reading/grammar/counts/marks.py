"""Counts, picots and marks in count strings."""

from __future__ import annotations

from larkshead.conventions.convention import SEVERAL
from larkshead.model import Beads, Halves, Join, Picot, Stitches
from larkshead.reading.grammar.counts.counting import (
    BEADS,
    BEHIND_DASH,
    HALVES,
    LIMIT,
    MARKS,
    NO_COUNT,
)
from larkshead.reading.grammar.counts.joins import CountJoins
from larkshead.reading.grammar.counts.positions import read_positions
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.lengths import read_length
from larkshead.reading.grammar.meanings import JOINS, Meaning, copies
from larkshead.reading.grammar.places import ELEMENTS, PICOTS
from larkshead.reading.grammar.spreads import lay_picots, read_division, read_gap
from larkshead.reading.grammar.tokens import Token
from larkshead.reading.notices import Notice


class CountMarks(CountJoins):
    """A layer of the walk over a count string."""

    __slots__ = ()

    def _number(self) -> bool:
        c = self.c
        start = c.at
        after = c.peek(1)
        if after.kind == "times" and self._groups():
            return True
        if after.kind == "times" and c.kind(2) in HALVES:
            # "4x 1st half"
            count, half = int(c.peek().value), c.kind(2)
            c.at += 3
            return self._count(Halves(HALVES[half], count), start)
        if after.kind == "times" and (not self.pieces or c.kind(2) != "NUM"):
            return False
        if after.kind == "UNIT" and self._sized_picot():
            return True
        if after.kind in NO_COUNT and after.kind != "times" and not (after.kind == "UNIT" and len(after.text) == 1):
            # Behind a mark or a name a count stands, though an element comes next: "R 8-8 R 8+8", "Ch 8 R 5-5".
            before = c.tokens[start - 1].kind if start else ""
            marked = before in MARKS if self.pieces else before in ELEMENTS and c.kind(2) in ("NUM", "COLON", "label")
            if after.kind not in ELEMENTS or self.counted or not marked or after.text[-1] in "sS":
                return False
        count = int(c.next().value)
        kind = after.kind
        if kind in HALVES:
            c.next()
            return self._count(Halves(HALVES[kind], count), start)
        if kind == "shuttle" and c.kind(1) != "NUM" and any(isinstance(item, Halves) for item, _ in self.pieces):
            # One abbreviation of shuttle and second half: beside first halves the latter.
            c.next()
            return self._count(Halves(2, count), start)
        if kind in PICOTS and self._many_picots(count):
            return self._spread(count, start)
        if kind == "bead" and (self.counted or (c.kind(1) not in ("NUM", "DASH", "bead") and not after.spaced)):
            c.next()
            self.counted = False
            self.add(Beads(min(count, BEADS)), c.span(start))
            return True
        c.take("double_stitch")
        if c.kind() in HALVES:
            c.next()
        if (
            not self.pieces
            and c.kind() in ("evenly", "separated", "with", "COMMA", "by")
            and read_division(c, count, start, self.pieces)
        ):
            # "12 ds evenly divided by 3 picots"
            self.counted = True
            return True
        if (
            not self.pieces
            and not self.syntax.halves
            and c.kind() in ("COMMA", "with", "SEMI", "COLON", *PICOTS, *JOINS)
            and read_positions(c, count, start, self.pieces)
        ):
            # "12 ds, p after 4 and 8"
            self.counted = True
            return True
        return self._count(Halves(1, count) if self.syntax.halves else Stitches(count), start)

    def _sized_picot(self) -> bool:
        """``6 3mm p 6``: a picot with its length before its name."""
        c = self.c
        start = c.at
        length = read_length(c) if self.counted or not self.pieces else None
        if length is None or c.kind() not in PICOTS:
            c.at = start
            return False
        self.counted = False
        self.add(Picot(PICOTS[c.next().kind], length), c.span(start))  # type: ignore[arg-type]
        return True

    def _many_picots(self, count: int) -> bool:
        """``3 picots``, ``5 p sep by 2``: so many picots, and not stitches followed by a picot (``5 p 5``)."""
        token = self.c.peek()
        if not token.spaced and not (self.counted or not self.pieces):
            return False
        if token.value == SEVERAL:
            return True
        ahead = Cursor(self.c.tokens, self.c.at + 1, self.c.limit)
        return (
            self.c.kind(1) in ("separated", "between", "with", "evenly", "COMMA", "by", "each", "NUM")
            and read_gap(ahead)[0] is not None
        )

    def _spread(self, count: int, start: int) -> bool:
        c = self.c
        kind = c.kind()
        c.next()
        picot = self._picot(kind)
        gap, ends = read_gap(c)
        bare = not self.pieces and ends is None and self.depth == 0
        bare = bare and gap is not None and c.kind() != "NUM" and not (c.kind() == "COMMA" and c.kind(1) == "NUM")
        span = c.span(start)
        lay_picots(kind, picot, min(count, LIMIT), gap, ends, span, self.pieces)
        self.counted = False
        if bare:
            message = "what stands before the first and after the last picot is not said"
            self.syntax.notices.append(Notice("unclear-count", "warning", message, span))
        return True

    def _groups(self) -> bool:
        """``3 x 7``: seven threes with a picot between each two. A sign of times behind other work is no item."""
        c = self.c
        start = c.at
        if self.pieces or c.kind(2) != "NUM" or len(c.peek(1).text) > 1:
            return False
        count, groups = int(c.peek().value), int(c.peek(2).value)
        c.at += 3
        span = c.span(start)
        for number in range(min(groups, LIMIT)):
            if number:
                self.add(Picot(), span)
            self.add(Stitches(count), span)
        self.counted = True
        return True

    def _length_ahead(self) -> bool:
        """Whether a length follows the abbreviation at the position, or nothing of the work: it leaves thread bare."""
        probe = Cursor(self.c.tokens, self.c.at + 1, self.c.limit)
        return read_length(probe) is not None or probe.kind() not in ("NUM", "OPEN", "SHUT", "close", *MARKS)

    def _picot_word(self) -> bool:
        c = self.c
        start = c.at
        kind = c.next().kind
        kind = "small_picot" if kind == "space" else kind
        self.counted = False
        self.add(self._picot(kind), c.span(start))
        c.take("DASH") if c.kind() == "DASH" and c.kind(1) == "NUM" and c.tokens[start - 1].kind == "DASH" else None
        return True

    def _picot(self, kind: str) -> Picot:
        """The picot named just before the position, with what belongs to it: its length, the beads in it."""
        c = self.c
        meaning = c.tokens[c.at - 1].value
        picot = Picot(PICOTS[kind], meaning.length if isinstance(meaning, Meaning) else None)  # type: ignore[arg-type]
        back = c.at
        bracket = c.take("OPEN")
        c.skip(("of", "glue"))
        length = read_length(c) if c.kind() in ("NUM", "FRACTION", "about") else None
        if length is not None and (bracket is None or c.take("SHUT")):
            picot.length = length
            c.take("long")
        else:
            c.at = back
        if c.kind() == "NUM" and not c.peek().spaced and c.kind(1) == "bead" and not c.peek(1).spaced:
            # "p3b"
            picot.beads = min(int(c.peek().value), BEADS)
            c.at += 2
        if c.kind() in ("with", "OPEN") and c.kind(1) == "NUM" and c.kind(2) == "bead":
            bracketed = c.kind() == "OPEN"
            if not bracketed or c.kind(3) == "SHUT":
                picot.beads = min(int(c.peek(1).value), BEADS)
                c.at += 4 if bracketed else 3
        return picot

    def _mark(self) -> bool:
        c = self.c
        start = c.at
        token = c.next()
        meaning = token.value if isinstance(token.value, Meaning) else None
        if token.kind == "DASH":
            if meaning is None:
                return self._dash(start)
            if c.kind() in PICOTS or c.kind() in JOINS:
                return True
        self.counted = False
        if meaning is not None:
            for item in copies(meaning):
                span = c.span(start)
                if isinstance(item, Join) and not item.places:
                    self._place(item)
                self.add(item, span)
            return bool(meaning.items)
        if token.kind == "PLUS":
            beads = len(token.text) - 1
            if c.kind() in JOINS and not c.peek().spaced:
                return self._finish_join(Join([], JOINS[c.next().kind]), start)  # type: ignore[arg-type]
            return self._finish_join(Join([], "picot", min(beads, 1)), start)
        self.add(Picot("small" if token.kind == "PLUSMINUS" else ""), c.span(start))
        return True

    def _dash(self, start: int) -> bool:
        c = self.c
        token = c.tokens[start]
        beads = 0
        while c.kind(beads) == "bead":
            beads += 1
        if beads and c.kind(beads) == "DASH" and not c.peek(beads).spaced and not c.peek().spaced:
            c.at += beads + 1
            self.counted = False
            self.add(Picot(beads=beads), c.span(start))
            return True
        if c.kind() == "NUM" and c.kind(1) == "bead" and c.kind(2) == "DASH" and not c.peek(2).spaced:
            # "-3b-": a picot with three beads.
            self.counted = False
            beads = int(c.peek().value)
            c.at += 3
            self.add(Picot(beads=min(beads, BEADS)), c.span(start))
            return True
        following = c.kind()
        if (
            following in PICOTS
            or following in JOINS
            or following == "PLUS"
            or (_is_lettered_picot(c.peek()) and (not c.peek().spaced or c.kind(1) == "DASH"))
            or self._between_marks(start)
        ):
            # A dash beside a picot or a join is a hyphen.
            return bool(self.pieces) or following in PICOTS or following == "ITEM"
        if not self.pieces and following not in ("NUM", "OPEN", "bead"):
            return False
        if self.pieces and following not in (*BEHIND_DASH, "DASH") and c.peek().spaced and token.spaced:
            # A dash before words parts them from the work.
            return False
        doubled = len(token.text) == 1 and following == "DASH" and len(c.peek().text) == 1 and c.kind(1) == "NUM"
        if doubled:
            # "- -" for "--"
            c.next()
        size = "long" if (doubled or len(token.text) > 1) and self.syntax.dashes else ""
        self.counted = False
        self.add(Picot(size), c.span(start))  # type: ignore[arg-type]
        return True

    def _between_marks(self, start: int) -> bool:
        """Whether the dash stands right behind a picot or join written with a letter: ``4 ds-p-4 ds``."""
        if not self.pieces or start == 0:
            return False
        before = self.c.tokens[start - 1]
        if not self.c.tokens[start].spaced:
            return before.kind in PICOTS or _is_lettered_picot(before)
        return _is_lettered_picot(before) and self.c.tokens[start - 2].kind == "DASH"


def _is_lettered_picot(token: Token) -> bool:
    """Whether an abbreviation of the pattern's own stands for one picot (``B`` a picot with a bead)."""
    return (
        token.kind == "ITEM"
        and token.text[0].isalpha()
        and isinstance(token.value, Meaning)
        and len(token.value.items) == 1
        and isinstance(token.value.items[0], Picot)
    )
