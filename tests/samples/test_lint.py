"""The sound samples lint clean; the one with slips shows each of them, at its line."""

from __future__ import annotations

import pytest
from samples import FORMS, NAMES, SOUND, bench, read, text
from syrupy.assertion import SnapshotAssertion

from larkshead.app.lint import lint

# The slips of the turnstile: the rule, and a part of the line it stands in (in the native form: of the element's line).
SLIPS = {
    "impossible-join": ("R5", "Ring 5", "ring: 5", "picot 5"),
    "unlike-sisters": ("R3", "Ring 3", "ring: 3"),
    "stated-total-mismatch": ("226",),
    "missing-turn": ("R4", "Ring 4", "C4", "Chain 4", "ring: 4", "chain: 4"),
}


def _findings(name: str, form: str) -> list[str]:
    linted = lint(bench(), read(name, form))
    lines = []
    for finding in linted.findings:
        at = linted.reading.source.position(finding.span.start) if finding.span else None
        where = f"{at.line}:{at.column}" if at else "?"
        lines.append(f"{where} {finding.severity} {finding.rule}: {finding.message}")
    return lines


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("name", SOUND)
def test_a_sound_sample_lints_clean(name: str, form: str) -> None:
    assert _findings(name, form) == []


@pytest.mark.parametrize("form", FORMS)
def test_the_slips_are_found(form: str, snapshot: SnapshotAssertion) -> None:
    assert "\n".join(_findings("turnstile", form)) == snapshot


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("rule", SLIPS)
def test_each_slip_is_found_in_its_place(rule: str, form: str) -> None:
    lines = text("turnstile", form).splitlines()
    at = [int(f.split(":")[0]) for f in _findings("turnstile", form) if f" {rule}: " in f and not f.startswith("?")]
    assert any(word in lines[line - 1] for line in at for word in SLIPS[rule]), at


@pytest.mark.parametrize("form", ["shorthand", "prose", "table"])
def test_the_unexplained_abbreviation_is_found(form: str) -> None:
    assert any("undefined-abbreviation" in f and "LJ" in f for f in _findings("turnstile", form))


def test_the_text_with_slips_does_not_give_them_away() -> None:
    for form in FORMS:
        words = text("turnstile", form).lower()
        assert not any(word in words for word in ("slip", "wrong", "mistake", "fault", "error", "missing", "sic"))


def test_samples_are_named_as_they_are_listed() -> None:
    assert sorted(bench().registry.samples) == sorted(NAMES)
