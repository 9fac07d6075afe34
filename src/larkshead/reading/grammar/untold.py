"""Places that the text itself does not offer: elements that are not told, picots that an element does not have."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from larkshead.model import Element, ElementRef, Join, Pattern, Picot, Place
from larkshead.reading.grammar.totals import part_steps, tally

_COUNTED_AS = {"ring": "rings", "chain": "chains", "split ring": "split_rings", "split chain": "split_chains"}


def lacks(there: Element, place: Place) -> str:
    """What an element named as a place does not have; empty where it has it."""
    if place.spot != "picot":
        return ""
    spots = sum(isinstance(item, Picot | Join) for item in there.work)
    name = f"{there.kind} {there.label or ''}".strip()
    if not spots and there.work:
        return f"{name} has no picot to join to"
    if isinstance(place.picot, int) and place.picot > spots:
        return f"{name} has {_picots(spots)}; there is no picot {place.picot}"
    return ""


def untold_places(pattern: Pattern, elements: Iterable[Element]) -> Iterator[tuple[Element, int, str]]:
    """The joins of the elements as written that name an element by a label which is not told, or a picot it does not have,
    each with its place in the work and what is wrong.

    Only names of the text's own are held to it: where elements of a kind are numbered or lettered, others of the kind
    are expected to be.
    """
    told = list(elements)
    named: dict[tuple[str, str], Element] = {(e.kind, e.label): e for e in told if e.label}
    worked: dict[str, int] | None = None
    labels: dict[tuple[str, bool], list[str]] = {}
    for kind, label in named:
        labels.setdefault((kind, label.isdigit()), []).append(label)
    highest = {
        kind: max((int(label) for label in alike if len(label) < 9), default=0)
        for (kind, numbered), alike in labels.items()
        if numbered
    }
    for element in told:
        for at, item in enumerate(element.work):
            for place in item.places if isinstance(item, Join) else ():
                ref = place.element
                if ref is None or place.part is not None or ref.label is None or not ref.kind:
                    continue
                there = named.get((ref.kind, ref.label))
                if there is element:
                    continue
                if there is not None:
                    wrong = lacks(there, place)
                else:
                    worked = tally(part_steps(pattern.parts)) if worked is None else worked
                    alike = labels.get((ref.kind, ref.label.isdigit()), [])
                    wrong = _not_told(ref, highest.get(ref.kind, 0), worked) if len(alike) > 1 else ""
                if wrong:
                    yield element, at, wrong


def _not_told(ref: ElementRef, highest: int, worked: dict[str, int]) -> str:
    label = ref.label or ""
    if label.isdigit():
        there = max(worked.get(_COUNTED_AS.get(ref.kind, ""), 0), highest)
        return f"there is no {ref.kind} {label}" if int(label) > there else ""
    return f"there is no {ref.kind} {label}" if len(label) == 1 else ""


def _picots(count: int) -> str:
    return "1 picot" if count == 1 else f"{count} picots"
