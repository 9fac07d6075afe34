"""The words of a convention in one style of writing, with what was used and what could not be said."""

from __future__ import annotations

import re
from typing import Literal

from larkshead.conventions import Convention
from larkshead.conventions.phrasebook import Phrasebook
from larkshead.model import Length, Place
from larkshead.model.lengths import amount
from larkshead.reading.written.book import THREAD_ROLES, WrittenBook
from larkshead.reading.written.places import PlaceReader
from larkshead.writing.losses import Loss

_THREAD = re.compile(r"(?P<role>[a-z]+)(?: (?P<number>\d+))?")
_BREAKS = re.compile(r"[\s\x00-\x1f\x7f-\x9f\u2028\u2029\ufeff]+")
_PLAIN_WORDS = re.compile(r"[^\W\d_][\w' -]*")
_PLAIN_NAME = re.compile(r"[^\W\d_][\w']*|[0-9]{1,9}")


def one_line(text: str) -> str:
    """Free text on one line: breaks and control characters become single spaces."""
    return _BREAKS.sub(" ", text).strip()


def is_number(label: str) -> bool:
    """Whether a label is a plain number."""
    return bool(re.fullmatch("[0-9]{1,9}", label))


class Wording(Phrasebook):
    """What a writer says, in the words of one convention and style.

    ``used`` maps each abbreviation written so far to what it means; ``losses`` gathers what could not be said.
    """

    def __init__(self, convention: Convention, *styles: str) -> None:
        self.used: dict[str, str] = {}
        self.losses: list[Loss] = []
        self.styles = styles
        self._missing: set[str] = set()
        super().__init__(convention, *styles)

    def lose(self, kind: Literal["dropped", "approximated", "assumed"], message: str, step: object = None) -> None:
        """Note a loss."""
        self.losses.append(Loss(kind, message, step))

    def missing(self, key: str) -> None:
        if key not in self._missing:
            self._missing.add(key)
            name = self.convention.name
            self.lose("approximated", f"the convention {name} has no phrase for {key.replace('_', ' ')}")

    def abbreviated(self, form: str, meaning: str) -> None:
        """Keep an abbreviation or mark that was written, for the glossary."""
        if form.lower() != meaning.lower():
            self.used.setdefault(form, meaning)

    def noun(self, concept: str, count: int = 1) -> str:
        """The word for a concept, or the concept's own name where the convention has none."""
        return self.word(concept.replace(" ", "_"), count) or one_line(concept.replace("_", " "))

    def mark(self, name: str) -> str:
        """A mark between counts (``picot``, ``join``), kept for the glossary; empty where the style has none."""
        found = self.phrase(f"marks.{name}")
        if not found:
            return ""
        self.abbreviated(str(found), self.convention.say(name))
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
        if found and found["role"] in THREAD_ROLES and found["role"] in self.convention.terms:
            return self.fill("thread_name", role=self.word(found["role"]), number=found["number"])
        return self.free(name)

    def threads(self, names: list[str]) -> str:
        """Several threads, one after another."""
        return self.listed([self.thread(name) or self.quoted("") for name in names])

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

    def free(self, text: str) -> str:
        """Free words among the steps: in quotation marks unless they are plain words."""
        text = one_line(text)
        return text if not text or _PLAIN_WORDS.fullmatch(text) else self.quoted(text)

    def free_word(self, text: str) -> str:
        """One free word: in quotation marks unless it is plain."""
        return text if text.isalpha() else self.quoted(text)

    def unsaid(self, words: str) -> str:
        """The words of a place that names nothing the model knows, so that they are not taken for one that does."""
        text = one_line(words)
        if not text or not re.search(r"[()\[\];,.\"]", text):
            # Terse words are read back too, so what is a place in them may not stand unmarked either.
            levels = (self.styles, ("terse", *(style for style in self.styles if style != "terse")))
            books = [WrittenBook.of(self.convention, *level) for level in levels]
            if not text or all(PlaceReader.of(book).places(text) == [Place(words=text)] for book in books):
                return text
        return self.quoted(text)

    def item(self, text: str) -> str:
        """A thing in a list: in quotation marks where it has a mark that parts such things."""
        text = one_line(text)
        return self.quoted(text) if not text or re.search(r'[;"]', text) or not _balanced(text) else text

    def rest(self, text: str) -> str:
        """Free text up to the end of the line: in quotation marks where its end could be taken for something else."""
        text = one_line(text)
        return f"{self.fill('quoted', text=text)}" if not text or set("[]") & set(text) or text[0] == '"' else text

    def quoted(self, text: str) -> str:
        """Free text in quotation marks, as a name that is no plain word stands among the steps."""
        return self.fill("quoted", text=one_line(text).replace('"', "'"))


def _balanced(text: str) -> bool:
    """Whether every bracket that opens is closed."""
    depth = 0
    for mark in re.findall(r"[()\[\]]", text):
        depth += 1 if mark in "([" else -1
        if depth < 0:
            return False
    return depth == 0
