"""Reading a text in lines of shorthand: what stands about the steps set apart, the own list laid over the convention, the lines read."""

from __future__ import annotations

import re

from larkshead.conventions import Convention
from larkshead.model import Pattern
from larkshead.reading.grammar.abbreviations import tell_abbreviations
from larkshead.reading.grammar.front import Front, read_front
from larkshead.reading.grammar.layout import Layout
from larkshead.reading.grammar.lexer import tokenize
from larkshead.reading.grammar.lines import Lines
from larkshead.reading.grammar.plainlines import PlainLines
from larkshead.reading.grammar.tokens import Token
from larkshead.reading.reading import Reading
from larkshead.reading.source import Source, Span


# Letters at the head of lines that may name the elements, whatever else they abbreviate.
_HEADS = re.compile(r"^[ABD][ \t]+\d", re.MULTILINE)


def read_lines(source: Source, convention: Convention, style: str) -> Reading:
    """The reading of a text in lines of abbreviations and marks."""
    text = source.text
    if _HEADS.search(text):
        plain = tokens = tokenize(text, convention)
    else:
        tokens, plain = PlainLines.of(convention).tokens(text, convention)
    front = read_front(text, tokens)
    names: dict[str, list[Token]] = {}
    if front.own:
        tokens = tokenize(text, convention, front.own)
        for form, span in front.names.items():
            inner = [t for t in tokens if span.start <= t.start < span.end and not (t.kind == "NAME" and t.value == form)]
            inner.append(Token("KIND", front.name_kinds.get(form, "ring"), span.end, span.end, False, ""))
            names[form] = inner
    lines = Lines(without(tokens, front.skip), names)
    said = lines.run()
    layout = Layout()
    layout.notices = lines.notices
    pattern = layout.build(said)
    surround(pattern, front)
    reading = Reading(source, pattern, layout.origins, layout.notices, style, convention.name)
    tell_abbreviations(reading, plain, convention, [front])
    return reading


def without(tokens: list[Token], skip: list[Span]) -> list[Token]:
    """The tokens that stand in none of the stretches (in order, apart)."""
    if not skip:
        return tokens
    spans = sorted(skip)
    kept: list[Token] = []
    at = 0
    for token in tokens:
        while at < len(spans) and spans[at].end <= token.start:
            at += 1
        if at < len(spans) and spans[at].start <= token.start:
            continue
        kept.append(token)
    return kept


def surround(pattern: Pattern, front: Front) -> None:
    """Title, materials, threads, sizes, list and notes of a pattern."""
    pattern.title = front.title
    pattern.materials = front.materials
    pattern.threads = front.threads
    pattern.sizes = front.sizes
    pattern.finished_size = front.finished_size
    pattern.picot_length = front.picot_length
    pattern.abbreviations = front.abbreviations
    pattern.notes = front.notes
