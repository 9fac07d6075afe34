"""The walk over a text: headings, labels of steps, and words that no statement takes."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Callable, Iterator
from itertools import islice

from larkshead.model import (
    Step,
)
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.items import ITEM_STARTS, WorkSyntax
from larkshead.reading.grammar.places import ELEMENTS, PARTS, PICOTS
from larkshead.reading.grammar.said import (
    Said,
    SaidElement,
    SaidHeading,
    SaidMark,
    SaidNote,
    SaidStep,
    SaidStepLabel,
)
from larkshead.reading.source import Span

CLAUSE_ENDS = frozenset({"STOP", "SEMI", "NL", "PARA", "END"})
# Actions, behind which a new thing is told.
ACTS = frozenset({"leave", "lock_join", "join", "reverse_work", "no_turn", "cut", "switch", "repeat", "attach"})
# Things said that "the last ring" or "the same length" may go back over; longer runs of notes or actions work nothing.
_FAR_BACK = 80
PAIRS = {"(": ")", "[": "]", "{": "}", "<": ">"}


class Core(ABC):
    """The walk over a text: headings, labels of steps, and words that no statement takes."""

    stops: frozenset[str] = frozenset({"MARK"})

    c: Cursor
    syntax: WorkSyntax
    labels: dict[str, str]
    said: list[Said]
    # What statements took in, whether it made a step or not.
    heard: list[Span]
    fresh: bool
    open_groups: list[str]
    open: SaidElement | None
    actions: dict[str, Callable[[], bool]]
    # How much was said when an element was looked for last, and whether there was one.
    _looked_at = -1
    _element_lately = False

    @abstractmethod
    def statement(self) -> bool:
        """One statement at the position; False where none stands there."""

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
            if self.statement():
                self.heard.append(c.span(start, max(c.at, start + 1)))
            else:
                c.at = max(c.at, start)
                self.words(start)
            if c.at == start:
                c.next()
            said = self.said[-1] if self.said else None
            self.fresh = (
                isinstance(said, SaidHeading | SaidStepLabel | SaidMark) and said.span.end == c.tokens[c.at - 1].end
            )
        return self.said

    @abstractmethod
    def run_on(self) -> None:
        """What the end of a line or sentence ends."""

    def say(self, step: Step, start: int) -> bool:
        self.open = None
        self.said.append(SaidStep(step, self.c.span(start)))
        return True

    def lately(self) -> Iterator[Said]:
        """What was said, the last first, as far back as a word may mean it."""
        return islice(reversed(self.said), _FAR_BACK)

    def element_lately(self) -> bool:
        """Whether an element was told as far back as a word may mean it."""
        length = len(self.said)
        if self._looked_at != length:
            self._looked_at = length
            self._element_lately = any(isinstance(said, SaidElement) for said in self.lately())
        return self._element_lately

    def skip(self) -> bool:
        self.c.next()
        return True

    def tokens_before(self, start: int, kind: str) -> bool:
        return start > 0 and self.c.tokens[start - 1].kind == kind

    def words(self, start: int) -> None:
        """What no statement takes, up to the next clause or to a token that begins one."""
        c = self.c
        c.at = start + 1
        while c.kind() not in CLAUSE_ENDS:
            kind = c.kind()
            if (
                kind in ELEMENTS
                or (kind in self.actions and kind not in ("small_picot", "SHUT", "UNIT"))
                or kind in self.stops
            ):
                break
            c.next()
        if any(t.kind not in ("STOP", "COMMA", "SEMI", "COLON", "NL", "glue") for t in c.tokens[start : c.at]):
            text = " ".join(t.text for t in c.tokens[start : c.at])
            trade = any(t.kind == "NUM" or t.kind in PICOTS or t.kind in ITEM_STARTS for t in c.tokens[start : c.at])
            self.said.append(SaidNote(text, c.span(start), unread=trade))

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
        elif (
            c.kind() in PARTS
            and c.kind() != "step"
            and (c.kind(1) in ("NUM", "ORD", "label") or c.kind(1) in CLAUSE_ENDS)
        ):
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
        elif (
            (c.kind() in ("NUM", "label", "WORD") or len(c.peek().text) == 1)
            and len(c.peek().text) <= 3
            and c.kind(1) in ("STOP", "SHUT")
            and (c.kind(1) == "SHUT" or c.peek(2).spaced)
            and c.kind(2) not in ("NUM", "END", "NL")
        ):
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
