"""The work inside an element, in running text and in shorthand.

Grammar (kinds of tokens; FILLER is passed over where more work follows):

    work      = item { [COMMA | FILLER] item }
    item      = NUM [double_stitch]                              so many stitches
              | NUM picot separated NUM [double_stitch]          picots with so many stitches between
              | NUM double_stitch evenly NUM picot               equal groups
              | NUM (first_half | second_half | half_stitch)
              | [NUM] picot [length] [NUM bead]                  picots of any size
              | (join | PLUS) [(] place [)]                      joins, the place told at once or later
              | lock_join place | bead | SLASH | second side
              | ( work ) [times] NUM | NUM times work | NUM times NUM
"""

from __future__ import annotations

from copy import copy

from larkshead.conventions.convention import SEVERAL
from larkshead.model import Beads, Halves, Join, Picot, SideChange, Stitches, WorkItem
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.itemjoins import bead_over, finish_join, speaks_of_join
from larkshead.reading.grammar.lengths import read_length
from larkshead.reading.grammar.places import ELEMENTS, PICOTS, read_place
from larkshead.reading.grammar.said import Piece
from larkshead.reading.grammar.spreads import lay_picots, read_division, read_gap, read_surrounds
from larkshead.reading.source import Span
from larkshead.records import dataclass, field

FILLER = frozenset(
    {
        "WORD",
        "glue",
        "QUOTE",
        "again",
        "of",
        "this",
        "about",
        "pronoun",
        "restating",
        "denied",
        "deny",
        "correction",
        "go_on",
        "another",
    }
)
JOINS = {"join": "picot", "joining": "picot", "folded_join": "folded", "lock_join": "lock"}
HALVES = {"first_half": 1, "second_half": 2, "half_stitch": 1}
STITCH = frozenset({"double_stitch"})
ITEM_STARTS = frozenset(
    {"NUM", "DASH", "PLUS", "PLUSMINUS", "DOT", "OPEN", "bead", "first_half", "second_half", *PICOTS, *JOINS}
)
_LIMIT = 2000
# Pairs of words that lead on to the next item.
_LEADS = {"after": ("this",), "once": ("more",), "small": tuple(PICOTS), "large": tuple(PICOTS)}
# How many words may stand between two items; in a split element words tell of threads, too.
_FAR = 6
_FAR_IN_SPLIT = 9


@dataclass(slots=True)
class WorkSyntax:
    """How marks are to be read in this text and element.

    ``marks`` maps a mark as spelt (``-``, ``--``, ``+``) to what it stands for: a picot size, ``join`` or ``lock``;
    ``split`` when a slash changes sides; ``lines`` when a line's end ends the work.
    """

    marks: dict[str, str] = field(default_factory=dict)
    split: bool = False
    lines: bool = True
    halves: bool = False


def read_work(c: Cursor, syntax: WorkSyntax) -> list[Piece]:
    """The items from the position on, stepped over; empty where none stand there."""
    pieces: list[Piece] = []
    while len(pieces) < _LIMIT:
        before = c.at
        if not _pass_filler(c, syntax, bool(pieces)):
            break
        if not _item(c, syntax, pieces):
            c.at = before
            break
    if len(pieces) > 1 and not syntax.lines:
        _put_between(c, pieces)
    return pieces


def _between_here(probe: Cursor) -> bool:
    """``(a join) in the middle``, ``between them``: stepped over."""
    start = probe.at
    probe.skip({"to", "glue", "this"})
    if probe.take("middle", "between", "halfway"):
        probe.skip({"this", "each"})
        return True
    probe.at = start
    return False


