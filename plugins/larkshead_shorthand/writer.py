"""Writes shorthand: one element a line, abbreviations and marks.

The layout and, in English, the wording, for each thing a pattern can say::

    Starlit edging                                     title
    Materials: white thread; a hook                    so Picots, Sizes, Finished size, Counting, Allowance
    Thread: Sh1, colour white, size 20, length 5 m, 24 beads, wound with ball
    Abbreviations: R = ring, C = chain, - = picot      just those used

    Rnd 1                                              a part: `Rnd 2: name`, `Motif (make 4)`; then its notes
    R A: 5-5-5-5 cl RW                                 element: `Sh1: large R A (onion): work cl`, `half closed` for cl
    C: 5 sp 5 lp (10 mm) 5 p with 2 b 5 2 b 5          picots, beads; `12 first halves`; `twisted p`
    R: 5+5-5-5 cl RW                                   a join whose place is not said
    R: 5 + (last p of prev R) 5 - 5 cl; BT 3 mm        its place in brackets; `LJ (...)`, `FJ (...)`
                                                       several in one join: `p of R A and p of R B together`
    SR: 4-4 / 4-4 cl                                   split elements; `(thrown R: 4-4 cl)`
    C: 4-4; LJ to base of first R; cut                 actions follow on the line, parted by semicolons
    [R: 6-6 cl RW                                      a repeat in brackets: `] x 5` in all; `] repeat until ...`
    C: 6-6 RW
    on the last pass: C: 6 + (p of first R) 6 RW] x 5  what stands instead of the step before it; `on pass 3: leave out`
    Note: leave a tail                                 and `Total of the ring: 20 ds`, `So far: ...`, `Total: ...`

    Notes:                                             at the end
    - blocks out at 9 cm
"""

from __future__ import annotations

from collections.abc import Iterable

from larkshead.conventions import Convention
from larkshead.model import ByPass, Element, Note, NoTurn, Pattern, Repeat, StatedTotal, Step, Turn
from larkshead.writing import Written
from larkshead.writing.sequence import DEEPEST, StepWording
from larkshead.writing.surroundings import heading, notes_lines, top_lines
from larkshead.writing.wording import Wording


def write(pattern: Pattern, convention: Convention) -> Written:
    """The pattern in shorthand, with what could not be said."""
    wording = Wording(convention, "shorthand")
    steps = StepWording(wording)
    body: list[str] = []
    for number, part in enumerate(pattern.parts):
        title = heading(wording, part, first=not number)
        lines = _Lines(steps)
        for note in part.notes:
            lines.alone(wording.fill("note", text=wording.rest(note)))
        lines.steps(part.steps)
        body += ["", *([title] if title else []), *lines.finished()]
    after = notes_lines(wording, pattern)
    text = "\n".join([*top_lines(wording, pattern), *body, *(["", *after] if after else [])]).strip("\n")
    return Written(text + "\n" if text else "", wording.losses)


class _Lines:
    """Lines of steps. Actions join the line of the element before them while that line is open."""

    def __init__(self, words: StepWording) -> None:
        self.words = words
        self.wording = words.wording
        self.lines: list[str] = []
        self.open = self.just_element = False

    def finished(self) -> list[str]:
        return self.lines

    def alone(self, text: str) -> None:
        """A line of its own."""
        if text:
            self.lines.append(text)
        self.open = False

    def steps(self, steps: Iterable[Step], depth: int = 0) -> None:
        for step in steps:
            self.step(step, depth)

    def step(self, step: Step, depth: int) -> None:
        if depth > DEEPEST:
            self.wording.lose("dropped", f"steps nested more than {DEEPEST} deep", step)
        elif isinstance(step, Element):
            self._element(step)
            self._remark(step)
        elif isinstance(step, Repeat):
            self._repeat(step, depth)
        elif isinstance(step, ByPass):
            self._by_pass(step, depth)
        elif isinstance(step, Note | StatedTotal):
            self.alone(self.words.action(step))
        else:
            self._action(step)

    def _element(self, step: Element) -> None:
        self.alone(self.words.element(step))
        self.open = self.just_element = True

    def _remark(self, step: Step) -> None:
        if isinstance(step, Element) and (remark := self.words.remark(step)):
            self.alone(self.wording.fill("note", text=self.wording.rest(remark)))

    def _action(self, step: Step) -> None:
        said = self.words.action(step)
        if not self.open:
            self.alone(said)
            self.open, self.just_element = True, False
        else:
            close = isinstance(step, Turn | NoTurn) and self.just_element
            self.lines[-1] += (" " if close else self.wording.fill("between_steps")) + said
            self.just_element = close

    def _repeat(self, step: Repeat, depth: int) -> None:
        self.words.repeat_label(step)
        start = len(self.lines)
        self.open = False
        self.steps(step.steps, depth + 1)
        if len(self.lines) == start:
            self.alone("")
            self.lines.append("")
        self.lines[start] = self.wording.fill("repeat_open") + self.lines[start]
        self.lines[-1] += self.wording.fill("repeat_close", times=self.words.times(step))
        self.open = False

    def _by_pass(self, step: ByPass, depth: int) -> None:
        self.open = False
        if isinstance(step.step, Element):
            self._element(step.step)
        else:
            self.step(step.step, depth + 1)
        for which, steps in step.passes.items():
            instead = self.words.inline(steps, depth + 1) if steps else self.wording.fill("leave_out")
            self.alone(self.wording.fill("instead", on_pass=self.words.on_pass(which), steps=instead))
        self._remark(step.step)
        self.open = False
