"""Places in running text: ``the last picot of the ring before``, ``p2 of R1``, ``base of the first ring``."""

from __future__ import annotations

from typing import Any

from larkshead.model import ElementRef, PartRef, Place
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.tokens import Token

ELEMENTS = {
    "ring": "ring",
    "chain": "chain",
    "split_ring": "split ring",
    "split_chain": "split chain",
    "mock_ring": "mock ring",
    "josephine_ring": "josephine ring",
    "thrown_ring": "ring",
}
PICOTS = {"picot": "", "small_picot": "small", "long_picot": "long"}
PARTS = {"round": "round", "row": "row", "motif": "motif", "step": "step"}
_WHICH = {
    "previous": "previous",
    "next": "next",
    "last": "last",
    "same": "same",
    "middle": "middle",
    "any": "any",
    "free": "free",
    "opposite": "opposite",
    "corresponding": "corresponding",
    "each": "next",
    "this": "same",
    "only": "only",
    "other": "last",
}
_SPOTS = {
    "base": "base",
    "between": "between",
    "mock_picot": "mock picot",
    "bare_thread": "bare thread",
    "space": "bare thread",
    "fabric": "fabric",
    "tip": "top",
    "loop": "loop",
}
_SIZES = {"small": "small", "large": "large"}
_LINK = {"WORD", "to", "from", "of", "glue", "QUOTE", "pronoun"}
# Kinds that may stand inside a place.
_INSIDE = (
    set(ELEMENTS)
    | set(PICOTS)
    | set(PARTS)
    | set(_WHICH)
    | set(_SPOTS)
    | set(_SIZES)
    | _LINK
    | {"ORD", "NUM", "label", "DASH", "centre", "thread"}
)
_ANCHORS = set(ELEMENTS) | set(PICOTS) | set(PARTS) | set(_SPOTS) | {"ORD", "label", "centre"} | set(_WHICH)


def read_place(c: Cursor, bracket: bool = False) -> Place | None:
    """The place at the position, stepped over; None where no place stands there.

    In a ``bracket`` numbers and letters alone name elements.
    """
    start = c.at
    words: list[Token] = []
    anchored = False
    while True:
        token = c.peek()
        kind = token.kind
        if kind not in _INSIDE or token.value == "is_it":
            break
        if kind == "NUM" and not _number_belongs(c, words, bracket):
            break
        if kind == "DASH" and not (words and c.kind(1) in ELEMENTS):
            break
        if kind in ELEMENTS and anchored and _starts_element(c, words):
            break
        if kind == "WORD" and not _word_belongs(c, words, bracket):
            break
        if kind == "glue" and bracket and _next_place(c, words):
            break
        if (
            kind == "glue"
            and bracket
            and token.text.isupper()
            and len(token.text) == 1
            and c.kind(1) not in (*ELEMENTS, "ORD", *_WHICH, *_SIZES)
        ):
            # "A" names an element here.
            words.append(c.next()._replace(kind="label"))
            anchored = True
            continue
        words.append(c.next())
        anchored = anchored or kind in _ANCHORS or kind == "NUM"
    while words and words[-1].kind in ("glue", "of", "from", "to"):
        words.pop()
        c.at -= 1
    if not anchored and not any(_is_label(w) for w in words):
        c.at = start
        return None
    place = _interpret(words)
    return place


def _next_place(c: Cursor, words: list[Token]) -> bool:
    """``last p of R1 and first p of R3``: behind a picot of an element another picot is named."""
    told = {word.kind for word in words}
    whole = bool(told & set(PICOTS)) and bool(told & set(ELEMENTS))
    return whole and any(c.kind(ahead) in PICOTS for ahead in (1, 2, 3)) and c.kind(1) not in ("of", "to")


def _number_belongs(c: Cursor, words: list[Token], bracket: bool) -> bool:
    """A number is part of the place when it numbers an element, a part or a picot."""
    before = words[-1] if words else None
    after = c.kind(1)
    if before is not None and (before.kind in ELEMENTS or before.kind in PARTS):
        if not bracket and len(words) > 1 and words[-2].kind in ("ORD", *_WHICH) and c.peek().spaced:
            # "the first ring four picot four": an element that is named already has no number besides.
            return False
        article = len(words) > 1 and words[-2].kind == "glue" and words[-2].end < before.start
        if article and not bracket and before.kind in ELEMENTS and len(before.text) > 2 and c.peek().text.isalpha():
            # "join to the picot of the chain six": with an article before it a name has no number.
            return False
        return (
            after not in ("picot", "double_stitch", "DASH", "PLUS", "join")
            or not c.peek().spaced
            or bracket
            or after == "picot"
        )
    if before is not None and before.kind in PICOTS:
        return not c.peek().spaced or bracket
    if before is not None and _is_label(before) and not c.peek().spaced:
        return True
    if before is not None and (
        before.kind == "between" or (before.kind == "glue" and len(words) > 1 and words[-2].kind == "between")
    ):
        return True
    return bracket and after in ("SHUT", "END", "COMMA", "NL", "WORD", "glue", "SEMI")


