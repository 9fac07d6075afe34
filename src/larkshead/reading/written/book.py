"""The phrases of a convention turned about: names, numbers, lengths, threads."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from functools import cached_property

from larkshead.conventions import Convention
from larkshead.conventions.phrasebook import Phrasebook, either
from larkshead.model import Length

# Concepts that name a thread, and its number behind it.
THREAD_ROLES = ("shuttle", "ball", "tail", "thread")
_NAMED = re.compile(r"\(\?P<\w+>")


class Known:
    """The texts written with one phrase. The expression is made when a text begins as they do."""

    __slots__ = ("_compiled", "_make", "opening")

    def __init__(self, opening: str, make: Callable[[], list[re.Pattern[str]]]) -> None:
        self.opening = opening
        self._make = make
        self._compiled: list[re.Pattern[str]] | None = None

    def fullmatch(self, text: str) -> re.Match[str] | None:
        """The match of a whole text."""
        if not text.startswith(self.opening):
            return None
        if self._compiled is None:
            self._compiled = self._make()
        return next((found for one in self._compiled if (found := one.fullmatch(text))), None)


class WrittenBook(Phrasebook):
    """Expressions for what is written with the phrases of a convention, kept with the convention."""

    def __init__(self, convention: Convention, *styles: str) -> None:
        super().__init__(convention, *styles)
        self.kept: dict[str, object] = {}

    @classmethod
    def of(cls, convention: Convention, *styles: str) -> WrittenBook:
        """The book of a style, made once for a convention."""
        key = "written " + " ".join(styles)
        found = convention.cache.get(key)
        if not isinstance(found, cls):
            found = convention.cache[key] = cls(convention, *styles)
        return found

    def unnamed(self, key: str, slots: dict[str, str] | None = None) -> str:
        """As ``expression``, without groups, to stand inside another."""
        return _NAMED.sub("(?:", self.expression(key, slots))

    def compiled(self, key: str, slots: dict[str, str] | None = None, needed: tuple[str, ...] = ()) -> re.Pattern[str]:
        """The whole of a text written with one phrase."""
        return re.compile(self.expression(key, slots, True, needed))

    def known(self, key: str, slots: Mapping[str, str | Callable[[], str]], needed: tuple[str, ...] = ()) -> Known:
        """As ``compiled``, made when first needed; slots may be given as functions."""

        def make() -> list[re.Pattern[str]]:
            given = {name: one() if callable(one) else one for name, one in slots.items()}
            forms = (-1, 0) if isinstance(self.phrase(key), list) else (None,)
            return [re.compile(self.expression(key, given, True, needed, form)) for form in forms]

        return Known(self.opening(key, slots), make)

    def words_for(self, concepts: Mapping[str, str]) -> dict[str, str]:
        """Every word for each of the concepts, with what the concept stands for."""
        return {
            word: meaning
            for concept, meaning in concepts.items()
            for word in (self.word(concept, 2), self.word(concept))
        }

    # Names and free text

    @cached_property
    def _marks(self) -> tuple[str, str]:
        before, _, after = self.fill("quoted", text="\0").partition("\0")
        return before, after

    @cached_property
    def quoted(self) -> str:
        """Any text in quotation marks."""
        before, after = (re.escape(mark) for mark in self._marks)
        return f"{before}(?:(?!{after}).)*{after}"

    @cached_property
    def name(self) -> str:
        """One plain word, a number, or anything in quotation marks."""
        return rf"(?:[^\W\d_][\w']*|\d+|{self.quoted})"

    @cached_property
    def words(self) -> str:
        """Plain words, or anything in quotation marks."""
        return rf"(?:[^\W\d_][\w' -]*?|{self.quoted})"

    @cached_property
    def run(self) -> str:
        """Words up to a mark that parts things, what stands in quotation marks taken whole."""
        plain = r'[^()\[\];,"]*'
        return f"{plain}(?:{self.quoted}{plain})*"

    @cached_property
    def item(self) -> str:
        """Text up to a comma, or anything in quotation marks."""
        return f'(?:{self.quoted}|[^,;"]+)'

    def unquote(self, text: str) -> str:
        """Text without the quotation marks round it."""
        before, after = self._marks
        if len(text) >= len(before) + len(after) and text.startswith(before) and text.endswith(after):
            return text[len(before) : len(text) - len(after)]
        return text

    def split(self, text: str, mark: str) -> list[str]:
        """A text parted by a mark, but not inside quotation marks or brackets."""
        if mark not in text:
            return [text]
        parts: list[str] = []
        start = 0
        for at in self.outside(text, mark):
            if at >= start:
                parts.append(text[start:at])
                start = at + len(mark)
        parts.append(text[start:])
        return parts

    @cached_property
    def _inside(self) -> re.Pattern[str]:
        return re.compile(rf"{self.quoted}|[()\[\]]")

    def outside(self, text: str, mark: str) -> list[int]:
        """Where a mark stands outside quotation marks and brackets."""
        expression = self.kept.get(f"outside {mark}")
        if not isinstance(expression, re.Pattern):
            expression = re.compile(rf"{self.quoted}|{re.escape(mark)}|[()\[\]]")
            self.kept[f"outside {mark}"] = expression
        found: list[int] = []
        depth = 0
        for one in expression.finditer(text):
            got = one.group()
            if got == mark and depth == 0:
                found.append(one.start())
            elif got[0] in "([":
                depth += 1
            elif got[0] in ")]":
                depth = max(0, depth - 1)
        return found

    def bracket_end(self, text: str, at: int) -> int | None:
        """Just behind the bracket that closes the one at ``at``; None where none opens there or it stays open."""
        if text[at : at + 1] not in ("(", "["):
            return None
        depth = 0
        for one in self._inside.finditer(text, at):
            if one.group() in ("(", "["):
                depth += 1
            elif one.group() in (")", "]"):
                depth -= 1
                if depth == 0:
                    return one.end()
        return None

    def last_bracket(self, text: str) -> int:
        """Where the bracket that closes at the end of the text opens; 0 for nowhere behind the start."""
        depth = start = 0
        for one in self._inside.finditer(text):
            if one.group() in ("(", "["):
                start = one.start() if depth == 0 else start
                depth += 1
            elif one.group() in (")", "]"):
                depth -= 1
        return start if depth == 0 and text.endswith(")") else 0

    # Lengths

    @cached_property
    def length(self) -> str:
        """A length, without groups."""
        return _NAMED.sub("(?:", self._length)

    @cached_property
    def _units(self) -> dict[str, str]:
        units: dict[str, str] = {}
        for unit, said in self.entries("units").items():
            for word in said if isinstance(said, list) else [said]:
                units[str(word)] = unit
        return units

    @cached_property
    def _length(self) -> str:
        number = r"\d+(?:[.,/]\d+)*(?: \d+/\d+)?"
        slots = {
            "about": re.escape(self.fill("about")),
            "value": number,
            "upto": number,
            "unit": either([*self._units]),
        }
        return self.expression("length", slots)

    def read_length(self, text: str | None) -> Length | None:
        """The length a text gives."""
        found = re.fullmatch(self._length, text) if text else None
        if found is None:
            return None
        return Length(found["value"], self._units.get(found["unit"] or "", ""), found["upto"], bool(found["about"]))

    # Threads

    @cached_property
    def _roles(self) -> dict[str, str]:
        return self.words_for({role: role for role in THREAD_ROLES if role in self.convention.terms})

    @cached_property
    def _thread_name(self) -> re.Pattern[str]:
        return self.compiled("thread_name", {"role": either([*self._roles]), "number": r"\d+"})

    @cached_property
    def _thread_over(self) -> re.Pattern[str]:
        one = _NAMED.sub("(?:", self._thread_name.pattern)
        return self.compiled("thread_over", {"working": one, "core": one})

    @cached_property
    def thread(self) -> str:
        """A thread, without groups."""
        patterns = (self._thread_over.pattern, self._thread_name.pattern, self.words)
        return rf"(?:(?:{'|'.join(_NAMED.sub('(?:', one) for one in patterns)})(?!\w))"

    def read_thread(self, text: str | None) -> str | None:
        """The thread a text names, as the model names it."""
        if not text:
            return None
        over = self._thread_over.fullmatch(text)
        if over:
            return f"{self.read_thread(over['working'])} over {self.read_thread(over['core'])}"
        found = self._thread_name.fullmatch(text)
        if found:
            role = self._roles[found["role"]]
            return f"{role} {found['number']}" if found["number"] else role
        return self.unquote(text)

    def read_threads(self, text: str | None) -> list[str]:
        """The threads a list names."""
        return [self.read_thread(one) or "" for one in self.listed(text)] if text else []

    def listed(self, text: str) -> list[str]:
        """The things in a list: ``a, b and c``."""
        before, _, after = self.fill("and", first="\0", last="\0").strip("\0").partition("\0")
        last = before or after
        items = self.split(text, self.fill("comma"))
        return [*items[:-1], *self.split(items[-1], last)]
