"""Reads shorthand as ``writer`` writes it, line by line; None for a text with any line that is not written so."""

from __future__ import annotations

import re

from larkshead.conventions import Convention
from larkshead.model import ByPass, Part, Pattern, Repeat, Step
from larkshead.reading import Origins, Reading, Source
from larkshead.reading.source import Span
from larkshead.reading.written.around import AroundReader
from larkshead.reading.written.book import WrittenBook
from larkshead.reading.written.lines import Line, before_steps, lines_of
from larkshead.reading.written.steps import NotWritten, StepReader


def read_written(source: Source, convention: Convention) -> Reading | None:
    """The reading of a text that larkshead wrote."""
    book = WrittenBook.of(convention, "shorthand")
    if not book.sections:
        return None
    reading = Reading(source, Pattern(), Origins(), style="shorthand", convention=convention.name)
    reading.origins.heard.append(Span(0, len(source.text)))
    try:
        _Layout(book, reading).read(lines_of(source.text))
    except NotWritten:
        return None
    return reading


class _Layout:
    """The lines of a text, from the title to the notes."""

    def __init__(self, book: WrittenBook, reading: Reading) -> None:
        self.book = book
        self.pattern = reading.pattern
        self.origins = reading.origins
        self.around = AroundReader(book)
        self.steps = StepReader(book, reading.origins)
        close = book.expression("repeat_close", {"times": ".+?"})
        self.close = re.compile(rf"(?P<step>.*?){close}", re.DOTALL)
        self.opening = book.fill("repeat_open")
        self.on_pass = book.compiled("instead", {"on_pass": self.steps.passes, "steps": ".+"})
        # The steps being read, those of the innermost open repeat last, and where each repeat began.
        self.open: list[tuple[list[Step], int]] = []

    def read(self, lines: list[Line]) -> None:
        lines = before_steps(lines, self.around, self.pattern)
        part: Part | None = None
        for number, line in enumerate(lines):
            if not line.text:
                continue
            fresh = number == 0 or not lines[number - 1].text
            if fresh and not self.open_repeats():
                rest = lines[number:] if self.around.heads(line.text) else []
                notes = self.around.notes([one.text for one in rest])
                if notes is not None:
                    self.pattern.notes = notes
                    break
                heading = None if part and not self.pattern.parts else self.around.heading(line.text)
                if heading is not None and self._is_heading(line.text):
                    part = heading
                    self.begin(part, line)
                    continue
            if part is None:
                part = Part()
                self.begin(part, line)
            self.line(line.text, line.start)
        self.finish()
        if not self.around.is_enough(self.pattern):
            raise NotWritten("there is nothing but a title")

    def _is_heading(self, line: str) -> bool:
        if self.around.alone(line) is not None:
            return False
        try:
            self.steps.step(line, 0)
        except NotWritten:
            return True
        return False

    def open_repeats(self) -> bool:
        return len(self.open) > 1

    def begin(self, part: Part, line: Line) -> None:
        self.finish()
        self.pattern.parts.append(part)
        self.origins.record(part, Span(line.start, line.start + len(line.text)))
        self.open = [(part.steps, line.start)]

    def finish(self) -> None:
        if self.open_repeats():
            raise NotWritten("a repeat is never closed")

    def line(self, text: str, at: int) -> None:
        """One line of steps, with the repeats that open and close on it."""
        while text.startswith(self.opening):
            text, at = text[len(self.opening) :], at + len(self.opening)
            self.open.append(([], at))
        closing: list[tuple[int | None, str]] = []
        text, closing = self._closing(text)
        if text:
            self._content(text, at)
        for times, until in closing:
            if not self.open_repeats():
                raise NotWritten("a repeat is closed that was never opened")
            steps, start = self.open.pop()
            repeat = Repeat(steps, times, until)
            self.origins.record(repeat, Span(start, at + len(text)))
            self.open[-1][0].append(repeat)

    def _closing(self, text: str) -> tuple[str, list[tuple[int | None, str]]]:
        """What stands before the ends of repeats, and how often each is worked, the innermost first."""
        mark = self.book.fill("repeat_close", times="")
        places = self.book.outside(text, mark)
        if not places:
            return text, []
        ends = [*places[1:], len(text)]
        closing = []
        for start, end in zip(places, ends, strict=True):
            found = re.fullmatch(self.book.expression("repeat_close", {"times": ".+"}), text[start:end])
            times = self.steps.times(found["times"]) if found else None
            if times is None:
                raise NotWritten(text)
            closing.append(times)
        return text[: places[0]], closing

    def _content(self, text: str, at: int) -> None:
        steps = self.open[-1][0]
        found = self.on_pass.fullmatch(text)
        if found:
            self._instead(steps, found, at)
            return
        alone = self.around.alone(text)
        if alone is not None:
            self.origins.record(alone, Span(at, at + len(text)))
            steps.append(alone)
            return
        mark = self.book.fill("between_steps")
        for piece in self.book.split(text, mark):
            steps += self.steps.step(piece, at)
            at += len(piece) + len(mark)

    def _instead(self, steps: list[Step], found: re.Match[str], at: int) -> None:
        if not steps:
            raise NotWritten(found.group())
        which = self.steps.on_pass(found["on_pass"])
        instead = self.steps.instead(found["steps"], at + found.start("steps"))
        if not isinstance(steps[-1], ByPass):
            steps[-1] = ByPass(steps[-1])
        by_pass = steps[-1]
        by_pass.passes[which] = instead  # type: ignore[union-attr]
        self.origins.record(by_pass, Span(at, at + len(found.group())))
