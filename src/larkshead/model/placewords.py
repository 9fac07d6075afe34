"""Places in plain technical words, and back: ``previous ring, last picot``, ``round 1 ring 3, middle picot``.

The words of the step list and of the native notation. In full::

    place    = "?" | [part] [element] ["," spot] [said] | spot ["of" (part | part element | element)] [said]
    part     = [relative] kind [number] [label]                  round 1, previous round, motif B, round
    element  = [relative] [size] kind [number] [label]           previous ring, ring A, large ring 3, element A
    spot     = [relative] [size] name [number]                   last picot, picot 2, picot -1, base, bare thread
    said     = "(said: " words ")"                               the words of the text, where they were kept

A label that could be taken for something else, and any text with a mark of the notations in it, stands in double quotes
(JSON strings). A place that fits no words (none that a designer would say) ends in ``[{...}]``, its fields as JSON.
"""

from __future__ import annotations

import re
from copy import copy
from functools import lru_cache
from typing import Any

from larkshead.model.places import PICOTS, RELATIVE, SPOTS, ElementRef, PartRef, Place
from larkshead.model.steps import ELEMENT_KINDS

_ELEMENT_NOUNS = {kind: kind for kind in ELEMENT_KINDS} | {"element": ""}
_PART_NOUNS = {
    kind: kind
    for kind in (
        "round", "row", "motif", "edging", "border", "centre", "center", "corner", "side", "section", "strip", "half",
        "medallion", "block", "piece", "layer", "flower", "leaf", "stem", "insertion", "snowflake", "square", "petal",
    )
} | {"part": ""}  # fmt: skip
_SIZES = frozenset(("large", "small", "long", "medium"))
_ELEMENT_WHICH = frozenset(RELATIVE)
_PICOT_WHICH = frozenset(PICOTS)
_LABEL = re.compile(r"[A-Za-z][\w'.]{0,15}")
_TOKEN = re.compile(r'\s*("(?:[^"\\]|\\.)*"|,|\(said: |[^\s,()"]+)')
_RESERVED = (
    frozenset(word for noun in (*_ELEMENT_NOUNS, *_PART_NOUNS, *SPOTS) for word in noun.split())
    | _SIZES
    | frozenset(word for which in (*RELATIVE, *PICOTS) for word in which.split())
    | frozenset(("said",))
)
_SMALL_WORDS = frozenset(("of", "a", "an", "the", "in", "on", "to"))


def place_to_words(place: Place) -> str:
    """The words for a place; ``?`` where nothing is said. ``words_to_place`` gives the same place back."""
    words = _say(place)
    try:
        if _read(words) == place:
            return words
    except ValueError:
        pass
    plain = Place(place.spot, place.picot, place.element, place.part, place.size)
    shown = " ".join(re.sub(r"[^\w ,.'-]", " ", _say(plain)).split())
    return f"{shown} [{quoted_json(_fields(place))}]".lstrip()


def words_to_place(text: str) -> Place:
    """The place that words name; ValueError, in the trade's words, for what is no place."""
    place = _cached(text.strip())
    return Place(place.spot, place.picot, copy(place.element), copy(place.part), place.size, place.words)


def quoted_json(value: Any) -> str:
    """JSON on one line without the marks (``;``, ``#``, ``&``, ``|``) that part things in a notation."""
    import json

    text = json.dumps(value, ensure_ascii=False)
    return re.sub(r"[;#&|\x7f-\x9f\u2028\u2029]", lambda found: f"\\u{ord(found.group()):04x}", text)


@lru_cache(maxsize=2048)
def _cached(text: str) -> Place:
    return _read(text)


# Writing


def _say(place: Place) -> str:
    where = " ".join(filter(None, (_say_part(place.part), _say_element(place.element))))
    spot = _say_spot(place)
    if not where:
        said = spot
    elif not spot:
        said = where
    elif place.element is None:
        said = f"{'next ' if spot.startswith('free ') else ''}{spot} of {where}"
    else:
        said = f"{where}, {spot}"
    if place.words:
        words = place.words
        if not re.fullmatch(r"[^\s\"();#&|\\][^()\";#&|\\\n\r\t\[\]]*", words) or words != words.strip():
            words = quoted_json(words)
        said = f"{said or '?'} (said: {words})"
    return said or "?"


def _say_spot(place: Place) -> str:
    if place.spot == "picot" and place.picot is None and not place.size:
        return ""
    return _phrase(place.picot, place.size, place.spot, None)


def _say_element(element: ElementRef | None) -> str:
    return "" if element is None else _phrase(element.which, element.size, element.kind or "element", element.label)


def _say_part(part: PartRef | None) -> str:
    return "" if part is None else _phrase(part.which, "", part.kind or "part", part.label)


def _phrase(which: str | int | None, size: str, noun: str, label: str | None) -> str:
    words = [size, noun] if size else [noun]
    if isinstance(which, int):
        words.append(str(which))
    elif which:
        words.insert(0, which)
    if label is not None:
        words.append(label if _is_label(label) else quoted_json(label))
    return " ".join(words)