def _starts_element(c: Cursor, words: list[Token]) -> bool:
    """A ring or chain here opens the next element and is not named by the place."""
    before = words[-1] if words else None
    if before is not None and (
        before.kind in _WHICH or before.kind in _SIZES or before.kind in ("ORD", "of", "from", "to", "between", "base")
    ):
        return False
    if before is not None and before.value == "and_on" and c.kind(1) == "NUM" and c.peek(1).text.isalpha():
        # "in one of those and chain five, picot, five"
        return c.kind(2) in ("COMMA", "double_stitch", "picot", "small_picot", "long_picot")
    if before is not None and before.kind in ("WORD", "glue"):
        return False
    after = c.peek(1)
    return after.kind in ("COLON", "DASH") or (
        after.kind == "NUM" and c.kind(2) in ("DASH", "PLUS", "double_stitch", "picot", "COLON")
    )


def _word_belongs(c: Cursor, words: list[Token], bracket: bool) -> bool:
    if _is_label(c.peek()) and words:
        return True
    ahead = c.find(
        _ANCHORS, stop=("COMMA", "STOP", "SEMI", "NL", "PARA", "COLON", "SHUT", "OPEN", "NUM", "END"), reach=3
    )
    return ahead is not None or (_is_label(c.peek()) and bracket)


def _is_label(token: Token) -> bool:
    if token.kind == "label":
        return True
    return (
        token.kind in ("WORD", "double_stitch", "first_half", "chain", "bead")
        and len(token.text) == 1
        and token.text.isupper()
    )


def _interpret(words: list[Token]) -> Place:
    """Adjectives gather until a noun takes them; adjectives behind a noun go to it when it has none."""
    place = Place(words=" ".join(w.text for w in words))
    pending: list[Any] = []
    size = ""
    noun: str | None = None
    for i, token in enumerate(words):
        kind = token.kind
        if kind in PICOTS:
            if place.picot is None or pending:
                place.picot = _choose_picot(pending) if pending else place.picot
            place.size = PICOTS[kind] or place.size
            place.spot = "picot"
            noun, pending = "picot", []
        elif kind in ELEMENTS:
            if place.element is None:
                # An abbreviation of the pattern's own may stand for an element by its label: ``Rb``.
                label = getattr(token.value, "label", None)
                place.element = ElementRef(ELEMENTS[kind], _choose(pending), label, size)
            elif pending:
                place.element.which = _choose(pending)
            noun, pending, size = "element", [], ""
        elif kind in PARTS and i + 1 < len(words) and words[i + 1].kind == "NUM":
            # "next Rnd 1 chain": what stands before goes to the noun behind.
            place.part = PartRef(PARTS[kind])
            noun = "part"
        elif (
            kind == "pronoun"
            and noun in (None, "picot")
            and (pending or (i + 1 < len(words) and words[i + 1].kind == "previous"))
        ):
            place.element = ElementRef("", _choose(pending), None, size)
            noun, pending, size = "element", [], ""
        elif kind in PARTS:
            place.part = PartRef(PARTS[kind], _choose(pending))
            noun, pending = "part", []
        elif kind == "centre":
            picot_next = i + 1 < len(words) and words[i + 1].kind in PICOTS
            if picot_next or (
                noun is None
                and any(w.kind in PICOTS for w in words[i + 1 :])
                and not any(w.kind in ("of", "from") for w in words[i + 1 :])
            ):
                pending.append("middle")
            else:
                place.part = PartRef("centre", None, token.text)
                noun = "part"
        elif kind in _SPOTS:
            place.spot = _SPOTS[kind]
            noun = "spot"
        elif kind in _SIZES:
            size = _SIZES[kind]
            if noun == "element" and place.element is not None and not place.element.size:
                place.element.size = size
        elif kind == "ORD":
            pending.append(token.value)
        elif kind == "NUM":
            if noun == "element" and place.element is not None and place.element.which is None:
                place.element.which = token.value
                place.element.label = str(token.value)
            elif noun == "part" and place.part is not None and place.part.which is None:
                place.part.which = token.value
            elif (noun == "picot" and words[i - 1].kind in PICOTS) or noun == "label":
                place.picot = token.value
            else:
                place.element = ElementRef("", token.value, str(token.value))
                noun = "element"
        elif _is_label(token):
            if place.element is not None and place.element.which is None and place.element.label is None:
                place.element.label = token.text
            elif place.part is not None and noun == "part" and place.part.which is None:
                place.part.label = token.text
            else:
                place.element = ElementRef("", None, token.text)
            noun = "label"
        elif kind in _WHICH:
            which = _WHICH[kind]
            if (
                noun == "element"
                and place.element is not None
                and place.element.which is None
                and which in ("previous", "next", "opposite", "same")
            ):
                place.element.which = which
            else:
                pending.append(which)
        elif kind in ("of", "from", "to") and pending and noun is None:
            place.picot = _choose_picot(pending)
            noun, pending = "picot", []
    if pending and noun is None and ("previous" in pending or (len(pending) == 1 and isinstance(pending[0], int))):
        # "the previous", "the first": an element, since no picot is spoken of.
        place.element = ElementRef("", _choose(pending))
    elif pending and place.picot is None and place.spot == "picot":
        place.picot = _choose_picot(pending)
    if not place.unsaid and all(w.kind != "WORD" or _is_label(w) for w in words):
        # All that was said is in the place; its words say no more.
        place.words = ""
    return place


