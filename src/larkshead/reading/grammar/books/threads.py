"""Threads of an old book: ended, knotted, one worked alone or over another."""

from __future__ import annotations

from larkshead.model import Cut, Element
from larkshead.reading.grammar.books.spacing import Spacing
from larkshead.reading.grammar.books.walk import BREAKS, CLAUSE_ENDS, VERBS
from larkshead.reading.grammar.tokens import Token


class Threads(Spacing):
    """Threads ended, and one or two worked with."""

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
