"""Reads prose as ``writer`` writes it, sentence by sentence; None for a text with any sentence that is not written so."""

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

LEVELS = {"full": ("prose",), "terse": ("terse", "prose")}


def read_written(source: Source, convention: Convention) -> Reading | None:
    """The reading of a text that larkshead wrote, at the level at which the fewest places are strange to it."""
    best: tuple[int, Reading] | None = None
    try:
        lines = lines_of(source.text)
    except NotWritten:
        return None
    for styles in LEVELS.values():
        book = WrittenBook.of(convention, *styles)
        reading = Reading(source, Pattern(), Origins(), style="prose", convention=convention.name)
        reading.origins.heard.append(Span(0, len(source.text)))
        if not book.sections:
            continue
        try:
            strange = _Layout(book, reading).read(lines)
        except NotWritten:
            continue
        if best is None or strange < best[0]:
            best = strange, reading
        if not strange:
            break
    return best[1] if best else None


class _Layout:
    """The lines of a text, from the title to the notes."""

    def __init__(self, book: WrittenBook, reading: Reading) -> None:
        self.book = book
        self.pattern = reading.pattern
        self.origins = reading.origins
        self.around = AroundReader(book)
        self.steps = StepReader(book, reading.origins)
        self.end = book.fill("sentence", text="")
        self.mark = book.fill("repeat_mark")
        marks = f"(?:{re.escape(self.mark)})+"
        numbers = {"mark": marks, "n": r"\d+", "total": r"\d+"}
        self.repeats = [
            book.known("repeat_from", numbers),
            book.known("repeat_once", numbers),
            book.known("repeat_until", {"mark": marks, "until": lambda: book.words}),
            book.known("repeat_open_ended", {"mark": marks}),
        ]
        self.instead = book.compiled("instead", {"on_pass": self.steps.passes, "steps": ".+"})
        self.left_out = book.compiled("pass_left_out", {"on_pass": self.steps.passes})
        # The steps being read, those of the innermost open repeat last, and where each repeat began.
        self.open: list[tuple[list[Step], int]] = []

    def read(self, lines: list[Line]) -> int:
        """Read all lines; how many places in them are strange. Raises NotWritten."""
        before = self.steps.places.strange
        lines = before_steps(lines, self.around, self.pattern)
        for number, line in enumerate(lines):
            if not line.text:
                continue
            if number == 0 or not lines[number - 1].text:
                rest = lines[number:] if self.around.heads(line.text) else []
                notes = self.around.notes([one.text for one in rest])
                if notes is not None:
                    self.pattern.notes = notes
                    break
                self.finish()
                heading = None if line.text.endswith(self.end) else self.around.heading(line.text)
                if heading is not None and self.around.alone(line.text) is None:
                    self.begin(heading, line)
                    continue
                if self.pattern.parts:
                    raise NotWritten(line.text)
                self.begin(Part(), line)
            self.line(line)
        self.finish()
        if not self.around.is_enough(self.pattern):
            raise NotWritten("there is nothing but a title")
        return self.steps.places.strange - before

    def begin(self, part: Part, line: Line) -> None:
        self.pattern.parts.append(part)
        self.origins.record(part, Span(line.start, line.start + len(line.text)))
        self.open = [(part.steps, line.start)]

    def finish(self) -> None:
        if len(self.open) > 1:
            raise NotWritten("a repeat is never closed")

    def line(self, line: Line) -> None:
        """One line: the repeats that begin on it, then a note or sentences."""
        text, at = line.text, line.start
        while text.startswith(self.mark):
            marks, _, rest = text.partition(" ")
            if marks != self.mark * len(self.open):
                raise NotWritten(text)
            at += len(text) - len(rest)
            self.open.append(([], line.start))
            text = rest
        alone = self.around.alone(text)
        if alone is not None:
            self.origins.record(alone, Span(at, at + len(text)))
            self.open[-1][0].append(alone)
            return
        for sentence in self._sentences(text):
            self.sentence(sentence, at)
            at += len(sentence) + len(self.end) + 1

    def _sentences(self, text: str) -> list[str]:
        """The sentences of a line, without what ends them."""
        if not text:
            return []
        if not text.endswith(self.end):
            raise NotWritten(text)
        return self.book.split(text[: len(text) - len(self.end)], self.end + " ")

    def sentence(self, text: str, at: int) -> None:
        """One sentence, told with a capital or without."""
        small = text[:1].lower() + text[1:]
        if self._repeat(text, at):
            return
        steps = self.open[-1][0]
        for told in dict.fromkeys((small, text)):
            found = self.instead.fullmatch(told) or self.left_out.fullmatch(told)
            if found:
                self._on_pass(steps, found, at)
                return
            try:
                steps += self.steps.step(told, at)
            except NotWritten:
                continue
            return
        raise NotWritten(text)

    def _repeat(self, text: str, at: int) -> bool:
        for expression in self.repeats:
            found = expression.fullmatch(text)
            if not found:
                continue
            if len(self.open) < 2 or found["mark"] != self.mark * (len(self.open) - 1):
                raise NotWritten(text)
            groups = found.groupdict()
            steps, start = self.open.pop()
            # A convention may say how often in all, or how often more, or both.
            more = int(groups["n"]) + 1 if "n" in groups else None
            times = int(groups["total"]) if "total" in groups else more
            repeat = Repeat(steps, times, self.book.unquote(groups.get("until") or ""))
            self.origins.record(repeat, Span(start, at + len(text)))
            self.open[-1][0].append(repeat)
            return True
        return False

    def _on_pass(self, steps: list[Step], found: re.Match[str], at: int) -> None:
        if not steps:
            raise NotWritten(found.group())
        which = self.steps.on_pass(found["on_pass"])
        told = found.groupdict().get("steps")
        instead = self.steps.inline(told, at + found.start("steps"), 1) if told else []
        last = steps[-1]
        if not isinstance(last, ByPass):
            last = steps[-1] = ByPass(last)
        last.passes[which] = instead
        self.origins.record(last, Span(at, at + len(found.group())))
