"""The free words of a pattern: where an abbreviation of the designer's own may stand."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from larkshead.model import ByPass, Element, HideEnds, Note, Pattern, Repeat, Step


def is_used(form: str, pattern: Pattern) -> bool:
    """Whether a form stands in the free text of a pattern, by itself."""
    alone = re.compile(rf"(?<!\w){re.escape(form.strip())}(?!\w)")
    return bool(form.strip()) and any(alone.search(text) for text in free_text(pattern))


def free_text(pattern: Pattern) -> Iterator[str]:
    """Every piece of free text in a pattern but its title and its own list of abbreviations."""
    yield from pattern.materials
    yield from pattern.notes
    for part in pattern.parts:
        yield from part.notes
        yield from _of_steps(part.steps)


def _of_steps(steps: Iterable[Step]) -> Iterator[str]:
    waiting = list(steps)
    while waiting:
        step = waiting.pop()
        if isinstance(step, Repeat):
            yield step.until
            waiting += step.steps
        elif isinstance(step, ByPass):
            waiting += [step.step, *(one for instead in step.passes.values() for one in instead)]
        elif isinstance(step, Note):
            yield step.text
        elif isinstance(step, Element | HideEnds):
            yield step.remark
