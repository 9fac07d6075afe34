"""What is done to an element of an old book when its counts are told: it is drawn up, and the work is turned."""

from __future__ import annotations

from larkshead.model import Element, Repeat, Turn
from larkshead.reading.grammar.books.threads import Threads
from larkshead.reading.grammar.books.walk import BREAKS, CLAUSE_ENDS, VERBS

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


class Actions(Threads):
    """Closing and turning."""

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

    # One thread or two

    def last_element(self) -> Element | None:
        """The element told last, in a repeat of its own or not."""
        for step in reversed(self.steps):
            if isinstance(step, Element):
                return step
            if isinstance(step, Repeat):
                inner = self.elements(step.steps)
                return inner[-1] if inner else None
        return None
