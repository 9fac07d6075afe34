"""What stands in an old book between and about the steps: titles, materials, captions, explanations, crochet; and what print did to
the words."""

from __future__ import annotations

import re
from bisect import bisect_left
from itertools import pairwise
from typing import NamedTuple

from larkshead.conventions import Convention
from larkshead.reading.grammar.books.counts import COUNTED, HALVES
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.places import ELEMENTS, PARTS, PICOTS
from larkshead.reading.grammar.tokens import Token

_LINE_END = re.compile(r"(?<!\n)\n(?![ \t]*\n)")
_MARKS_ROW = re.compile(r"(?m)^[ \t]*(?:\*[ \t]*){3,}$")
_HYPHENED = re.compile(r"[^\W\d_]-\n")
_ONES = re.compile(r"I+")
_TITLE_WORDS = 16
# Words of a sentence in which it shows whether it is of crochet.
_REACH = 500
_ENDS = frozenset({"STOP", "PARA"})


class Aside(NamedTuple):
    """Tokens ``start`` to ``end`` that are no work: a title, materials, crochet, or words beside."""

    what: str
    start: int
    end: int


def flowing(text: str) -> str:
    """The text as it would run on: ends of printed lines are blanks, rows of asterisks are gone, every place stays where it is.

    A line that ends in a hyphen keeps its end, for the word to be made whole.
    """
    text = _MARKS_ROW.sub(lambda found: " " * len(found.group()), text)
    kept = {found.end() - 1 for found in _HYPHENED.finditer(text)}
    return _LINE_END.sub(lambda found: "\n" if found.start() in kept else " ", text)


def tidy(tokens: list[Token], convention: Convention) -> list[Token]:
    """Tokens without the marks of the page: words broken at the end of a line, capital I for 1."""
    out: list[Token] = []
    at = 0
    while at < len(tokens):
        token = tokens[at]
        if token.kind == "DASH" and out and not token.spaced and out[-1].text.isalpha() and _broken(tokens, at):
            rest = tokens[at + 2]
            joined = out[-1].text + rest.text
            kind, value = convention.forms.get(joined.lower(), ("WORD", joined))
            out[-1] = Token(kind, value, out[-1].start, rest.end, out[-1].spaced, joined)
            at += 3
            continue
        if token.kind == "NL":
            at += 1
            continue
        if (
            token.kind == "STOP"
            and out
            and out[-1].kind in ("caption", "numero")
            and tokens[at + 1 : at + 2]
            and tokens[at + 1].kind == "NUM"
        ):
            # ``fig. 499``
            at += 1
            continue
        if token.kind == "PARA" and out and at + 1 < len(tokens) and _runs_on(out[-1], tokens[at + 1]):
            at += 1
            continue
        if token.kind == "as":
            # ``as the first``, ``as circle 1`` likens; elsewhere it is a word like others.
            ahead = at + 2 if tokens[at + 1 : at + 2] and tokens[at + 1].kind == "glue" else at + 1
            named = tokens[ahead : ahead + 1] and tokens[ahead].kind in ("ORD", *ELEMENTS)
            named = named or [t.kind for t in tokens[at + 1 : at + 3]] == ["to", "caption"]
            token = token._replace(kind="like" if named else "WORD")
        if token.kind == "WORD" and _ONES.fullmatch(token.text) and at + 1 < len(tokens):
            following = next((t.kind for t in tokens[at + 1 : at + 4] if t.kind != "NL"), "")
            if following in COUNTED or following == "times":
                token = token._replace(kind="NUM", value=int("1" * len(token.text)))
        out.append(token)
        at += 1
    return out


def _broken(tokens: list[Token], at: int) -> bool:
    return at + 2 < len(tokens) and tokens[at + 1].kind == "NL" and tokens[at + 2].text[:1].islower()


def _runs_on(before: Token, after: Token) -> bool:
    """A caption or page stood in the middle of a sentence: it goes on behind the blank line."""
    if before.kind in ("COLON", "DASH"):
        return True
    if before.kind in ("STOP", "SEMI", "MARK", "SHUT"):
        return False
    return after.text[:1].islower() or (before.kind == "COMMA" and after.kind == "NUM")


def asides(tokens: list[Token]) -> list[Aside]:
    """What is no work, in order; nothing stands in two of them."""
    found: list[Aside] = []
    at = _title(tokens)
    end_of_sentence = 0
    hooks = [number for number, token in enumerate(tokens) if token.kind == "crochet"]
    if at:
        found.append(Aside("title", 0, at))
    while at < len(tokens):
        kind = tokens[at].kind
        first = at == 0 or tokens[at - 1].kind in ("PARA", "STOP", "DASH")
        if at and tokens[at - 1].kind == "PARA" and (end := _heading(tokens, at)):
            found.append(Aside("heading", at, end))
            at = end
        elif kind == "materials_head" and first:
            end = _materials_end(tokens, at)
            found.append(Aside("materials", at, end))
            at = end
        elif kind == "OPEN" and _beside(tokens, at):
            end = min(_until(tokens, at, {"SHUT", "PARA"}) + 1, len(tokens))
            found.append(Aside("note", at, end))
            at = end
        elif first and kind not in ("PARA", "STOP", "DASH"):
            if at >= end_of_sentence:
                end_of_sentence = sentence_end(tokens, at)
            end = end_of_sentence
            if bisect_left(hooks, at) < bisect_left(hooks, end) and _crochet(tokens, at, min(end, at + _REACH)):
                found.append(Aside("crochet", at, end))
                at = end
            else:
                at += 1
        else:
            at += 1
    return found


