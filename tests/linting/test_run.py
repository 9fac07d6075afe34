"""Running rules: order, one finding for a place, and a rule that fails."""

from __future__ import annotations

from collections.abc import Iterator

from steps import context_of

from larkshead.host.specs import RuleSpec
from larkshead.linting import Context, Finding, run_rules

TEXT = "R 4 p 4\nREP 5 {\nC 6\nR 4 j 4 -> previous ring, last picot\n}\n"


def every_element(context: Context) -> Iterator[Finding]:
    for made in reversed(context.elements):
        yield context.finding(f"{context.name(made)} is here", made.step)


def fails(context: Context) -> Iterator[Finding]:
    yield context.finding("found before the fault", context.elements[0].step)
    raise KeyError("nothing")


def spec(name: str, severity: str = "warning") -> RuleSpec:
    return RuleSpec(name.replace("_", "-"), severity, "", f"{__name__}:{name}")


def test_a_step_on_many_passes_is_reported_once_and_in_order() -> None:
    findings = run_rules(context_of(TEXT), [spec("every_element", "note")])
    assert [(one.rule, one.severity) for one in findings] == [("every-element", "note")] * 3
    assert [one.span.start for one in findings if one.span] == sorted(one.span.start for one in findings if one.span)
    assert len({one.span for one in findings}) == 3


def test_a_rule_that_fails_is_named_and_stops_no_other() -> None:
    findings = run_rules(context_of(TEXT), [spec("fails"), spec("every_element")])
    broken = [one for one in findings if one.rule == "broken-rule"]
    assert len(broken) == 1 and "fails" in broken[0].message and "KeyError" in broken[0].message
    assert sum(one.rule == "every-element" for one in findings) == 3
    assert sum(one.rule == "fails" for one in findings) == 1
