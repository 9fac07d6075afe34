"""The counts of an old book.

    item   = NUM double [divided by (NUM | a) picot]              so many stitches; parted by picots: one stitch each
           | NUM double and NUM picots [NUM of them SIZE and NUM SIZE]
           | NUM half stitches
           | (NUM | a) picot [length] [divided [each] by NUM double | followed by NUM double]
           | NUM times [alternately] pair                         the pair that follows
           | [,] NUM times                                        behind a pair: that pair, and nothing before it
           | ( item {item} [NUM times] ) [NUM times]

Facts: N picots divided by M have N - 1 gaps of M; N stitches divided by a picot have N - 1 picots; picots followed each by M have M
behind the last one, too; a trailing ``N times`` binds the last pair alone (usage of Beeton 1870 and Dillmont 1886).
"""

from __future__ import annotations

from copy import copy
from itertools import pairwise

from larkshead.model import Beads, Halves, Join, Picot, Stitches, WorkItem
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.lengths import read_length
from larkshead.reading.grammar.places import PICOTS
from larkshead.reading.grammar.said import Piece
from larkshead.reading.source import Span

HALVES = {"first_half": 1, "second_half": 2, "half_stitch": 1}
STITCHES = frozenset({"double_stitch", *HALVES})
COUNTED = frozenset({*STITCHES, *PICOTS, "bead"})
_MOST = 2000
# Brackets inside brackets that are followed.
_DEEPEST = 12
_BETWEEN = frozenset({"COMMA", "glue", "PARA", "again", "more", "WORD"})
_ADJECTIVES = frozenset(
    {"glue", "more", "long", "small", "large", "WORD", "PARA", "again", "another", "tight", "short"}
)
_LEADS = frozenset({"alternately", "following", "next", "consisting", "COLON", "DASH", "glue", "WORD", "to", "work"})


def counts_ahead(c: Cursor, ahead: int = 0) -> bool:
    """Whether counts begin so many tokens ahead."""
    last = ahead + _DEEPEST
    while c.kind(ahead) == "OPEN" and ahead < last:
        ahead += 1
    kind = c.kind(ahead)
    if kind == "NUM":
        if c.kind(ahead + 1) == "times":
            return True
        return _counted_kind(c, ahead + 1) is not None
    token = c.peek(ahead)
    if (kind == "glue" and token.value == "one") or kind == "another":
        noun = _counted_kind(c, ahead + 1)
        return noun in PICOTS
    return False


def _counted_kind(c: Cursor, ahead: int) -> str | None:
    """The kind of what is counted behind a number, adjectives passed."""
    for step in range(3):
        kind = c.kind(ahead + step)
        if kind in COUNTED:
            return None if kind in PICOTS and c.kind(ahead + step + 1) == "bead" else kind
        if kind not in _ADJECTIVES:
            return None
    return None


def read_item(c: Cursor, pieces: list[Piece], depth: int = 0) -> bool:
    """One item at the position; False, and nothing stepped over, where none stands there."""
    start = c.at
    if c.kind() == "OPEN":
        if depth < _DEEPEST and _group(c, pieces, depth + 1):
            return True
        c.at = start
        return False
    if not counts_ahead(c):
        return False
    if c.kind() == "NUM" and c.kind(1) == "times":
        return _times(c, pieces)
    token = c.next()
    count = int(token.value) if token.kind == "NUM" else 1
    sized = ""
    while c.kind() in _ADJECTIVES:
        sized = {"long": "long", "large": "long", "small": "small", "short": "small"}.get(c.kind(), sized)
        c.next()
    kind = c.next().kind
    c.skip({"more"})
    if kind in HALVES:
        pieces.append((Halves(HALVES[kind], min(count, _MOST)), c.span(start)))
    elif kind == "bead":
        pieces.append((Beads(min(count, _MOST)), c.span(start)))
    elif kind in PICOTS:
        _picots(c, count, PICOTS[kind] or sized, start, pieces)
    elif not (_parted(c, count, start, pieces) or _spread(c, count, start, pieces)):
        pieces.append((Stitches(count), c.span(start)))
    return True


def _picots(c: Cursor, count: int, size: str, start: int, pieces: list[Piece]) -> None:
    picot = Picot(size)  # type: ignore[arg-type]
    _measure(c, picot)
    if c.kind() == "with" and c.kind(1) in ("NUM", "glue") and c.kind(2) == "bead":
        picot.beads = int(c.peek(1).value) if c.kind(1) == "NUM" else 1
        c.at += 3
    gap, followed = _gap(c)
    span = c.span(start)
    for number in range(min(count, _MOST)):
        if number and gap is not None and not followed:
            pieces.append((Stitches(gap), span))
        pieces.append((copy(picot), span))
        if followed and gap is not None:
            pieces.append((Stitches(gap), span))
    _measure(c, picot)


