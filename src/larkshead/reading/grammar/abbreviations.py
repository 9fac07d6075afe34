"""Which abbreviations and marks a text uses in its instructions, and which it explains where they stand.

Nothing is told of a mark between counts unless the pattern's own list explains marks at all: a dash is punctuation to
some.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import TYPE_CHECKING

from larkshead.conventions import Convention
from larkshead.reading.grammar.lexer import MOST_OWN
from larkshead.reading.grammar.places import ELEMENTS, PARTS
from larkshead.reading.grammar.tokens import Token
from larkshead.reading.notices import Notice
from larkshead.reading.reading import Reading
from larkshead.reading.source import Span

if TYPE_CHECKING:
    from larkshead.reading.grammar.front import Front

_LONGEST = 5
_UNKNOWN = 3
_COUNTED = frozenset({"NUM", "SHUT", "OPEN"})
_LABELLED = frozenset({*ELEMENTS, *PARTS})
_EXPLAINS = frozenset({"COLON", "EQUALS", "means", "DASH"})


def tell_abbreviations(reading: Reading, tokens: list[Token], convention: Convention, fronts: Sequence[Front]) -> None:
    """Fill in what a reading knows of abbreviations and threads: those used, those explained, and where.

    ``tokens`` are those the convention alone makes of the text, ``fronts`` what stands about its steps.
    """
    defined = explained_in_place(tokens, convention)
    entries: list[Span] = []
    for front in fronts:
        defined |= front.defined
        entries += front.entries
        for entry, span in zip(front.abbreviations, front.entries, strict=True):
            reading.origins.record(entry, span)
        for thread in front.threads:
            if front.threads_at is not None:
                reading.origins.record(thread, front.threads_at)
        if len(front.own) > MOST_OWN:
            most = f"only the first {MOST_OWN} of the {len(front.own):,} abbreviations explained here rule the reading"
            reading.notices.append(Notice("too-many-abbreviations", "warning", most, front.entries[MOST_OWN]))
    reading.abbreviations_defined = defined
    reading.abbreviations_used = abbreviations_used(tokens, convention, defined, entries)


def abbreviations_used(
    tokens: list[Token], convention: Convention, defined: Collection[str], apart: Collection[Span] = ()
) -> list[tuple[str, Span]]:
    """The abbreviations and marks met, in reading order, each time with its place; those in ``apart`` are left out.

    ``tokens`` are those the convention alone makes of the text; ``defined`` the forms the text explains.
    """
    marks = any(not form[0].isalnum() for form in defined if form)
    used: list[tuple[str, Span]] = []
    left = sorted(apart, reverse=True)
    for at, token in enumerate(tokens):
        while left and left[-1].end <= token.start:
            left.pop()
        if left and left[-1].start <= token.start:
            continue
        if token.kind in ("DASH", "PLUS"):
            if marks and _between_counts(tokens, at):
                used.append((token.text, Span(token.start, token.end)))
            continue
        form = "" if _is_label(tokens, at) else _abbreviation(token, convention)
        if form:
            used.append(_with_number(tokens, at, form, defined))
        elif token.kind == "WORD" and len(token.text) <= _UNKNOWN and _between_counts(tokens, at):
            # Letters among the counts that stand for nothing the convention knows.
            used.append((token.text, Span(token.start, token.end)))
    return used


def explained_in_place(tokens: list[Token], convention: Convention) -> set[str]:
    """Forms explained in brackets: ``lock join (LJ)``, ``LJ (lock join)``, ``(ds: double stitch)``."""
    found: set[str] = set()
    for at, token in enumerate(tokens):
        form = _abbreviation(token, convention)
        if not form:
            continue
        before = tokens[at - 2 : at] if at >= 2 else []
        after = tokens[at + 1 : at + 3]
        behind = len(before) == 2 and before[1].kind == "OPEN" and _same(before[0], token)
        ahead = len(after) == 2 and after[0].kind in _EXPLAINS | {"OPEN"} and _same(after[1], token)
        if behind or ahead:
            found.add(form)
    return found


def _same(words: Token, form: Token) -> bool:
    return words.kind == form.kind and len(words.text) > len(form.text)


def _abbreviation(token: Token, convention: Convention) -> str:
    """The abbreviation a token is spelt as; empty for a word written out and for what is no term."""
    term = convention.terms.get(token.kind)
    text = token.text
    if term is None or not text or not text.isalpha() or len(text) > _LONGEST:
        return ""
    plain = text.casefold()
    if plain in (word.casefold() for word in term.say):
        return ""
    return text if plain == term.short.casefold() or (text.isupper() and len(text) > 1) else ""


def _with_number(tokens: list[Token], at: int, form: str, defined: Collection[str]) -> tuple[str, Span]:
    """``SH2`` where the text explains it so, with its number; else the letters alone."""
    token = tokens[at]
    after = tokens[at + 1] if at + 1 < len(tokens) else None
    if after is not None and after.kind == "NUM" and not after.spaced and form + after.text in defined:
        return form + after.text, Span(token.start, after.end)
    return form, Span(token.start, token.end)


def _is_label(tokens: list[Token], at: int) -> bool:
    """``Ring B``: a capital by itself behind what it names."""
    text = tokens[at].text
    return len(text) == 1 and text.isupper() and at > 0 and tokens[at - 1].kind in _LABELLED


def _between_counts(tokens: list[Token], at: int) -> bool:
    before = tokens[at - 1] if at else None
    after = tokens[at + 1] if at + 1 < len(tokens) else None
    return before is not None and after is not None and before.kind == "NUM" and after.kind in _COUNTED
