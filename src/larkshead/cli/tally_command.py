"""``larkshead tally``."""

from __future__ import annotations

import json
import sys
from typing import TYPE_CHECKING

from larkshead.app.errors import CannotRun
from larkshead.cli.options import FILES, INPUTS, REPORT_FORMS, Command, Option
from larkshead.cli.session import Session
from larkshead.reports import printable

if TYPE_CHECKING:
    from larkshead.working import Counts, PartTally, Tally

# Totals that have a column of their own, and those told only where there are any, with the words for them.
_COLUMNS = (("rings", "rings"), ("chains", "chains"), ("ds", "stitches"), ("picots", "picots"), ("joins", "joins"))
_MORE = (
    ("split_rings", "split ring", "split rings"),
    ("mock_rings", "self-closing mock ring", "self-closing mock rings"),
    ("josephine_rings", "Josephine ring", "Josephine rings"),
    ("split_chains", "split chain", "split chains"),
    ("halves", "half stitch", "half stitches"),
    ("mock_picots", "mock picot", "mock picots"),
    ("lock_joins", "lock join", "lock joins"),
    ("beads", "bead", "beads"),
)

TEXT = """Count stitches, picots, joins and beads, with every repeat worked out.

Rings are rings of every sort, chains are chains and split chains, stitches are whole double stitches. A number that
hangs on a repeat whose times are left open is shown as `?` (null in JSON).

\b
Examples:
  larkshead tally collar.txt
  larkshead tally patterns/ --format json

Ends with 0, with 1 when what was read cannot be trusted, and with 2 when a file could not be read.
"""


def run(
    files: tuple[str, ...],
    style: str | None,
    read_as: str | None,
    notices_format: str,
    settings_path: str | None,
    form: str,
) -> None:
    """Count stitches, picots, joins and beads, with every repeat worked out."""
    session = Session(settings_path, notices_format)
    texts: list[str] = []
    try:
        from larkshead.working import tally_pattern

        for reading in session.readings(files, style, read_as):
            session.count(session.say_notices(reading), "error")
            counted = tally_pattern(reading.pattern)
            if form == "json":
                texts.append(json.dumps(_as_json(reading.source.name, counted)))
            else:
                texts.append(_as_text(reading.pattern.title, reading.source.name, counted))
    except CannotRun as failure:
        session.fail(failure)
    if form == "json":
        sys.stdout.write("[\n" + ",\n".join(texts) + "\n]\n" if texts else "[]\n")
    else:
        sys.stdout.write("\n".join(texts))
    session.end()


def _as_json(name: str, counted: Tally) -> dict[str, object]:
    """The shape that ``report.json`` among the schemas describes."""
    parts = [
        {"kind": part.kind, "number": part.number, "name": part.name, "times": part.times, **part.as_dict()}
        for part in counted.parts
    ]
    return {"file": name, **counted.as_dict(), "parts": parts}


def _as_text(title: str, name: str, counted: Tally) -> str:
    rows = [("", [words for _, words in _COLUMNS])]
    if len(counted.parts) > 1:
        rows += [(_part(part), [_number(getattr(part, key)) for key, _ in _COLUMNS]) for part in counted.parts]
    rows.append(("in all", [_number(getattr(counted, key)) for key, _ in _COLUMNS]))
    first = max(len(label) for label, _ in rows)
    widths = [max(len(cells[i]) for _, cells in rows) for i in range(len(_COLUMNS))]
    lines = [printable(f"{name}: {title}" if title else name)]
    for label, cells in rows:
        lines.append(f"  {label.ljust(first)}  " + "  ".join(c.rjust(w) for c, w in zip(cells, widths, strict=True)))
    counts = [(getattr(counted, key), one, several) for key, one, several in _MORE]
    more = [f"{_number(count)} {one if count == 1 else several}" for count, one, several in counts if count != 0]
    more += _bare_thread(counted)
    if more:
        lines.append(f"  among them: {', '.join(more)}")
    return "\n".join(lines) + "\n"


def _bare_thread(counted: Counts) -> list[str]:
    said = []
    if counted.bare_thread != 0:
        length = "?" if counted.bare_thread is None else f"{counted.bare_thread:.10g} mm"
        said.append(f"{length} of bare thread")
    if counted.unmeasured != 0:
        stretches = "stretch" if counted.unmeasured == 1 else "stretches"
        said.append(f"{_number(counted.unmeasured)} {stretches} of bare thread without a length")
    return said


def _part(part: PartTally) -> str:
    name = " ".join(str(word) for word in (part.kind or "part", part.number) if word is not None)
    name = f"{name} ({part.name})" if part.name and part.number is not None else part.name or name
    return printable(name if part.times == 1 else f"{name}, {part.times} times")


def _number(count: float | None) -> str:
    return "?" if count is None else f"{count:.10g}"


COMMAND = Command(
    "tally",
    TEXT,
    run,
    (*INPUTS, Option(("--format",), "form", "How the result is shown.", choices=REPORT_FORMS, default="text")),
    FILES,
)
