"""An outline of a pattern, one line an element, and a rule that finds rings too small to close well."""

from __future__ import annotations

from larkshead.host import NotationSpec, RuleSpec, hookimpl

LARKSHEAD_API = 1


@hookimpl
def larkshead_notations() -> list[NotationSpec]:
    """The outline can only be written."""
    return [NotationSpec("outline", "one line an element", (".outline",), writer="larkshead_outline.outline:write")]


@hookimpl
def larkshead_rules() -> list[RuleSpec]:
    """One rule that works, and one that does not."""
    return [
        RuleSpec("tiny-ring", "warning", "a ring of very few stitches", "larkshead_outline.tiny_ring:check"),
        RuleSpec("stumbles", "note", "a rule that fails on every pattern", "larkshead_outline.stumbles:check"),
    ]
