"""What a reader calls an element, a part, a picot: plain technical English."""

from __future__ import annotations

from larkshead.model import Part, Pattern
from larkshead.working.worked import WorkedElement, WorkedJoin

_ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth")


def ordinal(number: int) -> str:
    """``third``, ``12th``; a negative number counts from the end."""
    if number < 0:
        return "last" if number == -1 else f"last but {-number - 1}"
    if 1 <= number <= len(_ORDINALS):
        return _ORDINALS[number - 1]
    tail = "th" if number % 100 in (11, 12, 13) else {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th")
    return f"{number}{tail}"


def counted(number: int, noun: str) -> str:
    """``1 picot``, ``3 picots``, ``no picots``."""
    return f"{number or 'no'} {noun}{'' if number == 1 else 's'}"


def label_key(label: str) -> str:
    """A label as it is looked up."""
    return " ".join(label.split()).casefold()


def name_of_part(part: Part, index: int) -> str:
    """``round 2``, ``centre``, ``part 3``."""
    if part.name and not (part.kind and part.number is not None):
        return part.name
    return f"{part.kind or 'part'} {part.number if part.number is not None else index + 1}"


def name_of(element: WorkedElement) -> str:
    """``ring 2``, ``ring A``, ``R3``."""
    label = (element.step.label or "").strip()
    if label:
        return label if len(label) > 1 and any(mark.isalpha() for mark in label) else f"{element.kind} {label}"
    return f"{element.kind} {element.number}"


def name_in(element: WorkedElement, pattern: Pattern, part: int) -> str:
    """The name of an element, with its part where that is not ``part``."""
    name = name_of(element)
    if element.part == part or len(pattern.parts) < 2:
        return name
    return f"{name} of {name_of_part(pattern.parts[element.part], element.part)}"


def name_of_target(join: WorkedJoin, pattern: Pattern) -> str:
    """What a join was made into: ``ring 2, picot 3``, ``ring 1, base``; empty where it is not resolved."""
    if join.picot is not None:
        where = name_in(join.picot.element, pattern, join.part)
        return f"{where}, mock picot" if join.picot.mock else f"{where}, picot {join.picot.number}"
    if join.element is not None and join.spot:
        return f"{name_in(join.element, pattern, join.part)}, {join.spot}"
    return join.spot
