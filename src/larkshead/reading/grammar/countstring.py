"""The work of an element as shorthand writes it: counts with marks between them.

Grammar (kinds of tokens; own marks of the pattern come as ITEM, or as DASH with a meaning)::

    work   = item { [COMMA] item }
    item   = NUM [double_stitch | half] | NUM picot gap | NUM times NUM
           | DASH | DOT | PLUSMINUS | picot [length] [with NUM bead] | DASH bead DASH
           | (PLUS | join | lock_join) [bead] [( place ) | place]
           | bead | NUM bead | ( NUM bead ) | ( PLUS ) | ITEM
           | ( work ) [times] | < work > | SLASH | CARET | second_side | shuttle

A mark parts two counts; two counts with none between them have lost one, which a notice says.
"""

from __future__ import annotations

from larkshead.model import Beads, Halves, Join, Picot, Place, SideChange, Stitches
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.lengths import read_length
from larkshead.reading.grammar.meanings import JOINS, Meaning, Varying, copies, copy_item
from larkshead.reading.grammar.places import ELEMENTS, PICOTS, places_between, read_place
from larkshead.reading.grammar.said import Piece
from larkshead.reading.grammar.spreads import lay_picots, read_gap
from larkshead.reading.grammar.tokens import Token
from larkshead.reading.notices import Notice
from larkshead.reading.source import Span
from larkshead.records import dataclass, field

HALVES = {"first_half": 1, "second_half": 2, "half_stitch": 1}
MARKS = frozenset({"DASH", "DOT", "PLUS", "PLUSMINUS", "ITEM"})
ITEM_KINDS = frozenset({"NUM", "bead", *MARKS, *PICOTS, *JOINS})
SIDE_KINDS = frozenset({"SLASH", "CARET", "second_side", "shuttle"})
# What stands behind a number that is no count of stitches.
_NO_COUNT = frozenset({"UNIT", "times", "more", "in_all", *ELEMENTS})
# What may stand behind a dash that is a picot, though a blank parts them.
_BEHIND_DASH = frozenset(
    {"NUM", "OPEN", "bead", "SHUT", "SLASH", "CARET", "close", "times", "half_closed", "STOP", "COMMA", "NL", "END"}
    | {"SEMI", "ITEM", "PLUSMINUS", "DOT", "reverse_work", "no_turn"}
)
LIMIT = 10_000
_BEADS = 99


@dataclass(slots=True)
class CountSyntax:
    """How the marks of this element are to be read.

    ``split`` when a slash changes sides; ``halves`` when the numbers count half stitches; ``dashes`` when single dashes
    are picots in this text, so that a double one is a long picot; ``match`` for each token the bracket that answers
    it, or -1; ``notices`` takes what is to be said of the reading; ``labels`` name elements told before.
    """

    match: list[int] = field(default_factory=list)
    split: bool = False
    halves: bool = False
    dashes: bool = False
    chain: bool = False
    notices: list[Notice] = field(default_factory=list)
    labels: set[str] = field(default_factory=set)


def read_counts(c: Cursor, syntax: CountSyntax, depth: int = 0, begun: list[Piece] | None = None) -> list[Piece]:
    """The items from the position on, stepped over; empty, and nothing stepped over, where none stand there.

    ``begun`` are items read before a remark that stands inside the work: the new ones are added to them.
    """
    counts = _Counts(c, syntax, depth)
    if begun:
        counts.pieces = begun
        counts.counted = isinstance(begun[-1][0], Stitches)
    return counts.read()


