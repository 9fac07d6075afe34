"""Reading old books in tests: the steps on one line, and what the reader says of them."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import larkshead_english
import larkshead_prose.reader
from larkshead_steplist.writer import write

from larkshead.conventions import Convention, load_convention
from larkshead.model import Element, Join, LockJoin, Pattern, Place, Repeat, Step
from larkshead.model.placewords import place_to_words
from larkshead.reading import Reading, Source


@cache
def vintage() -> Convention:
    """English of old books."""
    folder = Path(larkshead_english.__file__).parent
    return load_convention(folder / "en-vintage.yaml", lambda name: folder / f"{name}.yaml")


def read(text: str) -> Reading:
    """The reading of a page of an old book."""
    return larkshead_prose.reader.read(Source(text), vintage())


def steps_of(pattern: Pattern) -> list[str]:
    """A pattern's steps as lines of the step list, without places, labels and remarks."""
    lines = [line.split(" # ")[0].split(" -> ")[0].strip() for line in write(pattern, None).text.splitlines()]
    return [line for line in lines if line and not line.startswith("#")]


def steps(text: str) -> str:
    """The steps of a text on one line, parted by semicolons."""
    return "; ".join(steps_of(read(text).pattern))


def kinds(text: str) -> set[str]:
    """The kinds of notices that are more than notes."""
    return {notice.kind for notice in read(text).notices if notice.severity != "note"}


def places(text: str) -> list[str]:
    """Where the joins of a text go, in order."""

    def joined(steps: list[Step]) -> list[Place]:
        found: list[Place] = []
        for step in steps:
            if isinstance(step, Repeat):
                found += joined(step.steps)
            elif isinstance(step, LockJoin):
                found += step.places
            elif isinstance(step, Element):
                found += [place for item in step.work if isinstance(item, Join) for place in item.places]
        return found

    return [place_to_words(place) for part in read(text).pattern.parts for place in joined(part.steps)]
