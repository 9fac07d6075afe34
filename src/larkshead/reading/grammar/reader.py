"""Reading a text in running words: what stands about the steps set apart, the own list laid over the convention, statements read."""

from __future__ import annotations

from larkshead.conventions import Convention
from larkshead.reading.grammar.abbreviations import tell_abbreviations
from larkshead.reading.grammar.assembly import Assembly
from larkshead.reading.grammar.front import Front, read_front
from larkshead.reading.grammar.items import JOINS, WorkSyntax
from larkshead.reading.grammar.lexer import tokenize
from larkshead.reading.grammar.linereader import surround, without
from larkshead.reading.grammar.normalise import normalise
from larkshead.reading.grammar.places import ELEMENTS, PICOTS
from larkshead.reading.grammar.prose import ProseStatements
from larkshead.reading.grammar.tokens import Token
from larkshead.reading.reading import Reading
from larkshead.reading.source import Source, Span

# What a sentence about materials does not speak of.
_WORKED = frozenset({*PICOTS, *JOINS, "double_stitch", "reverse_work", "no_turn", "close", "slide", "each", "half_stitch", "first_half", "second_half", "leave", "bare_thread", "cut", "attach", "repeat", "like"})


def read_prose(source: Source, convention: Convention, style: str) -> Reading:
    """The reading of a text in sentences or speech."""
    plain = tokens = tokenize(source.text, convention)
    front = read_front(source.text, tokens)
    _keep_sentences(front, tokens)
    if front.own:
        tokens = tokenize(source.text, convention, front.own)
    statements = ProseStatements(normalise(without(tokens, front.skip)), WorkSyntax(lines=False))
    assembly = Assembly()
    pattern = assembly.build(statements.run())
    surround(pattern, front)
    reading = Reading(source, pattern, assembly.origins, assembly.notices, style, convention.name)
    tell_abbreviations(reading, plain, convention, [front])
    return reading


def _keep_sentences(front: Front, tokens: list[Token]) -> None:
    """In running words a sentence that speaks of work is told to the worker, whatever stands before the first ring.

    Only stretches without work, and those that hold an entry of a list under its head, are set apart.
    """
    apart: list[Span] = []
    for span in front.skip:
        inside = [t for t in tokens if span.start <= t.start < span.end]
        kinds = {t.kind for t in inside}
        if "list_head" in kinds or "materials_head" in kinds or not (kinds & _WORKED or _names_element(inside)):
            apart.append(span)
    kept = [i for i, at in enumerate(front.entries) if any(s.start <= at.start < s.end for s in apart)]
    forms = {front.abbreviations[i].form for i in kept if i < len(front.abbreviations)}
    front.own = {form: meaning for form, meaning in front.own.items() if form in forms}
    front.abbreviations = [front.abbreviations[i] for i in kept if i < len(front.abbreviations)]
    front.entries = [front.entries[i] for i in kept]
    front.skip = apart


def _names_element(tokens: list[Token]) -> bool:
    """A ring or chain with a number beside it: told, and not only named in a title."""
    return any(t.kind in ELEMENTS for t in tokens) and any(t.kind in ("NUM", "ORD", "COLON") for t in tokens)