class _Counts:
    """One walk over a count string."""

    __slots__ = ("c", "commas", "counted", "depth", "pieces", "syntax")

    def __init__(self, c: Cursor, syntax: CountSyntax, depth: int) -> None:
        self.c = c
        self.syntax = syntax
        self.depth = depth
        self.pieces: list[Piece] = []
        # Whether the last thing read is a count with no mark behind it.
        self.counted = False
        self.commas = 0

    def read(self) -> list[Piece]:
        c = self.c
        while len(self.pieces) < LIMIT:
            start = c.at
            if not self._separator() or not self._item():
                c.at = start
                break
        return self.pieces

    def add(self, item: object, span: Span) -> None:
        self.pieces.append((item, span))  # type: ignore[arg-type]

    def _separator(self) -> bool:
        """Step over a comma or ``and`` that more work follows."""
        c = self.c
        if c.kind() == "COMMA" and (self.pieces or c.kind(1) == "NUM"):
            ahead = 2 if c.kind(1) == "glue" else 1
            if c.kind(ahead) == "NUM":
                if c.kind(ahead + 1) in _NO_COUNT or (not self.pieces and c.kind(ahead + 1) == "STOP" and self.depth):
                    return False
                counted = c.kind(ahead + 1) == "bead" or (
                    c.kind(ahead + 1) in PICOTS and c.peek(ahead + 1).text.endswith("s")
                )
                if (
                    counted
                    and c.kind(ahead + 2) in ("COMMA", "STOP", "SHUT", "NL", "END")
                    and not (c.kind(ahead + 2) == "COMMA" and c.kind(ahead + 3) in ITEM_KINDS)
                ):
                    # "(20 ds, 4 picots)" is a total and no work.
                    return self.depth > 0
            elif c.kind(ahead) == "PLUS" and c.kind(ahead + 1) in (
                "to",
                "last",
                "previous",
                "next",
                "glue",
                "ORD",
                "same",
                "middle",
                "each",
                "all",
                *PICOTS,
            ):
                # ", + to the last p" names the place of a join written before.
                return False
            elif (
                c.kind(ahead) in ("WORD", "slide")
                and c.kind(ahead + 1) in ("NUM", "bead", "glue")
                and (c.kind(ahead + 1) == "bead" or c.kind(ahead + 2) == "bead")
                and self.counted
            ):
                # "5, add 3 beads, 5"
                ahead += 2 if c.kind(ahead + 1) == "glue" else 1
            elif (
                c.kind(ahead) not in ITEM_KINDS
                and c.kind(ahead) != "vague"
                and not (c.kind(ahead) == "OPEN" and c.kind(ahead + 1) in ITEM_KINDS)
                and not (
                    self.syntax.split
                    and (c.kind(ahead) in SIDE_KINDS or (c.kind(ahead) == "ORD" and c.kind(ahead + 1) == "shuttle"))
                )
            ):
                return False
            self.commas += self.counted and c.kind(ahead) == "NUM"
            c.at += ahead
            return True
        if c.kind() in ("SEMI", "STOP") and self.pieces and self._parted():
            c.next()
            return True
        if c.kind() == "glue" and self.pieces and c.kind(1) in ("NUM", *PICOTS, *HALVES) and len(c.peek().text) <= 4:
            if c.kind(1) == "NUM" and c.kind(2) in _NO_COUNT:
                return False
            c.next()
        return True

    def _parted(self) -> bool:
        """Whether work goes on behind a stop or semicolon: ``4 ds. p. 4 ds. p. 4 ds``, ``4 ds, p; 4 ds, p; 4 ds``."""
        c = self.c
        if self.counted:
            return c.kind(1) in PICOTS and c.kind(2) in ("STOP", "SEMI", "COMMA") and c.kind(3) == "NUM"
        item = self.pieces[-1][0]
        return (
            isinstance(item, Picot)
            and c.kind(1) == "NUM"
            and c.kind(2) == "double_stitch"
            and c.tokens[c.at - 1].kind in PICOTS
        )

    def _item(self) -> bool:
        c = self.c
        kind = c.kind()
        start = c.at
        if kind == "NUM":
            return self._number()
        if kind in PICOTS:
            return self._picot_word()
        if kind in MARKS:
            return self._mark()
        if kind in JOINS:
            return self._join_word(kind)
        if kind == "bead":
            c.next()
            self.counted = False
            self.add(Beads(1), c.span(start))
            return True
        if kind == "OPEN":
            return self._side_in_bracket() or self._bracket()
        if (
            kind == "space"
            and len(c.peek().text) <= 3
            and (self.counted or not self.pieces)
            and not self._length_ahead()
        ):
            return self._picot_word()
        if self.syntax.split and self.pieces and (kind in SIDE_KINDS or (kind == "ORD" and c.kind(1) == "shuttle")):
            return self._side()
        if kind == "vague" and c.kind(1) in PICOTS:
            c.next()
            self.syntax.notices.append(
                Notice(
                    "unclear-count",
                    "warning",
                    "how many picots is left open; two stand for them",
                    c.span(start, start + 1),
                )
            )
            return self._spread(2, start)
        if (
            kind == "STOP"
            and c.peek().text == "?"
            and not self.counted
            and self.pieces
            and c.kind(1) in (*MARKS, "close", "SHUT", *PICOTS)
        ):
            c.next()
            self.counted = True
            self.syntax.notices.append(Notice("unclear-count", "warning", "a count is left open", c.span(start)))
            return True
        if kind == "STOP" and self.counted and c.kind(1) == "NUM" and not c.peek().spaced and not c.peek(1).spaced:
            # "5.5.5": a dot typed low.
            c.next()
            self.counted = False
            self.add(Picot(), c.span(start))
            return True
        if (
            (kind in ("OTHER", "EQUALS", "ELLIPSIS") or (kind == "QUOTE" and c.peek().text in "'’‘"))
            and self.counted
            and c.kind(1) == "NUM"
            and c.peek().spaced == c.peek(1).spaced
            and c.peek().text not in "|¦"
        ):
            token = c.next()
            self.syntax.notices.append(Notice("assumed", "note", f"{token.text} read as a picot", c.span(start)))
            self.add(Picot(), c.span(start))
            self.counted = False
            return True
        if (
            kind == "WORD"
            and self.counted
            and c.kind(1) == "COMMA"
            and c.kind(2) == "NUM"
            and c.tokens[c.at - 1].kind == "COMMA"
        ):
            # A word in the place of a mark: a picot misspelt.
            token = c.next()
            self.syntax.notices.append(Notice("assumed", "note", f"{token.text} read as a picot", c.span(start)))
            self.add(Picot(), c.span(start))
            self.counted = False
            return True
        return False

    # --- counts --------------------------------------------------------------------------------------------------

    def _number(self) -> bool:
        c = self.c
        start = c.at
        after = c.peek(1)
        if after.kind == "times" and self._groups():
            return True
        if after.kind == "times" and (not self.pieces or c.kind(2) != "NUM"):
            return False
        if after.kind in _NO_COUNT and after.kind != "times" and not (after.kind == "UNIT" and len(after.text) == 1):
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
        if kind == "bead" and (self.counted or (c.kind(1) not in ("NUM", "DASH") and not after.spaced)):
            c.next()
            self.counted = False
            self.add(Beads(min(count, _BEADS)), c.span(start))
            return True
        c.take("double_stitch")
        if c.kind() in HALVES:
            c.next()
        return self._count(Halves(1, count) if self.syntax.halves else Stitches(count), start)

    def _count(self, item: Stitches | Halves, start: int) -> bool:
        if self.counted and isinstance(item, Stitches):
            self._lost_mark(start)
        self.counted = isinstance(item, Stitches)
        self.add(item, self.c.span(start))
        return True

    def _lost_mark(self, start: int) -> None:
        """Two counts side by side: with commas throughout a comma is the mark, else one is lost."""
        span = self.c.span(start - 1, start + 1)
        if self.c.tokens[start - 1].kind == "COMMA":
            self.syntax.notices.append(Notice("assumed", "note", "a comma between two counts read as a picot", span))
        else:
            self.syntax.notices.append(
                Notice(
                    "unclear-count", "warning", "no mark stands between two counts; a picot is taken to be lost", span
                )
            )
        self.add(Picot(), span)

    def _many_picots(self, count: int) -> bool:
        """``3 picots``, ``5 p sep by 2``: so many picots, and not stitches followed by a picot (``5 p 5``)."""
        token = self.c.peek()
        if not token.spaced and not (self.counted or not self.pieces):
            return False
        if len(token.text) > 1 and token.text.lower().rstrip("'").endswith("s"):
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
        bare = not self.pieces and ends is None
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

    # --- picots and marks ----------------------------------------------------------------------------------------

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
        if c.kind() in ("with", "OPEN") and c.kind(1) == "NUM" and c.kind(2) == "bead":
            bracketed = c.kind() == "OPEN"
            if not bracketed or c.kind(3) == "SHUT":
                picot.beads = min(int(c.peek(1).value), _BEADS)
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
        if self.pieces and following not in (*_BEHIND_DASH, "DASH") and c.peek().spaced and token.spaced:
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

    # --- joins ---------------------------------------------------------------------------------------------------

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
            if more >= c.limit or (
                c.tokens[more].kind not in ("NUM", "DASH", "OPEN") and c.tokens[more].kind not in PICOTS
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
        ) and not (c.kind() in PICOTS and c.kind(1) in ("NUM", "DASH")):
            if c.kind() == "glue" and c.kind(1) == "NUM":
                return
            place = read_place(c)
            if place is not None:
                join.places.append(place)
            else:
                c.at = back

    # --- brackets ------------------------------------------------------------------------------------------------

    def _bracket(self) -> bool:
        """``(2 -) x 6`` work so many times, ``(+)`` a join from the second pass on, ``(2B)`` beads, ``[5 - 5]`` the
        work itself.
        """
        c = self.c
        start = c.at
        end = self.syntax.match[start] if start < len(self.syntax.match) else -1
        if end < 0 or end >= c.limit or self.depth > 8:
            return False
        if end == start + 2 and c.kind(1) == "PLUS":
            c.at = end + 1
            self.counted = False
            self.add(Varying(Join(), {"first": Picot()}), c.span(start))
            return True
        if (
            c.kind(1) in ("DASH", "picot")
            and end == start + 4
            and c.kind(3) in ("PLUS", "join")
            and c.kind(2) in ("WORD", "SLASH", "glue")
        ):
            c.at = end + 1
            self.counted = False
            self.add(Varying(Join(), {"first": Picot()}), c.span(start))
            return True
        if end == start + 2 and c.peek(1).text in self.syntax.labels:
            return False
        if (end == start + 3 and c.kind(1) == "NUM" and c.kind(2) == "bead") or (
            end == start + 2 and c.kind(1) == "bead"
        ):
            count = int(c.peek(1).value) if c.kind(1) == "NUM" else 1
            c.at = end + 1
            self.counted = False
            self.add(Beads(min(count, _BEADS)), c.span(start))
            return True
        if c.kind(1) in JOINS and end - start > 2 and self._goes_on(end + 1):
            return self._join_in_bracket(start, end)
        inner = Cursor(c.tokens, start + 1, end)
        pieces = read_counts(inner, self.syntax, self.depth + 1)
        times = read_times(inner)
        if times is None and inner.kind() == "OPEN" and inner.at < end:
            # "[3 ds, picot (3x)]": how often stands in brackets of its own.
            often = Cursor(c.tokens, inner.at + 1, end)
            times = read_times(often)
            if times is not None and often.take("SHUT"):
                inner.at = often.at
        if (
            not pieces
            or (inner.at < end and inner.kind() not in ("COMMA", "close"))
            or all(isinstance(item, Join) for item, _ in pieces)
        ):
            c.at = start
            return False
        c.at = end + 1
        if times is None:
            times = read_times(c)
        if times is None and self.pieces and self.counted and isinstance(pieces[0][0], Stitches):
            # "R 5-5 (20 ds)" tells a total.
            c.at = start
            return False
        if self.counted and isinstance(pieces[0][0], Stitches):
            self._lost_mark(start)
        ends_counted = isinstance(pieces[-1][0], Stitches)
        join_up = (times or 1) > 1 and ends_counted and isinstance(pieces[0][0], Stitches)
        for number in range(times or 1):
            if len(self.pieces) > LIMIT:
                message = f"more than {LIMIT:,} counts and picots in one element; those after them are not read"
                self.syntax.notices.append(Notice("too-many-items", "error", message, c.span(start)))
                break
            if number and join_up:
                self.add(Picot(), c.span(start))
            self.pieces.extend((copy_item(i) if isinstance(i, Join) else i, span) for i, span in pieces)
        self.counted = ends_counted
        return True

    def _goes_on(self, at: int) -> bool:
        """Whether more counts stand at ``at``, as between two pieces of one work."""
        c = self.c
        if at >= c.limit or c.tokens[at].kind != "NUM" or not self.counted:
            return False
        return at + 1 >= c.limit or c.tokens[at + 1].kind not in _NO_COUNT

    def _join_in_bracket(self, start: int, end: int) -> bool:
        """``5 (shuttle join to the tip of R1) 5``: a join told between two counts."""
        c = self.c
        join = Join([], JOINS[c.kind(1)])  # type: ignore[arg-type]
        join.places.extend(places_between(c.tokens, start + 2, end)[:1])
        if not join.places:
            join.places.append(Place(words=" ".join(t.text for t in c.tokens[start + 2 : end])))
        c.at = end + 1
        self.counted = False
        self.add(join, c.span(start))
        return True

    def _side_in_bracket(self) -> bool:
        """``5-5 (sh2) 5-5`` in a split element."""
        c = self.c
        start = c.at
        end = self.syntax.match[start] if start < len(self.syntax.match) else -1
        if not self.syntax.split or end < 0 or end - start > 4 or not self.pieces:
            return False
        if not any(t.kind in ("shuttle", "second_side", "ball", "tail") for t in c.tokens[start + 1 : end]):
            return False
        c.at = end + 1
        if c.kind() not in ITEM_KINDS and not (c.kind() == "COLON" and c.kind(1) in ITEM_KINDS):
            c.at = start
            return False
        c.take("COLON")
        self.counted = False
        if not any(isinstance(item, SideChange) for item, _ in self.pieces):
            self.add(SideChange(), c.span(start))
        return True

    def _side(self) -> bool:
        """A slash, caret, or the second shuttle named: the other side from here on."""
        c = self.c
        start = c.at
        while c.kind() in SIDE_KINDS or c.kind() in ("COLON", "with", "glue", "COMMA", "NUM", "ORD", "this", "to"):
            before = c.tokens[c.at - 1].kind
            if c.kind() == "NUM" and (
                before != "shuttle"
                or (c.at - 2 >= start and c.tokens[c.at - 2].kind == "ORD")
                or (c.peek().spaced and c.kind(1) in MARKS)
            ):
                break
            if c.kind() == "ORD" and before != "shuttle" and c.kind(1) != "shuttle":
                break
            if c.at - start > 8:
                break
            c.next()
        if c.kind() not in ITEM_KINDS and c.kind() != "OPEN":
            c.at = start
            return False
        self.counted = False
        if not any(isinstance(item, SideChange) for item, _ in self.pieces):
            self.add(SideChange(), c.span(start))
        return True


