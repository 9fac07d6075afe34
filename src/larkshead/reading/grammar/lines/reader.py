"""Reading a text in lines of shorthand: what stands about the steps set apart, the own list laid over the convention,
the lines read.
"""

from __future__ import annotations

import re

from larkshead.conventions import Convention
from larkshead.model import BareThread, Note, Pattern
from larkshead.reading.grammar.abbreviations import tell_abbreviations
from larkshead.reading.grammar.account import hear_front, hear_plain, tell_lost
from larkshead.reading.grammar.front import Front, read_front
from larkshead.reading.grammar.layout.layout import Layout
from larkshead.reading.grammar.lexer import tokenize
from larkshead.reading.grammar.lines.heads import without_bullets
from larkshead.reading.grammar.lines.lines import Lines
from larkshead.reading.grammar.lines.plain import MOST_TOKENS, PlainLines
from larkshead.reading.grammar.meanings import Meaning
from larkshead.reading.grammar.said import SaidCover, SaidStep
from larkshead.reading.grammar.tokens import Token
from larkshead.reading.grammar.unfollowed import keep_unfollowed
from larkshead.reading.reading import Reading
from larkshead.reading.source import Source, Span

# No line of a pattern is as long; one that is is not read, and said.
_LONGEST_LINE = 100_000
# Letters at the head of lines that may name the elements, whatever else they abbreviate.
_HEADS = re.compile(r"^[ABD][ \t]+\d", re.MULTILINE)


def read_lines(source: Source, convention: Convention, style: str) -> Reading:
    """The reading of a text in lines of abbreviations and marks."""
    text = source.text
    stretches, overlong = _stretches(text)
    if _HEADS.search(text) and not overlong:
        plain = tokens = tokenize(text, convention, most=MOST_TOKENS)
    else:
        tokens, plain = PlainLines.of(convention).tokens(text, convention, stretches)
    tokens = without_bullets(tokens)
    front = read_front(text, tokens)
    names: dict[str, list[Token]] = {}
    if front.own:
        tokens = [t for start, end in stretches for t in tokenize(text, convention, front.own, start, end, MOST_TOKENS)]
        tokens = without_bullets(tokens)
        for form, span in front.names.items():
            inner = [
                t for t in tokens if span.start <= t.start < span.end and not (t.kind == "NAME" and t.value == form)
            ]
            inner.append(Token("KIND", front.name_kinds.get(form, "ring"), span.end, span.end, False, ""))
            names[form] = inner
    lines = Lines(without(tokens, front.skip), names)
    lines.same_size = any(isinstance(value, Meaning) and value.same_size for _, value in front.own.values())
    lines.space = front.space_length
    lines.shuttles = sum(thread.role == "shuttle" for thread in front.threads)
    said = lines.run()
    if front.space_length is not None and not any(
        isinstance(thing, SaidStep) and isinstance(thing.step, BareThread) for thing in said
    ):
        # "All spaces 6 mm", and no space is told where it stands.
        begin = tokens[0].start if tokens else 0
        said.append(SaidCover("space", Span(begin, begin), True, BareThread(front.space_length)))
    layout = Layout()
    layout.notices = lines.notices
    pattern = layout.build(said)
    for span in overlong:
        layout.notice(
            "too-long",
            "error",
            f"a line of more than {_LONGEST_LINE:,} characters is not read",
            Span(span.start, span.start + 1),
        )
    if tokens and text[tokens[-1].end : stretches[-1].end].strip():
        at = tokens[-1].end
        message = f"more than {MOST_TOKENS:,} words and marks; what follows from here on is not read"
        layout.notice("too-long", "error", message, Span(at, min(at + 1, len(text))))
    surround(pattern, front)
    layout.origins.heard += lines.heard
    hear_plain(layout.origins, tokens)
    hear_front(layout.origins, front, source)
    reading = Reading(source, pattern, layout.origins, layout.notices, style, convention.name)
    tell_abbreviations(reading, plain, convention, [front])
    tell_lost(reading, tokens, convention)
    keep_unfollowed(reading)
    return reading


def _stretches(text: str) -> tuple[list[Span], list[Span]]:
    """The text in stretches without its overlong lines, and those lines."""
    kept: list[Span] = []
    overlong: list[Span] = []
    at = start = 0
    while len(text) - at > _LONGEST_LINE:
        end = text.rfind("\n", at, at + _LONGEST_LINE)
        if end >= 0:
            at = end + 1
            continue
        end = text.find("\n", at)
        end = len(text) if end < 0 else end
        if at > start:
            kept.append(Span(start, at))
        overlong.append(Span(at, end))
        start = at = end
        if at < len(text):
            at += 1
    if start < len(text) or not kept:
        kept.append(Span(start, len(text)))
    return kept, overlong


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
    first = pattern.parts[0] if len(pattern.parts) > 1 else None
    if first is not None and not (first.kind or first.name) and all(isinstance(step, Note) for step in first.steps):
        # What is said before the first heading, and works nothing, is said of the whole.
        pattern.notes += [step.text for step in first.steps if isinstance(step, Note)]
        del pattern.parts[0]
