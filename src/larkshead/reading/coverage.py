"""How much of a text was understood: an account of every word, and what each stretch became.

A reader records where each step came from and which other words it took in; whatever it could not read it says in a
notice. What none of these speaks of was lost, and counts as unread here, so that nothing is lost silently.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from itertools import pairwise

from larkshead.model import Note, Part, Repeat
from larkshead.reading.reading import Reading
from larkshead.reading.source import Span
from larkshead.reading.texture import running
from larkshead.records import dataclass, field

_WORD = re.compile(r"\w+")
_LINE_END = re.compile(r"\n")
# Up to the last end of a sentence that more words follow.
_SENTENCE = re.compile(r".*\w.*[.!?]\s+(?=\w)", re.DOTALL)
_LOST, _UNDERSTOOD, _NOTED, _UNREAD = b"\0\1\2\3"
# Kinds of notices that tell of text that was not read.
NOT_READ = frozenset({"unread-text", "unmatched-repeat", "too-long", "too-deep", "broken-quoting"})


@dataclass(slots=True)
class Coverage:
    """The words of a text: understood, kept as notes, not read; ``lost`` are the stretches that nothing speaks of.

    Words that are lost are counted as unread.
    """

    understood: int = 0
    noted: int = 0
    unread: int = 0
    lost: list[Span] = field(default_factory=list)

    @property
    def words(self) -> int:
        """All words of the text."""
        return self.understood + self.noted + self.unread


@dataclass(slots=True)
class Clause:
    """A stretch of the text and what it became: ``things`` the steps and parts it tells, in order; ``fate`` understood, note,
    or unread."""

    span: Span
    fate: str
    things: list[object] = field(default_factory=list)


def coverage_of(reading: Reading) -> Coverage:
    """The account of every word of a reading's text, in time proportional to the text."""
    text, fates = reading.source.text, _fates(reading)
    coverage = Coverage()
    for start, end, fate in _runs(fates):
        words = len(_WORD.findall(text, start, end))
        if fate == _UNDERSTOOD:
            coverage.understood += words
        elif fate == _NOTED:
            coverage.noted += words
        else:
            coverage.unread += words
            if fate == _LOST and words:
                coverage.lost.append(Span(start, end))
    return coverage


def lost_of(reading: Reading) -> list[Span]:
    """The stretches of a text with words that nothing speaks of."""
    text, fates = reading.source.text, _fates(reading)
    lost = [Span(*found.span()) for found in _LOST_RUN.finditer(fates)]
    return [span for span in lost if _WORD.search(text, *span)]


def clauses_of(reading: Reading) -> list[Clause]:
    """The text in stretches, each with what it became, in order; every word stands in one of them."""
    text, fates = reading.source.text, _fates(reading)
    things: dict[int, list[object]] = {}
    for thing, span in reading.origins:
        things.setdefault(span.start, []).append(thing)
    cuts = {0, len(text), *things, *(start for start, _, _ in _runs(fates))}
    if running(text) < 0.5:
        # In rows of a table and lines of shorthand each line says its own; sentences run over the line's end.
        cuts |= {found.end() for found in _LINE_END.finditer(text)}
    clauses: list[Clause] = []
    for start, end in pairwise(sorted(cuts)):
        fate = {_UNDERSTOOD: "understood", _NOTED: "note"}.get(fates[start], "unread")
        told = things.get(start, [])
        blank = not _WORD.search(text, start, end)
        if blank and not told:
            continue
        if clauses and not told and fate == clauses[-1].fate and text[start - 1] != "\n":
            clauses[-1].span = Span(clauses[-1].span.start, end)
        else:
            clauses.append(Clause(Span(start, end), fate, told))
    for clause, following in pairwise(clauses):
        # The first words of a sentence belong to what it tells, though filler.
        begun = _SENTENCE.match(text, clause.span.start, clause.span.end)
        if begun is not None and not _WORD.search(text, clause.span.end, following.span.start):
            clause.span = Span(clause.span.start, begun.end())
            following.span = Span(begun.end(), following.span.end)
    return clauses


def _fates(reading: Reading) -> bytearray:
    """What became of each character of the text; what is said of it later in this order holds."""
    length = len(reading.source.text)
    fates = bytearray(length)

    def lay(span: Span, fate: int) -> None:
        start, end = max(0, span.start), min(span.end, length)
        if start < end:
            fates[start:end] = bytes((fate,)) * (end - start)

    notes: list[Span] = list(reading.origins.noted)
    heard = merged(reading.origins.heard)
    for span in heard:
        lay(span, _UNDERSTOOD)
    starts = [span.start for span in heard]
    # The stretch heard that the step before stood in.
    low = high = 0
    for thing, span in reading.origins:
        if isinstance(thing, Note):
            notes.append(span)
        elif low <= span.start and span.end <= high:
            # Most steps stand in what was heard already, as did the one before.
            continue
        elif not isinstance(thing, Repeat | Part):
            at = bisect_right(starts, span.start) - 1
            low, high = heard[at] if at >= 0 else (0, 0)
            if high < span.end:
                lay(span, _UNDERSTOOD)
    for span in reading.origins.items_apart():
        lay(span, _UNDERSTOOD)
    for span in notes:
        lay(span, _NOTED)
    for notice in reading.notices:
        if notice.span is not None and notice.kind in NOT_READ:
            lay(notice.span, _UNREAD)
    return fates


def merged(spans: list[Span]) -> list[Span]:
    """Spans in order, those that touch made one."""
    joined: list[Span] = []
    for span in sorted(spans):
        if joined and span.start <= joined[-1].end:
            if span.end > joined[-1].end:
                joined[-1] = Span(joined[-1].start, span.end)
        else:
            joined.append(span)
    return joined


def _runs(fates: bytearray) -> list[tuple[int, int, int]]:
    """Stretches of one fate."""
    return [(found.start(), found.end(), found.group()[0]) for found in _RUN.finditer(fates)]


_LOST_RUN = re.compile(rb"\x00+")
_RUN = re.compile(rb"\x00+|\x01+|\x02+|\x03+")
