"""Steps on one line, known again by the phrases they were written with."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from functools import cached_property
from typing import Any

from larkshead.model import (
    Attach,
    BareThread,
    ByPass,
    Cut,
    HideEnds,
    LockJoin,
    MockPicot,
    Note,
    NoTurn,
    Repeat,
    Step,
    Switch,
    Turn,
)
from larkshead.reading.origins import Origins
from larkshead.reading.source import Span
from larkshead.reading.written.book import Known, WrittenBook
from larkshead.reading.written.totals import TotalReader
from larkshead.reading.written.work import WorkReader

_DEEPEST = 100
# An element or action that takes more characters is not looked at.
LONGEST = 4000
_HIDING = ("unsaid", "sewn in", "worked over", "drawn in")


class NotWritten(ValueError):
    """The text was not written with the phrases of this convention and style."""


class StepReader(WorkReader):
    """Reads elements and actions; what is not written so raises NotWritten."""

    def __init__(self, book: WrittenBook, origins: Origins) -> None:
        super().__init__(book)
        self.origins = origins
        self.totals = TotalReader(book)
        self._known: dict[str, Any] = {}

    # Single steps

    def step(self, text: str, at: int) -> list[Step]:
        """An element (with the turns right behind it) or an action, its origin from ``at`` on."""
        known = self._known.get(text)
        if known is None:
            if len(text) > LONGEST:
                raise NotWritten(text[:LONGEST])
            known = self._known[text] = self._first(text)
        steps: list[Step] = []
        for made, spans in known:
            step = replace(made)
            self.origins.record(step, Span(at, at + len(text)), spans, at)
            steps.append(step)
        return steps

    def _first(self, text: str) -> list[tuple[Any, list[Span] | None]]:
        action = self.action(text) or self.totals.total(text)
        if action is not None:
            return [(action, None)]
        turns: list[tuple[Any, list[Span] | None]] = []
        element = self.element(text)
        while element is None:
            found = self._turned.fullmatch(text)
            if not found:
                raise NotWritten(text)
            turn = self.action(found["turn"])
            turns.insert(0, (turn, None))
            text = found["step"]
            element = self.element(text)
        return [element, *turns]

    def action(self, text: str) -> Step | None:
        """The action a text tells; None where it tells none."""
        for expression, make in self._actions:
            found = expression.fullmatch(text)
            if found:
                return make(found.groupdict())
        return None

    @cached_property
    def _turned(self) -> re.Pattern[str]:
        turns = "|".join(self.book.unnamed(key) for key in ("turn_page", "no_turn", "turn"))
        return re.compile(f"(?P<step>.+) (?P<turn>{turns})")

    @cached_property
    def _actions(self) -> list[tuple[Known, Callable[[dict[str, Any]], Step]]]:
        book, places = self.book, self.places
        run, thread = (lambda: book.run), (lambda: book.thread)
        length = {"length": lambda: book.length, "threads": lambda: book.unnamed("bare_threads", {"n": r"\d+"})}
        mock = {"length": lambda: book.length, "ordinal": places.ordinal, "n": lambda: r"\d+"}

        def threads() -> str:
            return rf"{book.thread}(?:.*?{book.thread})??"

        def bare(found: dict[str, Any]) -> Step:
            number = re.search(r"\d+", found["threads"] or "")
            return BareThread(book.read_length(found["length"]), int(number.group()) if number else 1)

        def mock_picot(found: dict[str, Any]) -> Step:
            said = found.get("ordinal")
            return MockPicot(book.read_length(found["length"]), places.read_ordinal(said) if said else None)

        def cut(found: dict[str, Any]) -> Cut:
            return Cut(False, book.read_threads(found["threads"]))

        made: list[tuple[str, dict[str, Callable[[], str]], Callable[[dict[str, Any]], Step]]] = [
            ("turn_page", {}, lambda found: Turn("page")),
            ("turn", {}, lambda found: Turn()),
            ("no_turn", {}, lambda found: NoTurn()),
            ("bare_thread", length, bare),
            (
                "lock_join",
                {"thread": thread, "place": run},
                lambda found: LockJoin(places.places(found["place"]), book.read_thread(found["thread"])),
            ),
            ("mock_picot", mock, mock_picot),
            ("cross_threads", {"to": thread}, lambda found: Switch(book.read_thread(found["to"]), "cross")),
            ("switch", {"to": thread}, lambda found: Switch(book.read_thread(found["to"]))),
            (
                "attach",
                {"threads": threads, "place": run},
                lambda found: Attach(places.places(found["place"]), book.read_threads(found["threads"])),
            ),
            ("cut_and_tie", {"threads": threads}, lambda found: replace(cut(found), tie=True)),
            ("cut", {"threads": threads}, cut),
            ("inline_note", {"text": lambda: ".*"}, lambda found: Note(book.unquote(found["text"]))),
        ]
        for way in _HIDING:
            made.append(
                (f"hide_ends.{way}", {"remark": lambda: book.words}, self._hiding("" if way == "unsaid" else way))
            )
        # What is told about a place is taken for one before it is taken for part of a thread's name.
        tries = {"attach": (("threads", "place"), ("place",), ()), "lock_join": (("thread", "place"), ("place",), ())}
        return [(book.known(key, slots, needed), make) for key, slots, make in made for needed in tries.get(key, ((),))]

    def _hiding(self, way: Any) -> Callable[[dict[str, Any]], Step]:
        return lambda found: HideEnds(way, self.book.unquote(found["remark"] or ""))

    # How often, and on which pass

    @cached_property
    def _until(self) -> re.Pattern[str]:
        return self.book.compiled("until", {"until": self.book.words})

    @cached_property
    def _times(self) -> re.Pattern[str]:
        return self.book.compiled("times", {"n": r"\d+"})

    def times(self, text: str) -> tuple[int | None, str] | None:
        """How often, and until when, from what is said behind a repeat; None where nothing of the kind is said."""
        found = self._times.fullmatch(text)
        if found:
            return int(found["n"]), ""
        if text == self.book.fill("open"):
            return None, ""
        found = self._until.fullmatch(text)
        return (None, self.book.unquote(found["until"])) if found else None

    @cached_property
    def passes(self) -> str:
        """What names a pass, without groups."""
        book = self.book
        named = [re.escape(str(phrase)) for phrase in book.entries("passes").values()]
        return (
            f"(?:{'|'.join([*named, book.unnamed('pass_number', {'n': '[0-9]+', 'ordinal': self.places.ordinal()})])})"
        )

    def on_pass(self, text: str) -> str | int:
        """The pass that words name."""
        for which, phrase in self.book.entries("passes").items():
            if text == phrase:
                return which
        slots = {"n": r"\d+", "ordinal": self.places.ordinal()}
        found = self.book.compiled("pass_number", slots).fullmatch(text)
        groups = found.groupdict() if found else {}
        return int(groups["n"]) if groups.get("n") else self.places.read_ordinal(groups.get("ordinal") or "")

    # Several steps on a line

    def inline(self, text: str, at: int, depth: int = 0) -> list[Step]:
        """Steps parted by semicolons; repeats and changes on a pass in brackets."""
        mark = self.book.fill("between_steps")
        steps: list[Step] = []
        if depth > _DEEPEST:
            raise NotWritten(text)
        for piece in self.book.split(text, mark):
            steps += self._piece(piece, at, depth)
            at += len(piece) + len(mark)
        return steps

    @cached_property
    def _inline_instead(self) -> re.Pattern[str]:
        return self.book.compiled("inline_instead", {"on_pass": self.passes, "steps": ".+"})

    @cached_property
    def _inline_repeat(self) -> re.Pattern[str]:
        return self.book.compiled("inline_repeat", {"steps": ".*", "times": ".+?"})

    def _piece(self, text: str, at: int, depth: int) -> list[Step]:
        """One step with what stands in brackets behind it."""
        head = text
        changes: list[tuple[str, str, int]] = []
        while head.endswith(")"):
            start = self.book.last_bracket(head)
            found = self._inline_instead.fullmatch(head[start:]) if start else None
            if not found or not start:
                break
            changes.insert(0, (found["on_pass"], found["steps"], at + start + found.start("steps")))
            head = head[:start].rstrip()
        if not changes:
            return self._repeat_or_step(text, at, depth)
        steps = self._repeat_or_step(head, at, depth)
        by_pass = ByPass(steps[-1], {self.on_pass(p): self.instead(s, a, depth) for p, s, a in changes})
        self.origins.record(by_pass, Span(at, at + len(text)))
        return [*steps[:-1], by_pass]

    def instead(self, text: str, at: int, depth: int = 0) -> list[Step]:
        """What is worked on a pass instead; nothing where the step is left out."""
        return [] if text == self.book.fill("leave_out") else self.inline(text, at, depth + 1)

    def _repeat_or_step(self, text: str, at: int, depth: int) -> list[Step]:
        if not text.startswith("["):
            return self.step(text, at)
        found = self._inline_repeat.fullmatch(text)
        times = self.times(found["times"]) if found else None
        if not found or times is None:
            raise NotWritten(text)
        steps = self.inline(found["steps"], at + found.start("steps"), depth + 1) if found["steps"] else []
        repeat = Repeat(steps, times[0], times[1])
        self.origins.record(repeat, Span(at, at + len(text)))
        return [repeat]
