"""The name of an element in a cell: ``R``, ``Ring A``, ``R2 to R7``, ``big ring``, ``5 rings``, ``Sh2: R``."""

from __future__ import annotations

from larkshead.reading import Span
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.meanings import Meaning
from larkshead.reading.grammar.places import ELEMENTS
from larkshead.reading.grammar.said import SaidElement
from larkshead.reading.grammar.tokens import Token
from larkshead.records import dataclass

_LEADS = frozenset(
    {
        "WORD",
        "glue",
        "OPEN",
        "SHUT",
        "ORD",
        "NUM",
        "small",
        "large",
        "previous",
        "next",
        "last",
        "COLON",
        "shuttle",
        "centre",
        "label",
    }
)
_MOST = 10**9


@dataclass(slots=True)
class Head:
    """An element's name as read: the element without its work, the words before its kind, the thread named with it,
    and a number apart from the kind, which is a count where the row has no other."""

    element: SaidElement
    names: list[str]
    thread: str = ""
    number: Token | None = None


def read_head(c: Cursor, counts: bool = False) -> Head | None:
    """The name of an element at the position, stepped over; None, and nothing stepped over, where there is none.

    ``counts`` when the counts may stand in the same cell: a number apart from the name is one then.
    """
    start = c.at
    ahead = next((n for n in range(8) if c.kind(n) in ELEMENTS), None)
    if ahead is None or any(c.kind(n) not in _LEADS for n in range(ahead)):
        return None
    names: list[str] = []
    size = thread = ""
    count = 1
    number: int | None = None
    for _ in range(ahead):
        token = c.next()
        if token.kind in ("small", "large"):
            size = token.kind
        elif token.kind == "NUM" and c.tokens[c.at - 2].kind == "shuttle" and c.at - 2 >= start:
            thread = f"shuttle {token.value}"
        elif token.kind == "NUM":
            count = int(token.value)
        elif token.kind == "ORD":
            number = int(token.value)
        elif token.kind in ("WORD", "label", "centre") and token.text[0].isalpha():
            names.append(token.text)
    token = c.next()
    element = SaidElement(ELEMENTS[token.kind], Span(token.start, token.end), size=size)
    if isinstance(token.value, Meaning):
        element.size = token.value.size or size
        element.label = token.value.label
    if token.kind == "thrown_ring":
        element.technique = "thrown"
    element.count = max(1, min(count, _MOST))
    if number is not None:
        element.first, element.label = number, str(number)
    elif count > 1 and _one(token):
        # "2 ring": a number before a single element numbers it.
        element.first, element.label, element.count = count, str(count), 1
    spaced = c.peek() if c.kind() == "NUM" and c.peek().spaced else None
    _label(c, element, counts or element.kind == "josephine ring")
    _range(c, element)
    if c.kind() in ("small", "large") and c.kind(1) in ("END", "SHUT", "COMMA"):
        element.size = c.next().kind
    _shuttle(c, element)
    c.take("COLON", "EQUALS")
    element.span = c.span(start)
    if names and element.label is None and len(names[-1]) > 1:
        element.label = names[-1]
    return Head(element, names, thread, spaced if element.first is not None and element.last is None else None)


def _one(token: Token) -> bool:
    """Whether the word for the element is in the singular, as far as an ending tells."""
    return len(token.text) > 2 and not token.text.lower().rstrip("'").endswith("s")


def _label(c: Cursor, element: SaidElement, counts: bool) -> None:
    """A number, letter or short name right behind the kind."""
    token = c.peek()
    if (
        token.kind == "NUM"
        and token.spaced
        and counts
        and c.kind(1) not in ("COLON", "EQUALS", "NUM")
        and not _is_range(c)
    ):
        return
    if token.text.lower().rstrip(".") in ("no", "nr") and c.kind(1) in ("NUM", "STOP"):
        c.next()
        c.take("STOP")
        token = c.peek()
    if (
        token.kind == "NUM"
        and c.kind(1) not in ("DASH", "PLUS", "DOT", "picot", "times", "double_stitch", "join", "half_stitch")
    ) or _is_range(c):
        c.next()
        element.first = int(token.value)
        element.label = str(token.value)
    elif token.kind in ("WORD", "label") and len(token.text) <= 2 and token.text.isalnum() and token.text.isupper():
        c.next()
        element.label = token.text
        if c.kind() == "NUM" and not c.peek().spaced:
            element.label += c.next().text
    elif _is_letter(token) and c.kind(1) in ("END", "COLON", "OPEN", "COMMA", "SHUT"):
        c.next()
        element.label = token.text.upper()


def _is_letter(token: Token) -> bool:
    return len(token.text) == 1 and token.text.isalpha() and token.kind not in ("times", "reverse_work")


def _is_range(c: Cursor) -> bool:
    """``2-6`` or ``2 to 7`` to the end of the cell: elements 2 to 6 and no counts."""
    if c.kind() != "NUM" or c.kind(1) not in ("DASH", "to"):
        return False
    if c.kind(2) in ELEMENTS and c.kind(3) == "NUM":
        return True
    return (
        c.kind(2) == "NUM"
        and c.kind(3) not in ("DASH", "PLUS", "DOT", "picot", "double_stitch")
        and int(c.peek(2).value) > int(c.peek().value)
    )


def _range(c: Cursor, element: SaidElement) -> None:
    """``R2 to R7``, ``R2-7``, ``R3, R4, R5``, ``R2 & R3``: several elements alike."""
    if element.first is None:
        return
    while True:
        ahead = 1 if c.kind() in ("DASH", "to", "COMMA", "glue") else 0
        if ahead and c.kind(ahead) in ELEMENTS and c.kind(ahead + 1) == "NUM":
            ahead += 1
        elif (
            not ahead
            or not c.peek(ahead).text.isdigit()
            or c.kind(ahead + 1) in ("DASH", "PLUS", "picot", "double_stitch", "times")
        ):
            return
        element.last = int(c.peek(ahead).value)
        c.at += ahead + 1
        if element.last > element.first:
            element.count = min(element.last - element.first + 1, _MOST)
            element.label = None


def _shuttle(c: Cursor, element: SaidElement) -> None:
    """``R (Sh2)``: the shuttle named behind."""
    back = c.at
    c.skip(("OPEN", "COMMA", "with"))
    if c.kind() == "shuttle" and c.kind(1) in ("NUM", "ORD"):
        element.thread = f"shuttle {c.peek(1).value}"
        c.at += 2
        c.take("SHUT")
        return
    c.at = back