def _put_between(c: Cursor, pieces: list[Piece]) -> None:
    """``five, five and five with picots between the fives``; ``four and four with a join into the hem between``."""
    if not all(isinstance(item, Stitches) for item, _ in pieces):
        return
    probe = Cursor(c.tokens, c.at, c.limit)
    probe.take("COMMA")
    if not probe.take("with"):
        return
    while probe.kind() in ("glue", "this", "each") or (probe.kind() == "NUM" and probe.kind(1) in (*PICOTS, "bead")):
        probe.next()
    start = probe.at
    kind = probe.kind()
    item: Picot | Join | Beads
    if kind in PICOTS:
        probe.next()
        item = _picot(probe, kind)
    elif kind == "join":
        probe.next()
        told = _between_here(probe)
        place = read_place(probe)
        if place is not None and place.spot == "between":
            place = None
            probe.at = start + 1
        item = Join([place] if place is not None else [])
        if told:
            c.at = probe.at
            span = c.span(start)
            for at in range(len(pieces) - 1, 0, -1):
                pieces.insert(at, (copy(item), span))
            return
    elif kind == "bead":
        probe.next()
        item = Beads(1)
    else:
        return
    span = c.span(start, probe.at)
    probe.skip({"to", "glue", "this"})
    if probe.kind() not in ("between", "middle"):
        return
    probe.next()
    while (
        probe.kind() in ("each", "this", "glue", "NUM", "pronoun", "WORD", "double_stitch") and probe.kind(1) != "COLON"
    ):
        if (
            probe.kind() in ("NUM", "WORD", "glue")
            and probe.kind(1) in ("double_stitch", *PICOTS, "COMMA")
            and probe.kind() == "NUM"
        ):
            break
        probe.next()
    c.at = probe.at
    for at in range(len(pieces) - 1, 0, -1):
        pieces.insert(at, (copy(item), span))


def _pass_filler(c: Cursor, syntax: WorkSyntax, begun: bool) -> bool:
    """Step over commas and filler when an item follows."""
    start = c.at
    passed = 0
    while True:
        kind = c.kind()
        if begun and not syntax.lines and kind in _LEADS and c.kind(1) in _LEADS[kind]:
            # "eight stitches, after which a picot is made"; "and once more seven"; "a big long picot"
            c.at += 1 if c.kind(1) in PICOTS else 2
            continue
        if (
            kind in ITEM_STARTS
            or (begun and kind == "slide" and bead_over(c) is not None)
            or (begun and kind == "attach" and c.kind(1) == "to" and not syntax.lines)
            or (syntax.split and kind in ("SLASH", "CARET", "second_side", "shuttle"))
        ):
            return True
        if (kind == "COMMA" and begun) or (kind == "NL" and not syntax.lines):
            c.next()
        elif (kind in FILLER and passed < (_FAR_IN_SPLIT if syntax.split and begun else _FAR)) or (
            syntax.split and begun and kind in ("with", "ORD", "to") and passed < _FAR_IN_SPLIT
        ):
            c.next()
            passed += 1
        elif kind == "SEMI" and begun and not syntax.lines and c.kind(1) in ("join", "picot"):
            c.next()
        else:
            c.at = start
            return False


def _item(c: Cursor, syntax: WorkSyntax, pieces: list[Piece]) -> bool:
    """One item at the position, added to the pieces; False, and the position unchanged, where none stands."""
    start = c.at
    kind = c.kind()
    if kind in ("slide", "bead") and not syntax.lines and (beaded := bead_over(c)) is not None:
        join, c.at = beaded
        pieces.append((join, c.span(start)))
        return True
    if kind == "NUM":
        return _number(c, syntax, pieces)
    if kind in PICOTS:
        c.next()
        picot = _picot(c, kind)
        if not syntax.lines:
            _likened(c, picot)
        pieces.append((picot, c.span(start)))
        return True
    if kind in ("DASH", "DOT", "PLUSMINUS", "PLUS"):
        return _mark(c, syntax, pieces)
    if kind in JOINS or (kind == "attach" and pieces):
        return _join(c, JOINS.get(kind, "picot"), pieces)
    if kind == "bead":
        c.next()
        pieces.append((Beads(1), c.span(start)))
        return True
    if kind in ("first_half", "second_half"):
        return _halves(c, pieces)
    if kind == "OPEN":
        return _group(c, syntax, pieces)
    if syntax.split and kind in ("SLASH", "CARET", "second_side", "shuttle"):
        return _side_change(c, pieces)
    return False


