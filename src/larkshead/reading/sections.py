"""A text of several styles parted into stretches of one look each: running words, lines of abbreviations, rows of cells.

Nothing here knows a language or a notation; whether a stretch tells steps, its reader finds out.
"""

from __future__ import annotations

import re
from typing import Literal

from larkshead.reading.source import Span
from larkshead.reading.texture import counts, is_terse, tabular, words_share
from larkshead.records import dataclass

Look = Literal["words", "lines", "cells", ""]

_PARAGRAPH = re.compile(r"[^\n]*\S[^\n]*(?:\n[^\n]*\S[^\n]*)*")
_NOT_BLANK = re.compile(r"[^\n]")
# Sentences have so many words, paragraphs of cells so many rows.
_SENTENCE, _ROWS = 7, 3
_WORDY, _CELLS = 0.5, 0.6
_BAR = re.compile(r"\|[^\n|]*\||\t[^\n\t]*\t")


@dataclass(slots=True)
class Section:
    """A stretch of a text and how it looks."""

    span: Span
    look: Look


def sections_of(text: str) -> list[Section]:
    """The text in stretches that differ in look from the one before; the whole text is in one of them.

    Lines that look like nothing much (headings, short remarks, blank lines) stay with what stands before them, a heading
    that ends in a colon with what follows.
    """
    pieces: list[Section] = []
    for paragraph in _PARAGRAPH.finditer(text):
        pieces += _pieces(text, paragraph.start(), paragraph.end())
    joined: list[Section] = []
    waiting: int | None = None
    for piece in pieces:
        start = piece.span.start
        if not piece.look:
            if text[start : piece.span.end].rstrip().endswith(":"):
                waiting = start if waiting is None else waiting
            continue
        if joined and joined[-1].look == piece.look:
            joined[-1].span = Span(joined[-1].span.start, piece.span.end)
        else:
            joined.append(Section(Span(start if waiting is None else waiting, piece.span.end), piece.look))
        waiting = None
    for at, section in enumerate(joined):
        end = joined[at + 1].span.start if at + 1 < len(joined) else len(text)
        section.span = Span(section.span.start if at else 0, end)
    return joined


def only(text: str, spans: list[Span]) -> str:
    """The text with everything outside the spans (in order) blanked, so that places in it stay what they are."""
    out: list[str] = []
    at = 0
    for span in spans:
        out += _NOT_BLANK.sub(" ", text[at : span.start]), text[span.start : span.end]
        at = span.end
    out.append(_NOT_BLANK.sub(" ", text[at:]))
    return "".join(out)


def _pieces(text: str, start: int, end: int) -> list[Section]:
    """A paragraph, whole where it is a table of any kind, else line by line."""
    paragraph = text[start:end]
    rows = paragraph.count("\n") + 1
    barred = sum(_BAR.search(line) is not None for line in paragraph.split("\n"))
    if barred >= 2 and barred >= 0.8 * rows:
        return [Section(Span(start, end), "cells")]
    if rows >= _ROWS and tabular(paragraph) >= _CELLS and words_share(paragraph) < _WORDY:
        return [Section(Span(start, end), "cells")]
    found: list[Section] = []
    at = start
    for line in paragraph.split("\n"):
        found.append(Section(Span(at, at + len(line)), _look(line)))
        at += len(line) + 1
    return found


def _look(line: str) -> Look:
    if line.rstrip().endswith(":"):
        return ""
    if is_terse(line) or (counts(line) and words_share(line) < _WORDY):
        return "lines"
    if len(line.split()) >= _SENTENCE and words_share(line) >= _WORDY:
        return "words"
    return ""
