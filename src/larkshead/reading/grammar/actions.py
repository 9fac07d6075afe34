"""Actions told: turning, thread left, joins, threads changed, fastened on and cut."""

from __future__ import annotations

from abc import abstractmethod

from larkshead.model import (
    Attach,
    Cut,
    HideEnds,
    LockJoin,
    MockPicot,
    NoTurn,
    Switch,
    Turn,
)
from larkshead.reading.grammar.core import ACTS, CLAUSE_ENDS
from larkshead.reading.grammar.elements import Elements
from larkshead.reading.grammar.lengths import read_length
from larkshead.reading.grammar.places import ELEMENTS, PICOTS, read_place
from larkshead.reading.grammar.said import (
    SaidCover,
    SaidStep,
)


class Actions(Elements):
    """Actions told: turning, thread left, joins, threads changed, fastened on and cut."""

    def turn(self) -> bool:
        c = self.c
        start = c.at
        c.next()
        if (c.kind() in ("after", "between") and c.find({"each"} | set(ELEMENTS), ("STOP", "NL"), 5) is not None) or (
            c.kind() == "between" and c.kind(1) in CLAUSE_ENDS
        ):
            between = c.kind() == "between"
            ahead = c.find(CLAUSE_ENDS, (), 40) or 0
            c.at += ahead
            self.said.append(SaidCover("turn", c.span(start), between))
            return True
        return self.say(Turn(), start)

    def no_turn(self) -> bool:
        start = self.c.at
        self.c.next()
        return self.say(NoTurn(), start)

    @abstractmethod
    def leave(self) -> bool:
        """``leave 1/4 inch of thread``, ``sp 3mm``, ``gap 1/4"``, ``leave a space``."""

    def _is_tail(self, start: int) -> bool:
        """Thread left hanging (a tail, after a cut) and not between elements."""
        c = self.c
        if c.find({"tail", "loop"}, CLAUSE_ENDS, 8) is not None:
            return True
        last = self.said[-1] if self.said else None
        return (
            isinstance(last, SaidStep) and isinstance(last.step, Cut) and c.tokens[start - 1].kind in ("COMMA", "glue")
        )

    def fasten(self) -> bool:
        """``fasten the thread to ...`` puts a thread on, ``fasten to the picot`` joins, ``tie the ends`` ends the work."""
        c = self.c
        start = c.at
        c.next()
        near = [c.kind(i) for i in range(4)]
        if any(k in ("thread", "shuttle", "ball") for k in near) or c.peek().value == "onto":
            c.at = start
            return self.attach()
        if "cut" in [c.kind(i) for i in range(6)]:
            return True
        place = read_place(c)
        if place is None or self.tokens_before(start, "fasten"):
            c.at = start + 1
            return True
        return self.say(LockJoin([place]), start)

    def lock_join(self) -> bool:
        c = self.c
        start = c.at
        c.next()
        c.skip({"glue", "join"})
        place = None
        if c.kind() == "OPEN":
            c.next()
            place = read_place(c, bracket=True)
            c.take("SHUT")
        else:
            place = read_place(c)
        return self.say(LockJoin([place] if place else []), start)

    def mock_picot(self) -> bool:
        c = self.c
        start = c.at
        c.next()
        c.skip({"of", "glue"} if c.kind(1) in ("NUM", "FRACTION") else ())
        length = read_length(c)
        return self.say(MockPicot(length, self._number_of_picot()), start)

    def _number_of_picot(self) -> int | None:
        """``...; it is the 6th picot of ring A``: which picot of its ring a mock picot is, stepped over."""
        c = self.c
        for at in range(c.at, min(c.at + 14, c.limit - 1)):
            kind = c.tokens[at].kind
            if kind in ("STOP", "NL", "PARA", "to", "END", "NUM", "close", *ACTS):
                return None
            if kind == "ORD" and c.tokens[at + 1].kind in PICOTS:
                c.at = at + 2
                if c.take("of"):
                    c.skip({"glue"})
                    c.take(*ELEMENTS, "this")
                    c.take("label")
                return int(c.tokens[at].value)
        return None

    def switch(self) -> bool:
        c = self.c
        start = c.at
        c.next()
        c.skip({"glue", "to"})
        to = None
        if c.kind() == "shuttle":
            c.next()
            to = f"shuttle {c.next().value}" if c.kind() in ("NUM", "ORD") else None
        elif c.kind() == "ORD" and c.kind(1) == "shuttle":
            to = f"shuttle {c.next().value}"
            c.next()
        return self.say(Switch(to), start)

    def shuttle(self) -> bool:
        """``Sh1:`` or ``Shuttle 2`` before what it works."""
        c = self.c
        start = c.at
        c.next()
        if c.kind() not in ("NUM", "ORD"):
            c.at = start
            return False
        number = int(c.next().value)
        c.take("COLON")
        self.said.append(SaidStep(Switch(f"shuttle {number}"), c.span(start)))
        return True

    def attach(self) -> bool:
        c = self.c
        start = c.at
        c.next()
        passed = 0
        threads: list[str] = []
        while c.kind() in ("glue", "thread", "shuttle", "ball", "WORD", "to") and passed < 6:
            token = c.next()
            if token.kind in ("shuttle", "ball"):
                numbered = token.kind == "shuttle" and c.kind() == "NUM"
                threads.append(f"{token.kind} {c.next().value}" if numbered else token.kind)
            passed += 1
        place = read_place(c)
        return self.say(Attach([place] if place else [], threads), start)

    @abstractmethod
    def cut(self) -> bool:
        """``cut``, ``tie and cut``: the end of the threads."""

    def hide(self) -> bool:
        start = self.c.at
        self.c.next()
        return self.say(HideEnds(), start)

    def close(self) -> bool:
        self.c.next()
        self.open = None
        return True
