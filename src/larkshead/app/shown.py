"""The reading shown: the user's own text, stretch by stretch, with what each became."""

from __future__ import annotations

from typing import TYPE_CHECKING

from larkshead.app.errors import CannotRun
from larkshead.model import Abbreviation, Note, Part, Pattern, Repeat, StatedTotal, Step, Thread
from larkshead.reading.coverage import Clause, Coverage, clauses_of, coverage_of
from larkshead.reports import Place, Remark, printable

if TYPE_CHECKING:
    from larkshead.app.workbench import Workbench
    from larkshead.reading import Reading

_PLAINEST = "steplist"
_FATES = {"note": "kept as a note", "unread": "not read"}


def account(bench: Workbench, reading: Reading) -> Coverage | None:
    """How much of a text in words was understood; None for notations that leave nothing to understand."""
    provided = bench.registry.notations.get(reading.style)
    return coverage_of(reading) if provided is not None and provided.spec.worded else None


def show_reading(bench: Workbench, reading: Reading) -> list[tuple[Clause, list[str]]]:
    """Every stretch of the text with what it became, in lines of the step list; none where it only leads on."""
    shown: list[tuple[Clause, list[str]]] = []
    for clause in clauses_of(reading):
        if clause.fate in _FATES:
            became = [_FATES[clause.fate]]
        else:
            became = [line for thing in clause.things for line in _became(bench, thing)]
        shown.append((clause, became))
    return shown


def shown_text(bench: Workbench, reading: Reading) -> str:
    """The reading for people::

    collar.txt, read as prose in the words of en
       4  Ring: 4 ds, 3 picots with 4 ds between, 4 ds, close.
            = R 4 p 4 p 4 p 4
       5  I like it in blue.
            ~ kept as a note
    """
    name = printable(reading.source.name)
    words = f" in the words of {reading.convention}" if reading.convention else ""
    lines = [f"{name}, read as {reading.style}{words}"]
    for clause, became in show_reading(bench, reading):
        told = " ".join(reading.source.quote(clause.span).split())
        lead = len(reading.source.quote(clause.span)) - len(reading.source.quote(clause.span).lstrip())
        line = reading.source.position(clause.span.start + lead).line
        lines.append(f"{line:4d}  {printable(told)}")
        sign = {"note": "~", "unread": "?"}.get(clause.fate, "=")
        lines += [f"        {sign} {printable(each)}" for each in became]
    return "".join(line + "\n" for line in lines)


def shown_remarks(bench: Workbench, reading: Reading) -> list[Remark]:
    """The reading for machines: one remark of kind ``reading`` a stretch, and one of kind ``coverage`` for the whole."""
    name = reading.source.name
    remarks = [
        Remark("notice", "reading", "note", "; ".join(became), name, Place.of(reading.source, clause.span))
        for clause, became in show_reading(bench, reading)
    ]
    coverage = account(bench, reading)
    if coverage is not None:
        told = f"{coverage.words} words: {coverage.understood} understood, {coverage.noted} kept as notes, "
        remarks.append(Remark("notice", "coverage", "note", f"{told}{coverage.unread} not read", name))
    return remarks


def _became(bench: Workbench, thing: object) -> list[str]:
    """What a step or a thing about the steps is, in lines of the step list."""
    if isinstance(thing, Part):
        return [f"{thing.kind} {thing.number or thing.name}".strip()]
    if isinstance(thing, Thread):
        return [f"thread: {thing.name}"]
    if isinstance(thing, Abbreviation):
        return [f"abbreviation: {thing.form}"]
    if isinstance(thing, Note):
        return [_FATES["note"]]
    if isinstance(thing, StatedTotal):
        return ["total: " + ", ".join(f"{count} {name.replace('_', ' ')}" for name, count in thing.counts.items())]
    try:
        lines = _in_steps(bench, thing)  # type: ignore[arg-type]
    except CannotRun:
        return [type(thing).__name__]
    return lines[:1] if isinstance(thing, Repeat) else lines


def _in_steps(bench: Workbench, step: Step) -> list[str]:
    text = bench.write(Pattern(parts=[Part(steps=[step])]), _PLAINEST).text
    return [line for line in text.splitlines() if line.strip()]
