"""The phrases of a convention in one style, to write with and to know again what was written with them.

A convention's ``phrases`` hold one section for each style and one named ``common``; a style may fall back on another
(terse prose on prose, the table on shorthand). ``words`` in a section tells whether terms are written out (``say``) or
abbreviated (``short``).
"""

from __future__ import annotations

import re
from collections.abc import Container
from typing import Any

from larkshead.conventions.convention import Convention
from larkshead.conventions.templates import Slot, compile_template, pattern, render


class Phrasebook:
    """The phrases of one convention and style."""

    def __init__(self, convention: Convention, *styles: str) -> None:
        self.convention = convention
        self.sections: list[dict[str, Any]] = [
            convention.phrases[name] for name in (*styles, "common") if name in convention.phrases
        ]
        self._found: dict[str, Any] = {}
        self._said: dict[str, str] = {}
        self.abbreviates = self.phrase("words") == "short"

    def phrase(self, key: str) -> Any:
        """The phrase, list or map under a key, the style's own before what it falls back on; None for none.

        A dotted key looks into maps: a style may have single entries of its own.
        """
        if key not in self._found:
            head, _, name = key.partition(".")
            found = None
            for section in self.sections:
                entry = section.get(head)
                if name:
                    entry = entry.get(name) if isinstance(entry, dict) else None
                if entry is not None:
                    found = entry
                    break
            self._found[key] = found
        return self._found[key]

    def has(self, key: str) -> bool:
        """Whether there is a phrase for this."""
        return self.phrase(key) is not None

    def entries(self, key: str) -> dict[str, Any]:
        """The whole map under a key, entries of every section laid over one another."""
        laid: dict[str, Any] = {}
        for section in reversed(self.sections):
            entry = section.get(key)
            if isinstance(entry, dict):
                laid.update(entry)
        return laid

    def missing(self, key: str) -> None:
        """Called when a phrase is wanted that the convention does not have."""

    def fill(self, key: str, **slots: Any) -> str:
        """The phrase under ``key`` with its slots filled. A pair of templates is one and many, by slot ``n``."""
        if not slots:
            # Words that never change are put together once.
            said = self._said.get(key)
            if said is None:
                said = self._said[key] = self._fill(key, slots)
            return said
        return self._fill(key, slots)

    def _fill(self, key: str, slots: dict[str, Any]) -> str:
        template = self.phrase(key)
        if template is None:
            self.missing(key)
            return " ".join(str(value) for value in slots.values() if value not in ("", None))
        if isinstance(template, list):
            template = template[0 if slots.get("n") == 1 else -1]

        def value(slot: Slot) -> str:
            if slot.name in slots:
                given = slots[slot.name]
                return "" if given is None else str(given)
            return self.word(slot.name, slots.get(slot.number, 1) if slot.number else 1)

        return render(compile_template(str(template)), value)

    def word(self, concept: str, count: int = 1) -> str:
        """The word or abbreviation for a concept of the trade; empty for what is none."""
        own = self.phrase(f"nouns.{concept}")
        if own is not None:
            form = str(own[0 if count == 1 else -1]) if isinstance(own, list) else str(own)
            if concept in self.convention.terms and form != self.convention.say(concept, count):
                self.abbreviated(form, self.convention.say(concept))
            return form
        if concept not in self.convention.terms:
            return ""
        if self.abbreviates:
            form = self.convention.short(concept)
            self.abbreviated(form, self.convention.say(concept))
            return form
        return self.convention.say(concept, count)

    def abbreviated(self, form: str, meaning: str) -> None:
        """Called for each abbreviation given."""

    # To know again what was written

    def expression(
        self,
        key: str,
        slots: dict[str, str] | None = None,
        lazy: bool = False,
        needed: tuple[str, ...] = (),
        form: int | None = None,
    ) -> str:
        """A regular expression for what ``fill(key, ...)`` gives; one that matches nothing where there is no phrase.

        ``slots`` gives the expressions of slots; each becomes a group named as the slot. ``lazy`` and ``needed`` as for
        ``pattern``. Of a pair, ``form`` takes one (0) or many (-1); without it either will do, with the groups of many.
        """
        template = self.phrase(key)
        if template is None:
            return "(?!)"
        texts = template if isinstance(template, list) else [template]
        if form is not None:
            texts = [texts[form]]
        seen: set[str] = set()

        def slot(found: Slot) -> str:
            given = (slots or {}).get(found.name)
            if given is None:
                return self.forms(found.name)
            if found.name in seen:
                return f"(?:{given})"
            seen.add(found.name)
            return f"(?P<{found.name}>{given})"

        def one(text: str) -> str:
            return pattern(compile_template(str(text)), slot, lazy, needed)

        # One and many: the groups can be named in one alternative only, so the longer (many) is tried by itself first.
        if len(texts) == 1 or texts[0] == texts[-1]:
            return one(texts[0])
        many = one(texts[-1])
        return f"(?:{many}|{one(texts[0])})"

    def opening(self, key: str, slots: Container[str]) -> str:
        """How every text written with a phrase begins, as far as that is certain."""
        template = self.phrase(key)
        texts = template if isinstance(template, list) else [template or ""]
        openings = []
        for text in texts:
            said = ""
            for segment in compile_template(str(text)):
                if isinstance(segment, str):
                    said += segment
                    continue
                if not isinstance(segment, Slot) or segment.name in slots:
                    break
                words = [self.word(segment.name, 1), self.word(segment.name, 2)]
                said += alike_up_to(words)
                if words[0] != words[1]:
                    break
            openings.append(said)
        return alike_up_to(openings)

    def forms(self, concept: str) -> str:
        """An expression for the word for a concept, one or many."""
        return either([self.word(concept, 1), self.word(concept, 2)])


def alike_up_to(texts: list[str]) -> str:
    """How all of several texts begin."""
    first, last = min(texts), max(texts)
    return first[
        : next((at for at, (one, other) in enumerate(zip(first, last, strict=False)) if one != other), len(first))
    ]


def either(texts: list[str]) -> str:
    """An expression for one of several texts, the longest first."""
    known = sorted({text for text in texts if text}, key=lambda text: (-len(text), text))
    return f"(?:{'|'.join(re.escape(text) for text in known)})" if known else "(?!)"
