"""``larkshead list``."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable
from typing import Any

from larkshead.app.errors import CannotRun
from larkshead.cli.options import REPORT_FORMS, SETTINGS, Command, Option
from larkshead.cli.session import Session
from larkshead.host.registry import Provided, Registry
from larkshead.reports import printable

KINDS = ("styles", "conventions", "rules", "reports", "documents", "samples", "plugins")
Row = dict[str, str]

TEXT = """List styles, conventions, rules, reports, documents, samples or plugins; all of them when none is named.

\b
Examples:
  larkshead list rules
  larkshead list styles
  larkshead list samples
"""


def run(what: str | None, settings_path: str | None, form: str) -> None:
    """List styles, conventions, rules, reports, documents, samples or plugins; all of them when none is named."""
    session = Session(settings_path)
    try:
        registry = session.bench.registry
        tables = {kind: _rows(kind, registry, session.bench.settings.rules) for kind in ([what] if what else KINDS)}
        session.warn()
        if form == "json":
            sys.stdout.write(json.dumps(tables[what] if what else tables, indent=1) + "\n")
        else:
            sys.stdout.write("\n".join(_table(kind, rows, heading=what is None) for kind, rows in tables.items()))
    except CannotRun as failure:
        session.fail(failure)
    session.end()


def _rows(kind: str, registry: Registry, levels: dict[str, str]) -> list[Row]:
    if kind == "plugins":
        return [
            {"name": p.name, "summary": f"{p.distribution} {p.version} ({p.module})", "plugin": p.distribution}
            for p in registry.plugins
        ]
    rows: list[Row] = []
    table: dict[str, Provided[Any]] = registry.notations if kind == "styles" else getattr(registry, kind)
    for name, provided in table.items():
        row: Row = {"name": name, "summary": provided.spec.summary, "plugin": provided.plugin.name}
        if kind == "styles":
            row["ways"] = " and ".join(
                w for w, t in (("read", provided.spec.reader), ("written", provided.spec.writer)) if t
            )
            row["files"] = " ".join(provided.spec.suffixes)
        elif kind == "rules":
            row["severity"] = levels.get(name, provided.spec.severity)
        elif kind == "documents":
            row["files"] = " ".join(provided.spec.suffixes)
        elif kind == "samples":
            row["styles"] = " ".join(style for style, _ in provided.spec.files)
        rows.append(row)
    return sorted(rows, key=lambda row: row["name"]) if kind in ("rules", "samples") else rows


def _table(kind: str, rows: Iterable[Row], heading: bool) -> str:
    """Rows with their columns lined up."""
    order = ("name", "severity", "ways", "files", "styles", "summary")
    lines = [[printable(row[key]) for key in order if key in row] for row in rows]
    if not lines:
        return f"{kind}: none\n"
    widths = [max(len(line[i]) for line in lines) for i in range(len(lines[0]) - 1)]
    margin = "  " if heading else ""
    text = f"{kind}:\n" if heading else ""
    for line in lines:
        cells = [cell.ljust(width) for cell, width in zip(line, widths, strict=False)]
        text += (margin + "  ".join([*cells, line[-1]])).rstrip() + "\n"
    return text


COMMAND = Command(
    "list",
    TEXT,
    run,
    (SETTINGS, Option(("--format",), "form", "How the result is shown.", choices=REPORT_FORMS, default="text")),
    ("what", "[WHAT]"),
    most=1,
    operand_choices=KINDS,
)
