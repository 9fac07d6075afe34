"""From text to tokens, by the convention's vocabulary and the pattern's own list."""

from __future__ import annotations

import re
from collections.abc import Mapping
from itertools import islice
from typing import Any

from larkshead.conventions import Convention
from larkshead.reading.grammar.tokens import Token

_FRACTIONS = {
    "¼": "1/4",
    "½": "1/2",
    "¾": "3/4",
    "⅓": "1/3",
    "⅔": "2/3",
    "⅛": "1/8",
    "⅜": "3/8",
    "⅝": "5/8",
    "⅞": "7/8",
}
_DASHES = frozenset("-–—−‐‑‒")
_LETTERS = r"[^\W\d_]"
_ALTERNATIVES = rf"""
    (?P<PARA>\n[ \t\r\f\v]*(?:\n[ \t\r\f\v]*)+)
  | (?P<NL>\n)
  | (?P<FRACTION>[¼½¾⅓⅔⅛⅜⅝⅞])
  | (?P<ORDNUM>\d+(?:st|nd|rd|th)(?![\w])|\d*[23]d(?![\w]))
  | (?P<NUM>(?:(?<!{_LETTERS})[lI](?=\d))?\d+(?:(?<=1)[lI](?!{_LETTERS})|[oO](?!{_LETTERS}))?)
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
"""
_RAW = re.compile(_ALTERNATIVES, re.VERBOSE)
_TENS = {20, 30, 40, 50, 60, 70, 80, 90}
_HUGE = 10**18
# What makes a fraction or decimal number of the numbers before it.
_INCH_MARKS = '"″”'
_MEASURED = frozenset({"UNIT", "QUOTE"})
# Forms of a pattern's own that are looked for at most; no list of abbreviations is as long.
MOST_OWN = 150
Own = Mapping[str, tuple[str, Any]]


def tokenize(
    text: str,
    convention: Convention,
    own: Own | None = None,
    start: int = 0,
    end: int | None = None,
    most: int | None = None,
) -> list[Token]:
    """The tokens of ``text[start:end]``, ``most`` at most.

    ``own`` is the pattern's own list, forms as spelt with their kind and value: it rules over the convention.
    """
    own = own or {}
    raw = _raw_tokens(text, start, len(text) if end is None else end, own, most)
    return _phrases(raw, text, convention, own)


def own_pattern(own: Own) -> re.Pattern[str]:
    """The lexer with the pattern's own forms before all else, the longest first.

    A form of letters stands alone or beside figures; a full stop, colon or comma that is a mark stands between
    figures; a dash is none between letters.
    """
    forms = sorted((form for form in islice(own, MOST_OWN) if form), key=len, reverse=True)
    return re.compile(f"(?P<OWN>{'|'.join(map(_own_alternative, forms))})|{_ALTERNATIVES}", re.VERBOSE)


def _own_alternative(form: str) -> str:
    escaped = re.sub(r"(?:\\?\s)+", r"[\\ \\t]+", re.escape(form))
    if form[0].isalpha():
        escaped = rf"(?<!{_LETTERS})" + escaped
        if len(form) > 1 and not form.isupper():
            escaped = r"(?<!['’])" + escaped
    elif form[0].isdigit():
        escaped = r"(?<!\d)" + escaped
    if form[-1].isalpha():
        return escaped + rf"(?!['’]?{_LETTERS})"
    if len(form) == 1 and form in ".,:;!?":
        return rf"(?<=\d)[ ]?{escaped}(?=[ ]?\d)"
    if set(form) <= _DASHES:
        return rf"(?<![-–—−‐‑‒])(?:{escaped})(?![-–—−‐‑‒])(?!(?<={_LETTERS}{escaped}){_LETTERS})"
    if set(form) in ({"/"}, {"+"}):
        return rf"(?<!{re.escape(form[0])})(?:{escaped})(?!{re.escape(form[0])})"
    return escaped