def _number(c: Cursor, syntax: WorkSyntax, pieces: list[Piece]) -> bool:
    start = c.at
    if c.peek().value == 1 and c.kind(1) == "more" and c.kind(2) in ("STOP", "END", "PARA", "SEMI", "COMMA"):
        # "..., and then make one more": another of the whole.
        return False
    count = int(c.next().value)
    c.skip({"glue"} if c.kind(1) in STITCH or c.kind(1) in PICOTS else ())
    if c.kind() == "more" and c.kind(1) in ("double_stitch", "bead") and not syntax.lines:
        c.next()
    if c.kind() == "WORD" and c.kind(1) == "COMMA" and c.kind(2) == "each" and not syntax.lines:
        # "and two ears, each a ring of six"
        c.at = start
        return False
    kind = c.kind()
    if kind in HALVES:
        c.next()
        pieces.append((Halves(HALVES[kind], count), c.span(start)))
        return True
    if kind == "times":
        return _times(c, syntax, count, start, pieces)
    if kind in PICOTS and not _one_stitch(c, count, pieces) and _plural_picots(c, count, syntax.lines):
        return _spread(c, kind, count, start, pieces)
    if kind == "bead" and (c.peek().value == SEVERAL or (count == 1 and len(c.peek().text) > 1)):
        # "2 beads", "1 bead"; "8 b 8" is a bead between stitches.
        c.next()
        return _beads(c, count, start, pieces)
    if kind == "more" and c.kind(1) in ("like", "same", "times", *ELEMENTS):
        c.at = start
        return False
    if kind in ("ORD", "UNIT", "such") or (kind == "of" and c.kind(1) in ("this", "each")):
        c.at = start
        return False
    stitches = c.take(*STITCH)
    if (stitches is not None or not pieces) and read_division(c, count, start, pieces):
        return True
    if count:
        pieces.append((Stitches(count), c.span(start)))
    return True


def _one_stitch(c: Cursor, count: int, pieces: list[Piece]) -> bool:
    """``one picot two picot two``: where a count is due, one is a stitch."""
    if count != 1 or c.peek().value == SEVERAL or c.kind(1) != "NUM":
        return False
    return not pieces or isinstance(pieces[-1][0], Picot | Join)


def _plural_picots(c: Cursor, count: int, lines: bool) -> bool:
    """After a number: so many picots (``3 picots``, ``5 p sep by``) and not stitches followed by a picot (``5 p 5``)."""
    token = c.peek()
    if token.kind not in PICOTS:
        return False
    if not token.spaced:
        return False
    if count == 1 and not lines and c.kind(1) != "NUM":
        return True
    if token.value == SEVERAL or (len(token.text) > 2 and count == 1):
        return True
    ahead = Cursor(c.tokens, c.at + 1, c.limit)
    return read_gap(ahead)[0] is not None or (count == 1 and len(token.text) > 2)


def _spread(c: Cursor, kind: str, count: int, start: int, pieces: list[Piece]) -> bool:
    """``n picots separated by m``: n picots and n - 1 groups of m between them."""
    c.next()
    picot = _picot(c, kind)
    before, between, after = read_surrounds(c)
    if before is not None and after is not None:
        span = c.span(start)
        pieces.append((Stitches(before), span))
        lay_picots(kind, picot, count, between, None, span, pieces)
        pieces.append((Stitches(after), span))
        return True
    gap, ends = read_gap(c)
    lay_picots(kind, picot, count, gap, ends, c.span(start), pieces)
    return True


