"""Shared by the checks against published facts: the facts, and reading a text by the one path of the program."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path
from typing import Any

from larkshead.app.workbench import Workbench
from larkshead.model import Beads, ByPass, Element, Halves, Join, Picot, Repeat, SideChange, Step, Stitches, Thrown
from larkshead.reading import Reading, Source

HERE = Path(__file__).parent
_KINDS = {
    "ring": "R",
    "chain": "C",
    "split ring": "SR",
    "split chain": "SC",
    "mock ring": "MR",
    "josephine ring": "JR",
}


@lru_cache(maxsize=1)
def facts() -> dict[str, Any]:
    """The facts, with the source of each checked to be one that is named."""
    from ruamel.yaml import YAML

    loaded: dict[str, Any] = YAML(typ="safe", pure=True).load(HERE / "facts.yaml")
    return loaded


@lru_cache(maxsize=1)
def bench() -> Workbench:
    """One workbench for all checks."""
    return Workbench()


def read(text: str, style: str, convention: str = "en") -> Reading:
    """A text read in a style, in English of today where it has words and nothing else is said."""
    return bench().read(Source(text, "fact"), style, convention)


def elements(steps: list[Step]) -> list[Element]:
    """All elements as written, in order."""
    found: list[Element] = []
    for step in steps:
        if isinstance(step, Element):
            found.append(step)
        elif isinstance(step, Repeat):
            found += elements(step.steps)
        elif isinstance(step, ByPass):
            found += elements([step.step])
    return found


def in_marks(element: Element) -> str:
    """An element in the marks of the facts, worked out here and not by the step list's own writer."""
    marks = [_KINDS[element.kind]]
    for item in element.work:
        if isinstance(item, Stitches):
            marks.append(str(item.count))
        elif isinstance(item, Picot):
            marks.append({"": "p", "small": "sp", "long": "lp"}[item.size])
            marks += ["b"] * item.beads
        elif isinstance(item, Join):
            marks.append("lj" if item.kind == "lock" else "j")
        elif isinstance(item, SideChange):
            marks.append("/")
        elif isinstance(item, Beads):
            marks += ["b"] * item.count
        elif isinstance(item, Halves):
            marks.append(f"h{item.half}:{item.count}")
        elif isinstance(item, Thrown):
            marks.append(f"({in_marks(item.element)})")
    return " ".join(marks)


def by_id(section: str) -> dict[str, Any]:
    """The entries of a section by their names."""
    return {entry["id"]: entry for entry in facts()[section]}