def _raw_tokens(text: str, start: int, end: int, own: Own, most: int | None) -> list[Token]:
    """Numbers, words and marks, words not yet looked up (kind WORD)."""
    tokens: list[Token] = []
    add = tokens.append
    last = start
    for found in islice((own_pattern(own) if own else _RAW).finditer(text, start, end), most):
        kind = found.lastgroup or "OTHER"
        at, stop = found.span()
        raw = found.group()
        value: Any = raw
        spaced = at > last or at == start
        if kind == "NUM":
            value = int(_figures(raw)) if len(raw) < 19 else _HUGE
        elif kind == "ORDNUM":
            kind, value = "ORD", int(re.match(r"\d+", raw).group()[:18])  # type: ignore[union-attr]
        elif kind == "FRACTION":
            value = _FRACTIONS.get(raw, raw)
        elif kind == "DOTTED":
            kind = "WORD"
        elif kind == "OWN" and raw != (bare := raw.strip()):
            at, raw, value = at + raw.index(bare), bare, bare
        add(Token(kind, value, at, stop, spaced, raw))
        last = stop
    return tokens


def _figures(raw: str) -> str:
    """Letters typed or scanned for figures: l and I for 1, O for 0."""
    if raw.isdigit():
        return raw
    return raw.replace("l", "1").replace("I", "1").replace("O", "0").replace("o", "0")


class _Vocabulary:
    """Phrases of a convention by their first word, longest first."""

    __slots__ = ("by_first",)

    def __init__(self, forms: Mapping[str, tuple[str, Any]]) -> None:
        self.by_first: dict[str, list[tuple[tuple[str, ...], str, Any, bool]]] = {}
        for form, (kind, value) in forms.items():
            words = tuple(re.findall(r"\d+(?:st|nd|rd|th)|\d+|[^\W\d_]+(?:'[^\W\d_]+)*|[^\s\w]", form))
            if words:
                glued = len(words) > 1 and " " not in form
                self.by_first.setdefault(words[0], []).append((words, kind, value, glued))
        for entries in self.by_first.values():
            entries.sort(key=lambda e: -len(e[0]))


def _vocabulary(convention: Convention) -> _Vocabulary:
    found = convention.cache.get("vocabulary")
    if found is None:
        found = convention.cache["vocabulary"] = _Vocabulary(convention.forms)
    assert isinstance(found, _Vocabulary)
    return found


def _phrases(raw: list[Token], text: str, convention: Convention, own: Own) -> list[Token]:
    """Words and marks looked up, longest phrase first; number words composed, fractions and decimals put together."""
    by_first = _vocabulary(convention).by_first
    folded = _folded(own) if own else {}
    split = _split_hyphens(raw)
    tokens: list[Token] = []
    lowered = [t.text.lower().replace("’", "'") for t in split]
    count, at = len(split), 0
    while at < count:
        token = split[at]
        kind = token.kind
        if kind == "OWN":
            kind, value = own[token.text] if token.text in own else folded[" ".join(token.text.split())]
            tokens.append(token._replace(kind=kind, value=value))
            at += 1
            continue
        match = None
        if kind == "WORD" or lowered[at] in by_first:
            match = _longest(by_first.get(lowered[at]), lowered, split, at)
        if match is None:
            if kind == "QUOTE" and token.text in _INCH_MARKS and not token.spaced:
                _measure(tokens)
            elif kind == "WORD":
                parts = (
                    _element_and_letter(token, by_first) or _beads(token, by_first) or _run_together(token, by_first)
                )
                if parts is not None:
                    tokens += parts
                    at += 1
                    continue
            tokens.append(token)
            at += 1
            continue
        size, kind, value = match
        last = split[at + size - 1]
        spelt = token.text if size == 1 else text[token.start : last.end]
        if kind in ("NUM", "ORD", "FRACTION"):
            _add_number(tokens, Token(kind, value, token.start, last.end, token.spaced, spelt), text)
        elif kind == "MULTIPLE":
            _add_number(tokens, Token("NUM", value, token.start, last.end, token.spaced, spelt), text, multiple=True)
        elif kind == "UNIT":
            if _measure(tokens):
                tokens.append(Token(kind, value, token.start, last.end, token.spaced, spelt))
            else:
                # A word that is a unit after a number only ("in").
                tokens.append(Token("to" if size == 1 else "WORD", value, token.start, last.end, token.spaced, spelt))
        else:
            tokens.append(Token(kind, value, token.start, last.end, token.spaced, spelt))
        at += size
    return _shuttle_letters(_short_ordinals(tokens))


