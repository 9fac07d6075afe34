"""Statements: from tokens to what is said, one statement after the other, with recovery at the next clause.

Grammar (top level; every alternative is a method of the same name):

    text      = { heading | step label | mark | group | repeat | element | action | change | total | words }
    element   = [count] [size] ELEMENT [label] [: of = (] (work | alike) [close] [targets]
    action    = reverse_work | no_turn | leave length | lock_join place | mock_picot | switch | attach place | cut | hide_ends
    repeat    = repeat [from] MARK [NUM] times [more | in_all] | repeat step NUM to NUM times | MARK ... MARK x NUM"""

from __future__ import annotations

from collections.abc import Callable

from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.items import WorkSyntax
from larkshead.reading.grammar.places import ELEMENTS
from larkshead.reading.grammar.repeats import Repeats
from larkshead.reading.grammar.said import (
    Said,
    SaidElement,
)
from larkshead.reading.grammar.tokens import Token
from larkshead.reading.source import Span


class Statements(Repeats):
    """Statements: from tokens to what is said, one statement after the other, with recovery at the next clause.

    Grammar (top level; every alternative is a method of the same name):

        text      = { heading | step label | mark | group | repeat | element | action | change | total | words }
        element   = [count] [size] ELEMENT [label] [: of = (] (work | alike) [close] [targets]
        action    = reverse_work | no_turn | leave length | lock_join place | mock_picot | switch | attach place | cut | hide_ends
        repeat    = repeat [from] MARK [NUM] times [more | in_all] | repeat step NUM to NUM times | MARK ... MARK x NUM"""

    def __init__(self, tokens: list[Token], syntax: WorkSyntax, labels: dict[str, str] | None = None) -> None:
        self.c = Cursor(tokens)
        self.syntax = syntax
        self.labels = labels or {}
        self.said: list[Said] = []
        self.heard: list[Span] = []
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

    def statement(self) -> bool:
        kind = self.c.kind()
        if self.fresh and (self.heading() or self.step_label()):
            return True
        if kind in ELEMENTS or kind in ("small", "large") or kind == "label":
            return self.element()
        handler = self.actions.get(kind)
        return handler() if handler else False