def _measure(c: Cursor, picot: Picot) -> None:
    """How long a picot is, told behind it: ``about one-fifth of an inch long``, ``twice as long as the others``."""
    back = c.at
    c.skip({"COMMA", "glue", "WORD", "of"} if c.find({"UNIT"}, ("COMMA", "SEMI", "STOP"), 9) is not None else {"COMMA"})
    if c.kind() in ("NUM", "FRACTION", "about", "ORD"):
        length = read_length(c)
        if length is not None:
            picot.length = length
            picot.size = picot.size or ("long" if c.kind() == "long" else "")
            c.take("long")
            return
    elif c.kind() in ("twice_as", "long") and c.kind(1) != "picot":
        c.next()
        picot.size = "long"
        while c.kind() in ("WORD", "glue", "other"):
            c.next()
        return
    c.at = back


def _gap(c: Cursor) -> tuple[int | None, bool]:
    """``divided [each] by 2 double``, ``divided one from the other by 2``, ``each followed by 2 double``: the gap, and whether one
    stands behind the last picot, too."""
    start = c.at
    told, followed = False, False
    for _ in range(11):
        kind = c.kind()
        if kind in ("separated", "followed", "between"):
            told, followed = True, kind == "followed"
        elif kind == "NUM":
            if told and (_counted_kind(c, 1) in STITCHES or c.tokens[c.at - 1].kind in ("by", "followed")):
                gap = int(c.next().value)
                c.skip({"glue"} if c.kind(1) == "double_stitch" else ())
                c.take("double_stitch")
                return gap, followed
            if c.kind(1) != "from" and not (told and c.peek().text.isalpha()):
                break
        elif kind not in ("COMMA", "glue", "by", "each", "from", "WORD", "other", "with", "pronoun", "this") or (
            kind == "COMMA" and told
        ):
            break
        c.next()
    c.at = start
    return None, False


