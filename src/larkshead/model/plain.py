"""A pattern as plain data (dicts, lists, texts, numbers) and back: what the native notations hold.

The contract is the schema ``pattern.json``; what it means is told there, key by key. ``pattern_to_plain`` leaves out
what is empty or usual; ``pattern_from_plain`` checks all it reads, by hand, because a schema validator costs more
than the rest of a cold start. A test holds the two together.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

from larkshead.model.pattern import Abbreviation, Allowance, Part, Pattern, Thread
from larkshead.model.plain_out import pattern_to_plain
from larkshead.model.plain_steps import ITEM_KEYS, STEP_KEYS, NoteStep, StepReader
from larkshead.model.plain_values import Key, Path, shown

__all__ = ["KNOWN_KEYS", "Key", "Path", "PlainError", "pattern_from_plain", "pattern_to_plain"]

_KEYS = (
    "title", "materials", "threads", "abbreviations", "picot length", "sizes", "finished size", "habits",
    "notes", "allowances", "parts", "steps",
)  # fmt: skip
_PART_KEYS = ("part", "kind", "number", "name", "times", "notes", "steps")
_ROLES = ("shuttle", "ball", "tail")
# What a group in a list begins with: a part, a thread, an abbreviation, an allowance, a step or a piece of its work.
KNOWN_KEYS = frozenset({*_PART_KEYS, *_ROLES, "form", "means", "rule", *STEP_KEYS, *ITEM_KEYS})
_PART = re.compile(r"(.*?\S)(?: ([0-9]{1,9}))?", re.DOTALL)


class PlainError(ValueError):
    """Plain data that is no pattern; ``faults`` are the places and what is wrong there."""

    def __init__(self, faults: list[tuple[Path, str]]) -> None:
        self.faults = faults
        super().__init__("; ".join(f"{'.'.join(map(str, path)) or 'the pattern'}: {said}" for path, said in faults))


def pattern_from_plain(
    data: Any, note: NoteStep | None = None, fault: Callable[[Path, str], None] | None = None
) -> Pattern:
    """The pattern that plain data holds.

    ``note(thing, path, work_path)`` is called for each part and step made, so that a reader can keep their origins;
    ``fault(path, message)`` for each fault, after which reading goes on without the faulty value. Without
    ``fault``, faults raise a PlainError. A path ends in a Key where a key itself is at fault.
    """
    faults: list[tuple[Path, str]] = []
    reader = _PatternReader(fault or (lambda path, said: faults.append((path, said))), note or (lambda *made: None))
    pattern = reader.pattern(data)
    if faults:
        raise PlainError(faults)
    return pattern


class _PatternReader(StepReader):
    """Reads a whole pattern."""

    def pattern(self, data: Any) -> Pattern:
        pattern = Pattern()
        if not isinstance(data, dict):
            self.wrong((), "a pattern is a group of keys (title, threads, parts or steps, ...)", data)
            return pattern
        self.known_keys(data, (), "a pattern", _KEYS)
        for key, value in data.items():
            if key == "title":
                pattern.title = self.text(value, (key,))
            elif key == "materials":
                pattern.materials = self.texts(value, (key,))
            elif key == "threads":
                pattern.threads = self.each(value, (key,), self.thread)
            elif key == "abbreviations":
                pattern.abbreviations = self.each(value, (key,), self.abbreviation)
            elif key == "picot length":
                pattern.picot_length = self.length(value, (key,), "the usual length of picots")
            elif key == "sizes":
                pattern.sizes = self.texts(value, (key,))
            elif key == "finished size":
                pattern.finished_size = self.text(value, (key,))
            elif key == "habits":
                pattern.habits = self.habits(value, (key,))
            elif key == "notes":
                pattern.notes = self.texts(value, (key,))
            elif key == "allowances":
                pattern.allowances = self.each(value, (key,), self.allowance)
        self.parts(data, pattern)
        return pattern

    def parts(self, data: dict[Any, Any], pattern: Pattern) -> None:
        if "steps" in data:
            if "parts" in data:
                self.fault((Key("steps"),), "steps stand in parts, or alone where there are no parts; found both")
            part = Part(steps=self.steps(data["steps"], ("steps",)))
            self.note(part, ("steps",), None)
            pattern.parts.append(part)
        if "parts" in data:
            pattern.parts += self.each(data["parts"], ("parts",), self.part)

    def each(self, value: Any, path: Path, read: Callable[[dict[Any, Any], Path], Any]) -> list[Any]:
        """A list of groups of keys."""
        if not isinstance(value, list):
            self.wrong(path, f"{path[-1]} is a list", value)
            return []
        made = []
        for at, one in enumerate(value):
            if isinstance(one, dict):
                made.append(read(one, (*path, at)))
            else:
                self.wrong((*path, at), f"each of {path[-1]} is a group of keys", one)
        return [one for one in made if one is not None]

    def thread(self, data: dict[Any, Any], path: Path) -> Thread | None:
        role = next((role for role in _ROLES if role in data), None)
        if role is None:
            self.wrong(path, "a thread begins with shuttle, ball or tail and its name", data)
            return None
        keys = ("color", "size", "length", "beads", "wound from", "tied to", "tied")
        self.known_keys(data, path, "a thread", (role, *keys))
        thread = Thread(role, self.text(data[role], (*path, role), f"the name of a {role}"))
        if "color" in data:
            thread.color = self.text(data["color"], (*path, "color"))
        if "size" in data:
            thread.size = self.text(data["size"], (*path, "size"))
        if "length" in data:
            thread.length = self.length(data["length"], (*path, "length"), "the length of a thread")
        if "beads" in data:
            thread.beads = self.whole(data["beads"], (*path, "beads"), "the number of beads strung")
        if "tied" in data:
            thread.tied = self.yes(data["tied"], (*path, "tied"), "tied")
        if "wound from" in data:
            thread.joined_to = self.text(data["wound from"], (*path, "wound from"))
        if "tied to" in data:
            if "wound from" in data:
                self.fault((*path, Key("tied to")), "a thread is wound from another or tied to it; found both")
            thread.joined_to, thread.tied = self.text(data["tied to"], (*path, "tied to")), True
        return thread

    def abbreviation(self, data: dict[Any, Any], path: Path) -> Abbreviation | None:
        self.known_keys(data, path, "an abbreviation", ("form", "means", "concept"))
        if "form" not in data or "means" not in data:
            self.wrong(path, "an abbreviation has a form and what it means", data)
            return None
        made = Abbreviation(self.text(data["form"], (*path, "form")), self.text(data["means"], (*path, "means")))
        if "concept" in data:
            made.concept = self.text(data["concept"], (*path, "concept"))
        return made

    def allowance(self, data: dict[Any, Any], path: Path) -> Allowance | None:
        self.known_keys(data, path, "an allowance", ("rule", "where", "because"))
        if "rule" not in data:
            self.wrong(path, "an allowance names its rule", data)
            return None
        said = [self.text(data[key], (*path, key)) if key in data else "" for key in ("rule", "where", "because")]
        return Allowance(*said)

    def habits(self, value: Any, path: Path) -> dict[str, str]:
        if not isinstance(value, dict):
            self.wrong(path, "habits are a group of keys, each with what it is", value)
            return {}
        return {str(key): self.text(one, (*path, key)) for key, one in value.items()}

    def part(self, data: dict[Any, Any], path: Path) -> Part:
        self.known_keys(data, path, "a part", _PART_KEYS)
        part = Part()
        if "part" in data:
            if "kind" in data or "number" in data:
                self.fault((*path, "part"), "'part' says kind and number together; found them alone as well")
            found = _PART.fullmatch(self.text(data["part"], (*path, "part")).strip())
            if found:
                part.kind, part.number = found.group(1), int(found.group(2)) if found.group(2) else None
            elif isinstance(data["part"], str):
                self.fault(
                    (*path, "part"), f"'part' is a kind and a number, such as round 1; found {shown(data['part'])}"
                )
        if "kind" in data:
            part.kind = self.text(data["kind"], (*path, "kind"))
        if "number" in data:
            part.number = self.whole(data["number"], (*path, "number"), "the number of a part")
        if "name" in data:
            part.name = self.text(data["name"], (*path, "name"))
        if "times" in data:
            part.times = self.whole(data["times"], (*path, "times"), "how often a part is worked", 1) or 1
        if "notes" in data:
            part.notes = self.texts(data["notes"], (*path, "notes"))
        if "steps" in data:
            part.steps = self.steps(data["steps"], (*path, "steps"))
        else:
            self.fault(path, "a part has steps; found none")
        self.note(part, path, None)
        return part
