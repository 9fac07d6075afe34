"""The places a pattern names, as written."""

from __future__ import annotations

from collections.abc import Iterator

from larkshead.linting.repeats import steps_in
from larkshead.model import Attach, Element, Join, LockJoin, Pattern, Place, Step, Thrown


def steps_with_places(pattern: Pattern) -> Iterator[Step]:
    """Every written step that may name a place: elements (thrown ones too), lock joins, threads fastened on."""
    for part in pattern.parts:
        for step in steps_in(part.steps):
            if isinstance(step, (Element, LockJoin, Attach)):
                yield step
                yield from _thrown(step)


def places_in(step: Step) -> Iterator[tuple[int | None, Place]]:
    """The places a step names, each with the index of its item in the work."""
    if isinstance(step, (LockJoin, Attach)):
        for place in step.places:
            yield None, place
    elif isinstance(step, Element):
        for at, item in enumerate(step.work):
            if isinstance(item, Join):
                for place in item.places:
                    yield at, place


def _thrown(step: Step) -> Iterator[Step]:
    if isinstance(step, Element):
        for item in step.work:
            if isinstance(item, Thrown):
                yield item.element
                yield from _thrown(item.element)