def _is_lettered_picot(token: Token) -> bool:
    """Whether an abbreviation of the pattern's own stands for one picot (``B`` a picot with a bead)."""
    return (
        token.kind == "ITEM"
        and token.text[0].isalpha()
        and isinstance(token.value, Meaning)
        and len(token.value.items) == 1
        and isinstance(token.value.items[0], Picot)
    )


def read_times(c: Cursor) -> int | None:
    """``x 5``, ``5 x``, ``5 times``, ``(5x)``, ``twice`` at the position, stepped over."""
    start = c.at
    if c.kind() == "OPEN" and {c.kind(1), c.kind(2)} == {"NUM", "times"} and c.kind(3) == "SHUT":
        c.at += 4
        return int(c.tokens[c.at - 2 if c.tokens[c.at - 2].kind == "NUM" else c.at - 3].value)
    if c.kind() == "COMMA" and c.kind(1) in ("NUM", "twice", "times", "once"):
        c.next()
    if c.kind() == "MARK" and c.peek().text == "*" and c.kind(1) == "NUM" and not c.peek(1).spaced:
        c.at += 2
        return int(c.tokens[c.at - 1].value)
    if c.take("times"):
        if c.kind() == "NUM":
            return int(c.next().value)
    elif c.kind() == "NUM" and c.kind(1) == "times":
        count = int(c.next().value)
        c.next()
        return count
    elif c.take("twice"):
        return 2
    elif c.take("once"):
        return 1
    c.at = start
    return None