def _is_label(word: str) -> bool:
    return bool(_LABEL.fullmatch(word)) and word.lower() not in _RESERVED and word not in _SMALL_WORDS


def _fields(place: Place) -> dict[str, Any]:
    fields: dict[str, Any] = {"spot": place.spot, "picot": place.picot, "size": place.size, "words": place.words}
    if place.element:
        element = place.element
        fields["element"] = [element.kind, element.which, element.label, element.size]
    if place.part:
        fields["part"] = [place.part.kind, place.part.which, place.part.label]
    return fields


# Reading


def _read(text: str) -> Place:
    if text == "?":
        return Place()
    if text.endswith("}]"):
        return _read_exact(text)
    words, said = _tokens(text)
    if not words:
        raise ValueError("no place is named")
    if words == ["?"]:
        return Place(words=said)
    return _Words(words, said).place()


def _read_exact(text: str) -> Place:
    import json

    try:
        fields = json.loads(text[text.index("[{") + 1 : -1])
        element, part = fields.pop("element", None), fields.pop("part", None)
        return Place(**fields, element=element and ElementRef(*element), part=part and PartRef(*part))
    except (ValueError, TypeError, RecursionError):
        raise ValueError(f"not a place: {text!r}") from None


def _tokens(text: str) -> tuple[list[str], str]:
    words: list[str] = []
    at = 0
    while at < len(text):
        found = _TOKEN.match(text, at)
        if not found:
            if not text[at:].strip():
                break
            raise ValueError(f"not part of a place: {text[at:].strip()!r}")
        word = found.group(1)
        if word == "(said: ":
            if not text.endswith(")"):
                raise ValueError("a bracket is left open after 'said:'")
            said = text[found.end() : -1]
            return words, _unquote(said) if said.startswith('"') else said
        words.append(word)
        at = found.end()
    return words, ""


def _unquote(text: str) -> str:
    import json

    try:
        value = json.loads(text)
    except ValueError:
        raise ValueError(f"not rightly quoted: {text}") from None
    return str(value)


class _Words:
    """The words of one place, taken from the left."""

    def __init__(self, words: list[str], said: str) -> None:
        self.words = words
        self.at = 0
        self.made = Place(words=said)
        self.has_spot = False

    def place(self) -> Place:
        while self.at < len(self.words):
            word = self.words[self.at]
            if (word == "," or word in _SMALL_WORDS) and self.at + 1 < len(self.words):
                self.at += 1
                continue
            self.phrase()
        return self.made

    def take(self, names: frozenset[str] | dict[str, str] | tuple[str, ...]) -> str | None:
        """The longest of the names (two words before one) that stands here."""
        for length in (2, 1):
            words = self.words[self.at : self.at + length]
            name = " ".join(words).lower()
            if len(words) == length and name in names:
                self.at += length
                return name
        return None

    def phrase(self) -> None:
        start = self.at
        which: str | int | None = self.take(_ELEMENT_WHICH | _PICOT_WHICH)
        if which == "next" and self.take(frozenset(("free",))):
            which = "free"
        size = self.take(_SIZES) or ""
        made = self.made
        # "bare thread", "mock picot" and "mock ring" begin alike: the longest name wins.
        if (noun := self.take(_ELEMENT_NOUNS)) is not None:
            if made.element is not None:
                raise ValueError("two elements are named")
            number = self.number(which)
            made.element = ElementRef(_ELEMENT_NOUNS[noun], number, self.label(), size)
        elif (noun := self.take(SPOTS)) is not None:
            if self.has_spot:
                raise ValueError("two picots or spots are named")
            self.has_spot = True
            made.spot, made.size, made.picot = noun, size, self.number(which)
        elif (noun := self.take(_PART_NOUNS)) is not None and not size:
            if made.part is not None:
                raise ValueError("two parts are named")
            number = self.number(which)
            made.part = PartRef(_PART_NOUNS[noun], number, self.label())
        else:
            found = " ".join(self.words[start : self.at + 1])
            raise ValueError(
                f"found {found!r} where a part (round 1), an element (previous ring, ring A) or a spot "
                "(last picot, picot 2, base, bare thread, fabric) is expected"
            )

    def number(self, which: str | int | None) -> str | int | None:
        if self.at < len(self.words) and re.fullmatch(r"-?\d{1,9}", self.words[self.at]):
            if which is not None:
                raise ValueError(f"named twice: {which!r} and {self.words[self.at]!r}")
            which = int(self.words[self.at])
            self.at += 1
        return which

    def label(self) -> str | None:
        if self.at >= len(self.words):
            return None
        word = self.words[self.at]
        if word.startswith('"'):
            self.at += 1
            return _unquote(word)
        if not _is_label(word):
            return None
        self.at += 1
        return word
