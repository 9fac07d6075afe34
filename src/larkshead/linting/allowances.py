"""Allowances: what the designer has said is meant."""

from __future__ import annotations

from collections.abc import Callable

from larkshead.linting.findings import Finding
from larkshead.model import Allowance, Element, Part, Pattern
from larkshead.reading import Span
from larkshead.working.worked import Worked

UNUSED = "unused-allowance"


def apply_allowances(
    findings: list[Finding],
    pattern: Pattern,
    worked: Worked,
    span: Callable[[object], Span | None] | None = None,
) -> list[Finding]:
    """The findings that no allowance of the pattern silences, and a warning for each allowance that silences nothing.

    An allowance names a rule and, in ``where``, an element (its label, or its kind and number in its part: ``ring 3``)
    or a part (its name, or its kind and number: ``round 2``); empty for the whole pattern. ``span`` gives the place of
    an allowance in the text, where known.
    """
    if not pattern.allowances:
        return findings
    names = _names_of_steps(worked)
    used = [False] * len(pattern.allowances)
    kept: list[Finding] = []
    for finding in findings:
        silenced = False
        for at, allowance in enumerate(pattern.allowances):
            if allowance.rule == finding.rule and _covers(allowance, finding, names):
                used[at] = silenced = True
        if not silenced:
            kept.append(finding)
    for allowance, was_used in zip(pattern.allowances, used, strict=True):
        if not was_used:
            kept.append(_unused(allowance, span(allowance) if span is not None else None))
    return kept


def _covers(allowance: Allowance, finding: Finding, names: dict[int, set[str]]) -> bool:
    where = " ".join(allowance.where.casefold().split())
    return not where or where in names.get(id(finding.step), ())


def _names_of_steps(worked: Worked) -> dict[int, set[str]]:
    """Everything an allowance may call each step by: its own names and those of the part it stands in."""
    names: dict[int, set[str]] = {}
    parts = [_names_of_part(part) for part in worked.pattern.parts]
    for made in worked.sequence:
        step = made.step
        known = names.setdefault(id(step), set())
        if 0 <= made.part < len(parts):
            known |= parts[made.part]
        if isinstance(step, Element):
            number = getattr(made, "number", 0)
            known.add(f"{step.kind} {number}")
            if step.label:
                known |= {step.label.casefold(), f"{step.kind} {step.label}".casefold()}
    for part, known in zip(worked.pattern.parts, parts, strict=True):
        names.setdefault(id(part), set()).update(known)
    return names


def _names_of_part(part: Part) -> set[str]:
    names = {" ".join(part.name.casefold().split())} if part.name else set()
    if part.number is not None:
        names.add(f"{part.kind or 'part'} {part.number}".casefold())
    return names


def _unused(allowance: Allowance, span: Span | None) -> Finding:
    where = f" at {allowance.where}" if allowance.where else ""
    return Finding(
        UNUSED,
        "warning",
        f"the allowance for {allowance.rule}{where} silences nothing any more; it can be taken out",
        span,
    )
