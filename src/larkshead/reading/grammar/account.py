"""Accounting for words that make no step: what stands about the steps, filler, words taken back or said again, and any
that were lost.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator

from larkshead.conventions import Convention
from larkshead.reading.coverage import lost_of
from larkshead.reading.grammar.front import Front
from larkshead.reading.grammar.tokens import Token
from larkshead.reading.notices import Notice
from larkshead.reading.origins import Origins
from larkshead.reading.reading import Reading
from larkshead.reading.source import Source, Span

# Words and marks of running text that are read at most; they fill some three hundred pages.
MOST_WORDS = 100_000
# How much of what was not read a notice shows.
_SHOWN = 60
_NUMBERS = frozenset({"NUM", "ORD", "FRACTION"})


def is_telling(token: Token, convention: Convention) -> bool:
    """A number or a word of the trade: what may not go without being told of."""
    return token.kind in _NUMBERS or (token.kind in convention.terms and token.text[:1].isalpha())


def hear_front(origins: Origins, front: Front, source: Source) -> None:
    """What stands about the steps: notes, and all that has a place of its own in the pattern."""
    notes = set(front.notes)
    for span in front.skip:
        kept = source.quote(span).strip() in notes
        (origins.noted if kept else origins.heard).append(span)


def hear_filler(
    origins: Origins, tokens: list[Token], kept: list[Token], source: Source, convention: Convention
) -> list[Notice]:
    """Filler among ``tokens``, and those that are not ``kept`` for the work: taken back, or said twice.

    Gives a notice for each stretch of the latter that holds a number or a word of the trade.
    """
    origins.heard += [Span(token.start, token.end) for token in kept if token.kind == "glue"]
    notices: list[Notice] = []
    for stretch in _set_aside(tokens, kept):
        span = Span(stretch[0].start, stretch[-1].end)
        origins.heard.append(span)
        if any(is_telling(token, convention) for token in stretch):
            message = f"taken back or said again, and not worked: {source.quote(span)[:60]}"
            notices.append(Notice("set-aside", "note", message, span))
    return notices


def hear_plain(origins: Origins, tokens: list[Token]) -> None:
    """The lines that were understood as they stand, one stretch for all that follow each other."""
    first: Token | None = None
    last = None
    for token in tokens:
        if token.kind == "PLAIN":
            first, last = first or token, token
        elif token.kind != "NL" and first is not None and last is not None:
            origins.heard.append(Span(first.start, last.end))
            first = None
    if first is not None and last is not None:
        origins.heard.append(Span(first.start, last.end))


def tell_lost(reading: Reading, tokens: list[Token], convention: Convention) -> None:
    """A notice for every stretch with a number or a word of the trade that neither a step, a note nor a notice holds."""
    stretches = lost_of(reading)
    if not stretches:
        return
    telling = [token.start for token in tokens if is_telling(token, convention)]
    for lost in stretches:
        at = bisect_left(telling, lost.start)
        if at < len(telling) and telling[at] < lost.end:
            words = " ".join(reading.source.quote(lost).split())
            reading.notices.append(Notice("unread-text", "note", f"not read: {words[:60]}", lost))


def tell_too_long(reading: Reading, tokens: list[Token]) -> None:
    """An error where a running text goes on behind the last word that is read."""
    text = reading.source.text
    if tokens and text[tokens[-1].end :].strip():
        message = f"more than {MOST_WORDS:,} words and marks; what follows from here on is not read"
        reading.notices.append(Notice("too-long", "error", message, Span(tokens[-1].end, len(text))))


def join_unread(reading: Reading) -> None:
    """One notice for stretches of words kept as notes that only marks part."""
    joined: list[Notice] = []
    last: Notice | None = None
    for notice in reading.notices:
        if notice.kind != "unread-text" or notice.severity != "note" or notice.span is None:
            joined.append(notice)
            continue
        if last is not None and last.span is not None and last.span.end <= notice.span.start:
            between = reading.source.text[last.span.end : notice.span.start]
            if not any(char.isalnum() or char == "\n" for char in between):
                last.span = last.span.join(notice.span)
                last.message = f"not read as work, kept as a note: {_short(reading.source.quote(last.span))}"
                continue
        joined.append(notice)
        last = notice
    reading.notices = joined


def _short(text: str) -> str:
    words = " ".join(text.split())
    return words if len(words) <= _SHOWN else words[: _SHOWN - 3] + "..."


def _set_aside(tokens: list[Token], kept: list[Token]) -> Iterator[list[Token]]:
    """Stretches of tokens that no kept token holds."""
    at = 0
    stretch: list[Token] = []
    for token in tokens:
        while at < len(kept) and kept[at].end <= token.start:
            at += 1
        if at == len(kept) or kept[at].start >= token.end:
            stretch.append(token)
        elif stretch:
            yield stretch
            stretch = []
    if stretch:
        yield stretch
