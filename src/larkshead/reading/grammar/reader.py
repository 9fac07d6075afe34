"""Reading a text in running words: what stands about the steps set apart, the own list laid over the convention, statements read."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from itertools import accumulate, pairwise

from larkshead.conventions import Convention
from larkshead.reading.grammar.abbreviations import tell_abbreviations
from larkshead.reading.grammar.account import (
    MOST_WORDS,
    hear_filler,
    hear_front,
    join_unread,
    tell_lost,
    tell_too_long,
)
from larkshead.reading.grammar.front import Front, read_front
from larkshead.reading.grammar.items import JOINS, WorkSyntax
from larkshead.reading.grammar.lexer import tokenize
from larkshead.reading.grammar.lines.heads import without_bullets
from larkshead.reading.grammar.lines.reader import surround, without
from larkshead.reading.grammar.places import ELEMENTS, PICOTS
from larkshead.reading.grammar.prose.assembly import Assembly
from larkshead.reading.grammar.prose.covering import beads_on_picots, size_of_picots
from larkshead.reading.grammar.prose.likened import names_part, part_names, parts_by_name
from larkshead.reading.grammar.prose.naming import counts_named, unit_names
from larkshead.reading.grammar.prose.normalise import normalise
from larkshead.reading.grammar.prose.speech import dialogue
from larkshead.reading.grammar.prose.statements import ProseStatements
from larkshead.reading.grammar.tokens import Token
from larkshead.reading.grammar.unfollowed import keep_unfollowed
from larkshead.reading.grammar.untold import untold_places
from larkshead.reading.reading import Reading
from larkshead.reading.source import Source, Span

_HEADS = frozenset({"list_head", "materials_head"})
# What a sentence about materials does not speak of.
_WORKED = frozenset(
    {
        *PICOTS,
        *JOINS,
        "double_stitch",
        "reverse_work",
        "fold",
        "no_turn",
        "close",
        "slide",
        "each",
        "half_stitch",
        "first_half",
        "second_half",
        "leave",
        "bare_thread",
        "cut",
        "attach",
        "repeat",
        "like",
    }
)


_COUNTED = frozenset({*PICOTS, "double_stitch", "half_stitch", "first_half", "second_half"})


def read_prose(source: Source, convention: Convention, style: str) -> Reading:
    """The reading of a text in sentences or speech."""
    if convention.habits.get("telling") == "books":
        from larkshead.reading.grammar.books.reader import read_book

        return read_book(source, convention, style)
    plain = tokenize(source.text, convention, most=MOST_WORDS)
    tokens = without_bullets(plain)
    front = read_front(source.text, tokens)
    _keep_sentences(front, tokens, source)
    if front.own:
        tokens = without_bullets(tokenize(source.text, convention, front.own, most=MOST_WORDS))
    tokens = without(tokens, front.skip)
    kept = parts_by_name(normalise(tokens))
    statements = ProseStatements(kept, WorkSyntax(lines=False))
    statements.picot_size = size_of_picots(plain)
    statements.picot_beads = beads_on_picots(plain)
    assembly = Assembly()
    pattern = assembly.build(statements.run())
    for element, at, wrong in untold_places(pattern, assembly.known):
        assembly.notice("contradiction", "warning", wrong, assembly.origins.of(element, at))
    surround(pattern, front)
    assembly.origins.heard += statements.heard
    hear_front(assembly.origins, front, source)
    assembly.notices += hear_filler(assembly.origins, tokens, kept, source, convention)
    reading = Reading(source, pattern, assembly.origins, assembly.notices, style, convention.name)
    tell_abbreviations(reading, plain, convention, [front])
    tell_too_long(reading, plain)
    tell_lost(reading, tokens, convention)
    keep_unfollowed(reading)
    join_unread(reading)
    return reading


def _keep_sentences(front: Front, tokens: list[Token], source: Source) -> None:
    """In running words a sentence that speaks of work is told to the worker, whatever stands before the first ring.

    Only stretches without work, and those that hold an entry of a list under its head, are set apart.
    """
    apart: list[Span] = []
    starts = [token.start for token in tokens]
    stretches = [(span, tokens[bisect_left(starts, span.start) : bisect_left(starts, span.end)]) for span in front.skip]
    head = max((span.start for span, inside in stretches if _HEADS & {t.kind for t in inside}), default=0)
    begun = _first_heading(tokens, head)
    names = unit_names(tokens)
    parts = part_names(tokens)
    talk = dialogue(tokens)
    for span, inside in stretches:
        kinds = {t.kind for t in inside}
        worked = bool(kinds & _WORKED or _names_element(inside)) and not _tells_size(inside)
        worked = worked or counts_named(inside, names) or names_part(inside, parts) or _asks_for_element(inside)
        if talk[0] <= span.start and span.end <= talk[1]:
            # What is asked and answered is no title and no remark.
            words = " ".join(source.quote(span).split())
            front.title = "" if front.title and front.title in words else front.title
            front.notes = [note for note in front.notes if " ".join(note.split()) not in words]
            continue
        told = any(a.kind == "NUM" and b.kind in _COUNTED for a, b in pairwise(inside))
        if span.end <= begun or (kinds & _HEADS and not told) or not worked:
            apart.append(span)
    if not any(_counts(one, two) for one, two in pairwise(tokens) if two.start < head):
        apart += _described(front, tokens, head, source)
    apart.sort()
    heads = [span.start for span in apart]
    ends = list(accumulate((span.end for span in apart), max))
    kept = [
        i
        for i, entry in enumerate(front.entries)
        if (at := bisect_right(heads, entry.start)) and entry.start < ends[at - 1]
    ]
    forms = {front.abbreviations[i].form for i in kept if i < len(front.abbreviations)}
    front.own = {form: meaning for form, meaning in front.own.items() if form in forms}
    front.abbreviations = [front.abbreviations[i] for i in kept if i < len(front.abbreviations)]
    front.entries = [front.entries[i] for i in kept]
    front.skip = apart


def _first_heading(tokens: list[Token], head: int) -> int:
    """Where the first part has its heading, at the head of a line before anything with counts; else the last head of
    materials or lists.
    """
    for before, token, after in zip(tokens, tokens[1:], tokens[2:], strict=False):
        if _counts(before, token) and token.start > head:
            break
        if before.kind in ("NL", "PARA") and (
            (token.kind in ("round", "row", "motif") and after.kind in ("NUM", "ORD"))
            or (token.kind == "centre" and after.kind in ("NL", "PARA"))
        ):
            return max(head, token.start)
    return head


def _counts(token: Token, after: Token) -> bool:
    """``5 ds``: work told with its count."""
    return token.kind == "NUM" and after.kind == "double_stitch"


def _described(front: Front, tokens: list[Token], head: int, source: Source) -> list[Span]:
    """Sentences before the heads of materials and lists that nobody has taken: they describe the piece, and are notes.

    Those that tell when to turn are left to the work.
    """
    spans: list[Span] = []
    taken = sorted(front.skip)
    at = 0
    sentence: list[Token] = []
    for token in tokens:
        if token.start >= head:
            break
        while at < len(taken) and taken[at].end <= token.start:
            at += 1
        if token.kind not in ("STOP", "NL", "PARA"):
            if at == len(taken) or token.start < taken[at].start:
                sentence.append(token)
            continue
        if sentence and not {t.kind for t in sentence} & {"reverse_work", "no_turn"}:
            span = Span(sentence[0].start, sentence[-1].end)
            front.notes.append(source.quote(span))
            spans.append(span)
        sentence = []
    return spans


def _tells_size(tokens: list[Token]) -> bool:
    """``All picots are 3 mm high``: how long picots are, and no work."""
    kinds = [t.kind for t in tokens]
    told = {"picot", "UNIT"} <= set(kinds) and sum(kind in ("NUM", "FRACTION") for kind in kinds) == 1
    return told and not set(kinds) & {*ELEMENTS, "double_stitch", "close", "leave", "bare_thread"}


def _asks_for_element(tokens: list[Token]) -> bool:
    """``Work a split ring.``: a sentence that ends on an element to be made."""
    words = [t for t in tokens if t.kind not in ("STOP", "NL", "PARA")]
    if len(words) == 1:
        return words[0].kind in ELEMENTS and words[0].kind not in ("ring", "chain")
    return len(words) > 2 and words[-1].kind in ELEMENTS and words[-2].value == "one"


def _names_element(tokens: list[Token]) -> bool:
    """A ring or chain with a number beside it: told, and not only named in a title."""
    return any(t.kind in ELEMENTS for t in tokens) and any(t.kind in ("NUM", "ORD", "COLON") for t in tokens)
