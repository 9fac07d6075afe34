"""Reads step lists, a line at a time; a line that cannot be read costs that line only.

The lines are those of ``lines`` and ``comments``. Around them::

    pattern = {surroundings} {part}          a part begins at a heading, the first also at its first step
    block   = {step | step {on}}
    repeat  = "REP" n "{" block "}"
    on      = "ON" pass (step | repeat)      the step before, or the repeat before, is this one on that pass

A step that differs by pass and is left out, or is several steps, on some pass stands with fillers: ``NOTURN # left
out`` for nothing, ``NOTURN # more`` for a step that is there on some passes only.
"""

from __future__ import annotations

import re
from typing import cast

from larkshead.model import Note, Part, Pattern, Repeat, Step
from larkshead.reading.notices import Notice
from larkshead.reading.origins import Origins
from larkshead.reading.reading import Reading
from larkshead.reading.source import Source, Span
from larkshead_steplist import comments
from larkshead_steplist.lines import Fault, Line, fresh, read_line
from larkshead_steplist.pieces import DEEPEST, Slot, steps_of

_ON = re.compile(r"\s*ON\s+((?:first|last|\d{1,9})(?:,(?:first|last|\d{1,9}))*)\s+(?=\S)")
_CLOSE = re.compile(r"\s*\}\s*(?:#.*)?")
_CACHED_LINES = 4096
_CACHED_LENGTH = 300
_LONGEST_LINE = 100_000
_MOST_NOTICES = 200


def read(source: Source, convention: object | None = None) -> Reading:
    """The pattern a step list says. Never raises on content: what it cannot read it reports."""
    return _Reader(source).reading()


class _Frame:
    """A block being read: a part's or a repeat's. ``last`` is where its last step line stands among the items."""

    __slots__ = ("items", "last", "marked", "repeat", "span")

    def __init__(self, repeat: Repeat | None, span: Span) -> None:
        self.repeat = repeat
        self.span = span
        self.items: list[Step | Slot] = []
        self.last = -1
        # Whether a line here needs putting together with others at the end of the block.
        self.marked = False


