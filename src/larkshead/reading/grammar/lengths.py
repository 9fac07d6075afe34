"""Lengths in running text: ``3 mm``, ``a quarter of an inch``, ``three-eighths inch``, ``5-10 mm``."""

from __future__ import annotations

from larkshead.model import Length
from larkshead.reading.grammar.cursor import Cursor

_GLUE = {"WORD", "QUOTE", "glue", "of"}


def read_length(c: Cursor, bare_unit: bool = False) -> Length | None:
    """A length at the position, stepped over; None, and nothing stepped over, where there is none.

    ``bare_unit`` takes a number without a unit, too.
    """
    start = c.at
    about = bool(c.take("about"))
    value, upto = _value(c)
    if value is None:
        c.at = start
        return None
    if (c.kind() == "DASH" and c.kind(1) in ("NUM", "FRACTION") and not _is_work(c)) or (
        c.kind() in ("to", "WORD") and c.kind(1) in ("NUM", "FRACTION") and c.kind(2) == "UNIT"
    ):
        c.next()
        upto = str(c.next().value)
    spot = c.at
    c.skip(_GLUE)
    unit = c.take("UNIT")
    if unit is None and c.tokens[spot - 1].end < len(c.tokens) and c.peek().kind == "QUOTE":
        unit = None
    if unit is not None:
        return Length(value, str(unit.value), upto, about)
    c.at = spot
    quote = c.peek()
    if quote.kind == "QUOTE" and not quote.spaced and quote.text in '"″”':
        c.next()
        return Length(value, "in", upto, about)
    if bare_unit:
        c.at = spot
        return Length(value, "", upto, about)
    c.at = start
    return None


def _is_work(c: Cursor) -> bool:
    """After ``5-10`` no unit stands: the dash was no range."""
    ahead = 2
    while c.kind(ahead) in _GLUE:
        ahead += 1
    return c.kind(ahead) != "UNIT"


def _value(c: Cursor) -> tuple[str | None, str | None]:
    """The number of a length as printed, as text."""
    token = c.peek()
    if token.kind == "FRACTION":
        c.next()
        return str(token.value), None
    if token.kind == "NUM":
        after = c.peek(1)
        if after.kind == "FRACTION" and token.text.isalpha() and after.text.isalpha() and str(after.value)[:2] == "1/":
            # ``one-half inch``, ``three quarter inch``
            c.at += 2
            return f"{token.value}/{str(after.value)[2:]}", None
        if after.kind == "FRACTION":
            c.at += 2
            return f"{token.value} {after.value}", None
        if after.kind == "ORD" and not after.text[0].isdigit():
            c.at += 2
            return f"{token.value}/{after.value}", None
        if after.kind in ("WORD", "glue") and c.kind(2) == "FRACTION" and c.kind(3) in ("WORD", "of", "UNIT"):
            c.at += 3
            return f"{token.value} {c.tokens[c.at - 1].value}", None
        c.next()
        return str(token.value), None
    if token.kind == "glue" and token.value == "one" and c.kind(1) == "UNIT":
        # "a centimetre"
        c.next()
        return "1", None
    if token.kind == "ORD" and c.kind(1) in ("WORD", "of", "UNIT") and _unit_near(c, 1):
        c.next()
        return f"1/{token.value}", None
    if token.kind in ("WORD", "glue") and c.kind(1) in ("FRACTION", "ORD") and _unit_near(c, 2):
        c.next()
        return _value(c)
    return None, None


def _unit_near(c: Cursor, ahead: int) -> bool:
    for step in range(ahead, ahead + 4):
        if c.kind(step) == "UNIT":
            return True
        if c.kind(step) not in ("WORD", "of", "glue"):
            return False
    return False
