"""Places, known again by the phrases they were written with."""

from __future__ import annotations

import re
from copy import copy
from dataclasses import replace
from functools import cached_property

from larkshead.conventions.phrasebook import either
from larkshead.model import ELEMENT_KINDS, ElementRef, PartRef, Place
from larkshead.model.places import SPOTS
from larkshead.reading.written.book import WrittenBook

_PICOTS = {"picot": "", "small_picot": "small", "long_picot": "long"}
_SIZES = ("large", "small")
_PARTS = ("round", "row", "motif", "step", "part")


class PlaceReader:
    """Reads places written in the words of one convention and style."""

    def __init__(self, book: WrittenBook) -> None:
        self.book = book
        self.cache: dict[str, Place] = {}
        # How many places were none of the convention's words: a text of another style may be full of them.
        self.strange = 0

    @classmethod
    def of(cls, book: WrittenBook) -> PlaceReader:
        """The reader of a book's places, made once."""
        found = book.kept.get("places")
        if not isinstance(found, cls):
            found = book.kept["places"] = cls(book)
        return found

    def places(self, text: str | None) -> list[Place]:
        """The places of one join; none for no text."""
        if not text:
            return []
        together = self._together.fullmatch(text)
        if together:
            return [self.place(one) for one in self.book.split(together["places"], self._and)]
        return [self.place(text)]

    def place(self, text: str) -> Place:
        """One place. Words that are none of the convention's stay as they are."""
        found = self.cache.get(text)
        if found is None:
            found = self.cache[text] = self._read(text)
        part = found.part.kind if found.part else ""
        if found.words == text:
            self.strange += 2
        elif part and part not in _PARTS:
            self.strange += 1
        return replace(found, element=copy(found.element), part=copy(found.part))

    def _read(self, text: str) -> Place:
        if self._only_words.fullmatch(text):
            return Place(words=self.book.unquote(text))
        for whole in (self._spot_place, self._element_place):
            found = whole.fullmatch(text)
            if not found:
                continue
            groups = found.groupdict()
            element = self._element(groups.get("element"))
            part = self._part(groups.get("part"))
            if whole is self._element_place:
                element = self._element(groups["spot"])
                return Place(element=element, part=part)
            noun, which = self._which(groups["spot"], self._spots)
            spot, size = self._spots[noun]
            return Place(spot, "only" if which is None and spot == "picot" else which, element, part, size)
        if self._only_part.fullmatch(text):
            return Place(part=self._part(text))
        return Place(words=self.book.unquote(text))

    # What places are made of

    @cached_property
    def _and(self) -> str:
        before, _, after = self.book.fill("and", first="\0", last="\0").strip("\0").partition("\0")
        return before or after

    @cached_property
    def _only_words(self) -> re.Pattern[str]:
        return re.compile(self.book.quoted)

    @cached_property
    def _together(self) -> re.Pattern[str]:
        return self.book.compiled("together", {"places": ".+"})

    @cached_property
    def _spots(self) -> dict[str, tuple[str, str]]:
        """Words for spots, with the spot and the size of picot."""
        book = self.book
        words: dict[str, tuple[str, str]] = {}
        for spot in SPOTS:
            concept = f"spot_{spot.replace(' ', '_')}"
            word = book.word(concept) or book.word(spot.replace(" ", "_")) or spot
            words.setdefault(word, (spot, ""))
        for concept, size in _PICOTS.items():
            words[book.word(concept)] = ("picot", size)
        return words

    @cached_property
    def _kinds(self) -> dict[str, str]:
        kinds = {kind.replace(" ", "_"): kind for kind in ELEMENT_KINDS}
        return self.book.words_for(kinds) | {self.book.word("element") or "element": ""}

    @cached_property
    def _sizes(self) -> dict[str, str]:
        return {self.book.word(size) or size: size for size in _SIZES}

    @cached_property
    def _sized(self) -> re.Pattern[str]:
        return self.book.compiled("sized", {"size": either([*self._sizes]), "thing": either([*self._kinds])})

    @cached_property
    def _part_kinds(self) -> dict[str, str]:
        return {self.book.word(kind): kind for kind in _PARTS if self.book.word(kind)}

    @cached_property
    def _thing(self) -> str:
        sized = self.book.unnamed("sized", {"size": either([*self._sizes]), "thing": either([*self._kinds])})
        return f"(?:{sized}|{either([*self._kinds])})"

    @cached_property
    def _part_thing(self) -> str:
        free = rf"(?!(?:{either(sorted(self._leading))})(?!\w))[^\W\d_]+"
        return rf"(?:{either([*self._part_kinds])}|{free}|{self.book.quoted})"

    @cached_property
    def _leading(self) -> set[str]:
        """Words that tell things of a kind apart, in any style: no kind of part is called so."""
        said = [text for texts in self.book.convention.phrases.values() for text in texts.get("which", {}).values()]
        words = set(re.findall(r"[^\W\d_]+", re.sub(r"\{\w+\}", " ", " ".join(said))))
        return words | set(self._ordinals)

    @cached_property
    def _ordinals(self) -> dict[str, int]:
        return {str(word): n for n, word in enumerate(self.book.phrase("ordinals") or [], 1)}

    @cached_property
    def _ordinal(self) -> re.Pattern[str]:
        endings = either([str(e) for e in (self.book.phrase("ordinal_endings") or {}).values()])
        figures = self.book.expression("ordinal", {"n": r"\d+", "ending": endings})
        return re.compile(f"(?:{either([*self._ordinals])}|{figures})")

    def ordinal(self) -> str:
        """An ordinal, without groups."""
        return re.sub(r"\(\?P<\w+>", "(?:", self._ordinal.pattern)

    def read_ordinal(self, text: str) -> int:
        """The number an ordinal gives."""
        if text in self._ordinals:
            return self._ordinals[text]
        found = self._ordinal.fullmatch(text)
        return int(found["n"]) if found else 0

    def _choices(self, thing: str) -> list[tuple[str, re.Pattern[str]]]:
        """What tells a thing from others of its kind: the key of each phrase and its expression."""
        book = self.book
        # The picot of a ring is its only picot: both are said alike.
        names = [which for which in book.entries("which") if which not in ("none", "only")]
        choices = [(which, book.compiled(f"which.{which}", {"thing": thing})) for which in names]
        slots = {"thing": thing, "ordinal": self.ordinal(), "n": r"\d+"}
        choices.append(("from end", book.compiled("which_from_end", slots)))
        choices.append(("number", book.compiled("which_number", slots)))
        choices.append(("none", book.compiled("which.none", {"thing": thing})))
        return choices

    @cached_property
    def _spot_choices(self) -> list[tuple[str, re.Pattern[str]]]:
        return self._choices(either([*self._spots]))

    @cached_property
    def _element_choices(self) -> list[tuple[str, re.Pattern[str]]]:
        return self._choices(self._thing)

    @cached_property
    def _part_choices(self) -> list[tuple[str, re.Pattern[str]]]:
        return self._choices(self._part_thing)

    def _expression(self, choices: list[tuple[str, re.Pattern[str]]], *more: str) -> str:
        found = [re.sub(r"\(\?P<\w+>", "(?:", choice.pattern) for _, choice in choices]
        return f"(?:{'|'.join([*more, *found])})"

    @cached_property
    def _element_expression(self) -> str:
        book = self.book
        slots = {"thing": self._thing, "label": book.name}
        numbered = book.unnamed("numbered", slots | {"label": "[0-9]+"})
        return self._expression(self._element_choices, book.unnamed("labelled", slots), numbered)

    @cached_property
    def _part_expression(self) -> str:
        book = self.book
        slots = {"thing": self._part_thing, "label": book.name, "n": r"\d+"}
        named = (book.unnamed("part_labelled", slots), book.unnamed("part_numbered", slots))
        return self._expression(self._part_choices, *named)

    @cached_property
    def _spot_place(self) -> re.Pattern[str]:
        spot = self._expression(self._spot_choices)
        slots = {"spot": spot, "element": self._element_expression, "part": self._part_expression}
        return re.compile(self.book.expression("place", slots))

    @cached_property
    def _element_place(self) -> re.Pattern[str]:
        slots = {"spot": self._element_expression, "element": "(?!)", "part": self._part_expression}
        return re.compile(self.book.expression("place", slots))

    @cached_property
    def _only_part(self) -> re.Pattern[str]:
        return re.compile(self._part_expression)

    def _which(self, text: str, nouns: object) -> tuple[str, str | int | None]:
        """The noun of a phrase and what tells it from others."""
        choices = self._spot_choices if nouns is self._spots else self._element_choices
        return self._chosen(text, choices)

    def _chosen(self, text: str, choices: list[tuple[str, re.Pattern[str]]]) -> tuple[str, str | int | None]:
        for which, choice in choices:
            found = choice.fullmatch(text)
            if not found:
                continue
            if which in ("number", "from end"):
                number = self.read_ordinal(found["ordinal"]) if "ordinal" in choice.groupindex else int(found["n"])
                return found["thing"], -number if which == "from end" else number
            return found["thing"], None if which == "none" else which
        return text, None

    def _element(self, text: str | None) -> ElementRef | None:
        if not text:
            return None
        book = self.book
        which: str | int | None = None
        label = None
        slots = {"thing": self._thing, "label": book.name}
        numbered = book.compiled("numbered", slots | {"label": "[0-9]+"})
        named = book.compiled("labelled", slots).fullmatch(text) or numbered.fullmatch(text)
        if named:
            noun, label = named["thing"], book.unquote(named["label"])
        else:
            noun, which = self._which(text, self._kinds)
        sized = self._sized.fullmatch(noun)
        size = self._sizes[sized["size"]] if sized else ""
        return ElementRef(self._kinds.get(sized["thing"] if sized else noun, ""), which, label, size)

    def _part(self, text: str | None) -> PartRef | None:
        if not text:
            return None
        book = self.book
        slots = {"thing": self._part_thing, "label": book.name, "n": r"\d+"}
        numbered = book.compiled("part_numbered", slots).fullmatch(text)
        if numbered:
            return PartRef(self._part_kind(numbered["thing"]), int(numbered["n"]))
        which: str | int | None = None
        noun, which = self._chosen(text, self._part_choices)
        if which is None and noun == text:
            labelled = book.compiled("part_labelled", slots).fullmatch(text)
            if labelled:
                return PartRef(self._part_kind(labelled["thing"]), None, book.unquote(labelled["label"]))
        return PartRef(self._part_kind(noun), which)

    def _part_kind(self, noun: str) -> str:
        known = self._part_kinds.get(noun)
        return self.book.unquote(noun) if known is None else "" if known == "part" else known
