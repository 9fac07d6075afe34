"""Writes native JSON: one step a line, so that two patterns can be compared line by line."""

from __future__ import annotations

import json
from typing import Any

from larkshead.model import Pattern
from larkshead.model.plain import pattern_to_plain
from larkshead.writing.losses import Written

_WIDE = 110


def write(pattern: Pattern, convention: object | None = None) -> Written:
    """The pattern as JSON. Nothing is lost."""
    out: list[str] = []
    _write(pattern_to_plain(pattern), "", out)
    return Written("".join(out) + "\n")


def _write(value: Any, indent: str, out: list[str]) -> None:
    """A value: on one line where it fits, else opened."""
    if not isinstance(value, (dict, list)) or not value:
        out.append(json.dumps(value, ensure_ascii=False))
        return
    if not _holds_steps(value):
        line = json.dumps(value, ensure_ascii=False)
        if len(line) + len(indent) <= _WIDE or isinstance(value, list):
            out.append(line)
            return
    deeper = indent + "  "
    pairs: Any = value.items() if isinstance(value, dict) else ((None, one) for one in value)
    out.append("{" if isinstance(value, dict) else "[")
    mark = "\n"
    for key, one in pairs:
        out.append(f"{mark}{deeper}")
        if key is not None:
            out.append(f"{json.dumps(key, ensure_ascii=False)}: ")
        _write(one, deeper, out)
        mark = ",\n"
    out.append(f"\n{indent}" + ("}" if isinstance(value, dict) else "]"))


def _holds_steps(value: dict[str, Any] | list[Any]) -> bool:
    """Whether it is opened: the pattern, its parts, repeats, and lists of groups."""
    if isinstance(value, dict):
        return "steps" in value or "parts" in value
    return any(isinstance(one, dict) and not _is_item(one) for one in value)


def _is_item(group: dict[str, Any]) -> bool:
    """Whether a group is an item of an element's work, which stays on its line."""
    return next(iter(group), "") in (
        "join", "lock join", "folded join", "picot", "long picot", "small picot", "beads",
        "first halves", "second halves", "thrown",
    )  # fmt: skip
