"""The lines most patterns consist of, read by themselves: one element, its counts, closed, turned.

    R 5-5-5-5 cl RW        Ch: 6-6, RW        R3: 5+5-5-5 clr. rw

Such a line means the same wherever it stands, so it is understood once and remembered by its text; where it stands
again only the objects that belong to the place are made. What the line says is what the grammar would say of it: the
two are held together by a test.
"""

from __future__ import annotations

import re

from larkshead.conventions import Convention
from larkshead.model import Join, Picot, Stitches
from larkshead.reading.grammar.lexer import tokenize
from larkshead.reading.grammar.said import PlainLine
from larkshead.reading.grammar.tokens import Token
from larkshead.reading.source import Span

_ELEMENTS = ("ring", "chain")
# Lines remembered at most; a text with more different lines is read without remembering the rest.
_REMEMBERED = 50_000
# A line longer than this is left to the grammar.
_LONGEST = 200
_PICOT = Picot()
_PARTS = re.compile(r"\d+|[-+–]")
_FIGURES = re.compile(r"\d+")
# Words and marks of a text that are read at most, plain lines aside.
MOST_TOKENS = 150_000


class PlainLines:
    """Finds the plain lines of texts in one convention."""

    __slots__ = ("kinds", "line", "next", "remembered")

    def __init__(self, convention: Convention) -> None:
        by_kind: dict[str, list[str]] = {}
        for form, (kind, _) in convention.forms.items():
            if form.isalpha():
                by_kind.setdefault(kind, []).append(form)
        self.kinds = {form: kind for kind in _ELEMENTS for form in by_kind.get(kind, ())}
        self.remembered: dict[str, PlainLine] = {}
        element = _either(
            [
                form
                for form in self.kinds
                if (len(form) > 1 and form[-1] != "s") or form in (convention.short(kind).lower() for kind in _ELEMENTS)
            ]
        )
        close = _either(by_kind.get("close", []))
        turn = _either(by_kind.get("reverse_work", []))
        body = (
            rf"(?P<element>{element})(?:(?P<label>\d{{1,4}}):|:)?[ ]?(?<![\d:]|[a-z](?=\d))"
            rf"(?P<counts>(?<=[ :])\d{{1,4}}(?:[ ]?[-+–][ ]?\d{{1,4}}){{0,60}})"
            rf"(?:,?[ ](?P<close>{close})\b\.?)?(?:[,;]?[ ](?P<turn>{turn})\b\.?)?[ ]*"
        )
        self.line = re.compile(body, re.IGNORECASE)
        self.next = re.compile(rf"^{body}$", re.IGNORECASE | re.MULTILINE)

    @staticmethod
    def of(convention: Convention) -> PlainLines:
        """Those of a convention, made once."""
        found = convention.cache.get("plain lines")
        if found is None:
            found = convention.cache["plain lines"] = PlainLines(convention)
        assert isinstance(found, PlainLines)
        return found

    def tokens(self, text: str, convention: Convention, stretches: list[Span]) -> tuple[list[Token], list[Token]]:
        """The tokens of stretches of a text, a plain line as one of kind PLAIN; and those with a plain line's words,
        once each.
        """
        tokens: list[Token] = []
        words: list[Token] = []
        seen: set[object] = set()
        for stretch in stretches:
            self._tokens(text, convention, stretch, tokens, words, seen)
            if len(words) >= MOST_TOKENS:
                break
        return tokens, words

    def _tokens(
        self,
        text: str,
        convention: Convention,
        stretch: Span,
        tokens: list[Token],
        words: list[Token],
        seen: set[object],
    ) -> None:
        at, end = stretch
        remembered = self.remembered
        while at < end:
            line: PlainLine | None = None
            if at == 0 or text[at - 1] == "\n":
                stop = text.find("\n", at, end)
                stop = end if stop < 0 else stop
                raw = text[at:stop] if stop - at <= _LONGEST else ""
                line = remembered.get(raw)
                if line is None and raw:
                    line = self._understand(raw)
                    if line is not None and len(remembered) < _REMEMBERED:
                        remembered[raw] = line
                if line is not None and len(line.items) == 1 and text[stop + 1 : stop + 2].isdigit():
                    # "Ring 1" above its counts.
                    line = None
            if line is not None:
                tokens.append(Token("PLAIN", line, at, stop, True, raw))
                if line.words not in seen:
                    seen.add(line.words)
                    words += tokenize(text, convention, None, at, stop)
                elif line.label is not None and (line.words, line.label) not in seen:
                    # The same words but for the number behind the first, which may be part of an abbreviation.
                    seen.add((line.words, line.label))
                    words += _labelled(line, raw, at)
                at = stop
                if at < end and text[at] == "\n" and (at + 1 >= end or text[at + 1] not in "\n \t\r"):
                    tokens.append(Token("NL", "\n", at, at + 1, False, "\n"))
                    at += 1
                continue
            ahead = self.next.search(text, at + 1, end)
            stop = ahead.start() if ahead is not None else end
            others = tokenize(text, convention, None, at, stop, MOST_TOKENS)
            tokens += others
            words += others
            at = stop
            if len(words) >= MOST_TOKENS:
                break

    def _understand(self, raw: str) -> PlainLine | None:
        """A line as the grammar reads it by itself; None where it says anything but one element and a turn."""
        found = self.line.fullmatch(raw)
        if found is None:
            return None
        kind = self.kinds[found["element"].lower()]
        close = found.end("close") if found["close"] else -1
        counts = found["counts"]
        start = found.start("counts")
        line = PlainLine(kind, found["label"], 0, max(close, found.end("counts")))
        # What is left of the line without its numbers: lines alike in this use the same abbreviations and marks.
        line.words = _FIGURES.sub("", raw)
        for part in _PARTS.finditer(counts):
            span = Span(start + part.start(), start + part.end())
            text = part.group()
            if text == "+":
                line.joins.append(len(line.items))
                line.items.append(Join())
            elif text.isdigit():
                if not int(text):
                    return None
                line.items.append(Stitches(int(text)))
            else:
                line.items.append(_PICOT)
            line.spans.append(span)
        if found["turn"]:
            line.turn = found.start("turn")
            line.turn_end = line.turn + len(found["turn"])
        return line


def _labelled(line: PlainLine, raw: str, at: int) -> tuple[Token, Token]:
    """The word for the element of a line and the number that is its label."""
    assert line.label is not None
    start = raw.index(line.label)
    end = start + len(line.label)
    return (
        Token(line.kind, raw[:start], at, at + start, True, raw[:start]),
        Token("NUM", int(line.label), at + start, at + end, False, line.label),
    )


def _either(forms: list[str]) -> str:
    known = sorted(set(forms), key=lambda form: (-len(form), form))
    return f"(?:{'|'.join(map(re.escape, known))})" if known else "(?!)"
