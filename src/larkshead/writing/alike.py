"""What two ways of writing a pattern have in common: steps in one shape, so that only meaning is left to compare.

Taken as the same, because it is notation and not meaning:

- the words a place, a total or an open repeat was printed in, and blanks, breaks and quotation marks in free text;
- the names of labels, as long as one stands for the other throughout; a number given to what had no label;
- the first ring and ring 1; the picot of a ring and its only picot; an element named by the label ``3`` and the third;
- stitches (or beads) told in two numbers side by side, and in one;
- a lock join as the last thing in a chain, and right after the chain;
- an abbreviation of the pattern's own that no free text of it uses;
- a remark on an element and a note right behind it; notes of a part and notes before its first step;
- a repeat worked once, and its steps;
- a total told of each element as one of the element, the part or the pattern.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import fields, is_dataclass
from typing import Any

from larkshead.model import (
    Beads,
    ByPass,
    Element,
    ElementRef,
    Halves,
    Join,
    Length,
    LockJoin,
    Note,
    Part,
    PartRef,
    Place,
    Repeat,
    SideChange,
    StatedTotal,
    Step,
    Stitches,
    Thread,
    Thrown,
    WorkItem,
)
from larkshead.model.placewords import place_to_words
from larkshead.records import dataclass, field
from larkshead.writing.wording import is_number, one_line

_WORD_FIELDS = frozenset(("words",))
_QUOTES = str.maketrans(dict.fromkeys('\u201c\u201d\u2018\u2019"', "'"))
_NOWHERE = ("place", "")
_LETTERS = {"small": "sp", "long": "lp", "": "p"}


@dataclass(slots=True)
class Shape:
    """A step in comparable form: ``key`` is equal for what means the same, labels left out.

    ``labels`` are those it names, in order; ``step`` is the object of the pattern; ``inner`` the steps of a repeat;
    ``passes`` what is worked on named passes instead.
    """

    key: tuple[Any, ...]
    step: object
    labels: list[str | None] = field(default_factory=list)
    inner: list[Shape] = field(default_factory=list)
    passes: dict[str | int, list[Shape]] = field(default_factory=dict)


def shapes(steps: Iterable[Step]) -> list[Shape]:
    """The comparable forms of steps, in order."""
    return [shape for step in steps for shape in _shapes(step)]


def part_shapes(part: Part) -> list[Shape]:
    """The comparable forms of all that stands in a part."""
    notes = [Shape(("note", text_key(note)), part) for note in part.notes]
    return notes + shapes(part.steps)


def text_key(text: str) -> str:
    """Free text with one blank for blanks, breaks and control characters, and one kind of quotation mark."""
    return one_line(text).translate(_QUOTES)


def key_of(thing: Any, labels: list[str | None]) -> Any:
    """A comparable form of any part of the model, its labels handed over."""
    if isinstance(thing, Place):
        return _place_key(thing, labels)
    if thing is None or isinstance(thing, str):
        return text_key(thing or "")
    if isinstance(thing, list):
        keys = (key_of(item, labels) for item in thing)
        return tuple(key for key in keys if key != _NOWHERE)
    if isinstance(thing, dict):
        return frozenset((key_of(key, labels), key_of(value, labels)) for key, value in thing.items())
    if isinstance(thing, Thread):
        name = text_key(thing.name) or thing.role
        joined = text_key(thing.joined_to or "")
        about = (thing.color, thing.size, thing.length, thing.beads, joined)
        return (thing.role, name, *(key_of(value, labels) for value in about), bool(joined and thing.tied))
    if isinstance(thing, Element):
        return _element_key(thing, _tidy(thing.work), labels)
    if is_dataclass(thing):
        named = ((f.name, getattr(thing, f.name)) for f in fields(thing) if f.name not in _WORD_FIELDS)
        return (type(thing).__name__, *(key_of(value, labels) for _, value in named))
    return thing


def _shapes(step: Step) -> Iterator[Shape]:
    labels: list[str | None] = []
    if isinstance(step, Element):
        work = _tidy(step.work)
        last = work[-1] if work else None
        locked = step.kind == "chain" and isinstance(last, Join) and last.kind == "lock" and not last.beads
        yield Shape(_element_key(step, work[:-1] if locked else work, labels), step, labels)
        if locked and isinstance(last, Join):
            yield from _shapes_of_lock(LockJoin(last.places), step)
        if text_key(step.remark):
            yield Shape(("note", text_key(step.remark)), step)
    elif isinstance(step, Repeat):
        if step.times == 1:
            yield from shapes(step.steps)
        else:
            # How long an open repeat goes on is told in words.
            until = text_key(step.until) if step.times is None else ""
            yield Shape(("repeat", step.times, until), step, inner=shapes(step.steps))
    elif isinstance(step, ByPass):
        passes = {_pass_key(which): shapes(steps) for which, steps in step.passes.items()}
        first, *behind = shapes([step.step]) or [Shape(("nothing",), step)]
        yield Shape(("by pass",), step, inner=[first], passes=passes)
        yield from behind
    elif isinstance(step, Note):
        yield Shape(("note", text_key(step.text)), step)
    elif isinstance(step, StatedTotal):
        scope = "each" if step.each else step.scope
        key = ("total", frozenset(step.counts.items()), scope, text_key(step.of.replace("_", " ")), step.about)
        yield Shape(key, step)
    else:
        yield Shape(key_of(step, labels), step, labels)


def _shapes_of_lock(lock: LockJoin, owner: Element) -> Iterator[Shape]:
    labels: list[str | None] = []
    yield Shape(key_of(lock, labels), owner, labels)


def _pass_key(which: str | int) -> str | int:
    return int(which) if isinstance(which, str) and which.isdigit() else which


def _element_key(element: Element, work: list[WorkItem], labels: list[str | None]) -> tuple[Any, ...]:
    labels.append(element.label)
    return (
        element.kind,
        text_key(element.thread or "").lower(),
        text_key(element.technique),
        element.size,
        element.half_closed,
        tuple(key_of(item, labels) for item in work),
    )


def _tidy(work: list[WorkItem]) -> list[WorkItem]:
    """Counts told side by side made one."""
    out: list[WorkItem] = []
    for item in work:
        before = out[-1] if out else None
        if isinstance(item, Stitches) and isinstance(before, Stitches):
            out[-1] = Stitches(before.count + item.count)
        elif isinstance(item, Beads) and isinstance(before, Beads):
            out[-1] = Beads(before.count + item.count)
        else:
            out.append(item)
    return out


def _place_key(place: Place, labels: list[str | None]) -> tuple[Any, ...]:
    if place.unsaid and not place.size:
        return ("place", text_key(place.words))
    picot = 1 if place.picot == "first" else None if place.picot == "only" else place.picot
    element, part = place.element, place.part
    size = place.size if place.spot == "picot" else ""
    return ("place", place.spot, picot, size, _ref_key(element, labels), _ref_key(part, labels))


def _ref_key(ref: ElementRef | PartRef | None, labels: list[str | None]) -> tuple[Any, ...] | None:
    if ref is None:
        return None
    size = ref.size if isinstance(ref, ElementRef) else ""
    # "The centre" is a part of that kind, whether or not the word is kept as its label too.
    label = None if isinstance(ref, PartRef) and ref.label and ref.label.lower() == ref.kind else ref.label
    label = text_key(label) if label is not None else None
    if label is not None and is_number(label):
        return (ref.kind, int(label), size)
    if label is not None:
        labels.append(label)
        return (ref.kind, "label", size)
    return (ref.kind, 1 if ref.which == "first" else ref.which, size)


# Saying what a step is


def describe(step: Any) -> str:
    """A step in a few plain words, for a message."""
    if isinstance(step, Element):
        name = f"{step.kind} {step.label}" if step.label else step.kind
        return f"{name} ({work_words(step)})"
    if isinstance(step, Repeat):
        return f"a repeat of {len(step.steps)} steps, {'open' if step.times is None else f'{step.times} times'}"
    if isinstance(step, ByPass):
        return f"what changes on {', '.join(str(which) for which in step.passes)} of {describe(step.step)}"
    if isinstance(step, Note):
        return f"the note “{_short(step.text)}”"
    if isinstance(step, LockJoin):
        return f"lock join ({_places(step.places)})"
    name = {
        "BareThread": "bare thread",
        "NoTurn": "do not turn",
        "HideEnds": "hiding ends",
        "MockPicot": "mock picot",
        "StatedTotal": "stated total",
    }.get(type(step).__name__, type(step).__name__.lower())
    said = [
        f"{f.name.replace('_', ' ')} {_value(value)}"
        for f in fields(step)
        if f.name != "words" and (value := getattr(step, f.name)) not in ("", None, [], {}, False)
    ]
    return f"{name} ({', '.join(said)})" if said else name


def work_words(element: Element) -> str:
    """The work of an element on one line, for a message."""
    said = [_item_words(item) for item in element.work]
    extra = [text for text in (element.thread, element.size, element.technique) if text]
    if element.half_closed:
        extra.append("half closed")
    return _short(" ".join([*said, *(f"[{text}]" for text in extra)]))


def _item_words(item: WorkItem) -> str:
    if isinstance(item, Stitches):
        return str(item.count)
    if isinstance(item, Beads):
        return f"b{item.count}"
    if isinstance(item, SideChange):
        return "/"
    if isinstance(item, Join):
        beads = f" with {item.beads} beads" if item.beads else ""
        return f"{item.kind} join{beads} ({_places(item.places)})"
    if isinstance(item, Thrown):
        return f"thrown {describe(item.element)}"
    if isinstance(item, Halves):
        return f"h{item.half}:{item.count}"
    extra = [str(x) for x in (item.length, item.kind, item.beads and f"{item.beads} beads") if x]
    return _LETTERS.get(item.size, "p") + (f" ({', '.join(extra)})" if extra else "")


def _places(places: list[Place]) -> str:
    return " and ".join(place_to_words(place) for place in places) or "?"


def _value(value: Any) -> str:
    if isinstance(value, list) and value and isinstance(value[0], Place):
        return _places(value)
    if isinstance(value, Length):
        return str(value)
    return _short(", ".join(map(str, value)) if isinstance(value, list) else str(value))


def _short(text: str) -> str:
    text = text_key(text)
    return text if len(text) <= 160 else text[:157] + "..."
