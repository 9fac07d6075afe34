from __future__ import annotations

import pytest
from steps import context_of

from larkshead.linting import Finding, apply_allowances
from larkshead.model import Allowance

TEXT = "# Round 1\nR 4 p 4 # A\nC 6\n# Round 2\nR 4 j 4 -> ring A, picot 1\n"


def silenced(where: str, rule: str = "some-rule") -> list[str]:
    """What is left of one finding at each element under an allowance, by element and rule."""
    context = context_of(TEXT)
    context.pattern.allowances.append(Allowance(rule, where, "it is meant"))
    findings = [
        Finding("some-rule", "warning", made.kind + str(made.part), step=made.step) for made in context.elements
    ]
    left = apply_allowances(findings, context.pattern, context.worked)
    return [one.message if one.rule == "some-rule" else one.rule for one in left]


@pytest.mark.parametrize(
    ("where", "left"),
    [
        ("", []),
        ("A", ["chain0", "ring1"]),
        ("ring A", ["chain0", "ring1"]),
        ("chain 1", ["ring0", "ring1"]),
        ("Round 2", ["ring0", "chain0"]),
        ("ring B", ["ring0", "chain0", "ring1", "unused-allowance"]),
    ],
)
def test_where_an_allowance_reaches(where: str, left: list[str]) -> None:
    assert silenced(where) == left


def test_an_allowance_for_another_rule_is_unused() -> None:
    assert silenced("", "another-rule") == ["ring0", "chain0", "ring1", "unused-allowance"]