def _folded(own: Own) -> dict[str, tuple[str, Any]]:
    return {" ".join(form.split()): meaning for form, meaning in own.items()}


def _split_hyphens(raw: list[Token]) -> list[Token]:
    """Hyphened words parted."""
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
    entries: list[tuple[tuple[str, ...], str, Any, bool]] | None, words: list[str], tokens: list[Token], at: int
) -> tuple[int, str, Any] | None:
    """The longest phrase that stands at ``at``: how many tokens, its kind and value."""
    for phrase, kind, value, glued in entries or ():
        size = len(phrase)
        if size == 1 or (
            at + size <= len(words) and tuple(words[at : at + size]) == phrase and _unbroken(tokens, at, size, glued)
        ):
            return size, kind, value
    return None


def _unbroken(tokens: list[Token], at: int, size: int, glued: bool) -> bool:
    """No blank line inside, and no space in a form written without (``b4``)."""
    if glued and any(t.spaced for t in tokens[at + 1 : at + size]):
        return False
    return all(t.kind not in ("PARA", "STOP", "COMMA", "OWN") or len(t.text) == 1 for t in tokens[at : at + size])


def _add_number(tokens: list[Token], token: Token, text: str, multiple: bool = False) -> None:
    """Compose number words: twenty-four, two dozen, twenty-first."""
    if tokens and token.kind in ("NUM", "ORD"):
        before = tokens[-1]
        worded = not before.text.isdigit()
        if before.kind == "NUM" and worded and before.value in _TENS and 0 < token.value < 10:
            tokens[-1] = token._replace(
                value=before.value + token.value,
                start=before.start,
                spaced=before.spaced,
                text=before.text + " " + token.text,
            )
            return
        counted = before.kind == token.kind == "NUM" and worded
        if counted and before.end + 1 == token.start and text[before.end] == "-":
            # "five-five": counts in words, and a mark between them.
            tokens.append(Token("DASH", "-", before.end, token.start, False, "-"))
        if multiple and before.kind == "NUM" and before.value < token.value:
            tokens[-1] = token._replace(
                value=before.value * token.value,
                start=before.start,
                spaced=before.spaced,
                text=before.text + " " + token.text,
            )
            return
    tokens.append(token)


def _measure(tokens: list[Token]) -> bool:
    """Before a unit: ``3/8`` and ``2.5`` become one number. Whether a number stands there at all."""
    behind: list[Token] = []
    while tokens and len(behind) < 2 and tokens[-1].kind in ("of", "glue", "WORD"):
        behind.append(tokens.pop())
    if behind and behind[-1].kind != "of" and len(behind) == 2:
        tokens += reversed(behind)
        behind = []
    if (
        len(tokens) >= 3
        and tokens[-1].kind == "NUM"
        and tokens[-3].kind == "NUM"
        and not tokens[-1].spaced
        and not tokens[-2].spaced
    ):
        first, mark, last = tokens[-3:]
        if mark.text == "/" or mark.text in (".", ","):
            value = first.text + mark.text + last.text
            del tokens[-3:]
            tokens.append(Token("FRACTION", value, first.start, last.end, first.spaced, value))
    number = bool(tokens) and (tokens[-1].kind in ("NUM", "FRACTION", "ORD") or bool(behind))
    tokens += reversed(behind)
    return number or (bool(tokens) and tokens[-1].kind in ("glue", "about", "small", "DASH", "SHUT", "each", "another"))


def _element_and_letter(token: Token, by_first: Mapping[str, Any]) -> tuple[Token, Token] | None:
    """``RA``, ``ChB``: an element's abbreviation with its letter."""
    text = token.text
    if not (2 <= len(text) <= 3 and text[-1].isupper() and text[0].isupper()):
        return None
    entry = by_first.get(text[:-1].lower())
    if not entry or len(entry[-1][0]) != 1 or entry[-1][1] not in ("ring", "chain", "split_ring", "mock_ring"):
        return None
    middle = token.end - 1
    return (
        Token(entry[-1][1], text[:-1], token.start, middle, token.spaced, text[:-1]),
        Token("label", text[-1], middle, token.end, False, text[-1]),
    )


