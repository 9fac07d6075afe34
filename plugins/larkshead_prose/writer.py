"""Writes prose: a sentence for each element and action, a paragraph for each part.

In English, in full (the terse form says the same with the abbreviations of running text: ds, p, cl, rw)::

    Ring A: 4 double stitches, picot, 4 double stitches, close. Reverse the work.
    Shuttle 1: chain: 6 double stitches, small picot, 6 double stitches. Do not reverse.
    Large ring (onion): 4 double stitches, join to the last picot of the previous ring, 4 double stitches, half closed.
    Split ring: 4 double stitches, picot, 4 double stitches; second side: 4 double stitches, close.
    Chain: 6 double stitches, (thrown ring: 3 double stitches, picot, 3 double stitches, close), 6 double stitches.
    Josephine ring: 12 first halves, close.
    Leave 3 mm of bare thread. Lock join to the base of the first ring. Change shuttles to shuttle 2.
    Attach shuttle 1 and ball to any picot of round 1. Cut and tie. Hide the ends.
    * Ring: ... Repeat from * 5 more times (6 in all).       `**` for a repeat in a repeat
    Chain: ... On the last pass, instead: chain: 6 double stitches, lock join to the base of the first ring.
    Reverse the work. On pass 3, leave this out.             what is said of a pass is for the step just before

Surroundings are as in shorthand, without a list of abbreviations.
"""

from __future__ import annotations

from collections.abc import Iterable

from larkshead.conventions import Convention
from larkshead.model import ByPass, Element, Note, Pattern, Repeat, StatedTotal, Step
from larkshead.writing import Written
from larkshead.writing.sequence import DEEPEST, StepWording
from larkshead.writing.surroundings import capital, heading, notes_lines, top_lines
from larkshead.writing.wording import Wording, one_line

LEVELS = {"full": ("prose",), "terse": ("terse", "prose")}


def write(pattern: Pattern, convention: Convention, level: str = "full") -> Written:
    """The pattern in sentences; ``level`` full or terse. ValueError for another level."""
    if level not in LEVELS:
        raise ValueError(f"no such level of prose: {level} (there are {', '.join(LEVELS)})")
    wording = Wording(convention, *LEVELS[level])
    words = StepWording(wording)
    blocks: list[str] = []
    for number, part in enumerate(pattern.parts):
        title = heading(wording, part, first=not number)
        text = _Text(words)
        for note in part.notes:
            text.block(wording.fill("note", text=wording.rest(note)))
        text.steps(part.steps)
        blocks.append("\n".join(filter(None, (title, *text.lines))))
    after = notes_lines(wording, pattern)
    said = ["\n".join(top_lines(wording, pattern)), *blocks, "\n".join(after)]
    text_out = "\n\n".join(filter(None, said))
    return Written(text_out + "\n" if text_out else "", wording.losses)


def write_terse(pattern: Pattern, convention: Convention) -> Written:
    """The pattern in terse prose, with the abbreviations of running text."""
    return write(pattern, convention, "terse")


class _Text:
    """Sentences in lines. A repeat, a note and a total begin a new line."""

    def __init__(self, words: StepWording) -> None:
        self.words = words
        self.wording = words.wording
        self.lines: list[str] = []
        self.open = False
        self.repeats = 0

    def block(self, text: str) -> None:
        """A line of its own."""
        if text:
            self.lines.append(text)
        self.open = False

    def sentence(self, text: str) -> None:
        """One more sentence on the line."""
        if not text:
            return
        said = self.wording.fill("sentence", text=capital(text))
        if self.open:
            self.lines[-1] += " " + said
        else:
            self.lines.append(said)
        self.open = True

    def steps(self, steps: Iterable[Step], depth: int = 0) -> None:
        for step in steps:
            self.step(step, depth)

    def step(self, step: Step, depth: int) -> None:
        if depth > DEEPEST:
            self.wording.lose("dropped", f"steps nested more than {DEEPEST} deep", step)
        elif isinstance(step, Element):
            self.sentence(self.words.element(step))
            self._remark(step)
        elif isinstance(step, Repeat):
            self._repeat(step, depth)
        elif isinstance(step, ByPass):
            self._by_pass(step, depth)
        elif isinstance(step, Note | StatedTotal):
            self.block(self.words.action(step))
        else:
            self.sentence(self.words.action(step))

    def _remark(self, step: Step) -> None:
        if isinstance(step, Element) and (remark := self.words.remark(step)):
            self.block(self.wording.fill("note", text=self.wording.rest(remark)))

    def _by_pass(self, step: ByPass, depth: int) -> None:
        if isinstance(step.step, Element):
            self.sentence(self.words.element(step.step))
        else:
            self.step(step.step, depth + 1)
        for which, steps in step.passes.items():
            self._on_pass(which, steps, depth)
        self._remark(step.step)

    def _repeat(self, step: Repeat, depth: int) -> None:
        self.words.repeat_label(step)
        self.repeats += 1
        mark = self.wording.fill("repeat_mark") * self.repeats
        self.open = False
        start = len(self.lines)
        self.steps(step.steps, depth + 1)
        self.repeats -= 1
        if len(self.lines) == start:
            self.lines.append("")
            self.open = True
        self.lines[start] = f"{mark} {self.lines[start]}".rstrip()
        if step.times is not None:
            more = step.times - 1
            said = self.wording.fill("repeat_from" if more > 0 else "repeat_once", mark=mark, n=more, total=step.times)
        elif one_line(step.until):
            said = self.wording.fill("repeat_until", mark=mark, until=self.wording.free(step.until))
        else:
            said = self.wording.fill("repeat_open_ended", mark=mark)
        self.sentence(said)
        self.open = False

    def _on_pass(self, which: str | int, steps: list[Step], depth: int) -> None:
        on_pass = self.words.on_pass(which)
        if steps:
            instead = self.words.inline(steps, depth + 1)
            self.sentence(self.wording.fill("instead", on_pass=on_pass, steps=instead))
        else:
            self.sentence(self.wording.fill("pass_left_out", on_pass=on_pass))
