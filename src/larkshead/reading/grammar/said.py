"""What the statements of a text say, before they are put together into a pattern.

The grammar turns tokens into a list of these in the order said; the assembly then settles repeats, references and what
changes on which pass.
"""

from __future__ import annotations

from larkshead.model import Join, Place, StatedTotal, Step, WorkItem
from larkshead.reading.source import Span
from larkshead.records import dataclass, field

Piece = tuple[WorkItem, Span]


@dataclass(slots=True)
class Alike:
    """A reference to an element or passage told before: ``as ring 1``, ``like the first``, ``same as SR2``.

    ``label``, ``number`` or ``which`` (previous, first) name it; all empty: the last one of the same kind. ``changes`` are
    what differs here.
    """

    label: str | None = None
    number: int | None = None
    which: str = ""
    kind: str = ""
    changes: list[Change] = field(default_factory=list)
    size: str = ""


@dataclass(slots=True)
class Change:
    """An item that is something else: ``item`` which (first, last, middle, a number, each) of ``what`` (picot, join, bead, chain...),
    made ``into`` (picot, join, bead, none) with ``place``; ``elements`` which elements it is said of, ``passes`` on which passes."""

    item: str | int = "first"
    what: str = "picot"
    into: str = "join"
    places: list[Place] = field(default_factory=list)
    elements: str = ""
    element_kind: str = ""
    size: str = ""
    item_told: bool = True
    number: int | None = None
    passes: str | int = ""
    # Which of the like elements of a passage, where the number is that of the passage: ``in the sixth arm the third ring``.
    which: int = 0
    # From which of them on, where it is said of the later ones.
    start: int = 2
    by_passage: bool = False
    span: Span = Span(0, 0)


@dataclass(slots=True)
class SaidElement:
    """An element told: ``pieces`` its work, or ``alike`` a reference; ``count`` so many of it in a row.

    ``first``..``last`` a range of numbers (R2-R5).
    """

    kind: str
    span: Span
    pieces: list[Piece] = field(default_factory=list)
    alike: Alike | None = None
    label: str | None = None
    first: int | None = None
    last: int | None = None
    count: int = 1
    size: str = ""
    thread: str | None = None
    half_closed: bool = False
    technique: str = ""
    numbers: list[int] = field(default_factory=list)
    stated: int | None = None
    remark: str = ""
    changes: list[Change] = field(default_factory=list)
    # Told by its work alone.
    unnamed: bool = False


class PlainLine:
    """What one plain line says: the kind of element, its work, where its items and its turn stand in the line."""

    __slots__ = ("end", "items", "joins", "kind", "label", "spans", "start", "turn", "turn_end", "words")

    def __init__(self, kind: str, label: str | None, start: int, end: int) -> None:
        self.kind = kind
        self.label = label
        self.start = start
        self.end = end
        self.items: list[WorkItem] = []
        self.spans: list[Span] = []
        # Which items are joins, of which every place needs its own.
        self.joins: list[int] = []
        self.turn = -1
        self.turn_end = -1
        # The line without its numbers.
        self.words = ""


class SaidPlain:
    """A plain line told at one place. ``pieces``, ``kind`` and ``label`` are those of an element told."""

    __slots__ = ("at", "line", "work")

    def __init__(self, line: PlainLine, at: int) -> None:
        self.line = line
        self.at = at
        work = line.items.copy()
        for index in line.joins:
            work[index] = Join()
        self.work = work

    @property
    def kind(self) -> str:
        return self.line.kind

    @property
    def label(self) -> str | None:
        return self.line.label

    @property
    def pieces(self) -> list[Piece]:
        at = self.at
        return [
            (item, Span(span.start + at, span.end + at)) for item, span in zip(self.work, self.line.spans, strict=True)
        ]


@dataclass(slots=True)
class SaidStep:
    """An action told."""

    step: Step
    span: Span


@dataclass(slots=True)
class SaidTotal:
    """A total told."""

    total: StatedTotal
    span: Span


@dataclass(slots=True)
class SaidMark:
    """A repeat mark (``*``); ``closing`` where it ends the passage."""

    mark: str
    span: Span
    closing: bool = False


@dataclass(slots=True)
class SaidOpen:
    """An opening bracket of a group of steps; ``times`` where the number stands before it."""

    bracket: str
    span: Span
    times: int | None = None
    closed: bool = True


@dataclass(slots=True)
class SaidShut:
    """A closing bracket of a group of steps, with the number of times where it is said."""

    bracket: str
    span: Span
    times: int | None = None
    open_ended: bool = False
    how: str = ""


