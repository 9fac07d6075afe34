"""What is done between the elements of an old book: closing, turning, thread left bare, threads ended, one thread or two."""

from __future__ import annotations

from larkshead.model import BareThread, Cut, Element, Join, Length, LockJoin, Repeat, Step, Turn
from larkshead.reading.grammar.books.names import NOUNS, Names
from larkshead.reading.grammar.books.walk import BREAKS, CLAUSE_ENDS
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.lengths import read_length
from larkshead.reading.grammar.tokens import Token

VERBS = frozenset(
    {
        "repeat",
        "work",
        "reverse_work",
        "cut",
        "knot",
        "fasten",
        "join",
        "draw",
        "leave",
        "instead",
        "consisting",
        "go_on",
    }
)
_SAME = frozenset({"same", "like"})
_OBJECTS = frozenset(
    {
        "glue",
        "thread",
        "this",
        "ring",
        "chain",
        "WORD",
        "previous",
        "ORD",
        "large",
        "small",
        "tight",
        "to",
        "up",
        "into",
        "of",
        "NUM",
        "again",
        "knot",
        "double_stitch",
        "like",
        "core",
        "stitches",
    }
)


class Actions(Names):
    """What is done between the elements of an old book."""

    turned_each = False

    def close(self) -> bool:
        """``draw up the cotton``, ``draw the cotton into a circle``; a thread worked over is drawn up with no ring."""
        c = self.c
        token = c.next()
        self.understood += 1
        over = c.find({"core"}, BREAKS | VERBS, 10) is not None
        self._skip_object()
        if over:
            return True
        if self.told is not None and not (self.told.name.kind == "chain" and not self.told.name.either and self.over):
            self.told.closed = True
            if token.value == "half" or self.told.name.half:
                self.told.name.half = True
            if self.told.name.kind == "chain":
                self.told.name.kind = "ring"
            self.flush()
        self.placed = self.placed if isinstance(self.placed, Repeat) else None
        return True

    def _skip_object(self) -> None:
        c = self.c
        while c.kind() in _OBJECTS and not (c.kind() == "NUM" and c.kind(1) == "times"):
            c.next()

    def turn(self) -> bool:
        """``turn the work``; told as a state (``which must be turned downwards``) it is no turn."""
        c = self.c
        start = c.at
        token = c.next()
        self.understood += 1
        states = token.value == "told"
        ahead = c.find({"after", "between"}, CLAUSE_ENDS, 6)
        each = ahead is not None and c.find({"each"}, CLAUSE_ENDS, ahead + 4) is not None
        while c.kind() not in BREAKS and c.kind() not in VERBS and not (c.kind() == "glue" and c.kind(1) in VERBS):
            c.next()
        if each:
            self.turned_each = True
            return True
        if states or (isinstance(self.last_step(), Turn) and self.told is None):
            return True
        self.add(Turn(), c.span(start))
        return True

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
        length = self._length()
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
        while c.kind() in ("glue", "WORD", "about", "small", "from", "each", "times") and c.at - start < 5:
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
        if token.value == "regular":
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
            length = self._length()
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

    def _length(self) -> Length | None:
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

    def end_thread(self, tied: bool = False) -> bool:
        """The thread is ended: cut, fastened off, its ends knotted; told twice it is ended once."""
        c = self.c
        start = c.at
        self.understood += 1
        denied = any(t.kind == "deny" for t in self.behind(3))
        c.next()
        while c.kind() not in BREAKS and c.kind() not in VERBS - {"cut", "knot", "fasten", "work"}:
            if (
                c.kind() == "work"
                and (c.tokens[c.at - 1].kind in ("glue", "COMMA"))
                and c.kind(1) != "STOP"
                and c.tokens[c.at - 1].value != "one"
            ):
                break
            c.next()
        if denied or not self.worked() or (isinstance(self.last_step(), Cut) and self.told is None):
            return True
        self.add(Cut(tie=tied), c.span(start))
        self.repeated = None
        return True

    def cut(self) -> bool:
        return self.end_thread()

    def knot(self) -> bool:
        """Ends knotted together end the thread; at the outset they only bind two threads."""
        c = self.c
        if c.at and c.tokens[c.at - 1].kind in ("next", "last", "ORD", "NUM", "previous"):
            # A stitch, and nothing to do.
            c.next()
            return True
        ahead = c.find({"thread_end", "thread", "this"}, CLAUSE_ENDS, 9)
        if ahead is None and not any(t.kind == "thread_end" for t in self.behind(14)):
            c.next()
            return True
        return self.end_thread(True)

    # One thread or two

    def worked_over(self) -> bool:
        """``over the second thread``, ``laid over the left hand``: what is worked is a chain."""
        c = self.c
        c.next()
        ahead = c.find({"thread", "shuttle", "this", "hand", "left_hand", "which"}, BREAKS, 6)
        if ahead is not None:
            self._two_threads()
        return True

    def _two_threads(self) -> None:
        self.over = True
        if (
            self.told is not None
            and self.told.name.kind == "ring"
            and self.told.name.label is None
            and not self.told.closed
        ) and self.told.name.assumed:
            self.told.name.kind = "chain"

    def with_thread(self) -> bool:
        """``with the second thread``: what is worked is a chain."""
        c = self.c
        c.next()
        ahead = 1 if c.kind() == "glue" else 0
        if c.kind() == "NUM" and c.peek().value == 1 and c.kind(1) == "of" and c.kind(2) == "this":
            # ``with one of them``
            self.flush()
            self.over = False
        if c.kind(ahead) == "ORD" and c.peek(ahead).value > 1 and c.kind(ahead + 1) == "thread":
            self.flush()
            self.over = True
        return True

    def core(self) -> bool:
        self.c.next()
        self.over = True
        return True

    def onto(self) -> bool:
        """``6 double on the 2nd thread``."""
        c = self.c
        c.next()
        ahead = 1 if c.kind() == "glue" else 0
        if c.kind(ahead) in ("ORD", "another") and c.kind(ahead + 1) == "thread" and self.told is not None:
            self._two_threads()
        return True

    def shuttle(self) -> bool:
        """``with both shuttles`` works a chain, ``with one shuttle`` a ring."""
        c = self.c
        token = c.next()
        behind = self.behind(7)[1:]
        number = next((t.value for t in behind if t.kind == "NUM"), None)
        single = number == 1 or (token.value != "several")
        if not single and number != 1:
            self.flush()
            self.over = True
        elif self.placed is not None and isinstance(self.placed, Element):
            return True
        elif self._governs(behind) or "alone" in (c.kind(), c.kind(1)):
            if self.told is not None:
                self._alone_behind(c.kind() == "alone")
            self.over = False
        return True

    def _governs(self, behind: list[Token]) -> bool:
        """``with one shuttle``: nothing but its number and hand between the two words."""
        for token in behind:
            if token.kind == "with":
                return True
            if token.kind not in ("glue", "NUM", "ORD", "right_hand", "left_hand", "WORD", "of"):
                return False
        return False

    def _alone_behind(self, alone: bool) -> None:
        if self.told is not None and self.told.name.assumed and not alone:
            self.flush()

    def alone(self) -> bool:
        """``the left-hand cotton alone``: back to rings."""
        c = self.c
        if any(t.kind in ("thread", "shuttle") for t in self.behind(2)):
            self.flush()
            self.over = False
        c.next()
        return True

    def without(self) -> bool:
        """``without the second cotton``: back to rings."""
        c = self.c
        c.next()
        if c.find({"thread", "shuttle"}, BREAKS, 5) is not None:
            self.flush()
            self.over = False
            while c.kind() not in ("thread", "shuttle"):
                c.next()
            c.next()
        return True

    def last_element(self) -> Element | None:
        """The element told last, in a repeat of its own or not."""
        for step in reversed(self.steps):
            if isinstance(step, Element):
                return step
            if isinstance(step, Repeat):
                inner = self.elements(step.steps)
                return inner[-1] if inner else None
        return None
