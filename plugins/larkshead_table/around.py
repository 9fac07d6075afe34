"""The text about tables: own list, title and materials, sentences that cover all rows, steps told in words."""

from __future__ import annotations

from collections import Counter
from typing import Any

from larkshead.conventions import Convention
from larkshead.model import Pattern, Place
from larkshead.reading import Notice, Source, Span
from larkshead.reading.grammar.front import Front, read_front
from larkshead.reading.grammar.lexer import tokenize
from larkshead.reading.grammar.lines.lines import Lines
from larkshead.reading.grammar.lines.reader import without
from larkshead.reading.grammar.places import ELEMENTS, PARTS
from larkshead.reading.grammar.said import (
    Said,
    SaidChange,
    SaidCover,
    SaidElement,
    SaidHeading,
    SaidLine,
    SaidNote,
    SaidStep,
    SaidStepLabel,
    SaidTotal,
)
from larkshead.reading.grammar.shapes import element_ahead
from larkshead.reading.grammar.tokens import Token
from larkshead.records import dataclass, field
from larkshead_table.joins import read_targets, span_of
from larkshead_table.plans import Again, Plan, Target, Unit
from larkshead_table.repeats import AgainReader, label_key
from larkshead_table.sayings import Listener, clauses

_JOIN_WORDS = frozenset({"PLUS", "join", "joining", "lock_join"})
_BULLETS = frozenset({"DASH", "MARK", "DOT", "OTHER", "PLUS"})
_EXPLAINS = frozenset({"EQUALS", "COLON", "means"})
_BREAKS = frozenset({"NL", "PARA"})
_SENTENCES = frozenset({"STOP", "SEMI", "NL", "PARA"})
_HOW_OFTEN = frozenset({"NUM", "times", "twice", "in_all", "glue", "go_on", "this", "all", "COLON", "STOP", "more"})
# A title longer than this is a sentence.
_LONGEST_TITLE = 9


@dataclass
class Around:
    """What stands about the tables. ``own`` are the forms of the pattern's own list; ``elements`` when the words name
    some."""

    own: dict[str, tuple[str, Any]] = field(default_factory=dict)
    fronts: list[Front] = field(default_factory=list)
    covers: list[SaidCover] = field(default_factory=list)
    default: Place | None = None
    elements: bool = False
    notes: list[str] = field(default_factory=list)
    noted: list[Span] = field(default_factory=list)


def read_own_list(source: Source, convention: Convention, blocks: list[tuple[Span, bool]]) -> Around:
    """The own list, title and materials in the stretches of text; the flag says whether a table stands before."""
    around = Around()
    for span, behind in blocks:
        tokens = _tokens(source, convention, {}, span, behind)
        around.elements = around.elements or any(token.kind in ELEMENTS for token in tokens)
        front = read_front(source.text, tokens, behind)
        around.fronts.append(front)
        for form, meaning in front.own.items():
            if meaning[0] != "NAME":
                around.own.setdefault(form, meaning)
    return around


def _tokens(
    source: Source, convention: Convention, own: dict[str, tuple[str, Any]], span: Span, behind: bool
) -> list[Token]:
    """The tokens of a stretch, without the signs that mark headings in Markdown and the bullets of lists."""
    tokens = tokenize(source.text, convention, own, *span)
    first = [at for at, _ in enumerate(tokens) if at == 0 or tokens[at - 1].kind in _BREAKS]
    marks = Counter(tokens[at].text for at in first if _is_bullet(tokens, at))
    # Behind a table a list has come to its end; before it one such line may explain a mark.
    least = 1 if behind else 2
    dropped = {
        at
        for at in first
        if (tokens[at].kind == "MARK" and tokens[at].text[0] == "#")
        or (_is_bullet(tokens, at) and marks[tokens[at].text] >= least)
    }
    return [token for at, token in enumerate(tokens) if at not in dropped]


def _is_bullet(tokens: list[Token], at: int) -> bool:
    """Whether a mark at the head of a line stands before words and is not explained."""
    if tokens[at].kind not in _BULLETS or at + 1 >= len(tokens):
        return False
    after = tokens[at + 1]
    return after.spaced and after.start - tokens[at].end == 1 and after.kind not in _EXPLAINS


def hear_text(
    source: Source,
    convention: Convention,
    listener: Listener,
    around: Around,
    block: int,
    span: Span,
    behind: bool,
    notices: list[Notice],
) -> Plan:
    """What a stretch of text says beyond its own list, as a row without cells."""
    plan = Plan(span, 0)
    tokens = without(_tokens(source, convention, around.own, span, behind), around.fronts[block].skip)
    for sentence in clauses(tokens, _SENTENCES):
        sentence = [token for token in sentence if token.kind not in _BREAKS]
        while sentence and sentence[-1].kind in ("STOP", "SEMI"):
            sentence.pop()
        if any(token.kind not in ("STOP", "QUOTE", "OTHER", "DASH", "COMMA") for token in sentence):
            _sentence(source, listener, around, plan, sentence, behind, notices)
    return plan