def _beads(token: Token, by_first: Mapping[str, Any]) -> tuple[Token, ...] | None:
    """``BB``: a bead for each letter."""
    text = token.text
    letter = text[0].lower()
    if not 2 <= len(text) <= 9 or text.lower() != letter * len(text):
        return None
    entry = by_first.get(letter)
    if not entry or len(entry[-1][0]) != 1 or entry[-1][1] != "bead":
        return None
    return tuple(
        Token("bead", text[at], token.start + at, token.start + at + 1, token.spaced and at == 0, text[at])
        for at in range(len(text))
    )


_RUN_TOGETHER = frozenset({"close", "reverse_work", "no_turn", "cut"})


def _run_together(token: Token, by_first: Mapping[str, Any]) -> tuple[Token, ...] | None:
    """``clrRW``, ``CLRWCh``: abbreviations of what is done behind an element, and that of the next element."""
    text = token.text
    if not 3 <= len(text) <= 8:
        return None
    for middle in range(min(len(text) - 1, 5), 0, -1):
        kind = _single(text[:middle], by_first)
        if kind not in _RUN_TOGETHER:
            continue
        at = token.start + middle
        first = Token(kind, text[:middle], token.start, at, token.spaced, text[:middle])
        rest = Token("WORD", text[middle:], at, token.end, False, text[middle:])
        second = _single(rest.text, by_first)
        if (second in _RUN_TOGETHER and second != kind) or (second in ("ring", "chain") and rest.text[0].isupper()):
            return first, rest._replace(kind=second)
        more = _run_together(rest, by_first)
        if more is not None:
            return first, *more
    return None


def _single(text: str, by_first: Mapping[str, Any]) -> str:
    """The kind of a form that is one short word."""
    entry = by_first.get(text.lower()) if len(text) <= 4 else None
    return entry[-1][1] if entry and len(entry[-1][0]) == 1 else ""


_NAMED_BY_ORDINAL = frozenset(
    {
        "ring",
        "chain",
        "split_ring",
        "split_chain",
        "mock_ring",
        "josephine_ring",
        "round",
        "row",
        "motif",
        "small",
        "large",
        "picot",
    }
)


def _short_ordinals(tokens: list[Token]) -> list[Token]:
    """``2d`` and ``3d``: an ordinal before what it counts, else so many doubles."""
    if not any(_is_short_ordinal(token) for token in tokens):
        return tokens
    out: list[Token] = []
    for at, token in enumerate(tokens):
        if _is_short_ordinal(token):
            after = tokens[at + 1].kind if at + 1 < len(tokens) else "END"
            before = tokens[at - 1].kind if at else "END"
            if after not in _NAMED_BY_ORDINAL or (after == "picot" and before not in ("to", "of", "glue")):
                middle = token.end - 1
                out.append(token._replace(kind="NUM", end=middle, text=token.text[:-1]))
                out.append(Token("double_stitch", "d", middle, token.end, False, "d"))
                continue
        out.append(token)
    return out


def _is_short_ordinal(token: Token) -> bool:
    return token.kind == "ORD" and token.text[-1] in "dD" and token.text[-2:-1].isdigit()


_ELEMENT_NOUNS = frozenset(
    {"ring", "chain", "split_ring", "split_chain", "josephine_ring", "mock_ring", "large_ring", "small_ring"}
)


def _shuttle_letters(tokens: list[Token]) -> list[Token]:
    """``S1 R 5-5``: a letter with its number before an element names the shuttle; elsewhere it is a plain word."""
    for at, token in enumerate(tokens):
        if token.kind == "shuttle_letter":
            number, after = tokens[at + 1 : at + 2], tokens[at + 2 : at + 4]
            if after and after[0].kind in ("COLON", "SHUT"):
                after = after[1:]
            named = (
                number
                and after
                and number[0].kind == "NUM"
                and not number[0].spaced
                and 0 < number[0].value < 4
                and after[0].kind in _ELEMENT_NOUNS
            )
            tokens[at] = token._replace(kind="shuttle" if named else "WORD")
    return tokens
