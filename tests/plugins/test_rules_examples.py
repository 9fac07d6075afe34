"""Every rule is held to its own docstring: silent on its good examples, heard on its bad ones."""

from __future__ import annotations

from functools import lru_cache

import larkshead_rules
import pytest

from larkshead.app.workbench import Workbench
from larkshead.host.specs import RuleSpec
from larkshead.linting.ruletext import rule_text
from larkshead.linting.testing import check_examples
from larkshead.reading import Reading, Source

SPECS = list(larkshead_rules.larkshead_rules())


@lru_cache(maxsize=1)
def bench() -> Workbench:
    return Workbench()


def read(text: str, notation: str) -> Reading:
    return bench().read(Source(text, "example"), notation, "en")


@pytest.mark.parametrize("spec", SPECS, ids=lambda spec: spec.name)
def test_examples(spec: RuleSpec) -> None:
    assert check_examples(spec, read, bench().convention("en")) >= 2


@pytest.mark.parametrize("spec", SPECS, ids=lambda spec: spec.name)
def test_text(spec: RuleSpec) -> None:
    """The text says what is wrong, why it matters, what is exempt and where it comes from."""
    from larkshead.host.specs import load_target

    text = rule_text(load_target(spec.target))
    assert {"Defect", "Why", "Exempt", "Source"} <= set(text.sections)
    assert text.sections["Source"] and len(spec.summary) < 80
