"""Writing an outline."""

from __future__ import annotations

from larkshead.conventions import Convention
from larkshead.model import Element, Pattern, Stitches
from larkshead.writing import Loss, Written


def write(pattern: Pattern, convention: Convention) -> Written:
    """Each element with its stitches; everything else is lost and said to be."""
    lines: list[str] = []
    losses: list[Loss] = []
    for part in pattern.parts:
        for step in part.steps:
            if isinstance(step, Element):
                count = sum(item.count for item in step.work if isinstance(item, Stitches))
                lines.append(f"{step.kind} of {count}")
            else:
                losses.append(Loss("dropped", "an outline has elements only", step))
    return Written("".join(line + "\n" for line in lines), losses)