def _picot(c: Cursor, kind: str) -> Picot:
    """What follows a picot and belongs to it: its length, the beads in it."""
    picot = Picot(PICOTS[kind])  # type: ignore[arg-type]
    back = c.at
    c.skip({"of", "glue", "OPEN"} if c.kind(1) in ("NUM", "FRACTION", "about") else ())
    if c.kind() in ("NUM", "FRACTION", "about"):
        length = read_length(c)
        if length is not None:
            picot.length = length
            c.take("long")
            if c.tokens[back].kind == "OPEN":
                c.take("SHUT")
            back = c.at
    c.at = back
    one = c.kind() == "with" and c.peek(1).value == "one"
    if c.kind() in ("with", "glue", "carrying") and (c.kind(1) == "NUM" or one) and c.kind(2) == "bead":
        picot.beads = 1 if one else int(c.peek(1).value)
        c.at += 3
        c.skip({"glue", "on"})
        if c.kind() == "to" and c.kind(1) == "this":
            # "with a bead on it"
            c.at += 2
    return picot


def _likened(c: Cursor, picot: Picot) -> None:
    """``a picot like the first``, ``a picot twice as long``: what a picot is likened to, stepped over."""
    start = c.at
    twice = bool(c.take("twice"))
    if not twice and c.kind() not in ("like", "same"):
        return
    while c.kind() in ("like", "same", "this", "space", "long", "size", "glue", "ORD", "previous", "of", "pronoun"):
        c.next()
    if c.kind() not in ("COMMA", "STOP", "SEMI", "PARA", "NL", "END", "close") or c.at - start > 7:
        c.at = start
    elif twice and not picot.size:
        picot.size = "long"


def _beads(c: Cursor, count: int, start: int, pieces: list[Piece]) -> bool:
    pieces.append((Beads(count), c.span(start)))
    return True


def _halves(c: Cursor, pieces: list[Piece]) -> bool:
    """``first halves only, forty of them``: the number behind the kind."""
    start = c.at
    half = HALVES[c.next().kind]
    c.skip({"only", "glue", "COMMA", "COLON"})
    if c.kind() != "NUM":
        c.at = start
        return False
    count = int(c.next().value)
    if c.kind() == "of" and c.kind(1) == "this":
        c.at += 2
    pieces.append((Halves(half, count), c.span(start)))
    return True


def _mark(c: Cursor, syntax: WorkSyntax, pieces: list[Piece]) -> bool:
    """A dash, dot or plus sign between counts."""
    start = c.at
    token = c.next()
    meaning = syntax.marks.get(token.text)
    if meaning is None:
        meaning = {"PLUS": "join", "PLUSMINUS": "small"}.get(token.kind, "")
        if token.kind == "DASH" and len(token.text) > 1 and not pieces:
            c.at = start
            return False
    if token.kind == "DASH":
        following = c.kind()
        if (
            following in PICOTS
            or following in JOINS
            or (pieces and isinstance(pieces[-1][0], Picot | Join) and not syntax.marks)
        ):
            return True
        if following not in ("NUM", "OPEN", "bead", "SHUT", "SLASH") and not pieces:
            c.at = start
            return False
    if meaning == "join":
        if c.kind() == "lock_join" and not c.peek().spaced:
            c.next()
            return finish_join(c, "lock", start, pieces)
        return finish_join(c, "picot", start, pieces)
    if meaning == "lock":
        return finish_join(c, "lock", start, pieces)
    beads = 0
    while c.kind() == "bead" and (c.kind(1) == "DASH" or c.kind(1) == "bead"):
        c.next()
        beads += 1
        if c.kind() == "DASH":
            c.next()
            break
    pieces.append((Picot(meaning if meaning in ("small", "long") else "", beads=beads), c.span(start)))  # type: ignore[arg-type]
    return True


def _join(c: Cursor, kind: str, pieces: list[Piece]) -> bool:
    start = c.at
    if speaks_of_join(c, pieces):
        return True
    c.next()
    return finish_join(c, kind, start, pieces)


