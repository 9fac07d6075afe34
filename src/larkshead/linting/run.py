"""Running rules over a pattern."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from larkshead.host.specs import RuleSpec, load_target
from larkshead.linting.context import Context
from larkshead.linting.findings import Finding

BROKEN_RULE = "broken-rule"


def run_rules(context: Context, rules: Iterable[RuleSpec]) -> list[Finding]:
    """The findings of all rules, sorted by place in the text.

    A step worked on many passes is reported once for each rule and item. A rule that raises does not stop the others:
    it is reported as an error of ours that names the rule.
    """
    findings: list[Finding] = []
    for rule in rules:
        findings.extend(run_rule(context, rule))
    findings.sort(key=lambda finding: (finding.span is None, finding.span or (0, 0), finding.rule))
    return findings


def run_rule(context: Context, rule: RuleSpec) -> list[Finding]:
    """The findings of one rule, each written place once, in the order found."""
    found: list[Finding] = []
    try:
        found.extend(found_by(context, rule, load_target(rule.target)))
    except Exception as fault:
        # A stranger's rule may fail in any way; its findings so far stand, and the others still run.
        words = f"the rule {rule.name} could not be checked; this is a fault of the rule, not of the pattern"
        found.append(Finding(BROKEN_RULE, "error", f"{words} ({type(fault).__name__}: {fault})"))
    return found


def found_by(context: Context, rule: RuleSpec, check: Callable[[Context], Iterable[Finding]]) -> Iterator[Finding]:
    """What a check finds, each written place once; whatever it raises is raised."""
    context.rule = rule
    seen: set[object] = set()
    for finding in check(context):
        finding.rule = finding.rule or rule.name
        place = _place(finding)
        if place not in seen:
            seen.add(place)
            yield finding


def _place(finding: Finding) -> object:
    if finding.step is not None:
        return finding.rule, id(finding.step), finding.item
    return finding.rule, finding.span or finding.message
