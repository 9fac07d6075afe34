"""Running rules over a pattern."""

from __future__ import annotations

from collections.abc import Iterable

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
    found: dict[object, Finding] = {}
    context.rule = rule
    try:
        for finding in load_target(rule.target)(context):
            finding.rule = finding.rule or rule.name
            found.setdefault(_place(finding), finding)
    except Exception as fault:
        # A stranger's rule may fail in any way; its findings so far stand, and the others still run.
        found[BROKEN_RULE] = Finding(
            BROKEN_RULE,
            "error",
            f"the rule {rule.name} could not be checked; this is a fault of the rule, not of the pattern "
            f"({type(fault).__name__}: {fault})",
        )
    return list(found.values())


def _place(finding: Finding) -> object:
    if finding.step is not None:
        return finding.rule, id(finding.step), finding.item
    return finding.rule, finding.span or finding.message
