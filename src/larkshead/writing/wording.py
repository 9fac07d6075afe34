"""The words of a convention in one style of writing.

A convention's ``phrases`` hold one section for each style and one named ``common``; a style may fall back on another
(terse prose on prose, the table on shorthand). ``words`` in a section tells whether terms are written out (``say``) or
abbreviated (``short``). Every abbreviation written is kept, so that a glossary can list just those.
"""

from __future__ import annotations

import re
from typing import Any

from larkshead.conventions import Convention
from larkshead.model import Length
from larkshead.model.lengths import amount
from larkshead.writing.losses import Loss
from larkshead.writing.templates import Slot, compile_template, render

_THREAD = re.compile(r"(?P<role>[a-z]+)(?: (?P<number>\d+))?")
_BREAKS = re.compile(r"[\s\x00-\x1f\x7f-\x9f\u2028\u2029\ufeff]+")
_PLAIN_WORDS = re.compile(r"[^\W_][\w' .-]*")
_PLAIN_NAME = re.compile(r"[^\W_][\w'.]*")


def one_line(text: str) -> str:
    """Free text on one line: breaks and control characters become single spaces."""
    return _BREAKS.sub(" ", text).strip()


class Wording:
    """What a writer says, in the words of one convention and style.

    ``used`` maps each abbreviation written so far to what it means; ``losses`` gathers what could not be said.
    """

    def __init__(self, convention: Convention, *styles: str) -> None:
        self.convention = convention
        self.sections: list[dict[str, Any]] = [
            convention.phrases[name] for name in (*styles, "common") if name in convention.phrases
        ]
        self.used: dict[str, str] = {}
        self.losses: list[Loss] = []
        self.abbreviates = self.find("words") == "short"
        self._found: dict[str, Any] = {}
        self._missing: set[str] = set()

    def lose(self, kind: Any, message: str, step: object | None = None) -> None:
        """Note a loss."""
        self.losses.append(Loss(kind, message, step))

    def find(self, key: str) -> Any:
        """The phrase, list or map under a key: the style's own, or else the one it falls back on; None for none."""
        for section in self.sections:
            if key in section:
                return section[key]
        return None

    def phrase(self, key: str) -> Any:
        """As ``find``, kept for the next time; a dotted key looks into a map."""
        if key not in self._found:
            head, _, name = key.partition(".")
            found = self.find(head)
            if name:
                found = self._in_maps(head, name)
            self._found[key] = found
        return self._found[key]

    def _in_maps(self, head: str, name: str) -> Any:
        """An entry of the maps under ``head``; a style may override single entries."""
        for section in self.sections:
            entries = section.get(head)
            if isinstance(entries, dict) and name in entries:
                return entries[name]
        return None

    def has(self, key: str) -> bool:
        """Whether the convention has a phrase for this."""
        return self.phrase(key) is not None

    def fill(self, key: str, **slots: Any) -> str:
        """The phrase under ``key`` with its slots filled. A pair of templates is one and many, by slot ``n``."""
        template = self.phrase(key)
        if template is None:
            if key not in self._missing:
                self._missing.add(key)
                name = self.convention.name
                self.lose("approximated", f"the convention {name} has no phrase for {key.replace('_', ' ')}")
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
        if concept not in self.convention.terms:
            own = self.phrase(f"nouns.{concept}")
            return self._choose(own, count) if own is not None else ""
        spelt = self.phrase(f"nouns.{concept}")
        if spelt is not None:
            return self._choose(spelt, count)
        if self.abbreviates:
            form = self.convention.short(concept)
            self.abbreviation(form, self.convention.say(concept))
            return form
        return self.convention.say(concept, count)

    @staticmethod
    def _choose(noun: Any, count: int) -> str:
        return str(noun[0 if count == 1 else -1]) if isinstance(noun, list) else str(noun)

    def noun(self, concept: str, count: int = 1) -> str:
        """The word for a concept, or the concept's own name where the convention has none."""
        return self.word(concept.replace(" ", "_"), count) or one_line(concept.replace("_", " "))

    def abbreviation(self, form: str, meaning: str) -> None:
        """Keep an abbreviation or mark that was written, for the glossary."""
        if form.lower() != meaning.lower():
            self.used.setdefault(form, meaning)

    def mark(self, name: str) -> str:
        """A mark between counts (``picot``, ``join``), kept for the glossary; empty where the style has none."""
        found = self.phrase(f"marks.{name}")
        if not found:
            return ""
        self.abbreviation(str(found), self.convention.say(name))
        return str(found)

    # Numbers, lengths and names

    def ordinal(self, number: int) -> str:
        """The ordinal of a number from 1, in words or figures as the style has it."""
        words = self.phrase("ordinals")
        if isinstance(words, list) and 0 < number <= len(words):
            return str(words[number - 1])
        endings = self.phrase("ordinal_endings") or {}
        ending = next((endings[k] for k in (str(number % 100), str(number % 10), "other") if k in endings), "")
        return self.fill("ordinal", n=number, ending=ending)

    def length(self, length: Length | None) -> str:
        """A length as printed, with the unit of the convention; empty for none."""
        if length is None:
            return ""
        try:
            many = amount(length.upto or length.value) > 1
        except ValueError:
            many = True
        unit = self.phrase(f"units.{length.unit}") if length.unit else ""
        if isinstance(unit, list):
            unit = unit[1 if many else 0]
        about = self.fill("about") if length.about else ""
        return self.fill("length", value=length.value, upto=length.upto, unit=unit or length.unit, about=about)

    def thread(self, name: str | None) -> str:
        """A thread as the steps name it: ``shuttle 1``, ``shuttle 2 over shuttle 1``, or a name of its own."""
        if not name:
            return ""
        working, over, core = name.partition(" over ")
        if over and _THREAD.fullmatch(working) and _THREAD.fullmatch(core):
            return self.fill("thread_over", working=self.thread(working), core=self.thread(core))
        found = _THREAD.fullmatch(name)
        if found and found["role"] in self.convention.terms:
            return self.fill("thread_name", role=self.word(found["role"]), number=found["number"])
        return one_line(name) if _PLAIN_WORDS.fullmatch(name) else self.quoted(name)

    def threads(self, names: list[str]) -> str:
        """Several threads, one after another."""
        return self.listed([self.thread(name) for name in names])

    def listed(self, items: list[str]) -> str:
        """``a``, ``a and b``, ``a, b and c``."""
        if len(items) < 2:
            return "".join(items)
        return self.fill("and", first=self.fill("comma").join(items[:-1]), last=items[-1])

    def label(self, label: str | None) -> str:
        """A label as it can be read again: in quotation marks unless it is one plain word."""
        if label is None:
            return ""
        if _PLAIN_NAME.fullmatch(label):
            return label
        return self.quoted(label)

    def quoted(self, text: str) -> str:
        """Free text in quotation marks, as a name that is no plain word stands among the steps."""
        return self.fill("quoted", text=one_line(text).replace('"', "'"))
