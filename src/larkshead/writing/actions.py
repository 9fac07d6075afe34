"""Actions, totals and repeats in a convention's words."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from larkshead.model import (
    Attach,
    BareThread,
    Cut,
    HideEnds,
    LockJoin,
    MockPicot,
    Note,
    NoTurn,
    Repeat,
    StatedTotal,
    Switch,
    Turn,
)
from larkshead.reading.written.book import WrittenBook
from larkshead.reading.written.totals import COUNTED
from larkshead.writing.places import places_words
from larkshead.writing.wording import Wording, one_line


class ActionWording:
    """Writes actions. ``actions`` is the table from kind of action to the function that says it."""

    def __init__(self, wording: Wording) -> None:
        self.wording = wording
        self.actions: dict[type, Callable[[Any], str]] = {
            Turn: self._turn,
            NoTurn: self._no_turn,
            BareThread: self._bare_thread,
            LockJoin: self._lock_join,
            MockPicot: self._mock_picot,
            Switch: self._switch,
            Attach: self._attach,
            Cut: self._cut,
            HideEnds: self._hide_ends,
            Note: self._note,
            StatedTotal: self._total,
        }

    def action(self, step: Any) -> str:
        """An action in words."""
        return self.actions[type(step)](step)

    def times(self, repeat: Repeat) -> str:
        """How often a repeat is worked, said after it."""
        if repeat.times is not None:
            return self.wording.fill("times", n=repeat.times)
        if one_line(repeat.until):
            return self.wording.fill("until", until=self.wording.free(repeat.until))
        return self.wording.fill("open")

    def on_pass(self, which: str | int) -> str:
        """The pass or passes a change is for."""
        wording = self.wording
        if isinstance(which, int) or which.isdigit():
            return wording.fill("pass_number", n=which, ordinal=wording.ordinal(int(which)))
        key = f"passes.{which}"
        return wording.fill(key) if wording.has(key) else wording.fill("pass_number", n=which, ordinal=which)

    # One function for each kind of action

    def _turn(self, step: Turn) -> str:
        return self.wording.fill("turn_page" if step.way == "page" else "turn")

    def _no_turn(self, step: NoTurn) -> str:
        return self.wording.fill("no_turn")

    def _bare_thread(self, step: BareThread) -> str:
        wording = self.wording
        threads = wording.fill("bare_threads", n=step.threads) if step.threads != 1 else ""
        return wording.fill("bare_thread", length=wording.length(step.length), threads=threads)

    def _lock_join(self, step: LockJoin) -> str:
        wording = self.wording
        place = places_words(wording, step.places)
        return wording.fill("lock_join", thread=wording.thread(step.thread), place=place)

    def _mock_picot(self, step: MockPicot) -> str:
        wording = self.wording
        ordinal = wording.ordinal(step.number) if step.number else ""
        return wording.fill("mock_picot", length=wording.length(step.length), n=step.number, ordinal=ordinal)

    def _switch(self, step: Switch) -> str:
        key = "cross_threads" if step.way == "cross" else "switch"
        return self.wording.fill(key, to=self.wording.thread(step.to))

    def _attach(self, step: Attach) -> str:
        wording = self.wording
        place = places_words(wording, step.places)
        return wording.fill("attach", threads=wording.threads(step.threads), place=place)

    def _cut(self, step: Cut) -> str:
        return self.wording.fill("cut_and_tie" if step.tie else "cut", threads=self.wording.threads(step.threads))

    def _hide_ends(self, step: HideEnds) -> str:
        way = f"hide_ends.{step.way or 'unsaid'}"
        return self.wording.fill(way, remark=self.wording.free(step.remark))

    def _note(self, step: Note) -> str:
        return self.wording.fill("note", text=self.wording.rest(step.text))

    def _total(self, step: StatedTotal) -> str:
        wording = self.wording
        if any(name not in COUNTED.values() for name in step.counts):
            wording.lose("approximated", "a total of something that has no name of its own", step)
        counts = wording.listed([self._counted(name, number) for name, number in step.counts.items()])
        about = wording.fill("about") if step.about else ""
        if not counts:
            return wording.fill("note", text=wording.rest(step.words))
        key = f"totals.{'each' if step.each else step.scope}"
        return wording.fill(key, counts=counts, of=self._total_of(step.of), about=about)

    def _counted(self, name: str, number: int) -> str:
        wording = self.wording
        concept = next((c for c, counted in COUNTED.items() if counted == name), name)
        return wording.fill("counted", n=number, what=wording.word(concept, number) or name.replace("_", " "))

    def _total_of(self, of: str) -> str:
        if not of:
            return ""
        wording = self.wording
        concept = of.replace(" ", "_")
        if concept in COUNTED:
            return wording.word(concept)
        book = WrittenBook.of(wording.convention, *wording.styles)
        known = of in {book.word(name, count) for name in COUNTED for count in (1, 2)}
        return wording.quoted(of) if known else wording.free(of)
