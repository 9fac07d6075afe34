"""Remarks of the text that excuse what would otherwise be a finding.

The words come from the convention (``phrases: remarks:``, lists of phrases by what they say); without a convention no
remark is known. What a remark can say: ``on_purpose`` (meant, uneven, different on purpose), ``stays_free`` (a picot is
not to be joined), ``stays_open`` (the round is not closed), ``skipping`` (every second, miss one), ``together``
(several at once), ``again`` (the same picot another time), ``held`` (a clip or pin holds the first picot),
``one_shuttle`` (a way of working two threads' work with one), ``always_turn`` (a standing remark on turning),
``corner``.
"""

from __future__ import annotations

import re
from functools import cached_property
from typing import TYPE_CHECKING

from larkshead.linting.repeats import steps_in
from larkshead.model import Element, Note, Pattern, Repeat, Step
from larkshead.reading import Reading, Span

if TYPE_CHECKING:
    from larkshead.conventions import Convention


class Remarks:
    """Looks for the convention's remarks near a step and in the whole pattern."""

    def __init__(self, pattern: Pattern, reading: Reading | None, convention: Convention | None) -> None:
        self._pattern = pattern
        self._reading = reading
        lists = convention.phrases.get("remarks", {}) if convention is not None else {}
        self._phrases: dict[str, object] = dict(lists)
        # Compiled when first looked for: most patterns call for few of them.
        self._kinds: dict[str, re.Pattern[str] | None] = {}
        self._whole: str | None = None
        self._texts: dict[str, bool] = {}

    def anywhere(self, kind: str) -> bool:
        """True when the pattern says this of everything: in its notes, its materials, or text kept beside the steps."""
        pattern = self._said_of(kind)
        if pattern is None:
            return False
        if kind not in self._texts:
            if self._whole is None:
                self._whole = "\n".join(_standing_text(self._pattern))
            self._texts[kind] = pattern.search(self._whole) is not None
        return self._texts[kind]

    def near(self, kind: str, *steps: object) -> bool:
        """True when it is said in the remark of a step, in the lines of text the steps stand on, or in a note told
        behind
        one before the next element."""
        pattern = self._said_of(kind)
        if pattern is None:
            return False
        for step in steps:
            if isinstance(step, Element) and step.remark and pattern.search(step.remark):
                return True
            text = self._lines_of(step)
            if (text and pattern.search(text)) or pattern.search(self._told_behind.get(id(step), "")):
                return True
        return False

    @cached_property
    def _told_behind(self) -> dict[int, str]:
        """The notes between an element and the next one, by the element's ``id``."""
        told: dict[int, str] = {}
        for part in self._pattern.parts:
            last: Element | None = None
            for step in steps_in(part.steps):
                if isinstance(step, Element):
                    last = step
                elif isinstance(step, Note) and last is not None:
                    told[id(last)] = f"{told.get(id(last), '')}\n{step.text}"
        return told

    def says(self, kind: str, *steps: object) -> bool:
        """True when it is said near the steps or of everything."""
        return self.near(kind, *steps) or self.anywhere(kind)

    def _said_of(self, kind: str) -> re.Pattern[str] | None:
        if kind not in self._kinds:
            self._kinds[kind] = _any_of(self._phrases.get(kind))
        return self._kinds[kind]

    def _lines_of(self, step: object) -> str:
        if self._reading is None:
            return ""
        span = self._reading.origins.of(step)
        if span is None:
            return ""
        return self._reading.source.quote(whole_lines(self._reading.source.text, span))


def whole_lines(text: str, span: Span, reach: int = 400) -> Span:
    """A span widened to the ends of its lines, by no more than ``reach`` characters each way."""
    start = text.rfind("\n", max(0, span.start - reach), span.start) + 1 or max(0, span.start - reach)
    end = text.find("\n", span.end, span.end + reach)
    return Span(start, end if end >= 0 else min(len(text), span.end + reach))


def _any_of(phrases: object) -> re.Pattern[str] | None:
    forms = [phrases] if isinstance(phrases, str) else list(phrases) if isinstance(phrases, (list, tuple)) else []
    if not forms:
        return None
    return re.compile("|".join(rf"(?<!\w){re.escape(form)}(?!\w)" for form in forms), re.IGNORECASE)


def _standing_text(pattern: Pattern) -> list[str]:
    texts = [*pattern.notes, *pattern.materials]
    for part in pattern.parts:
        texts.extend(part.notes)
        _notes(part.steps, texts)
    return texts


def _notes(steps: list[Step], texts: list[str]) -> None:
    waiting = [steps]
    while waiting:
        for step in waiting.pop():
            if isinstance(step, Note):
                texts.append(step.text)
            elif isinstance(step, Repeat):
                waiting.append(step.steps)