def _sentence(
    source: Source,
    listener: Listener,
    around: Around,
    plan: Plan,
    tokens: list[Token],
    behind: bool,
    notices: list[Notice],
) -> None:
    told = join_told(tokens, listener)
    if told is not None:
        plan.told.append(told)
        return
    plan.turns_after += _turns_after(tokens, listener)
    if plan.turns_after:
        return
    heard = listener.hear(tokens, [], plain=False)
    again = [
        told
        for told in heard.again
        if told.refs or (behind and (told.near or told.last_rows or _commands(tokens) or _counts_only(tokens)))
    ]
    plan.again += again
    plan.loose += heard.changes
    rest = heard.rest if len(again) == len(heard.again) else tokens
    if not rest:
        return
    ahead = _again_ahead(tokens, listener) if not behind else None
    if ahead is not None:
        plan.ahead = ahead
        return
    lines = Lines(rest)
    said: list[Said] = [thing for thing in lines.run() if not isinstance(thing, SaidLine)]
    if lines.default is not None and around.default is None:
        around.default = lines.default
        said = [thing for thing in said if not isinstance(thing, SaidNote)]
    kept: list[Said] = []
    works = behind or (_is_work(said) and any(isinstance(thing, SaidElement) for thing in said))
    for thing in said:
        if isinstance(thing, SaidCover):
            around.covers.append(thing)
        elif isinstance(thing, SaidChange) and (thing.change.passes != "" or thing.change.elements):
            plan.loose.append(thing)
        elif isinstance(thing, SaidHeading):
            plan.heading = thing
        elif isinstance(thing, SaidStepLabel):
            continue
        else:
            kept.append(thing)
    if not kept:
        return
    if all(isinstance(thing, SaidTotal) for thing in kept) or (works and _is_work(kept)):
        for thing in kept:
            if isinstance(thing, SaidElement):
                plan.units.append(Unit(thing))
            else:
                plan.unit().after.append(thing)
        return
    around.notes.append(source.quote(span_of(rest)).strip())
    around.noted.append(span_of(rest))


def _turns_after(tokens: list[Token], listener: Listener) -> list[str]:
    """The rows behind which ``Turn after 1 and 2``, ``RW after rows 1, 3`` turns the work; none where it says another thing."""
    kinds = [token.kind for token in tokens]
    if kinds[:1] != ["reverse_work"] or "after" not in kinds[1:2] or "NUM" not in kinds:
        return []
    named = [token for token in tokens[2:] if token.kind not in ("COMMA", "glue", "STOP", *PARTS)]
    labels = [label_key(token.text) for token in named]
    return labels if all(label in listener.labels for label in labels) else []


def _again_ahead(tokens: list[Token], listener: Listener) -> Again | None:
    """``then follow the table 6 times``, ``Work all rows 8 times:`` before a table: how often it is worked."""
    reader = AgainReader(
        [token for token in tokens if token.kind != "COLON"] or tokens, listener.labels, listener.convention
    )
    reader.read()
    again = reader.again
    if (
        again.in_all is None
        or again.near != "all_rows"
        or again.refs
        or again.kinds
        or len(tokens) > _LONGEST_TITLE + 3
    ):
        return None
    again.how = again.how or "all"
    return again


def _counts_only(tokens: list[Token]) -> bool:
    """Whether a sentence tells how often and nothing else: ``In all 9 times.``, ``Work 6 times.``"""
    kinds = {token.kind for token in tokens}
    return bool({"times", "twice", "in_all"} & kinds) and kinds <= _HOW_OFTEN


def _commands(tokens: list[Token]) -> bool:
    """Whether a sentence opens with the word to repeat, and does not just speak of repeats."""
    return any(token.kind in ("repeat", "work_over") for token in tokens[:2])


def join_told(tokens: list[Token], listener: Listener) -> tuple[Target, Place] | None:
    """``the last + of ring C to the first picot of ring A``: the place of a join named by its own element."""
    marks = [at for at, token in enumerate(tokens) if token.kind in _JOIN_WORDS]
    if not marks or any(element_ahead(tokens, at) for at in range(marks[0]) if tokens[at].kind in ELEMENTS):
        # What works something tells no more than its own joins.
        return None
    arrow = next(
        (at for at in range(marks[0] + 1, len(tokens)) if tokens[at].kind == "to" or tokens[at].text in ("→", "=")),
        None,
    )
    if arrow is None:
        return None
    whose = [t._replace(kind="picot") if t.kind in _JOIN_WORDS else t for t in tokens[:arrow]]
    owners = read_targets(whose, listener.names, listener.convention)
    targets = read_targets(tokens[arrow + 1 :], listener.names, listener.convention)
    if len(owners) != 1 or len(targets) != 1:
        return None
    ref, part = owners[0].place.element, owners[0].place.part
    named = (ref is not None and ref.label is not None) or (part is not None and part.kind in ("row", "step"))
    return (targets[0], owners[0].place) if named else None


def _is_work(said: list[Said]) -> bool:
    """Whether a sentence behind a table is nothing but steps."""
    return all(isinstance(thing, SaidStep | SaidElement | SaidTotal | SaidStepLabel) for thing in said)


def fill_front(pattern: Pattern, around: Around) -> None:
    """Title, materials, sizes and notes of the text laid into the pattern."""
    for front in around.fronts:
        title = front.title
        if title and (pattern.title or len(title.split()) > _LONGEST_TITLE):
            pattern.notes.append(title)
        elif title:
            pattern.title = title
        pattern.materials += front.materials
        pattern.threads = pattern.threads or front.threads
        pattern.abbreviations += front.abbreviations
        pattern.sizes += front.sizes
        pattern.finished_size = pattern.finished_size or front.finished_size
        pattern.picot_length = pattern.picot_length or front.picot_length
        pattern.notes += front.notes
    pattern.notes += [note for note in around.notes if note]
