"""What the readers of count strings share: the position, what is read so far, and how marks are to be read."""

from __future__ import annotations

from abc import ABC, abstractmethod

from larkshead.model import Halves, Picot, Stitches
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.meanings import JOINS
from larkshead.reading.grammar.places import ELEMENTS, PICOTS
from larkshead.reading.grammar.said import Piece
from larkshead.reading.notices import Notice
from larkshead.reading.source import Span
from larkshead.records import dataclass, field

HALVES = {"first_half": 1, "second_half": 2, "half_stitch": 1}
MARKS = frozenset({"DASH", "DOT", "PLUS", "PLUSMINUS", "ITEM"})
ITEM_KINDS = frozenset({"NUM", "bead", *MARKS, *PICOTS, *JOINS})
SIDE_KINDS = frozenset({"SLASH", "CARET", "second_side", "shuttle"})
# What stands behind a number that is no count of stitches.
NO_COUNT = frozenset({"UNIT", "times", "more", "in_all", *ELEMENTS})
# What may stand behind a dash that is a picot, though a blank parts them.
BEHIND_DASH = frozenset(
    {"NUM", "OPEN", "bead", "SHUT", "SLASH", "CARET", "close", "times", "half_closed", "STOP", "COMMA", "NL", "END"}
    | {"SEMI", "ITEM", "PLUSMINUS", "DOT", "reverse_work", "no_turn"}
)
LIMIT = 10_000
BEADS = 99


@dataclass(slots=True)
class CountSyntax:
    """How the marks of this element are to be read.

    ``split`` when a slash changes sides; ``halves`` when the numbers count half stitches; ``dashes`` when single dashes
    are picots in this text, so that a double one is a long picot; ``match`` for each token the bracket that answers
    it, or -1; ``notices`` takes what is to be said of the reading; ``labels`` name elements told before; ``gaps`` when
    nothing but a gap parts the counts of this text.
    """

    match: list[int] = field(default_factory=list)
    split: bool = False
    halves: bool = False
    dashes: bool = False
    chain: bool = False
    notices: list[Notice] = field(default_factory=list)
    labels: set[str] = field(default_factory=set)
    gaps: bool = False


class Counting(ABC):
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
            if self.syntax.labels and self._refers():
                break
            if not self._separator() or not self._item():
                c.at = start
                break
        return self.pieces

    def _refers(self) -> bool:
        """Whether an element's letter with the number of its picot stands here: ``4+4-4   A3``."""
        c = self.c
        return c.peek().text in self.syntax.labels and c.kind(1) == "NUM" and not c.peek(1).spaced

    def add(self, item: object, span: Span) -> None:
        self.pieces.append((item, span))  # type: ignore[arg-type]

    def _count(self, item: Stitches | Halves, start: int) -> bool:
        if self.counted and isinstance(item, Stitches):
            self._lost_mark(start)
        self.counted = isinstance(item, Stitches)
        if item.count:
            # "0-5-5": nothing stands before the first picot.
            self.add(item, self.c.span(start))
        return True

    def _lost_mark(self, start: int) -> None:
        """Two counts side by side: with commas throughout a comma is the mark, else one is lost."""
        span = self.c.span(start - 1, start + 1)
        if self.c.tokens[start - 1].kind == "COMMA":
            self.syntax.notices.append(Notice("assumed", "note", "a comma between two counts read as a picot", span))
        elif self.syntax.gaps:
            self.syntax.notices.append(Notice("assumed", "note", "a gap between two counts read as a picot", span))
        else:
            self.syntax.notices.append(
                Notice(
                    "unclear-count", "warning", "no mark stands between two counts; a picot is taken to be lost", span
                )
            )
        self.add(Picot(), span)

    @abstractmethod
    def _separator(self) -> bool:
        """Step over what parts two items; False where the work ends."""

    @abstractmethod
    def _item(self) -> bool:
        """Read one item; False where none stands."""


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
