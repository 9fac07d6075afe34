"""Proofing: the rules over a pattern as worked, and the allowances that silence some of them."""

from __future__ import annotations

from bisect import bisect_left
from itertools import accumulate
from typing import TYPE_CHECKING

from larkshead.garbage import NoCollecting
from larkshead.linting.findings import Finding
from larkshead.reading import Notice, Reading
from larkshead.reading.source import Span
from larkshead.records import dataclass, field

if TYPE_CHECKING:
    from larkshead.app.workbench import Workbench
    from larkshead.working import Worked


@dataclass(slots=True)
class Linted:
    """A proofed pattern and the findings that stand, in the order of their places."""

    reading: Reading
    worked: Worked
    findings: list[Finding] = field(default_factory=list)

    @property
    def notices(self) -> list[Notice]:
        """What the reader remarked, without what is found there too: disagreements, repeats left open."""
        found = {f.span for f in self.findings}
        errors = sorted(f.span for f in self.findings if f.severity == "error" and f.span is not None)
        starts = [span.start for span in errors]
        reaches = list(accumulate((span.end for span in errors), max))

        def is_told(span: Span) -> bool:
            before = bisect_left(starts, span.end)
            return before > 0 and reaches[before - 1] > span.start

        return [
            notice
            for notice in self.reading.notices
            if notice.span is None
            or not (
                (notice.kind == "contradiction" and is_told(notice.span))
                or (notice.kind == "open-repeat" and notice.span in found)
            )
        ]


def lint(bench: Workbench, reading: Reading, only: list[str] | None = None) -> Linted:
    """Proof a pattern with every rule that the settings leave on (or with those named in ``only``).

    What could not be worked is a finding too, named for the kind of problem.
    """
    with NoCollecting():
        return _lint(bench, reading, only)


def _lint(bench: Workbench, reading: Reading, only: list[str] | None) -> Linted:
    from larkshead.linting import Context, apply_allowances
    from larkshead.linting.run import BROKEN_RULE, run_rule

    pattern, worked = reading.pattern, bench.work(reading.pattern)
    context = Context(worked, reading, bench.loaded_convention(reading.convention))
    levels = bench.settings.rules
    findings: list[Finding] = []
    for name, provided in bench.registry.rules.items():
        if (only and name not in only) or (not only and levels.get(name) == "off"):
            continue
        for finding in run_rule(context, provided.spec):
            if finding.rule == BROKEN_RULE:
                finding.message = f"{provided.plugin}: {finding.message}"
            elif levels.get(name, "off") != "off":
                finding.severity = levels[name]  # type: ignore[assignment]
            findings.append(finding)
    for problem in worked.problems:
        if not problem.kind.startswith("too-many"):
            # What cannot be worked for want of a thread is told by the rules, in its place.
            continue
        span = reading.origins.of(problem.step) if problem.step is not None else None
        findings.append(Finding(problem.kind, "error", problem.message, span, step=problem.step))
    if not only:
        findings = apply_allowances(findings, pattern, worked, reading.origins.of)
    findings.sort(key=lambda f: (f.span is None, f.span or (0, 0), f.rule))
    return Linted(reading, worked, findings)