@dataclass(slots=True)
class SaidRepeat:
    """A repeat told: ``what`` mark, steps, labels, all (what stands before), last (the element just told).

    ``times`` as said; ``how`` more (that many again), all (that many in all), or empty where the words leave it open;
    ``first``..``last`` the steps or rows named; ``counts`` the elements there shall be in the end (rings 6, chains 6);
    ``ending`` the kind of element the row ends on; ``open_ended`` for the length wanted.
    """

    what: str
    span: Span
    mark: str = ""
    times: int | None = None
    how: str = ""
    first: str | None = None
    last: str | None = None
    labels: list[str] = field(default_factory=list)
    counts: dict[str, int] = field(default_factory=dict)
    open_ended: bool = False
    around: bool = False
    changes: list[Change] = field(default_factory=list)
    part: str = ""
    element_kind: str = ""
    last_kind: str = ""


@dataclass(slots=True)
class SaidChange:
    """A change told apart from the element: it goes for ``change.elements`` or the passes it names."""

    change: Change
    span: Span


@dataclass(slots=True)
class SaidHeading:
    """A heading that begins a part."""

    kind: str
    span: Span
    number: int | None = None
    name: str = ""
    times: int = 1
    like: int | None = None
    numbers: list[int] = field(default_factory=list)
    # What is other in a part worked as one before: how often its passage is worked, and elements.
    again: int | None = None
    instead: list[SaidElement] = field(default_factory=list)


@dataclass(slots=True)
class SaidStepLabel:
    """The number or letter of a step in a list; ``last`` where one line stands for several."""

    label: str
    span: Span
    last: str | None = None


@dataclass(slots=True)
class SaidLine:
    """A line of shorthand begins here, behind a blank one where ``blank``."""

    blank: bool = False


@dataclass(slots=True)
class SaidMock:
    """A mock ring begins to be made of the chains that follow, or is drawn closed (``opens`` False)."""

    opens: bool
    span: Span


@dataclass(slots=True)
class SaidFollowed:
    """What the line tells from here on stands behind each of the elements it told just before."""

    span: Span


@dataclass(slots=True)
class SaidSequence:
    """Labelled lines named in the order they are worked: groups of labels, each so many times; ``times`` the whole."""

    groups: list[tuple[list[str], int]]
    span: Span
    times: int = 1


@dataclass(slots=True)
class SaidCopy:
    """The steps of a labelled line, told again (``[4] = [2]``)."""

    label: str
    span: Span


@dataclass(slots=True)
class SaidAlikePart:
    """A part worked like an earlier one: ``number`` which of its kind, or the one before; ``changes`` what differs."""

    span: Span
    kind: str = ""
    number: int | None = None
    changes: list[Change] = field(default_factory=list)


@dataclass(slots=True)
class SaidUnit:
    """A name for the passage that begins here, or (``like``) for what so many of another name make; ``told``: for what was told."""

    name: str
    span: Span
    like: str = ""
    told: bool = False


@dataclass(slots=True)
class SaidBetween:
    """What follows, up to the end of its sentence, stands between the passages of a series; ``opens`` False: it ends here."""

    opens: bool
    span: Span


@dataclass(slots=True)
class SaidTrim:
    """The last of a series has none of the thread or turns (or elements of ``kind``) that follow the others."""

    span: Span
    kind: str = ""


@dataclass(slots=True)
class SaidTail:
    """What follows each of a series follows the last one, too."""

    step: Step
    span: Span


@dataclass(slots=True)
class SaidOffer:
    """So many places that work told elsewhere leaves to join to: ``the centre left us with twelve free picots``."""

    places: int
    span: Span


@dataclass(slots=True)
class SaidEvery:
    """Every so-manyth element of a series is another, beginning with the one of number ``first``."""

    element: SaidElement
    step: int
    first: int
    span: Span


@dataclass(slots=True)
class SaidBeside:
    """A step that stands before or behind each of those just counted."""

    step: Step
    before: bool
    span: Span


@dataclass(slots=True)
class SaidCover:
    """A sentence that covers the whole pattern or part: ``turn`` after every element, or ``noturn``; ``between`` only between."""

    what: str
    span: Span
    between: bool = False
    step: Step | None = None


@dataclass(slots=True)
class SaidNote:
    """Words kept as a note; ``unread`` where trade words in them found no reading."""

    text: str
    span: Span
    unread: bool = False
    vague: bool = False


Said = (
    SaidElement
    | SaidPlain
    | SaidStep
    | SaidTotal
    | SaidMark
    | SaidOpen
    | SaidShut
    | SaidRepeat
    | SaidChange
    | SaidHeading
    | SaidStepLabel
    | SaidCover
    | SaidAlikePart
    | SaidUnit
    | SaidBetween
    | SaidTrim
    | SaidTail
    | SaidOffer
    | SaidEvery
    | SaidBeside
    | SaidLine
    | SaidCopy
    | SaidFollowed
    | SaidSequence
    | SaidMock
    | SaidNote
)
