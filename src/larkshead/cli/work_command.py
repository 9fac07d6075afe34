"""``larkshead work``."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator
from dataclasses import fields
from typing import TYPE_CHECKING, Any

from larkshead.app.errors import CannotRun
from larkshead.cli.options import FILES, INPUTS, REPORT_FORMS, Command, Option
from larkshead.cli.session import Session
from larkshead.reading import Notice, Reading
from larkshead.reports import printable

if TYPE_CHECKING:
    from larkshead.working.narrate import JoinTold, StepTold

TEXT = """Show a pattern step by step as it is worked.

Every pass of every repeat is worked out. Each step is shown with its work, its threads, the side it is worked on,
where its joins go, and how many picots are free after it. In the work, p is a picot, lp and sp a long and a small
one, j a join, lj a lock join, b a bead, / the other side of a split ring or chain. With --format json, each step
is one object a line.

\b
Examples:
  larkshead work collar.txt
  larkshead work collar.txt --format json

Ends with 0, with 1 when something could not be worked, and with 2 when a file could not be read.
"""


def run(
    files: tuple[str, ...],
    style: str | None,
    read_as: str | None,
    notices_format: str,
    settings_path: str | None,
    form: str,
) -> None:
    """Show a pattern step by step as it is worked."""
    session = Session(settings_path, notices_format)
    try:
        for reading in session.readings(files, style, read_as):
            worked = session.bench.work(reading.pattern)
            for problem in worked.problems:
                span = reading.origins.of(problem.step) if problem.step is not None else None
                reading.notices.append(Notice(problem.kind, "error", problem.message, span))
            session.count(session.say_notices(reading), "error")
            if form == "json":
                _print_json(reading, worked)
            else:
                _print_text(reading, worked)
    except CannotRun as failure:
        session.fail(failure)
    session.end()


def _print_json(reading: Reading, worked: Any) -> None:
    from larkshead.working.narrate import narration

    for step in narration(worked):
        line = {"file": reading.source.name, **_plain(step), "joins": [_plain(join) for join in step.joins]}
        sys.stdout.write(json.dumps(line) + "\n")


def _plain(thing: StepTold | JoinTold) -> dict[str, Any]:
    return {one.name: getattr(thing, one.name) for one in fields(thing)}


def _print_text(reading: Reading, worked: Any) -> None:
    from larkshead.working.narrate import narration

    title = reading.pattern.title
    sys.stdout.write(printable(f"{reading.source.name}: {title}" if title else reading.source.name) + "\n")
    part = None
    for step in narration(worked):
        if step.part != part:
            part = step.part
            sys.stdout.write(f"\n{printable(part)}\n" if part else "\n")
        sys.stdout.writelines(printable(line) + "\n" for line in _lines(step))


def _lines(step: StepTold) -> Iterator[str]:
    """One step: its line, then a line for each join."""
    what = step.what
    if step.part and what.endswith(f" of {step.part}"):
        # The heading says it already.
        what = what[: -len(step.part) - 4]
    if step.passes:
        what += f" (pass {', '.join(step.passes)})"
    if step.thrown_from:
        what += f", thrown off {step.thrown_from}"
    told = [step.work.ljust(24)] if step.work else []
    if step.work:
        told.append(f"[{'; '.join(x for x in (step.thread, step.side, _free(step.free)) if x)}]")
    yield f"{step.number:6d}  {what.ljust(28)}  {'  '.join(told)}".rstrip()
    for join in step.joins:
        where = f"join {join.place}: " if join.place else ""
        if join.into:
            said = f"to {join.into}" + (f" (taken for granted: {join.assumed})" if join.assumed else "")
        else:
            said = f"not known to what: {join.reason}"
        yield f"{'':8}{where}{said}"


def _free(count: int) -> str:
    return f"{count} {'picot' if count == 1 else 'picots'} free"


COMMAND = Command(
    "work",
    TEXT,
    run,
    (*INPUTS, Option(("--format",), "form", "How the result is shown.", choices=REPORT_FORMS, default="text")),
    FILES,
)
