"""Linting: rules over the pattern as worked, their findings, and what rule authors need."""

from larkshead.linting.allowances import apply_allowances
from larkshead.linting.context import Context
from larkshead.linting.findings import Finding, Fix
from larkshead.linting.run import run_rules
from larkshead.linting.shapes import Shape, shape_of
from larkshead.linting.written import Gap, Joined, WrittenElement

__all__ = [
    "Context",
    "Finding",
    "Fix",
    "Gap",
    "Joined",
    "Shape",
    "WrittenElement",
    "apply_allowances",
    "run_rules",
    "shape_of",
]
