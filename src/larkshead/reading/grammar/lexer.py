"""From text to tokens, by the convention's vocabulary and the pattern's own list."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from larkshead.conventions import Convention
from larkshead.reading.grammar.tokens import Token

_FRACTIONS = {"¼": "1/4", "½": "1/2", "¾": "3/4", "⅓": "1/3", "⅔": "2/3", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
_LETTERS = r"[^\W\d_]"
_RAW = re.compile(
    rf"""
    (?P<PARA>\n[ \t]*(?:\n[ \t]*)+)
  | (?P<NL>\n)
  | (?P<FRACTION>(?:\d+[ -])?\d+/\d+(?=\s*(?:["″”]|{_LETTERS}))(?!\s*(?:p|j|ds|cl|rw)\b)|[¼½¾⅓⅔⅛⅜⅝⅞])
  | (?P<DECIMAL>\d+\.\d+(?=\s*(?:mm|cm|m|in|inch|inches|mil|metres?|meters?|yards?)\b))
  | (?P<ORDNUM>\d+(?:st|nd|rd|th|d)(?![\w]))
  | (?P<NUM>(?:(?<![^\W\d_])[lI](?=\d))?\d+)
  | (?P<DOTTED>{_LETTERS}\.\ ?(?={_LETTERS}\.))
  | (?P<WORD>{_LETTERS}+(?:['’]{_LETTERS}+|-(?={_LETTERS}{{2}}){_LETTERS}+)*)
  | (?P<MARK>\*+|\#+|@+|%+|\$+|§+)
  | (?P<ELLIPSIS>…|\.\.+)
  | (?P<DASH>[-–—−‐‑‒]+)
  | (?P<PLUSMINUS>±)
  | (?P<PLUS>\++)
  | (?P<DOT>[·•∙●])
  | (?P<OPEN>[(\[{{<])
  | (?P<SHUT>[)\]}}>])
  | (?P<COMMA>,)
  | (?P<SEMI>;)
  | (?P<COLON>:)
  | (?P<STOP>[.!?])
  | (?P<SLASH>/+)
  | (?P<CARET>\^)
  | (?P<EQUALS>=)
  | (?P<TIMES>×)
  | (?P<QUOTE>["“”″'‘’])
  | (?P<AND>&)
  | (?P<OTHER>[^\s])
    """,
    re.VERBOSE,
)
_TENS = {20, 30, 40, 50, 60, 70, 80, 90}


def tokenize(
    text: str, convention: Convention, own: Mapping[str, tuple[str, Any]] | None = None, start: int = 0, end: int | None = None
) -> list[Token]:
    """The tokens of ``text[start:end]``. ``own`` is the pattern's own list: forms as spelt, over the convention's."""
    raw = _raw_tokens(text, start, len(text) if end is None else end)
    return _phrases(raw, text, convention, own or {})


def _raw_tokens(text: str, start: int, end: int) -> list[Token]:
    """Numbers, words and marks, words not yet looked up (kind WORD)."""
    tokens: list[Token] = []
    add = tokens.append
    last = start
    for found in _RAW.finditer(text, start, end):
        kind = found.lastgroup or "OTHER"
        at, stop = found.span()
        raw = found.group()
        value: Any = raw
        spaced = at > last or at == start
        if kind == "NUM":
            value = int(raw.replace("l", "1").replace("I", "1")) if len(raw) < 19 else 10**18
        elif kind == "ORDNUM":
            kind, value = "ORD", int(re.match(r"\d+", raw).group()[:18])  # type: ignore[union-attr]
        elif kind == "FRACTION":
            value = _FRACTIONS.get(raw, raw)
        elif kind == "DECIMAL":
            kind, value = "FRACTION", raw
        elif kind == "DOTTED":
            kind = "WORD"
        add(Token(kind, value, at, stop, spaced, raw))
        last = stop
    return tokens


class _Vocabulary:
    """Phrases of a convention by their first word, longest first."""

    __slots__ = ("by_first",)

    def __init__(self, forms: Mapping[str, tuple[str, Any]]) -> None:
        self.by_first: dict[str, list[tuple[tuple[str, ...], str, Any]]] = {}
        for form, (kind, value) in forms.items():
            words = tuple(re.findall(r"\d+|[^\W\d_]+(?:'[^\W\d_]+)*|[^\s\w]", form))
            if words:
                self.by_first.setdefault(words[0], []).append((words, kind, value))
        for entries in self.by_first.values():
            entries.sort(key=lambda e: -len(e[0]))


def _vocabulary(convention: Convention) -> _Vocabulary:
    found = convention.cache.get("vocabulary")
    if found is None:
        found = convention.cache["vocabulary"] = _Vocabulary(convention.forms)
    assert isinstance(found, _Vocabulary)
    return found


def _phrases(raw: list[Token], text: str, convention: Convention, own: Mapping[str, tuple[str, Any]]) -> list[Token]:
    """Words and marks looked up, longest phrase first; number words composed."""
    by_first = _vocabulary(convention).by_first
    own_first = _Vocabulary(own).by_first if own else {}
    split = _split_hyphens(raw, by_first, own_first)
    tokens: list[Token] = []
    lowered = [t.text.lower().replace("’", "'") for t in split]
    count, at = len(split), 0
    while at < count:
        token = split[at]
        match = None
        if own_first:
            match = _longest(own_first.get(token.text), [t.text for t in split], split, at) or _longest(
                own_first.get(lowered[at]), lowered, split, at
            )
        if match is None and (token.kind == "WORD" or lowered[at] in by_first):
            match = _longest(by_first.get(lowered[at]), lowered, split, at)
        if match is None:
            tokens.append(token)
            at += 1
            continue
        size, kind, value = match
        last = split[at + size - 1]
        spelt = text[token.start : last.end]
        if kind in ("NUM", "ORD", "FRACTION", "UNIT"):
            _add_number(tokens, Token(kind, value, token.start, last.end, token.spaced, spelt))
        else:
            tokens.append(Token(kind, value, token.start, last.end, token.spaced, spelt))
        at += size
    return tokens


def _split_hyphens(raw: list[Token], *vocabularies: Mapping[str, Any]) -> list[Token]:
    """Hyphened words parted, unless the whole stands in a vocabulary."""
    out: list[Token] = []
    for token in raw:
        if token.kind == "WORD" and "-" in token.text:
            at, first = token.start, True
            for piece in token.text.split("-"):
                out.append(Token("WORD", piece, at, at + len(piece), token.spaced and first, piece))
                at += len(piece) + 1
                first = False
        else:
            out.append(token)
    return out


def _longest(
    entries: list[tuple[tuple[str, ...], str, Any]] | None, words: list[str], tokens: list[Token], at: int
) -> tuple[int, str, Any] | None:
    """The longest phrase that stands at ``at``: how many tokens, its kind and value."""
    for phrase, kind, value in entries or ():
        size = len(phrase)
        if size == 1 or (at + size <= len(words) and tuple(words[at : at + size]) == phrase and _unbroken(tokens, at, size)):
            return size, kind, value
    return None


def _unbroken(tokens: list[Token], at: int, size: int) -> bool:
    """No blank line inside, and letters after digits glued as they were."""
    return all(t.kind not in ("PARA", "STOP", "COMMA") or len(t.text) == 1 for t in tokens[at : at + size])


def _add_number(tokens: list[Token], token: Token) -> None:
    """Compose number words: twenty-four, two dozen, twenty-first."""
    if tokens and token.kind in ("NUM", "ORD"):
        before = tokens[-1]
        worded = not before.text.isdigit()
        if before.kind == "NUM" and worded and before.value in _TENS and 0 < token.value < 10:
            tokens[-1] = token._replace(
                value=before.value + token.value, start=before.start, spaced=before.spaced, text=before.text + " " + token.text
            )
            return
        if token.kind == "NUM" and token.value == 12 and token.text.lower() == "dozen" and before.kind == "NUM" and before.value < 12:
            tokens[-1] = token._replace(
                value=before.value * 12, start=before.start, spaced=before.spaced, text=before.text + " " + token.text
            )
            return
    tokens.append(token)
