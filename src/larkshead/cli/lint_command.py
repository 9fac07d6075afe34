"""``larkshead lint``."""

from __future__ import annotations

import sys

from larkshead.app.errors import CannotRun, choice
from larkshead.app.lint import lint
from larkshead.app.remarks import of_finding
from larkshead.cli.options import FILES, INPUTS, LEVELS, SHOW_READING, Command, Option
from larkshead.cli.session import Session, shows_color
from larkshead.reports import FileReport, Report

TEXT = """Proof patterns by working them.

Every pattern is worked stitch by stitch, and what cannot be worked, or is probably a mistake, is shown with your
own line and the place in it. `larkshead explain RULE` tells what a rule looks for and what it lets pass.

\b
Examples:
  larkshead lint collar.txt
  larkshead lint patterns/ --fail-on error
  larkshead lint collar.txt --format json

Ends with 0 when nothing was found, 1 when something was that is at least as severe as --fail-on says, and 2 when a
file could not be read.
"""


def run(
    files: tuple[str, ...],
    style: str | None,
    read_as: str | None,
    notices_format: str,
    settings_path: str | None,
    report: str,
    rules: tuple[str, ...],
    fail_on: str | None,
    show: bool,
) -> None:
    """Proof patterns by working them."""
    session = Session(settings_path, notices_format)
    bench = session.bench
    try:
        unknown = next((rule for rule in rules if rule not in bench.registry.rules), None)
        if unknown is not None:
            raise CannotRun(choice("rule", unknown, sorted(bench.registry.rules)), kind="unknown-rule")
        if report not in bench.registry.reports:
            raise CannotRun(choice("report", report, sorted(bench.registry.reports)), kind="unknown-report")
        provided = bench.registry.reports[report]
        render = bench.body(provided, provided.spec.target)
        level = fail_on or bench.settings.fail_on
        reports: list[FileReport] = []
        doubts = 0
        for reading in session.readings(files, style, read_as):
            if show:
                session.show_reading(reading)
            linted = lint(bench, reading, list(rules))
            told = session.say_notices(reading, linted.notices)
            session.count(told, level)
            doubts += sum(remark.at_least("warning") for remark in told)
            remarks = [of_finding(finding, reading.source) for finding in linted.findings]
            session.count(remarks, level)
            reports.append(FileReport(reading.source.name, remarks, session.coverage(reading)))
        sys.stdout.write(render(Report(reports, shows_color(sys.stdout), summary=True, doubts=doubts)))
    except CannotRun as failure:
        session.fail(failure)
    session.end()


COMMAND = Command(
    "lint",
    TEXT,
    run,
    (
        *INPUTS,
        Option(("--format",), "report", "text, json, or a plugin's.", "REPORT", default="text"),
        Option(("--rule",), "rules", "Check this rule only (may be given several times).", "RULE", many=True),
        Option(("--fail-on",), "fail_on", "End with 1 from this severity on; else warning.", choices=LEVELS),
        SHOW_READING,
    ),
    FILES,
)