def _choose(pending: list[Any]) -> Any:
    """One name out of several adjectives: ``next free`` is next, ``last ring before`` previous."""
    for name in ("previous", "next", "opposite", "corresponding"):
        if name in pending:
            return name
    if not pending:
        return None
    return "previous" if pending == ["last"] else pending[-1]


def _choose_picot(pending: list[Any]) -> Any:
    if "next" in pending:
        return "next"
    for name in pending:
        if isinstance(name, int):
            return name
    return pending[0] if pending[0] != "previous" else (pending[-1] if len(pending) > 1 else "last")


_LEADS = frozenset(
    {
        "COMMA",
        "SEMI",
        "STOP",
        "PLUS",
        "COLON",
        "join",
        "joining",
        "folded_join",
        "lock_join",
        "at",
        "all",
        "each",
        "other",
        "fold",
    }
)


_BEFORE_PICOT = frozenset({"last", "ORD", "next", "previous", "same", "middle", "glue", "to", "free", "each", "any"})
_MARK_PICOTS = {"DASH": "picot", "DOT": "picot", "PLUSMINUS": "small_picot"}


def place_tokens(tokens: list[Token], start: int, end: int) -> list[Token]:
    """The tokens of a place as words: marks of the counts are the picots they stand for, ``[1]`` is a number."""
    out: list[Token] = []
    for at in range(start, end):
        token = tokens[at]
        kind = token.kind
        if kind in ("OPEN", "SHUT"):
            inside = at + 1 if kind == "OPEN" else at - 1
            other = at + 2 if kind == "OPEN" else at - 2
            if (
                start <= inside < end
                and start <= other < end
                and tokens[other].kind in ("OPEN", "SHUT")
                and tokens[inside].kind in ("NUM", "label")
            ):
                continue
        elif kind == "space" and len(token.text) <= 3:
            token = token._replace(kind="small_picot")
        elif (
            (kind in _MARK_PICOTS or kind == "ITEM")
            and (out and out[-1].kind in _BEFORE_PICOT)
            and (at + 1 >= end or tokens[at + 1].kind != "NUM")
        ):
            items = getattr(token.value, "items", None)
            size = getattr(items[0], "size", None) if items else None
            if size is not None:
                token = token._replace(kind={"": "picot", "small": "small_picot", "long": "long_picot"}[size])
            elif kind in _MARK_PICOTS:
                token = token._replace(kind=_MARK_PICOTS[kind])
        out.append(token)
    return out


def is_telling(place: Place) -> bool:
    """Whether a place says more than that there is an element."""
    element = place.element
    named = element is not None and (element.which is not None or element.label is not None or bool(element.size))
    return named or place.picot is not None or place.part is not None or place.spot != "picot" or bool(place.size)


def short_places(tokens: list[Token], start: int, end: int) -> list[Place]:
    """``R1:3``, ``R1.3, R4.1``: elements by their numbers and picots by theirs, and nothing else."""
    places: list[Place] = []
    at = start
    while at + 3 < end:
        noun, number, mark, picot = tokens[at : at + 4]
        if (
            noun.kind not in ELEMENTS
            or number.kind != "NUM"
            or mark.kind not in ("COLON", "STOP", "SLASH")
            or picot.kind != "NUM"
            or number.spaced
            or picot.spaced
        ):
            return []
        place = Place("picot", int(picot.value), words=noun.text + number.text + mark.text + picot.text)
        place.element = ElementRef(ELEMENTS[noun.kind], None, str(number.value))
        places.append(place)
        at += 4
        if at < end and tokens[at].kind in ("COMMA", "SEMI"):
            at += 1
    return places if at == end else []


def places_between(tokens: list[Token], start: int, end: int) -> list[Place]:
    """The places named between two tokens, in order; an element and, behind a comma, its picot are one."""
    short = short_places(tokens, start, end)
    if short:
        return short
    tokens = place_tokens(tokens, start, end)
    end = len(tokens)
    c = Cursor(tokens)
    places: list[Place] = []
    while c.at < end:
        at = c.at
        if c.kind() in _LEADS or (
            c.kind() in ("glue", "WORD", "this") and not (len(c.peek().text) == 1 and c.peek().text.isupper())
        ):
            c.next()
            continue
        place = read_place(c, bracket=True)
        if place is not None and is_telling(place):
            last = places[-1] if places else None
            if (
                last is not None
                and last.picot is None
                and last.spot == "picot"
                and last.element is not None
                and place.element is None
                and place.part is None
            ):
                last.picot, last.size, last.spot = place.picot, place.size, place.spot
                last.words = ", ".join(filter(None, (last.words, place.words)))
            else:
                places.append(place)
        if c.at == at:
            c.next()
    return places
