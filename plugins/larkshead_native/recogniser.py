"""How sure it is that a text is native YAML or JSON."""

from __future__ import annotations

import re

from larkshead.reading.source import Source

_TOP = re.compile(
    r"(?:title|materials|threads|abbreviations|picot length|sizes|finished size|habits|notes|allowances):(?: \S.*)?"
)
_STEPS = re.compile(r"(?:steps|parts):(?:\s*#.*|\s*\[.*)?")
_STEP = re.compile(r"\s*-? ?(?:(?:ring|chain|split ring|split chain|mock ring|josephine ring|repeat|work): |turn\s*$)")
_JSON = re.compile(r'\s*\{\s*"(?:title|materials|threads|abbreviations|picot length|sizes|finished size|habits|notes'
                   r'|allowances|parts|steps)"\s*:')  # fmt: skip


def recognise_yaml(source: Source) -> float:
    """0 for no, 1 for certainly: the keys of a pattern at the margin, and steps below them."""
    lines = [line.rstrip() for line in source.text[:20_000].split("\n")]
    lines = [line for line in lines if line and not line.startswith(("#", "---"))]
    steps = any(_STEPS.fullmatch(line) for line in lines)
    if not steps:
        return 0.0
    margin = [line for line in lines if not line.startswith((" ", "-"))]
    known = sum(1 for line in margin if _TOP.fullmatch(line) or _STEPS.fullmatch(line))
    made = any(_STEP.match(line) for line in lines)
    return known / len(margin) * (0.98 if made else 0.6)


def recognise_json(source: Source) -> float:
    """0 for no, 1 for certainly: a brace and a key of a pattern."""
    if not source.text[:1000].lstrip("\ufeff \t\r\n").startswith("{"):
        return 0.0
    return 0.98 if _JSON.match(source.text.lstrip("\ufeff")) else 0.5
