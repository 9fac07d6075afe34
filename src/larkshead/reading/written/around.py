"""What stands around the steps, known again by the phrases it was written with: title, threads, headings, notes."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from functools import cached_property
from typing import Any

from larkshead.conventions.phrasebook import either
from larkshead.model import Abbreviation, Allowance, Note, Part, Pattern, StatedTotal, Thread
from larkshead.reading.origins import Origins
from larkshead.reading.written.book import Known, WrittenBook
from larkshead.reading.written.steps import StepReader
from larkshead.reading.written.totals import TotalReader

PART_KINDS = ("round", "row", "motif", "step", "part")
LONGEST_TITLE = 80
_PLAIN_TITLE = re.compile(r"[^\W\d_][^\W\d_' -]*(?:[' -][^\W\d_]+)*")


class AroundReader:
    """Reads the lines around the steps in the words of one convention and style."""

    def __init__(self, book: WrittenBook) -> None:
        self.book = book
        self.totals = TotalReader(book)
        # Whether any line was called what it is (Title, Materials, ...).
        self.called = False

    # Before the steps

    def is_title(self, line: str) -> bool:
        """Whether a line can stand as the title without being called so: few words, and none of the trade's."""
        if len(line) > LONGEST_TITLE or not _PLAIN_TITLE.fullmatch(line):
            return False
        words = re.findall(r"[^\W\d_]+", line.lower())
        if (
            words[0] in self.book.convention.forms
            or words[0] in self._part_kinds
            or any(map(self.is_trade_word, words))
        ):
            return False
        return StepReader(self.book, Origins()).action(line) is None

    def before(self, line: str, pattern: Pattern) -> bool:
        """Take up one line said before the steps; False for a line that is none."""
        for expression, take in self._before:
            found = expression.fullmatch(line)
            if found:
                take(found.groupdict(), pattern)
                self.called = True
                return True
        return False

    def is_enough(self, pattern: Pattern) -> bool:
        """Whether there is more than a line that may be a title: one that is called what it is, or a part."""
        return self.called or bool(pattern.parts or pattern.notes)

    @cached_property
    def _before(self) -> list[tuple[Known, Callable[[dict[str, Any], Pattern], None]]]:
        book = self.book
        thread: dict[str, str | Callable[[], str]] = {
            "name": lambda: book.thread,
            "role": lambda: either([book.word(role) for role in ("shuttle", "ball", "tail")]),
            "color": lambda: book.words,
            "size": lambda: book.item,
            "length": lambda: book.length,
            "beads": lambda: book.unnamed("beads_strung", {"n": r"\d+"}),
            "joined": self._joined,
        }
        words: dict[str, str | Callable[[], str]] = {
            "rule": lambda: book.words,
            "where": lambda: book.words,
            "because": ".+",
        }
        made: list[tuple[str, Mapping[str, str | Callable[[], str]], Callable[[dict[str, Any], Pattern], None]]] = [
            ("title_line", {"text": ".+"}, lambda found, p: setattr(p, "title", book.unquote(found["text"]))),
            ("materials", {"text": ".+"}, lambda found, p: p.materials.extend(self._items(found["text"]))),
            ("thread_line", thread, lambda found, p: p.threads.append(self._thread(found))),
            ("picot_length", {"length": lambda: book.length}, self._picot_length),
            ("sizes", {"text": ".+"}, lambda found, p: p.sizes.extend(self._items(found["text"]))),
            ("finished_size", {"text": ".+"}, lambda found, p: setattr(p, "finished_size", found["text"])),
            ("habit", {"habit": lambda: book.words, "value": ".*"}, self._habit),
            ("allowance", words, self._allowance),
            ("glossary", {"entries": ".+"}, self._glossary),
        ]
        return [(book.known(key, slots), take) for key, slots, take in made]

    def _items(self, text: str) -> list[str]:
        return [self.book.unquote(item) for item in self.book.split(text, self.book.fill("semicolon"))]

    def _picot_length(self, found: dict[str, Any], pattern: Pattern) -> None:
        pattern.picot_length = self.book.read_length(found["length"])

    def _habit(self, found: dict[str, Any], pattern: Pattern) -> None:
        pattern.habits[self.book.unquote(found["habit"])] = self.book.unquote(found["value"])

    def _allowance(self, found: dict[str, Any], pattern: Pattern) -> None:
        rule, where = self.book.unquote(found["rule"]), self.book.unquote(found["where"] or "")
        pattern.allowances.append(Allowance(rule, where, found["because"] or ""))

    def _joined(self) -> str:
        wound = self.book.unnamed("wound_with", {"thread": self.book.thread})
        return f"(?:{wound}|{self.book.unnamed('tied_to', {'thread': self.book.thread})})"

    def _thread(self, found: dict[str, Any]) -> Thread:
        book = self.book
        name = book.read_thread(found["name"]) or ""
        role = next((r for r in ("shuttle", "ball", "tail") if found["role"] == book.word(r)), "")
        beads = re.search(r"\d+", found["beads"] or "")
        joined, tied = None, False
        for key in ("wound_with", "tied_to"):
            told = book.compiled(key, {"thread": book.thread}).fullmatch(found["joined"] or "")
            if told:
                joined, tied = book.read_thread(told["thread"]), key == "tied_to"
        return Thread(
            role or name.partition(" ")[0],
            name,
            book.unquote(found["color"] or ""),
            book.unquote(found["size"] or ""),
            book.read_length(found["length"]),
            int(beads.group()) if beads else None,
            joined,
            tied,
        )

    def _glossary(self, found: dict[str, Any], pattern: Pattern) -> None:
        """What is not of the convention's own is an abbreviation of the pattern's."""
        book = self.book
        entry = book.compiled("glossary_entry", {"form": rf"(?:{book.quoted}|[^\s,]+)", "meaning": ".+"})
        known = {(term.short, term.say[0]) for term in book.convention.terms.values()}
        known |= {(book.word(concept), term.say[0]) for concept, term in book.convention.terms.items()}
        known |= {(str(mark), book.convention.say(name)) for name, mark in book.entries("marks").items()}
        for text in book.split(found["entries"], book.fill("comma")):
            read = entry.fullmatch(text)
            if read and (read["form"], read["meaning"]) not in known:
                pattern.abbreviations.append(Abbreviation(book.unquote(read["form"]), book.unquote(read["meaning"])))

    # Headings

    @cached_property
    def _heading(self) -> re.Pattern[str]:
        return self.book.compiled(
            "part_heading", {"title": ".+?", "times": self.book.unnamed("part_times", {"n": r"\d+"})}
        )

    @cached_property
    def _part_kinds(self) -> dict[str, str]:
        return {self.book.word(kind).lower(): kind for kind in PART_KINDS if self.book.word(kind)}

    @cached_property
    def _title(self) -> re.Pattern[str]:
        kind = rf"(?:[^\W\d_]+|{self.book.quoted})"
        return self.book.compiled("part_title", {"kind": kind, "number": r"\d{1,9}", "name": self.book.words})

    def heading(self, line: str) -> Part | None:
        """The part a heading begins; None for a line that is none."""
        whole = self._heading.fullmatch(line)
        found = self._title.fullmatch(whole["title"]) if whole else None
        if not whole or not found:
            return None
        kind = self.book.unquote(found["kind"])
        if kind == found["kind"] and self.is_trade_word(kind) and kind.lower() not in self._part_kinds:
            return None
        kind = self._part_kinds.get(kind.lower(), kind if kind != found["kind"] else kind[:1].lower() + kind[1:])
        times = re.search(r"\d{1,9}", whole["times"] or "")
        number = int(found["number"]) if found["number"] else None
        name = self.book.unquote(found["name"] or "")
        return Part("" if kind == "part" else kind, number, name, int(times.group()) if times else 1)

    def is_trade_word(self, word: str) -> bool:
        """Whether a word names something of the trade: a part of that name is written in quotation marks."""
        convention = self.book.convention
        return convention.forms.get(word.lower(), ("",))[0] in convention.terms

    # Among the steps

    @cached_property
    def _note(self) -> re.Pattern[str]:
        return self.book.compiled("note", {"text": ".*"})

    def alone(self, line: str) -> Note | StatedTotal | None:
        """The note or total a line holds; None where it holds none."""
        found = self._note.fullmatch(line)
        return Note(self.book.unquote(found["text"])) if found else self.totals.total(line)

    # After the steps

    def heads(self, line: str) -> bool:
        """Whether a line is the heading of the notes."""
        return line == self.book.fill("notes_heading")

    def notes(self, lines: list[str]) -> list[str] | None:
        """The notes under their heading; None where the lines are none."""
        if not lines or not self.heads(lines[0]):
            return None
        item = self.book.compiled("notes_item", {"text": ".*"})
        found = [item.fullmatch(line) for line in lines[1:]]
        return [self.book.unquote(one["text"]) for one in found if one] if all(found) else None