def _materials_end(tokens: list[Token], at: int) -> int:
    """Behind the materials: at the blank line, or before the first sentence that counts stitches."""
    while at < len(tokens) and tokens[at].kind != "PARA":
        end = sentence_end(tokens, at)
        inside = tokens[at:end]
        if any(a.kind == "NUM" and b.kind in COUNTED for a, b in pairwise(inside)):
            return at
        at = end + 1 if end < len(tokens) and tokens[end].kind == "STOP" else end
    return at


def _until(tokens: list[Token], at: int, kinds: set[str]) -> int:
    while at < len(tokens) and tokens[at].kind not in kinds:
        at += 1
    return at


def sentence_end(tokens: list[Token], at: int) -> int:
    """Behind the sentence at ``at``: at its full stop or blank line. A stop behind an abbreviation ends none."""
    while at < len(tokens):
        kind = tokens[at].kind
        if kind == "PARA":
            return at
        if kind == "STOP" and (not at or tokens[at - 1].kind not in ("numero", "caption", "shortened")):
            return at
        at += 1
    return at


def _title(tokens: list[Token]) -> int:
    """Behind the title: the leading stretches without work, each ended by a dash behind its full stop, or by a blank line."""
    end = at = 0
    while at < len(tokens):
        stop = at
        while stop < len(tokens) and tokens[stop].kind != "PARA":
            if tokens[stop].kind == "STOP" and stop + 1 < len(tokens) and tokens[stop + 1].kind == "DASH":
                break
            stop += 1
        if stop >= len(tokens) or not _names_only(tokens[at:stop]):
            break
        at = stop
        while at < len(tokens) and tokens[at].kind in ("PARA", "STOP", "DASH"):
            at += 1
        end = at
        if tokens[stop].kind == "PARA" and stop - end < 3 and any(t.kind != "NUM" for t in tokens[:stop]):
            break
    return end


def _heading(tokens: list[Token], at: int) -> int:
    """Behind the title of a further passage (``SCALLOPS (fig. 9).--``, ``17.--Edging.``), at the head of a paragraph; else 0."""
    end = at
    for _ in range(2):
        stop = end
        while stop < len(tokens) and stop - end < _TITLE_WORDS and tokens[stop].kind not in ("STOP", "PARA"):
            stop += 1
        dashed = stop + 1 < len(tokens) and tokens[stop].kind == "STOP" and tokens[stop + 1].kind == "DASH"
        dashed = dashed or (
            stop > at and tokens[stop - 1].kind == "SHUT" and any(t.kind == "caption" for t in tokens[end:stop])
        )
        closes = end > at and stop < len(tokens) and tokens[stop].kind in ("STOP", "PARA")
        if not (dashed or closes) or not _names_only(tokens[end:stop]):
            break
        end = stop
        while end < len(tokens) and tokens[end].kind in ("STOP", "DASH"):
            end += 1
        if not dashed or stop - at > 1:
            break
    return end if end > at and any(t.text[:1].isupper() for t in tokens[at:end]) else 0


def _names_only(tokens: list[Token]) -> bool:
    if not tokens or len(tokens) > _TITLE_WORDS or tokens[0].kind == "materials_head":
        return False
    for a, b in zip(tokens, [*tokens[1:], tokens[-1]], strict=True):
        if a.kind in ("work", "consisting", "reverse_work", "MARK", "fasten", "close") or (
            a.kind == "NUM" and b.kind in COUNTED
        ):
            return False
        if a.kind == "ORD" and b.kind in (*ELEMENTS, *PARTS):
            return False
        if a.kind == "COLON":
            return False
    return True


def _beside(tokens: list[Token], at: int) -> bool:
    """A bracket that holds no counts to work: an explanation of the stitch, a look at the picture, a remark."""
    c = Cursor(tokens, at + 1)
    kinds: list[str] = []
    while c.kind() not in ("SHUT", "PARA", "END") and len(kinds) < 60:
        kinds.append(c.next().kind)
    if c.kind() != "SHUT":
        return False
    if "explained" in kinds[:3] or "caption" in kinds[:6]:
        return True
    return (
        not any(a == "NUM" and (b in COUNTED or b == "times") for a, b in pairwise(kinds))
        and not any(kind in PICOTS and at == 0 for at, kind in enumerate(kinds))
        and kinds[:1] != ["MARK"]
    )


def _crochet(tokens: list[Token], start: int, end: int) -> bool:
    """A sentence of crochet: it counts chain or trebles, or speaks of crochet and has no tatting in it."""
    hooked = counted = tatted = False
    for at in range(start, end):
        token = tokens[at]
        before = tokens[at - 1].kind if at > start else ""
        if token.kind == "crochet":
            hooked = True
            counted = counted or before == "NUM"
        elif before == "NUM" and token.kind in ("double_stitch", *PICOTS):
            tatted = True
        elif before == "NUM" and token.kind in HALVES:
            tatted = tatted or not hooked
    return hooked and (counted or not tatted)
