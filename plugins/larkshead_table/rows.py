"""A pattern as rows: what all tables share, whatever marks their cells are parted by.

In English the columns are Step, Element, Stitches, Join to, Then, and Times where a row is worked more than once::

    Step             Element    Stitches  Join to               Then
    1                R A        5-5-5-5                         cl; RW
    2                C          6-6                             RW
    3                R          5+5-5     last p of prev R      cl
    3 on the last pass   R      5+5+5     last p of prev R; first p of R A   cl
    4                                                           RW
    5                                                           repeat steps 2 to 4, 5 more times (6 in all)

Element, stitches and what comes then are worded as in shorthand; steps are numbered through the whole pattern, so that
a repeat names its rows. ``Join to`` holds the places of the joins in the row, in order, parted by semicolons (``?`` for
one that is not said). What is worked instead on a named pass stands in a row of its own behind the step it replaces.
"""

from __future__ import annotations

from collections.abc import Iterable

from larkshead.conventions import Convention
from larkshead.model import ByPass, Element, Note, Part, Pattern, Repeat, StatedTotal, Step
from larkshead.records import dataclass, field
from larkshead.writing.sequence import DEEPEST, StepWording
from larkshead.writing.surroundings import before_lines, glossary, heading, title_line
from larkshead.writing.wording import Wording, one_line

COLUMNS = ("step", "element", "stitches", "join_to", "then", "times")


@dataclass(slots=True)
class Row:
    """One row; every cell is text in the convention's words."""

    step: str = ""
    element: str = ""
    stitches: str = ""
    join_to: str = ""
    then: str = ""
    times: str = ""

    def cells(self) -> list[str]:
        return [self.step, self.element, self.stitches, self.join_to, self.then, self.times]


@dataclass(slots=True)
class Sheet:
    """A pattern laid out: lines before, sections of rows under their headings, notes after."""

    title: str
    before: list[str]
    sections: list[tuple[str, list[Row]]]
    notes: list[str]
    wording: Wording
    columns: list[str] = field(default_factory=list)

    def cells(self, row: Row) -> list[str]:
        """The cells of a row in the columns the sheet has."""
        return row.cells()[: len(self.columns)]


def lay_out(pattern: Pattern, convention: Convention) -> Sheet:
    """The rows of a pattern and what stands around them."""
    wording = Wording(convention, "table", "shorthand")
    rows = _Rows(StepWording(wording))
    sections = []
    for number, part in enumerate(pattern.parts):
        title = heading(wording, part, first=not number)
        sections.append((title, rows.part(part)))
    before = [*before_lines(wording, pattern), glossary(wording, pattern)]
    notes = [wording.rest(note) for note in pattern.notes]
    sheet = Sheet(title_line(wording, pattern), [line for line in before if line], sections, notes, wording)
    columns = COLUMNS if any(row.times for _, section in sections for row in section) else COLUMNS[:-1]
    sheet.columns = [wording.fill(f"columns.{name}") for name in columns]
    return sheet


class _Rows:
    """Steps to rows, numbered through the whole pattern."""

    def __init__(self, words: StepWording) -> None:
        self.words = words
        self.wording = words.wording
        self.rows: list[Row] = []
        self.number = 0
        self.open = False

    def part(self, part: Part) -> list[Row]:
        """The rows of one part."""
        self.rows = []
        self.open = False
        for note in part.notes:
            self._alone(self.wording.fill("note", text=self.wording.rest(note)))
        self.steps(part.steps)
        return self.rows

    def steps(self, steps: Iterable[Step], depth: int = 0) -> None:
        for step in steps:
            self.step(step, depth)

    def step(self, step: Step, depth: int) -> None:
        if depth > DEEPEST:
            self.wording.lose("dropped", f"steps nested more than {DEEPEST} deep", step)
        elif isinstance(step, Element):
            self._element(self._new(), step)
            self.open = True
            self._remark(step)
        elif isinstance(step, Repeat):
            self._repeat(step, depth)
        elif isinstance(step, ByPass):
            self._by_pass(step, depth)
        elif isinstance(step, Note | StatedTotal):
            self._alone(self.words.action(step))
        else:
            self._then(self.words.action(step))

    def _new(self) -> Row:
        self.number += 1
        row = Row(str(self.number))
        self.rows.append(row)
        return row

    def _alone(self, text: str) -> None:
        """A row that holds nothing else."""
        self._new().then = text
        self.open = False

    def _then(self, text: str) -> None:
        row = self.rows[-1] if self.open else self._new()
        row.then = self.wording.fill("between_steps").join(filter(None, (row.then, text)))
        self.open = True

    def _element(self, row: Row, element: Element) -> None:
        wording = self.wording
        places: list[str] = []
        row.element = self.words.head(element, "cell_head")
        row.stitches = self.words.work(element, places)
        row.then = self.words.close(element).strip()
        if any(places):
            unsaid = wording.fill("unsaid_place")
            row.join_to = wording.fill("between_steps").join(place or unsaid for place in places)

    def _remark(self, step: Step) -> None:
        if isinstance(step, Element) and (remark := self.words.remark(step)):
            self._alone(self.wording.fill("note", text=self.wording.rest(remark)))

    def _repeat(self, step: Repeat, depth: int) -> None:
        self.words.repeat_label(step)
        self.open = False
        first = self.number + 1
        before = len(self.rows)
        self.steps(step.steps, depth + 1)
        made = self.rows[before:]
        if not made:
            self._new()
        elif len(made) == 1 and step.times is not None and not made[0].times and made[0].element:
            made[0].times = str(step.times)
            self.open = False
            return
        self._alone(self._repeated(step, first, self.number))

    def _repeated(self, step: Repeat, first: int, last: int) -> str:
        wording = self.wording
        steps = wording.fill("steps_named" if last > first else "step_named", first=first, last=last)
        if step.times is not None:
            more = step.times - 1
            return wording.fill("repeat_steps" if more > 0 else "steps_once", steps=steps, n=more, total=step.times)
        if one_line(step.until):
            return wording.fill("repeat_steps_until", steps=steps, until=wording.free(step.until))
        return wording.fill("repeat_steps_open", steps=steps)

    def _by_pass(self, step: ByPass, depth: int) -> None:
        self.open = False
        if isinstance(step.step, Element):
            self._element(self._new(), step.step)
        else:
            self.step(step.step, depth + 1)
        number = self.number
        for which, steps in step.passes.items():
            on_pass = self.words.on_pass(which)
            row = Row(self.wording.fill("step_on_pass", n=number, on_pass=on_pass))
            self.rows.append(row)
            if len(steps) == 1 and isinstance(steps[0], Element) and not steps[0].remark:
                self._element(row, steps[0])
            else:
                row.then = self.words.inline(steps, depth + 1) if steps else self.wording.fill("leave_out")
        self._remark(step.step)
        self.open = False
