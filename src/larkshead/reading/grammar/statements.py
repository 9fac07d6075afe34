"""Statements: from tokens to what is said, one statement after the other, with recovery at the next clause.

Grammar (top level; every alternative is a method of the same name):

    text      = { heading | step label | mark | group | repeat | element | action | change | total | words }
    element   = [count] [size] ELEMENT [label] [: of = (] (work | alike) [close] [targets]
    action    = reverse_work | no_turn | leave length | lock_join place | mock_picot | switch | attach place | cut | hide_ends
    repeat    = repeat [from] MARK [NUM] times [more | in_all] | repeat step NUM to NUM times | MARK ... MARK x NUM
"""

from __future__ import annotations

from collections.abc import Callable

from larkshead.model import (
    Attach,
    BareThread,
    Cut,
    HideEnds,
    LockJoin,
    MockPicot,
    NoTurn,
    Place,
    Step,
    Switch,
    Turn,
)
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.items import FILLER, ITEM_STARTS, WorkSyntax, read_times, read_work
from larkshead.reading.grammar.lengths import read_length
from larkshead.reading.grammar.places import ELEMENTS, PARTS, PICOTS, read_place
from larkshead.reading.grammar.said import (
    Alike,
    Said,
    SaidCover,
    SaidElement,
    SaidHeading,
    SaidMark,
    SaidNote,
    SaidOpen,
    SaidRepeat,
    SaidShut,
    SaidStep,
    SaidStepLabel,
)
from larkshead.reading.grammar.tokens import Token
from larkshead.reading.source import Span

CLAUSE_ENDS = frozenset({"STOP", "SEMI", "NL", "PARA", "END"})
# Actions, behind which a new thing is told.
ACTS = frozenset({"leave", "lock_join", "join", "reverse_work", "no_turn", "cut", "switch", "repeat", "attach"})
PAIRS = {"(": ")", "[": "]", "{": "}", "<": ">"}


