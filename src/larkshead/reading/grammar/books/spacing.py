"""Thread left bare in an old book: at a distance, after an interval, in fractions of an inch, between all elements."""

from __future__ import annotations

from larkshead.model import BareThread, Element, Join, Length, LockJoin, Repeat, Step
from larkshead.reading.grammar.books.names import Names
from larkshead.reading.grammar.books.told import NOUNS
from larkshead.reading.grammar.books.walk import BREAKS, CLAUSE_ENDS
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.lengths import read_length

_SAME = frozenset({"same", "like"})


class Spacing(Names):
    """Thread left bare."""

    def leave(self) -> bool:
        """``leave an interval of ...``: thread left here; ``leave, before beginning ..., a space``: before the element at hand."""
        c = self.c
        start = c.at
        measured = self._measured()
        if measured is not None:
            self.last_length = measured
            each = any(t.kind == "each" for t in c.tokens[start : c.at])
            c.take("between")
            self.flush()
            last = self.steps[-1] if self.steps else None
            step = BareThread(measured)
            if each and isinstance(last, Repeat) and last is self.repeated:
                self.origins.record(step, c.span(start))
                last.steps.append(step)
                return True
            self.add(step, c.span(start))
            self.placed = None
            return True
        ahead = c.find({"space", "thread", "bare_thread", "same"}, CLAUSE_ENDS, 14)
        c.next()
        if ahead is None:
            return True
        before = any(c.kind(i) in ("previous", "before") for i in range(ahead - 1))
        c.at = start + ahead
        if c.kind() == "same" and c.kind(1) in ("space", "thread", "length"):
            c.next()
        length = self.length_here()
        step = BareThread(length)
        if before and self.told is not None:
            self._lay_before(step, start)
        else:
            self.add(step, c.span(start))
            self.placed = None
        return True

    def _measured(self) -> Length | None:
        """``leave one-eighth of an inch of cotton``: the length right behind the verb, stepped over."""
        c = self.c
        start = c.at
        c.next()
        while c.kind() in ("glue", "WORD", "about", "small", "from", "each", "times", "another") and c.at - start < 5:
            if c.kind() == "about" or (c.kind() == "glue" and c.kind(1) == "FRACTION"):
                break
            c.next()
        length = read_length(c)
        if length is None:
            c.at = start
            return None
        while c.kind() in ("of", "glue", "thread", "bare_thread") and c.kind(1) not in ("work",):
            c.next()
        return length

    def _length_behind(self) -> Length | None:
        """``at a quarter of an inch's distance``: the length stands before the word."""
        c = self.c
        at = c.at
        if not at or c.tokens[at - 1].kind != "UNIT":
            return None
        for begin in range(at - 2, max(at - 8, -1), -1):
            probe = Cursor(c.tokens, begin, at)
            length = read_length(probe) if c.tokens[begin].kind in ("NUM", "ORD", "FRACTION") else None
            if length is not None and probe.at == at:
                return length
        return None

    def after(self) -> bool:
        """``after half an inch of cotton a similar circle``"""
        c = self.c
        start = c.at
        c.next()
        length = read_length(c)
        if length is None:
            return True
        self.last_length = length
        while c.kind() in ("of", "thread", "bare_thread"):
            c.next()
        self._lay_before(BareThread(length), start)
        return True

    def thread(self) -> bool:
        """``thread one-tenth of an inch``: left bare."""
        c = self.c
        start = c.at
        c.next()
        if c.kind() == "COMMA" and c.kind(1) in ("NUM", "ORD", "FRACTION") and c.find({"UNIT"}, BREAKS - {"COMMA"}, 7):
            c.next()
        alone = start == 0 or c.tokens[start - 1].kind in BREAKS | {"first_half", "alone"}
        if c.kind() not in ("NUM", "ORD", "FRACTION") or not alone:
            return True
        length = read_length(c)
        if length is not None:
            self.last_length = length
            self.add(BareThread(length), c.span(start))
        return True

    def distance(self) -> bool:
        """``at a short distance``, ``after a like interval``, ``not far off``: bare thread before what is told in this clause."""
        c = self.c
        start = c.at
        token = c.peek()
        denied = any(t.kind in ("without", "deny") for t in self.behind(3))
        several = token.value == "several" and c.find({"UNIT"}, BREAKS, 9) is None
        if token.value == "regular" or denied or several:
            c.next()
            return True
        if token.value == "length" and c.find({"UNIT"}, BREAKS - {"COMMA"}, 9) is None and not self._same_before():
            # The length of the lace.
            c.next()
            return True
        length = self._length_behind()
        if length is not None:
            c.next()
        else:
            length = self.length_here()
        step = BareThread(length)
        if c.kind() in ("from", "between") and c.find({"either_order", "each"}, BREAKS, 5) is not None:
            while c.kind() not in BREAKS:
                c.next()
            self._cover(step, start)
            return True
        if any(t.kind == "leave" for t in self.behind(12)):
            self.add(step, c.span(start))
            return True
        if c.kind() == "another" or (c.kind() == "glue" and c.peek().value == "one"):
            self.flush()
            self.steps.append(step)
            self.origins.record(step, c.span(start))
            return True
        self._lay_before(step, start)
        if c.kind() == "from":
            while c.kind() in ("from", "glue", "ORD", "previous", "this", "WORD", "large", "small", *NOUNS) and c.kind(
                1
            ) not in ("COMMA",):
                c.next()
                if c.kind() in ("work", "again"):
                    break
        return True

    def _same_before(self) -> bool:
        return any(t.kind in _SAME for t in self.behind(4))

    def length_here(self) -> Length | None:
        """The length behind the word for it; the last one where it is said to be the same."""
        c = self.c
        same = any(t.kind in _SAME for t in self.behind(4)) or c.kind(-1) == "same"
        if c.kind() in ("space", "thread", "bare_thread", "same"):
            c.next()
        back = c.at
        for _ in range(6):
            if c.kind() in ("NUM", "FRACTION", "about") or (c.kind() == "ORD"):
                length = read_length(c)
                if length is not None:
                    self.last_length = length
                    return length
                if c.kind() == "about":
                    c.next()
                    continue
                break
            if c.kind() not in ("of", "glue", "WORD", "COMMA", "from", "more", "thread"):
                break
            c.next()
        c.at = back
        return self.last_length if same else None

    def _lay_before(self, step: Step, start: int) -> None:
        """Before the element told in this clause, or the lock join; else here."""
        c = self.c
        self.origins.record(step, c.span(start))
        joined = self.told is not None and bool(self.told.pieces) and isinstance(self.told.pieces[-1][0], Join)
        if any(t.kind == "work" for t in c.tokens[self.fastened : start]) and joined:
            self.flush()
            self.steps.append(step)
            return
        if self.told is not None and (
            (self.told.clause == self.clause and (self.told.pieces or self.told.before)) or joined
        ):
            if isinstance(self.told.pieces[-1][0] if self.told.pieces else None, Join):
                join, span = self.told.pieces.pop()
                self.flush()
                self.steps.append(step)
                assert isinstance(join, Join)
                self.lock(LockJoin(join.places), span)
            else:
                self.told.before.append(step)
            return
        fastened = isinstance(self.placed, LockJoin) and any(t.kind == "work" for t in c.tokens[self.fastened : start])
        if self.told is None and self.placed is not None and not fastened and self.placed in self.steps[-2:]:
            at = next(i for i in range(len(self.steps) - 1, -1, -1) if self.steps[i] is self.placed)
            if isinstance(self.placed, Repeat):
                self.placed.steps.insert(0, step)
            else:
                self.steps.insert(at, step)
            return
        self.flush()
        self.steps.append(step)

    def _cover(self, step: BareThread, start: int) -> None:
        """Said of all elements of the passage: those told, where it comes behind them, else those to come."""
        span = self.c.span(start)
        self.origins.record(step, span)
        self.flush()
        last = self.steps[-1] if self.steps else None
        if isinstance(last, Repeat) and last is self.repeated and self.placed is last:
            last.steps.append(step)
            self.cover = None
        elif isinstance(last, Element) and self.clause_start == self.sentence_start:
            # A sentence of its own behind the elements: of all that were told.
            at = len(self.steps)
            while at and isinstance(self.steps[at - 1], Element):
                self.steps.insert(at, self.copied(step))
                at -= 1
        else:
            self.cover = step
