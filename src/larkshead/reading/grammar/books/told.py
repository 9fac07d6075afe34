"""What an old book tells, while it is being told."""

from __future__ import annotations

from larkshead.model import Place, Step
from larkshead.reading.grammar.said import Piece
from larkshead.reading.source import Span
from larkshead.records import dataclass, field

# Kinds of tokens that name elements, and the shades of names for more than one.
NOUNS = {"ring": "ring", "chain": "chain", "josephine_ring": "josephine ring"}
MANY = ("several", "either or several")


@dataclass(slots=True)
class Announced:
    """An element named, whose counts are to come. ``count`` so many alike; 0 for many, the number left open."""

    kind: str
    span: Span
    size: str = ""
    label: str | None = None
    count: int = 1
    either: bool = False
    assumed: bool = False
    half: bool = False


@dataclass(slots=True)
class Told:
    """An element whose counts are being told. ``marks``: where in its work a mark of repeat stands; ``clause`` in which clause it began;
    ``before``: steps told after it began that come before it."""

    name: Announced
    span: Span
    clause: int
    pieces: list[Piece] = field(default_factory=list)
    marks: dict[str, int] = field(default_factory=dict)
    before: list[Step] = field(default_factory=list)
    closed: bool = False


@dataclass(slots=True)
class Replaced:
    """A picot that is something else: ``item`` which picots (first, last, middle, a number, behind so many stitches where it is below 0; ``side`` for all but the middle), ``into`` a
    join at ``place``. ``kind`` and ``size`` of the elements it is said of, ``which`` of them (each, last, next, a number of those in one
    pass), so said by the text."""

    item: list[str | int]
    places: list[Place]
    span: Span
    kind: str = ""
    size: str = ""
    which: str | int = ""
    lock: bool = False
    added: bool = False


@dataclass(slots=True)
class Modifiers:
    """What stands before a name: its size, number, ordinal, likeness."""

    size: str = ""
    count: int | None = None
    number: int | None = None
    numbers: int = 0
    alike: bool = False
    again: bool = False
    each: bool = False
    article: bool = False
    one_of: bool = False
    rest: bool = False
    worked: bool = False
    within: bool = False