def _parted(c: Cursor, count: int, start: int, pieces: list[Piece]) -> bool:
    """``10 double divided by 1 purl``: single stitches with a picot between each two; by several picots, equal groups."""
    back = c.at
    c.skip({"COMMA", "glue", "each"})
    if c.take("separated") is None:
        c.at = back
        return False
    c.skip({"each", "by", "glue", "from", "other"} if c.kind() != "glue" or c.peek().value != "one" else {"each", "by"})
    number = c.take("NUM")
    picots = int(number.value) if number is not None else 1
    sized = ""
    while c.kind() in ("glue", "small", "long", "large", "short", "WORD"):
        sized = {"long": "long", "large": "long", "small": "small", "short": "small"}.get(c.kind(), sized)
        c.next()
    if c.kind() not in PICOTS:
        c.at = back
        return False
    picot = Picot(PICOTS[c.next().kind] or sized)  # type: ignore[arg-type]
    _measure(c, picot)
    span = c.span(start)
    groups = [1] * min(count, _MOST) if picots == 1 else [count // (picots + 1)] * (picots + 1)
    for number_of, stitches in enumerate(groups):
        if number_of:
            pieces.append((copy(picot), span))
        pieces.append((Stitches(stitches), span))
    return True


def _spread(c: Cursor, count: int, start: int, pieces: list[Piece]) -> bool:
    """``24 double and 12 picots, 6 of them short and 6 long``: a picot behind each equal group."""
    if c.kind() != "glue" or c.kind(1) != "NUM" or c.kind(2) not in PICOTS:
        return False
    picots = int(c.peek(1).value)
    if picots < 2 or count % picots or picots > _MOST:
        return False
    size = PICOTS[c.peek(2).kind]
    c.at += 3
    sizes = _sizes(c) or [size]
    span = c.span(start)
    for number in range(picots):
        pieces.append((Stitches(count // picots), span))
        pieces.append((Picot(sizes[number % len(sizes)]), span))  # type: ignore[arg-type]
    return True


def _sizes(c: Cursor) -> list[str]:
    """``6 of them short and 6 long``: the sizes in the order told."""
    back, found, last = c.at, [], c.at
    for _ in range(12):
        kind = c.kind()
        if kind in ("short", "small", "long", "large", "small_picot", "long_picot"):
            found.append("small" if kind.startswith("s") else "long")
            last = c.at + 1
        elif kind not in ("COMMA", "NUM", "of", "this", "glue", "WORD", "which"):
            break
        c.next()
    c.at = last if len(found) == 2 else back
    return found if len(found) == 2 else []


def _times(c: Cursor, pieces: list[Piece]) -> bool:
    start = c.at
    count = int(c.next().value)
    c.next()
    comma = start > 0 and c.tokens[start - 1].kind in ("COMMA", "SEMI", "glue", "consisting")
    ahead = 0
    while c.kind(ahead) in _LEADS and ahead < 7:
        ahead += 1
    told = any(c.kind(i) in ("alternately", "consisting", "following", "next") for i in range(ahead))
    leading = (ahead == 0 or told or not pieces) and counts_ahead(c, ahead) and c.kind(ahead + 1) != "times"
    if leading and (told or comma or not _pair(pieces)):
        c.at += ahead
        group: list[Piece] = []
        if _groups_parted(c, count, pieces):
            return True
        while len(group) < 2:
            if not read_item(c, group):
                break
            if len(group) < 2 and not _step_to_item(c):
                break
        if told and not pieces:
            _third(c, group)
        _again(group, count, pieces)
        return True
    c.skip({"more", "WORD"} if c.kind() == "more" else ())
    if _pair(pieces):
        pair = pieces[-2:]
        for _ in range(min(count, _MOST) - 1):
            pieces += pair
        return True
    c.at = start
    return False


def _third(c: Cursor, group: list[Piece]) -> None:
    """``8 times alternately 2 double, 1 purl, 1 double``: a lesser count behind the pair, with no word to close, belongs to it."""
    first = group[0][0] if group else None
    if c.kind() != "COMMA" or c.kind(1) != "NUM" or c.kind(2) != "double_stitch" or not isinstance(first, Stitches):
        return
    if len(group) == 2 and int(c.peek(1).value) < first.count:
        c.next()
        read_item(c, group)


def _groups_parted(c: Cursor, count: int, pieces: list[Piece]) -> bool:
    """``4 times 2 double divided by a short purl``: so many groups, and a picot between each two."""
    start = c.at
    if c.kind() != "NUM" or c.kind(1) != "double_stitch":
        return False
    stitches = int(c.next().value)
    c.next()
    group: list[Piece] = []
    if not _parted(c, 2, start, group) or len(group) != 3:
        c.at = start
        return False
    for number in range(min(count, _MOST)):
        if number:
            pieces.append((copy(group[1][0]), group[1][1]))
        pieces.append((Stitches(stitches), group[0][1]))
    return True


def repeat_pair(pieces: list[Piece], count: int) -> bool:
    """The pair told last, so many times in all."""
    if not _pair(pieces):
        return False
    pair = pieces[-2:]
    for _ in range(min(count, _MOST) - 1):
        pieces += pair
    return True


def _pair(pieces: list[Piece]) -> bool:
    """A count and a picot stand last."""
    if len(pieces) < 2:
        return False
    one, two = pieces[-2][0], pieces[-1][0]
    return (isinstance(one, Stitches | Halves) and isinstance(two, Picot | Join)) or (
        isinstance(one, Picot | Join) and isinstance(two, Stitches | Halves)
    )


def _again(group: list[Piece], count: int, pieces: list[Piece]) -> None:
    for _ in range(min(count, _MOST)):
        if len(pieces) < _MOST:
            pieces += group


def _step_to_item(c: Cursor) -> bool:
    back = c.at
    while c.kind() in _BETWEEN and not counts_ahead(c):
        c.next()
    if counts_ahead(c):
        return True
    c.at = back
    return False


def _group(c: Cursor, pieces: list[Piece], depth: int) -> bool:
    """``(3 double, 1 purl 10 times)``, ``(3 double, 1 purl) 10 times``."""
    c.next()
    inner: list[Piece] = []
    times = None
    while True:
        c.skip({"COMMA"})
        if c.kind() == "NUM" and c.kind(1) == "times" and inner and c.kind(2) in ("SHUT", "COMMA"):
            times = int(c.next().value)
            c.next()
        elif not (counts_ahead(c) and read_item(c, inner, depth)):
            break
        c.skip({"glue"})
    if not inner or c.take("SHUT") is None:
        return False
    back = c.at
    c.take("COMMA")
    if times is None and c.kind() == "NUM" and c.kind(1) == "times":
        times = int(c.next().value)
        c.next()
    else:
        c.at = back
    _again(inner, times or 1, pieces)
    return True


def work_of(pieces: list[Piece]) -> tuple[list[WorkItem], list[Span]]:
    """The work told piece by piece, counts that touch made one, every item an object of its own."""
    work: list[WorkItem] = []
    spans: list[Span] = []
    for item, span in pieces:
        last = work[-1] if work else None
        if (isinstance(item, Stitches) and isinstance(last, Stitches)) or (
            isinstance(item, Halves) and isinstance(last, Halves) and last.half == item.half
        ):
            last.count += item.count
            spans[-1] = spans[-1].join(span)
        else:
            work.append(copy(item))
            spans.append(span)
    return work, spans


def only_a_spread(pieces: list[Piece]) -> int:
    """The gap, where the work is picots parted by it and nothing else; else 0."""
    items = [item for item, _ in pieces]
    if len(items) < 3 or not isinstance(items[0], Picot) or not isinstance(items[-1], Picot):
        return 0
    gaps = {item.count for item in items if isinstance(item, Stitches)}
    mixed = any(isinstance(a, Picot) == isinstance(b, Picot) for a, b in pairwise(items))
    return gaps.pop() if len(gaps) == 1 and not mixed and all(isinstance(i, Picot | Stitches) for i in items) else 0