class Statements:
    """Reads the tokens of a text into what is said. ``style`` prose or shorthand decides whether a line's end is an end."""

    # Kinds that end words no statement takes.
    stops: frozenset[str] = frozenset({"MARK"})

    def __init__(self, tokens: list[Token], syntax: WorkSyntax, labels: dict[str, str] | None = None) -> None:
        self.c = Cursor(tokens)
        self.syntax = syntax
        self.labels = labels or {}
        self.said: list[Said] = []
        self.fresh = True
        self.open_groups: list[str] = []
        # The element whose work may still go on: told last, not closed, nothing done since.
        self.open: SaidElement | None = None
        self.actions: dict[str, Callable[[], bool]] = {
            "reverse_work": self.turn,
            "no_turn": self.no_turn,
            "leave": self.leave,
            "bare_thread": self.leave,
            "space": self.leave,
            "small_picot": self.leave,
            "lock_join": self.lock_join,
            "join": self.lock_join,
            "joining": self.lock_join,
            "work_over": self.repeat,
            "folded_join": self.lock_join,
            "mock_picot": self.mock_picot,
            "switch": self.switch,
            "shuttle": self.shuttle,
            "attach": self.attach,
            "fasten": self.fasten,
            "cut": self.cut,
            "hide_ends": self.hide,
            "close": self.close,
            "half_closed": self.close,
            "repeat": self.repeat,
            "MARK": self.mark,
            "OPEN": self.open_group,
            "SHUT": self.shut_group,
            "times": self.times,
            "NUM": self.number,
            "ORD": self.ordinal,
            "UNIT": self.skip,
            "until": self.until,
        }

    def run(self) -> list[Said]:
        """Everything said, in order."""
        c = self.c
        while c.kind() != "END":
            start = c.at
            if c.kind() in ("NL", "PARA", "STOP", "SEMI", "COMMA", "COLON"):
                self.fresh = self.fresh or c.kind() in ("NL", "PARA") or c.kind() == "STOP"
                if c.kind() == "PARA":
                    self.open = None
                if c.kind() in ("STOP", "PARA", "NL"):
                    self.run_on()
                c.next()
                continue
            if not self.statement():
                c.at = max(c.at, start)
                self.words(start)
            if c.at == start:
                c.next()
            said = self.said[-1] if self.said else None
            self.fresh = isinstance(said, SaidHeading | SaidStepLabel | SaidMark) and said.span.end == c.tokens[c.at - 1].end
        return self.said

    def run_on(self) -> None:
        """What the end of a line or sentence ends."""

    def statement(self) -> bool:
        kind = self.c.kind()
        if self.fresh and (self.heading() or self.step_label()):
            return True
        if kind in ELEMENTS or kind in ("small", "large") or kind == "label":
            return self.element()
        handler = self.actions.get(kind)
        return handler() if handler else False

    def say(self, step: Step, start: int) -> bool:
        self.open = None
        self.said.append(SaidStep(step, self.c.span(start)))
        return True

    # --- headings and labels -----------------------------------------------------------------------------------

    def heading(self) -> bool:
        """``Round 1``, ``2nd row:``, ``Rnd 3.``: the kind of part with its number."""
        c = self.c
        start = c.at
        number: int | None = None
        c.skip({"glue"})
        if c.kind() == "ORD" and c.kind(1) in PARTS and c.kind(1) != "step":
            number = int(c.next().value)
            kind = PARTS[c.next().kind]
        elif c.kind() in ("next", "last") and c.kind(1) in PARTS and c.kind(1) != "step":
            c.next()
            kind = PARTS[c.next().kind]
        elif c.kind() in PARTS and c.kind() != "step" and (c.kind(1) in ("NUM", "ORD", "label") or c.kind(1) in CLAUSE_ENDS):
            kind = PARTS[c.next().kind]
            if c.kind() in ("NUM", "ORD"):
                number = int(c.next().value)
        else:
            c.at = start
            return False
        after = c.kind()
        if after not in CLAUSE_ENDS and after not in ("COLON", "COMMA", "OPEN", "DASH") and number is None:
            c.at = start
            return False
        if c.kind() == "OPEN":
            ahead = c.find({"SHUT"}, ("NL", "PARA"), 30)
            if ahead is not None:
                c.at += ahead + 1
        c.take("COLON", "STOP", "DASH")
        self.said.append(SaidHeading(kind, c.span(start), number))
        self.fresh = True
        return True

    def step_label(self) -> bool:
        """``1.``, ``2)``, ``[3]``, ``a)``, ``Step 4:`` at the start of a line."""
        c = self.c
        start = c.at
        if c.kind() == "step" and c.kind(1) in ("NUM", "label") and c.kind(2) in ("STOP", "COLON", "SHUT", "DASH"):
            label = c.peek(1).text
            c.at += 3
        elif (c.kind() in ("NUM", "label", "WORD") or len(c.peek().text) == 1) and len(c.peek().text) <= 3 and c.kind(1) in ("STOP", "SHUT") and (
            c.kind(1) == "SHUT" or c.peek(2).spaced
        ) and c.kind(2) not in ("NUM", "END", "NL"):
            label = c.peek().text
            c.at += 2
        elif c.kind() == "OPEN" and c.kind(1) == "NUM" and c.kind(2) == "SHUT" and c.peek().text == "[":
            label = c.peek(1).text
            c.at += 3
        else:
            return False
        self.said.append(SaidStepLabel(label, c.span(start)))
        self.fresh = True
        return True

    # --- elements ----------------------------------------------------------------------------------------------

    def element(self, count: int = 1, size: str = "", number: int | None = None, start: int | None = None) -> bool:
        c = self.c
        start = c.at if start is None else start
        back = c.at
        while c.kind() in ("small", "large", "WORD") and c.kind(1) in (*ELEMENTS, "small", "large"):
            size = c.kind() if c.kind() in ("small", "large") else size
            c.next()
        token = c.next()
        if token.kind == "label":
            kind, label = self.labels.get(token.text, "ring"), token.text
            element = SaidElement(kind, c.span(start), label=label)
        elif token.kind in ELEMENTS:
            element = SaidElement(ELEMENTS[token.kind], c.span(start), size=size)
            if token.kind == "thrown_ring":
                element.technique = "thrown"
        else:
            c.at = back
            return False
        element.count = count
        if number is not None:
            element.first, element.label = number, str(number)
        self._label(element)
        c.take("COLON", "EQUALS", "DASH") if c.kind(1) in ITEM_STARTS or c.kind() in ("COLON", "EQUALS") else None
        if self._bracketed(element, start):
            return True
        alike = self._alike(element)
        if not alike:
            self._body(element)
        if not element.pieces and element.alike is None:
            c.at = back
            return False
        self._after_element(element)
        element.span = c.span(start)
        self.tell(element)
        return True

    def tell(self, element: SaidElement) -> None:
        """An element told; its work may go on in the next clause unless it was closed."""
        self.said.append(element)
        closed = self.c.at > 0 and self.c.tokens[self.c.at - 1].kind in ("close", "half_closed")
        self.open = None if closed or element.alike else element

    def _label(self, element: SaidElement) -> None:
        """A number or letter right behind the element's name, or a range of them."""
        c = self.c
        token = c.peek()
        if token.kind == "NUM" and self._is_label_number():
            c.next()
            element.first = int(token.value)
            element.label = str(token.value)
            self._range(element)
            self._told_apart(element)
        elif token.kind in ("WORD", "label") and len(token.text) == 1 and token.text.isupper() and c.kind(1) not in ("picot",):
            c.next()
            element.label = token.text
        elif token.kind == "ORD":
            pass

    def _told_apart(self, element: SaidElement) -> None:
        """``Ring 2, large:``: what else is said of an element between its number and the colon."""
        c = self.c
        ahead = self._words_to_colon(0)
        if not ahead:
            return
        element.size = next((c.kind(i) for i in range(ahead) if c.kind(i) in ("small", "large")), element.size)
        c.at += ahead

    def _words_to_colon(self, ahead: int) -> int:
        """How far ahead the colon stands behind a comma and a word or two; 0 where it does not."""
        c = self.c
        if c.kind(ahead) != "COMMA":
            return 0
        for at in range(ahead + 1, ahead + 4):
            if c.kind(at) == "COLON":
                return at if at > ahead + 1 else 0
            if c.kind(at) not in ("small", "large", "WORD", "glue", "middle"):
                return 0
        return 0

    def _is_label_number(self) -> bool:
        c = self.c
        after = c.peek(1)
        if after.kind in ("COLON", "EQUALS") or self._words_to_colon(1):
            return True
        if after.kind == "STOP" and c.kind(2) in ("NUM", "NL"):
            return False
        if after.kind == "NUM":
            return True
        if after.kind == "OPEN":
            return not c.peek().spaced
        if after.kind in ("DASH", "to") and c.kind(2) in (*ELEMENTS, "NUM") and (c.kind(2) != "NUM" or c.kind(3) in ("NUM", "COLON", "like", "same", "glue", "OPEN")):
            return True
        if after.kind == "COMMA" and not c.peek().spaced and c.kind(2) in ELEMENTS:
            return True
        return after.kind in ("like", "small_picot", "is") and not c.peek().spaced

    def _range(self, element: SaidElement) -> None:
        c = self.c
        if c.kind() in ("DASH", "to") and c.kind(1) in ELEMENTS and c.kind(2) == "NUM":
            element.last = int(c.peek(2).value)
            c.at += 3
        elif c.kind() in ("DASH", "to") and c.kind(1) == "NUM" and c.kind(2) in ("COLON", "NUM", "OPEN", "like", "same", "glue"):
            element.last = int(c.peek(1).value)
            c.at += 2
        while c.kind() == "COMMA" and c.kind(1) in ELEMENTS and c.kind(2) == "NUM":
            element.last = int(c.peek(2).value)
            c.at += 3
        if element.last is not None and element.first is not None and element.last > element.first:
            element.count = min(element.last - element.first + 1, 10**9)

    def _bracketed(self, element: SaidElement, start: int) -> bool:
        """``Ring ( 5 p 5 )``: the whole count in brackets."""
        c = self.c
        if c.kind() != "OPEN" or c.kind(1) not in ITEM_STARTS:
            return False
        back = c.at
        bracket = c.next()
        syntax = self._syntax(element)
        pieces = read_work(c, syntax)
        shut = c.take("SHUT")
        if not pieces or shut is None or shut.text != PAIRS[bracket.text] or c.kind() in ("times", "NUM", "twice"):
            c.at = back
            return False
        element.pieces = pieces
        self._after_element(element)
        element.span = c.span(start)
        self.said.append(element)
        return True

    def _syntax(self, element: SaidElement) -> WorkSyntax:
        split = element.kind.startswith("split")
        return WorkSyntax(self.syntax.marks, split, self.syntax.lines, element.kind == "josephine ring")

    def _body(self, element: SaidElement) -> None:
        """The work, after a word of filler at most."""
        c = self.c
        back = c.at
        while (c.kind() in FILLER or c.kind() in ("with", "COMMA", "denied")) and c.at - back < 2:
            c.next()
        element.pieces = read_work(c, self._syntax(element)) if c.kind() in ITEM_STARTS else []
        if not element.pieces:
            c.at = back

    def _alike(self, element: SaidElement) -> bool:
        """``as ring 1``, ``like the first``, ``same as SR2``, ``the same``, ``as before``."""
        c = self.c
        back = c.at
        c.skip({"glue", "COMMA"})
        if not (c.kind() == "like" or (c.kind() == "same" and c.kind(1) not in PICOTS)):
            c.at = back
            return False
        while c.kind() in ("like", "same", "glue"):
            c.next()
        alike = Alike()
        if c.kind() in ELEMENTS:
            alike.kind = ELEMENTS[c.next().kind]
            if c.kind() in ("NUM", "ORD"):
                alike.number = int(c.next().value)
            elif c.kind() == "label" or (c.kind() == "WORD" and len(c.peek().text) == 1 and c.peek().text.isupper()):
                alike.label = c.next().text
        elif c.kind() == "ORD":
            alike.number = int(c.next().value)
            if c.kind() in ELEMENTS:
                alike.kind = ELEMENTS[c.next().kind]
        elif c.kind() in ("NUM", "label"):
            alike.label = c.next().text
        elif c.kind() in ("previous", "last"):
            alike.which = "previous"
            c.next()
        element.alike = alike
        return True

    def _after_element(self, element: SaidElement) -> None:
        """Closing, places of its joins in brackets or told behind, how many of it."""
        c = self.c
        while True:
            back = c.at
            c.skip({"COMMA"} if c.kind(1) in ("close", "half_closed", "OPEN") else ())
            if c.take("close"):
                continue
            if c.take("half_closed"):
                element.half_closed = True
                continue
            if c.kind() == "OPEN" and self._targets(element):
                continue
            times = read_times(c) if c.kind() == "times" and element.count == 1 and c.kind(1) == "NUM" and not self._times_is_groups() else None
            if times is not None:
                element.count = times
                continue
            c.at = back
            return

    def _times_is_groups(self) -> bool:
        return bool(self.open_groups)

    def _targets(self, element: SaidElement) -> bool:
        """Places in brackets behind an element, in the order of its joins; other brackets are remarks."""
        from larkshead.model import Join

        c = self.c
        back = c.at
        ahead = c.find({"SHUT"}, ("PARA",), 40)
        if ahead is None:
            return False
        end = c.at + ahead
        c.next()
        if c.kind() in ITEM_STARTS and c.kind() not in ("PLUS", "join", "folded_join", "lock_join", "NUM") and c.kind() not in PICOTS:
            c.at = back
            return False
        if c.kind() in ELEMENTS and c.kind(1) in ("NUM",) and c.kind(2) in ("DASH", "picot"):
            c.at = back
            return False
        if c.kind() in ("shuttle", "switch"):
            c.at = back
            return False
        joins = [item for item, _ in element.pieces if isinstance(item, Join)]
        places: list[Place] = []
        inner = Cursor(c.tokens, c.at, end)
        while inner.kind() != "END":
            place = read_place(inner, bracket=True)
            if place is not None:
                places.append(place)
            else:
                inner.next()
        unsaid = [j for j in joins if not j.places]
        for join, place in zip(unsaid, places, strict=False):
            join.places = [place]
        c.at = end + 1
        return True

    # --- actions -----------------------------------------------------------------------------------------------

    def skip(self) -> bool:
        self.c.next()
        return True

    def turn(self) -> bool:
        c = self.c
        start = c.at
        c.next()
        if c.kind() in ("after", "between") and c.find({"each"} | set(ELEMENTS), ("STOP", "NL"), 5) is not None or (
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

    def leave(self) -> bool:
        """``leave 1/4 inch of thread``, ``sp 3mm``, ``gap 1/4"``, ``leave a space``."""
        c = self.c
        start = c.at
        first = c.next().kind
        passed = 0
        while c.kind() in ("glue", "WORD", "space", "bare_thread", "of", "about", "small") and passed < 6:
            if c.kind() in ("glue", "WORD") and c.kind(1) in ("FRACTION", "ORD"):
                break
            c.next()
            passed += 1
        if self._is_tail(start):
            c.at += c.find(CLAUSE_ENDS, (), 30) or 0
            return True
        length = read_length(c, bare_unit=first in ("bare_thread", "leave") and c.kind(1) in CLAUSE_ENDS)
        if length is None and first == "small_picot":
            c.at = start
            return False
        if length is None and first in ("space", "leave") and c.find({"space", "bare_thread", "thread"}, CLAUSE_ENDS, 6) is None:
            spaces = {t.kind for t in c.tokens[start : c.at]} & {"space", "bare_thread"}
            if not spaces:
                c.at = start
                return False
        while c.kind() in ("of", "glue", "thread", "bare_thread", "space"):
            c.next()
        return self.say(BareThread(length), start)

    def _is_tail(self, start: int) -> bool:
        """Thread left hanging (a tail, after a cut) and not between elements."""
        c = self.c
        if c.find({"tail", "loop"}, CLAUSE_ENDS, 8) is not None:
            return True
        last = self.said[-1] if self.said else None
        return isinstance(last, SaidStep) and isinstance(last.step, Cut) and c.tokens[start - 1].kind in ("COMMA", "glue")

    def fasten(self) -> bool:
        """``fasten the thread to ...`` puts a thread on, ``fasten to the picot`` joins, ``tie the ends`` ends the work."""
        c = self.c
        start = c.at
        c.next()
        near = [c.kind(i) for i in range(4)]
        if any(k in ("thread", "shuttle", "ball") for k in near) or c.peek().text.lower() in ("on", "in", "into"):
            c.at = start
            return self.attach()
        if "cut" in [c.kind(i) for i in range(6)]:
            return True
        place = read_place(c)
        if place is None or self.tokens_before(start, "fasten"):
            c.at = start + 1
            return True
        return self.say(LockJoin([place]), start)

    def tokens_before(self, start: int, kind: str) -> bool:
        return start > 0 and self.c.tokens[start - 1].kind == kind

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

    def cut(self) -> bool:
        c = self.c
        start = c.at
        token = c.next()
        while c.kind() in ("cut", "glue", "COMMA") and (c.kind() == "cut" or c.kind(1) in ("cut", "glue") and c.kind(2) in ("cut", "glue")):
            c.next()
        return self.say(Cut(tie=len(token.text.split()) > 1 or token.text.lower() == "ct"), start)

    def hide(self) -> bool:
        start = self.c.at
        self.c.next()
        return self.say(HideEnds(), start)

    def close(self) -> bool:
        self.c.next()
        self.open = None
        return True

    # --- repeats -----------------------------------------------------------------------------------------------

    def mark(self) -> bool:
        c = self.c
        start = c.at
        token = c.next()
        span = c.span(start)
        back = c.at
        c.take("COMMA")
        times = read_times(c)
        how = ""
        if times is not None:
            if c.take("more"):
                how = "more"
            self.said.append(SaidMark(token.text, span))
            self.said.append(SaidRepeat("mark", c.span(start), token.text, times, how or "all"))
            return True
        c.at = back
        self.said.append(SaidMark(token.text, span))
        self.fresh = True
        return True

    def open_group(self) -> bool:
        c = self.c
        start = c.at
        bracket = c.next().text
        ahead = c.find({"SHUT"}, (), 400)
        inside = c.find(set(ELEMENTS) | {"label", "reverse_work", "switch", "shuttle"}, ("SHUT",), 60)
        if inside is None and ahead is not None:
            c.at = start
            return False
        self.open_groups.append(bracket)
        self.said.append(SaidOpen(bracket, c.span(start)))
        self.fresh = True
        return True

    def shut_group(self) -> bool:
        c = self.c
        start = c.at
        token = c.next()
        times = read_times(c)
        if self.open_groups:
            self.open_groups.pop()
        self.said.append(SaidShut(token.text, c.span(start), times))
        return True

    def times(self) -> bool:
        """``x 5`` behind a passage."""
        c = self.c
        start = c.at
        times = read_times(c)
        if times is None:
            return False
        self.said.append(SaidRepeat("last", c.span(start), times=times, how="all"))
        return True

    def number(self) -> bool:
        """``two rings of ...``, ``6 x: [...]``, ``4 x`` behind a group."""
        c = self.c
        start = c.at
        times = read_times(c)
        if times is not None:
            if c.take("COLON") or c.kind() == "OPEN":
                self.said.append(SaidOpen("line", c.span(start), times))
                return True
            self.said.append(SaidRepeat("last", c.span(start), times=times, how="all"))
            return True
        count = int(c.next().value)
        c.skip({"more", "glue"})
        if c.kind() in ELEMENTS or c.kind() in ("small", "large"):
            return self.element(count, start=start)
        c.at = start
        return False

    def ordinal(self) -> bool:
        """``1st ring: ...``, ``second ring ...``."""
        c = self.c
        start = c.at
        number = int(c.next().value)
        if c.kind() in ELEMENTS or c.kind() in ("small", "large"):
            return self.element(number=number, start=start)
        c.at = start
        return False

    def repeat(self) -> bool:
        """``repeat from * 5 more times``, ``rep steps 2 and 3 four times``, ``repeat from * for the length wanted``."""
        c = self.c
        start = c.at
        c.next()
        said = SaidRepeat("all", Span(0, 0), how="all" if c.tokens[start].kind == "work_over" else "")
        passed = 0
        while c.kind() not in CLAUSE_ENDS and c.kind() != "COMMA" and passed < 30:
            kind = c.kind()
            passed += 1
            if kind == "MARK":
                said.what, said.mark = "mark", c.next().text
            elif kind in ("step", "row", "round") and c.kind(1) in ("NUM", "label", "WORD"):
                c.next()
                said.what, said.first = "steps", c.next().text
                if c.kind() in ("to", "DASH", "glue", "WORD") and c.kind(1) in ("NUM", "label"):
                    c.next()
                    said.last = c.next().text
            elif kind == "label":
                said.what = "labels"
                said.labels.append(c.next().text)
            elif kind in ELEMENTS and c.kind(1) == "NUM" and c.kind(2) not in ("times", "more", "twice"):
                # repeat rings 3 and 4 until ...
                said.what = "labels"
                c.next()
                said.labels.append(str(c.next().value))
                while c.kind() in ("glue", "COMMA", "to", "DASH") and c.kind(1) == "NUM" and c.kind(2) not in ("times", "more"):
                    c.next()
                    said.labels.append(str(c.next().value))
            elif kind == "NUM" and c.kind(1) in ("to", "DASH") and c.kind(2) == "NUM" and said.what == "all":
                said.what, said.first, said.last = "steps", c.peek().text, c.peek(2).text
                c.at += 3
            elif kind in ("NUM", "twice", "once", "times"):
                times = read_times(c)
                if times is None and kind == "NUM" and c.kind(1) == "more":
                    times = int(c.next().value)
                if times is None:
                    c.next()
                    continue
                said.times = times
            elif kind == "more":
                said.how = "more"
                c.next()
            elif kind == "in_all":
                said.how = "all"
                c.next()
            elif kind == "around":
                said.around = True
                c.next()
            elif kind in ("length_wanted", "until"):
                break
            else:
                c.next()
        if c.kind() == "length_wanted":
            said.open_ended = True
            c.at += c.find(CLAUSE_ENDS, (), 60) or 0
        elif c.kind() == "until":
            self._counts(said)
            said.open_ended = said.what == "labels" and not said.counts
        if c.kind() == "OPEN" and c.find({"in_all"}, ("SHUT",), 8) is not None:
            c.at += (c.find({"SHUT"}, (), 12) or 0) + 1
        said.span = c.span(start)
        self.said.append(said)
        return True

    def until(self) -> bool:
        """``until there are 7 rings and 7 chains``."""
        start = self.c.at
        said = SaidRepeat("all", Span(0, 0), how="all")
        self._counts(said)
        if not said.counts:
            self.c.at = start
            return False
        said.span = self.c.span(start)
        self.said.append(said)
        return True

    def _counts(self, said: SaidRepeat) -> None:
        c = self.c
        c.next()
        while c.kind() not in CLAUSE_ENDS and c.kind() != "COMMA":
            if c.kind() == "NUM":
                count = int(c.next().value)
                c.skip({"small", "large", "glue", "of", "WORD"})
                if c.kind() in ELEMENTS:
                    said.counts[ELEMENTS[c.next().kind]] = count
                elif c.kind() == "each":
                    said.counts["each"] = count
                continue
            c.next()

    # --- words -------------------------------------------------------------------------------------------------

    def words(self, start: int) -> None:
        """What no statement takes, up to the next clause or to a token that begins one."""
        c = self.c
        c.at = start + 1
        while c.kind() not in CLAUSE_ENDS:
            kind = c.kind()
            if kind in ELEMENTS or kind in self.actions and kind not in ("small_picot", "SHUT", "UNIT") or kind in self.stops:
                break
            c.next()
        if any(t.kind not in ("STOP", "COMMA", "SEMI", "COLON", "NL", "glue") for t in c.tokens[start : c.at]):
            text = " ".join(t.text for t in c.tokens[start : c.at])
            trade = any(t.kind == "NUM" or t.kind in PICOTS or t.kind in ITEM_STARTS for t in c.tokens[start : c.at])
            self.said.append(SaidNote(text, c.span(start), unread=trade))
