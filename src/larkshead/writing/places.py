"""Places in a convention's words: ``the last picot of the previous ring``, ``2nd p of R A``, ``base of first R``."""

from __future__ import annotations

from larkshead.model import ElementRef, PartRef, Place
from larkshead.reading.written.around import PART_KINDS
from larkshead.writing.wording import Wording, is_number

_PICOT_NOUNS = {"": "picot", "small": "small_picot", "long": "long_picot"}


def place_words(wording: Wording, place: Place) -> str:
    """The words for a place; empty where the text names nothing."""
    if place.unsaid and not place.size:
        return wording.unsaid(place.words)
    element = element_words(wording, place.element) if place.element else ""
    part = part_words(wording, place.part) if place.part else ""
    if place.spot == "picot" and place.picot is None and not place.size:
        return wording.fill("place", spot=element, element="", part=part) if element else part
    key = f"places.{place.spot}"
    spot = _which(wording, place.picot, _spot_noun(wording, place))
    return wording.fill(key if wording.has(key) else "place", spot=spot, element=element, part=part)


def places_words(wording: Wording, places: list[Place]) -> str:
    """Several places taken together in one join; empty where none is said."""
    said = [words for place in places if (words := place_words(wording, place))]
    if len(said) < 2:
        return "".join(said)
    together = said[0]
    for words in said[1:]:
        together = wording.fill("and", first=together, last=words)
    return wording.fill("together", places=together)


def element_words(wording: Wording, ref: ElementRef) -> str:
    """An element as a place names it."""
    noun = wording.noun(ref.kind or "element")
    if ref.size:
        noun = wording.fill("sized", size=wording.noun(ref.size), thing=noun)
    if ref.label is not None:
        key = "numbered" if is_number(ref.label) else "labelled"
        return wording.fill(key, thing=noun, label=wording.label(ref.label))
    return _which(wording, ref.which, noun)


def part_words(wording: Wording, ref: PartRef) -> str:
    """A part as a place names it."""
    noun = wording.word(ref.kind or "part") if (ref.kind or "part") in PART_KINDS else wording.free_word(ref.kind)
    if ref.label is not None:
        if ref.which is None and ref.label.lower() == ref.kind:
            return _which(wording, None, noun)
        return wording.fill("part_labelled", thing=noun, label=wording.label(ref.label))
    if isinstance(ref.which, int):
        return wording.fill("part_numbered", thing=noun, n=ref.which)
    return _which(wording, ref.which, noun)


def _spot_noun(wording: Wording, place: Place) -> str:
    if place.spot == "picot":
        return wording.noun(_PICOT_NOUNS.get(place.size, "picot"))
    noun = wording.noun(f"spot_{place.spot.replace(' ', '_')}")
    return noun if noun != f"spot {place.spot}" else wording.noun(place.spot)


def _which(wording: Wording, which: str | int | None, noun: str) -> str:
    """A noun with what tells it from others of its kind."""
    if isinstance(which, int):
        key = "which_from_end" if which < 0 else "which_number"
        return wording.fill(key, thing=noun, ordinal=wording.ordinal(abs(which)), n=abs(which))
    key = f"which.{which or 'none'}"
    return wording.fill(key if wording.has(key) else "which.none", thing=noun)