def _group(c: Cursor, syntax: WorkSyntax, pieces: list[Piece]) -> bool:
    """``(4 ds, p) 5 times``: work in brackets, so many times; brackets round the whole count mean nothing."""
    start = c.at
    c.next()
    inner: list[Piece] = []
    if c.kind() in ITEM_STARTS or (c.kind() == "COMMA"):
        inner = read_work(c, syntax)
    if not inner or c.kind() not in ("SHUT", "times"):
        if not (inner and c.kind() == "COMMA" and c.kind(1) == "NUM"):
            c.at = start
            return False
        c.next()
    times = read_times(c)
    closed = c.take("SHUT")
    if times is None and closed:
        times = read_times(c)
    if closed is None:
        c.at = start
        return False
    _repeat(inner, times or 1, pieces)
    return True


def read_times(c: Cursor) -> int | None:
    """``x 5``, ``5 x``, ``5 times``, ``twice`` at the position, stepped over."""
    start = c.at
    c.take("COMMA") if c.kind(1) in ("NUM", "twice", "times") else None
    if c.take("times"):
        if c.kind() == "NUM":
            return int(c.next().value)
    elif c.kind() == "NUM" and c.kind(1) == "times":
        count = int(c.next().value)
        c.next()
        return count
    elif c.take("twice"):
        return 2
    elif c.kind() == "once":
        c.next()
        return 1
    c.at = start
    return None


def _times(c: Cursor, syntax: WorkSyntax, count: int, start: int, pieces: list[Piece]) -> bool:
    """After a number and ``times``: ``3 x 7`` so many alike groups; ``4 times 2 double, 1 purl`` work repeated."""
    mark = c.peek()
    if c.kind(1) == "NUM" and len(mark.text) == 1 and c.kind(2) not in STITCH:
        c.next()
        groups = int(c.next().value)
        span = c.span(start)
        for number in range(min(groups, _LIMIT)):
            if number:
                pieces.append((Picot(), span))
            pieces.append((Stitches(count), span))
        return True
    if len(mark.text) > 1 and 1 < count < _LIMIT and _pair_follows(c):
        # "7 times alternately 2 double, 1 purl": the pair behind, so many times
        c.next()
        while c.kind() in ("WORD", "glue", "COLON", "COMMA"):
            c.next()
        inner: list[Piece] = []
        while len(inner) < 2 and _pass_filler(c, syntax, bool(inner)) and _item(c, syntax, inner):
            pass
        _repeat(inner, count, pieces)
        return True
    kinds = {type(item) for item, _ in pieces[-2:]}
    if len(mark.text) > 1 and len(pieces) >= 2 and kinds == {Picot, Stitches} and 1 < count < _LIMIT:
        # "four, picot, five times over": the last pair so many times in all
        pair = pieces[-2:]
        c.next()
        c.skip({"again"})
        _repeat(pair, count - 1, pieces)
        return True
    c.at = start
    return False


def _pair_follows(c: Cursor) -> bool:
    """Behind ``n times`` stand a count and a picot, led in by a word (``alternately``)."""
    ahead = 1
    while c.kind(ahead) in ("WORD", "glue", "COLON", "COMMA") and ahead < 4:
        ahead += 1
    if ahead == 1 or c.kind(ahead) != "NUM":
        return False
    return any(c.kind(ahead + i) in PICOTS for i in range(1, 5))


def _repeat(inner: list[Piece], times: int, pieces: list[Piece]) -> None:
    for _ in range(times):
        if len(pieces) > _LIMIT:
            return
        pieces.extend(inner)


def _side_change(c: Cursor, pieces: list[Piece]) -> bool:
    """A slash, caret, or the second shuttle named inside a split element."""
    start = c.at
    while c.kind() in ("SLASH", "CARET", "second_side", "shuttle", "NUM", "COLON", "with", "glue", "COMMA"):
        if c.kind() == "NUM" and (c.at == start or c.tokens[c.at - 1].kind != "shuttle"):
            break
        c.next()
    if not pieces:
        return True
    pieces.append((SideChange(), c.span(start)))
    return True


def spans_of(pieces: list[Piece]) -> list[Span]:
    return [span for _, span in pieces]


def items_of(pieces: list[Piece]) -> list[WorkItem]:
    return [item for item, _ in pieces]
