"""Reading shorthand in tests: the steps as lines of the step list, and what the reader says of them."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import larkshead_english
import larkshead_shorthand.reader
from larkshead_steplist.writer import write

from larkshead.conventions import Convention, load_convention
from larkshead.model import Attach, ByPass, Element, Join, LockJoin, Pattern, Place, Repeat, Step
from larkshead.model.placewords import place_to_words
from larkshead.reading import Reading, Source


@cache
def english() -> Convention:
    """Modern English."""

    def find(name: str) -> Path:
        raise AssertionError(f"en extends nothing, not {name}")

    return load_convention(Path(larkshead_english.__file__).with_name("en.yaml"), find)


def read(text: str) -> Reading:
    """The reading of a shorthand text."""
    return larkshead_shorthand.reader.read(Source(text), english())


def steps_of(pattern: Pattern) -> list[str]:
    """A pattern's steps as lines of the step list, without places, labels and remarks."""
    lines = [line.split(" # ")[0].split(" -> ")[0].strip() for line in write(pattern, english()).text.splitlines()]
    return [line for line in lines if line and not line.startswith("#")]


def steps(text: str) -> str:
    """The steps of a shorthand text on one line, parted by semicolons."""
    return "; ".join(steps_of(read(text).pattern))


def kinds(text: str, least: str = "warning") -> list[str]:
    """The kinds of notices a text raises, those of at least this severity."""
    order = ("note", "warning", "error")
    return [notice.kind for notice in read(text).notices if order.index(notice.severity) >= order.index(least)]


def places(text: str) -> list[str]:
    """Where the joins of a text go, in the words of the step list, one for each; ``-`` where nothing is said."""
    found: list[str] = []
    for part in read(text).pattern.parts:
        _places(part.steps, found)
    return found


def _places(steps: list[Step], found: list[str]) -> None:
    for step in steps:
        if isinstance(step, Element):
            found += [_words(item.places) for item in step.work if isinstance(item, Join)]
        elif isinstance(step, LockJoin | Attach):
            found.append(_words(step.places))
        elif isinstance(step, Repeat):
            _places(step.steps, found)
        elif isinstance(step, ByPass):
            _places([step.step], found)


def _words(told: list[Place]) -> str:
    bare = [Place(place.spot, place.picot, place.element, place.part, place.size) for place in told]
    return " and ".join(place_to_words(place) for place in bare) or "-"
