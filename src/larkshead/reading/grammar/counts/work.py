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

from larkshead.conventions.convention import SEVERAL
from larkshead.model import Beads, Join, Picot, Place, SideChange, Stitches
from larkshead.reading.grammar.counts.counting import (
    BEADS,
    HALVES,
    ITEM_KINDS,
    LIMIT,
    MARKS,
    NO_COUNT,
    SIDE_KINDS,
    CountSyntax,
    read_times,
)
from larkshead.reading.grammar.counts.marks import CountMarks
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.meanings import JOINS, Varying, copy_item
from larkshead.reading.grammar.places import PICOTS, places_between, read_place
from larkshead.reading.grammar.said import Piece
from larkshead.reading.notices import Notice

_TELLING_PLACES = frozenset({"to", "last", "previous", "same", "first", "ORD", "middle", "next"})

__all__ = ["HALVES", "ITEM_KINDS", "LIMIT", "MARKS", "SIDE_KINDS", "CountSyntax", "read_counts", "read_times"]


def read_counts(c: Cursor, syntax: CountSyntax, depth: int = 0, begun: list[Piece] | None = None) -> list[Piece]:
    """The items from the position on, stepped over; empty, and nothing stepped over, where none stand there.

    ``begun`` are items read before a remark that stands inside the work: the new ones are added to them.
    """
    counts = _Counts(c, syntax, depth)
    if begun:
        counts.pieces = begun
        counts.counted = isinstance(begun[-1][0], Stitches)
    return counts.read()


class _Counts(CountMarks):
    """One walk over a count string."""

    __slots__ = ()

    def _separator(self) -> bool:
        """Step over a comma or ``and`` that more work follows."""
        c = self.c
        if c.kind() == "COMMA" and (self.pieces or c.kind(1) == "NUM"):
            ahead = 2 if c.kind(1) == "glue" else 1
            if c.kind(ahead) == "NUM":
                if (c.kind(ahead + 1) in NO_COUNT and c.kind(ahead + 2) not in HALVES) or (
                    not self.pieces and c.kind(ahead + 1) == "STOP" and self.depth
                ):
                    return False
                counted = c.kind(ahead + 1) == "bead" or (
                    c.kind(ahead + 1) in PICOTS and c.peek(ahead + 1).value == SEVERAL
                )
                if (
                    counted
                    and c.kind(ahead + 2) in ("COMMA", "STOP", "SHUT", "NL", "END")
                    and not (c.kind(ahead + 2) == "COMMA" and c.kind(ahead + 3) in ITEM_KINDS)
                ):
                    # "(20 ds, 4 picots)" is a total and no work.
                    return self.depth > 0
            elif (
                c.kind(ahead) == "PLUS"
                and c.kind(ahead + 1)
                in (
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
                )
                and not self._join_between(ahead)
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
        if c.kind() == "SLASH" and self.pieces and (c.kind(1) in PICOTS or c.tokens[c.at - 1].kind in PICOTS):
            # "5 / p / 5"
            c.next()
            return True
        if c.kind() in ("SEMI", "STOP") and self.pieces and self._parted():
            c.next()
            return True
        if c.kind() == "glue" and self.pieces and c.kind(1) in ("NUM", *PICOTS, *HALVES) and len(c.peek().text) <= 4:
            if c.kind(1) == "NUM" and c.kind(2) in NO_COUNT:
                return False
            c.next()
        return True

    def _join_between(self, ahead: int) -> bool:
        """Whether a join with its place stands in the work between commas: ``6, + to last p, 3, p, 6``."""
        c = self.c
        if not self.counted or any(isinstance(item, Join) for item, _ in self.pieces):
            return False
        probe = Cursor(c.tokens, c.at + ahead + 1, c.limit)
        probe.skip(("to", "glue"))
        return read_place(probe) is not None and probe.kind() == "COMMA" and probe.kind(1) == "NUM"

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
            self.add(Beads(min(count, BEADS)), c.span(start))
            return True
        if c.kind(1) in JOINS and self._goes_on(end + 1):
            return self._join_in_bracket(start, end)
        if c.kind(1) == "PLUS" and c.kind(2) != "NUM" and end - start > 2 and self._goes_on(end + 1):
            # "5 (+ p4) 5"
            return self._join_in_bracket(start, end)
        if c.kind(1) == "NUM" and c.kind(2) == "UNIT" and c.tokens[end - 1].kind in PICOTS and end - start < 6:
            # "6 (3mm p) 6"
            c.next()
            if self._sized_picot() and c.at == end:
                c.next()
                return True
            c.at = start
        named = end == start + 2 and c.kind(1) in PICOTS and self.counted and not self._goes_on(end + 1)
        if named and any(isinstance(item, Join) and not item.places for item, _ in self.pieces):
            # "R 5+5 (p)" names the place.
            return False
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
        if (
            times is None
            and c.kind() == "NUM"
            and not c.peek().spaced
            and c.kind(1) == "NUM"
            and isinstance(pieces[-1][0], Picot)
        ):
            # "(1 -)5 3"
            times = int(c.next().value)
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
        return at + 1 >= c.limit or c.tokens[at + 1].kind not in NO_COUNT

    def _join_in_bracket(self, start: int, end: int) -> bool:
        """``5 (shuttle join to the tip of R1) 5``: a join told between two counts."""
        c = self.c
        join = Join([], JOINS.get(c.kind(1), "picot"))  # type: ignore[arg-type]
        join.places.extend(places_between(c.tokens, start + 2, end)[:1])
        if not join.places and end - start > 2:
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
        if c.kind() == "SLASH" and (c.kind(1) == "PLUS" or c.kind(1) in JOINS) and c.kind(2) in _TELLING_PLACES:
            # "7+7-7-7 / + to prev R" tells where to join.
            return False
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