class _Reader:
    def __init__(self, source: Source) -> None:
        self.source = source
        self.pattern = Pattern()
        self.origins = Origins()
        self.notices: list[Notice] = []
        self.unsaid_notices = 0
        self.part: Part | None = None
        self.frames: list[_Frame] = []
        self.known: dict[str, Line] = {}
        self.too_deep = 0

    def reading(self) -> Reading:
        at = 0
        for text in self.source.text.split("\n"):
            if text.startswith("#"):
                self.comment(text, at)
            elif text and not text.isspace():
                self.step_line(text, at)
            at += len(text) + 1
        self.end_part()
        if self.unsaid_notices:
            self.notices.append(
                Notice("unread-text", "error", f"{self.unsaid_notices} more lines with faults are not listed")
            )
        return Reading(self.source, self.pattern, self.origins, self.notices, style="steplist")

    def report(self, kind: str, message: str, span: Span) -> None:
        if len(self.notices) < _MOST_NOTICES:
            self.notices.append(Notice(kind, "error", message, span))
        else:
            self.unsaid_notices += 1

    # Lines

    def comment(self, text: str, at: int) -> None:
        if not text.startswith("# ") or not text[2:].strip():
            return
        span = Span(at, at + len(text.rstrip()))
        said = text[2:].rstrip()
        part = comments.read_heading(said)
        if part is not None:
            self.end_part()
            self.begin_part(part, span)
            return
        step = comments.read_step(said)
        if step is None and comments.read_surrounding(said, self.pattern, self.part):
            return
        if step is None and self.part is None:
            self.pattern.notes.append(said)
            return
        step = step or Note(said)
        self.origins.record(step, span)
        self.frame(span).items.append(step)

    def step_line(self, text: str, at: int) -> None:
        if len(text) > _LONGEST_LINE:
            self.report(
                "unread-text",
                f"a line of {len(text):,} characters is no step (the longest read is {_LONGEST_LINE:,})",
                Span(at, at + 80),
            )
            return
        if "}" in text and _CLOSE.fullmatch(text):
            self.close(Span(at, at + len(text)))
            return
        found = _ON.match(text)
        if found:
            self.on_line(found, text, at)
            return
        line = self.line(text, at)
        step = line.step
        if step is None:
            return
        span = Span(at, at + len(text.rstrip()))
        frame = self.frame(span)
        step = fresh(step)
        self.origins.record(step, span, line.items, at)
        if line.said:
            self.note(line.said, span)
        frame.last = len(frame.items)
        if line.mark:
            frame.marked = True
            frame.items.append(Slot(step, line.mark))
        else:
            frame.items.append(step)
        if isinstance(step, Repeat):
            self.open(_Frame(step, span))

    def line(self, text: str, at: int) -> Line:
        """A line as read, its faults reported."""
        line = self.known.get(text)
        if line is None:
            line = read_line(text)
            if len(text) <= _CACHED_LENGTH and len(self.known) < _CACHED_LINES:
                self.known[text] = line
        for fault in line.faults:
            self.fault(fault, at)
        return line

    def fault(self, fault: Fault, at: int) -> None:
        self.report(fault.kind, fault.message, Span(at + fault.start, at + max(fault.end, fault.start)))

    def on_line(self, found: re.Match[str], text: str, at: int) -> None:
        begin = found.end()
        line = self.line(text[begin:], at + begin)
        span = Span(at + found.start(1), at + len(text.rstrip()))
        if line.step is None:
            return
        frame = self.frame(span)
        if frame.last < 0:
            self.report("bad-step", "ON says what the step before is on some pass; there is no step before", span)
            return
        before = frame.items[frame.last]
        if not isinstance(before, Slot):
            before = Slot(before, "")
            frame.items[frame.last] = before
        frame.marked = True
        step = fresh(line.step)
        self.origins.record(step, span, line.items, at + begin)
        for word in found.group(1).split(","):
            key: str | int = int(word) if word.isdecimal() else word
            if key in before.passes:
                self.report("bad-step", f"pass {key} is said twice for one step", span)
            before.passes[key] = (step, line.mark)
        if isinstance(step, Repeat):
            self.open(_Frame(step, span))
        if line.said:
            self.report("unread-text", f"the remark {line.said!r} has no place in a step that differs by pass", span)

    def note(self, said: str, span: Span) -> None:
        step = Note(said)
        self.origins.record(step, span)
        self.frames[-1].items.append(step)

    # Blocks

    def frame(self, span: Span) -> _Frame:
        if not self.frames:
            self.begin_part(Part(), span)
        return self.frames[-1]

    def begin_part(self, part: Part, span: Span) -> None:
        self.part = part
        self.pattern.parts.append(part)
        self.origins.record(part, span)
        self.frames = [_Frame(None, span)]

    def end_part(self) -> None:
        while len(self.frames) > 1:
            self.report("open-bracket", "the repeat opened here is not closed by '}'", self.frames[-1].span)
            self.end_frame()
        if self.frames:
            self.end_frame()
        self.too_deep = 0

    def open(self, frame: _Frame) -> None:
        if len(self.frames) > DEEPEST:
            if not self.too_deep:
                self.report(
                    "too-deep",
                    f"repeats stand within repeats more than {DEEPEST} deep; those further in are not read as repeats",
                    frame.span,
                )
            self.too_deep += 1
            return
        self.frames.append(frame)

    def close(self, span: Span) -> None:
        if self.too_deep:
            self.too_deep -= 1
        elif len(self.frames) > 1:
            self.end_frame()
        else:
            self.report("open-bracket", "'}' closes a repeat, but none is open", span)

    def end_frame(self) -> None:
        frame = self.frames.pop()
        # Unmarked items are all plain steps.
        steps = steps_of(frame.items, self.origins) if frame.marked else cast("list[Step]", frame.items)
        if frame.repeat is not None:
            frame.repeat.steps = steps
        elif self.part is not None:
            self.part.steps = steps
