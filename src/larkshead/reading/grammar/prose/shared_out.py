"""What is told of every so-manyth of a series, and of each of several: ``every third ring is eight, picot, eight``, ``with 2 mm before each``."""

from __future__ import annotations

from larkshead.model import BareThread, Beads, Picot, Stitches, WorkItem
from larkshead.reading.grammar.changes import clause_end
from larkshead.reading.grammar.core import CLAUSE_ENDS
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.items import read_work
from larkshead.reading.grammar.lengths import read_length
from larkshead.reading.grammar.places import ELEMENTS, PICOTS
from larkshead.reading.grammar.prose.reached import Reached
from larkshead.reading.grammar.said import (
    Piece,
    SaidBeside,
    SaidCover,
    SaidElement,
    SaidEvery,
    SaidRepeat,
    SaidStep,
    SaidTail,
    SaidTrim,
)

_REACH = 16


class SharedOut(Reached):
    """What is told of every so-manyth, and of each."""

    def every(self) -> bool:
        """``every third ring is ...``, ``every other ring, beginning with the second, is just twelve``."""
        c = self.c
        start = c.at
        if c.kind() != "each" or c.kind(1) not in ("ORD", "other"):
            return False
        step = 2 if c.kind(1) == "other" else int(c.peek(1).value)
        named = c.kind(2)
        if step < 2 or (named not in ELEMENTS and named not in ("pronoun", "NUM")):
            return False
        end = clause_end(c)
        first = step
        c.at += 3
        begins = c.find({"ORD"}, CLAUSE_ENDS | {"NUM"}, 6)
        if begins is not None and c.kind() == "COMMA" and c.kind(begins + 1) not in PICOTS:
            first = int(c.peek(begins).value)
            c.at += begins + 1
        told = c.find({"NUM"}, CLAUSE_ENDS, _REACH)
        if told is None or first > step or not any(c.peek(i).value == "is" for i in range(told)):
            c.at = start
            return False
        c.at += told
        probe = Cursor(c.tokens, c.at, end)
        kind = ELEMENTS.get(named, "")
        pieces = read_work(probe, self._syntax(SaidElement(kind or "ring", c.span(start))))
        c.at = probe.at
        _between_halves(pieces, c, end)
        if not any(isinstance(item, Stitches) for item, _ in pieces):
            c.at = start
            return False
        c.at = max(c.at, min(end, c.at + (c.find({*CLAUSE_ENDS, "COMMA"}, (), _REACH) or 0)))
        element = SaidElement(kind or "ring", c.span(start), pieces)
        self.said.append(SaidEvery(element, step, first, c.span(start)))
        self.open = None
        return True

    def leave(self) -> bool:
        """Also ``leave 5 mm after the eighth as well``: the thread that follows each follows the last, too."""
        c = self.c
        start = c.at
        after = c.find({"after"}, CLAUSE_ENDS, 10)
        left = next((s.step for s in self.lately() if isinstance(s, SaidStep) and isinstance(s.step, BareThread)), None)
        if after is None or left is None:
            return super().leave()
        which = c.find({"last", "ORD"}, CLAUSE_ENDS, after + 4)
        end = (which or 0) + next((i for i in range(1, 5) if c.peek((which or 0) + i).value == "too"), 0)
        if which is None or which < after or end == which:
            return super().leave()
        c.at += end + 1
        self.said.append(SaidTail(BareThread(left.length), c.span(start)))
        self.open = None
        return True

    def beside_each(self) -> bool:
        """``with 3 mm of thread left after it``, ``with 2 mm of thread before each``: thread with each of those counted."""
        c = self.c
        start = c.at
        if c.kind() != "with" or self._one_fewer():
            return c.at > start
        c.next()
        length = read_length(c)
        if length is None:
            c.at = start
            return False
        c.skip({"of", "thread", "bare_thread", "space", "glue", "leave", "WORD"})
        where = c.take("after", "previous")
        c.skip({"glue"})
        if where is None or c.take("each", "this", "pronoun") is None:
            c.at = start
            return False
        c.skip({"of", "this", "pronoun", *ELEMENTS})
        what = "before" if where.kind == "previous" else "thread"
        last = self.said[-1] if self.said else None
        counted = isinstance(last, SaidRepeat) or (isinstance(last, SaidElement) and last.count > 1)
        if counted:
            self.said.append(SaidBeside(BareThread(length), what == "before", c.span(start)))
        else:
            self.said.append(SaidCover(what, c.span(start), False, BareThread(length)))
        return True

    def _one_fewer(self) -> bool:
        """``fifteen rings with fourteen spaces between``: the last one has no thread behind it; stepped over."""
        c = self.c
        told = self.said[-1] if self.said else None
        if not isinstance(told, SaidRepeat) or c.kind(1) != "NUM" or c.kind(2) not in ("space", "bare_thread"):
            return False
        number = told.times or next(iter(told.counts.values()), 0)
        if c.peek(1).value != number - 1:
            return False
        start = c.at
        c.at += 3
        c.take("between")
        self.said.append(SaidTrim(c.span(start)))
        return True


def _between_halves(pieces: list[Piece], c: Cursor, end: int) -> None:
    """``eight and eight with a bead between``: what stands between the two counts."""
    if len(pieces) != 2 or not all(isinstance(item, Stitches) for item, _ in pieces):
        return
    kinds = [token.kind for token in c.tokens[c.at : end]]
    at = next((i for i, kind in enumerate(kinds) if kind in PICOTS or kind == "bead"), None)
    if at is None or "between" not in kinds:
        return
    item: WorkItem = Beads(1) if kinds[at] == "bead" else Picot()
    pieces.insert(1, (item, c.span(c.at + at, c.at + at + 1)))
