"""Joins in the work of an element: where they go, the beads they carry, and what is only said of them."""

from __future__ import annotations

from larkshead.model import Join, Place
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.places import ELEMENTS, PICOTS, read_place
from larkshead.reading.grammar.said import Piece


def begins_with_bead(c: Cursor) -> bool:
    """Whether a bead is slipped over a picot here that is then joined."""
    return c.kind() in ("slide", "bead") and bead_over(c) is not None


def bead_over(c: Cursor) -> tuple[Join, int] | None:
    """``slip a bead over the last picot of the ring before and join``: a join that carries a bead, and where its words end."""
    probe = Cursor(c.tokens, c.at, c.limit)
    probe.take("slide")
    probe.skip({"glue", "WORD"} if probe.kind() != "bead" else ())
    if probe.kind() == "NUM" and probe.peek().value == 1:
        probe.next()
    if not probe.take("bead") or not probe.take("to"):
        return None
    place = read_place(probe)
    if place is None:
        # "over that picot"
        probe.skip({"this", "glue"})
        if not probe.take(*PICOTS):
            return None
    elif place.spot != "picot":
        return None
    ahead = probe.find({"join", "joining"}, ("STOP", "SEMI", "PARA", "NUM", "lock_join", *ELEMENTS), 14)
    if ahead is None:
        return None
    probe.at += ahead + 1
    said_again = probe.at
    while probe.kind() in ("to", "this", "pronoun", "glue", "bead") and probe.at - said_again < 4:
        probe.next()
    rest = Cursor(probe.tokens, probe.at, probe.limit)
    while rest.kind() in ("to", "this", "glue", "bead", "join", "WORD") and rest.at - said_again < 12:
        # "... through it so that the bead sits on the join"
        rest.next()
    if rest.kind() in ("COMMA", "SEMI", "STOP") and any(t.kind == "bead" for t in c.tokens[said_again : rest.at]):
        probe.at = rest.at
    return Join([place] if place else [], beads=1), probe.at


def speaks_of_join(c: Cursor, pieces: list[Piece]) -> bool:
    """``..., and that join goes in the last picot of the ring before``: where the join told before goes."""
    start = c.at
    told = next((item for item, _ in reversed(pieces) if isinstance(item, Join)), None)
    if told is None or not start or c.tokens[start - 1].kind != "this" or c.peek(1).kind == "NUM":
        return False
    c.next()
    c.skip({"glue", "WORD"})
    place = read_place(c) if c.kind() == "to" else None
    if place is not None and not told.places:
        told.places.append(place)
    return True


def finish_join(c: Cursor, kind: str, start: int, pieces: list[Piece]) -> bool:
    """The place of a join, in brackets or not, and its bead."""
    join = Join([], kind)  # type: ignore[arg-type]
    if c.kind() == "bead" and (not c.peek().spaced or c.kind(1) == "NUM"):
        c.next()
        join.beads = 1
    if kind == "lock":
        # "lock the shuttle thread into the foot of the ring"
        threads = Cursor(c.tokens, c.at, c.limit)
        threads.skip({"glue", "shuttle", "thread", "core"})
        if threads.kind() == "to" and threads.at > c.at and c.tokens[threads.at - 1].kind in ("shuttle", "thread"):
            c.at = threads.at
    back = c.at
    if c.kind() == "OPEN":
        c.next()
        c.skip({"to", "glue", "PLUS", "join", "WORD"})
        place = read_place(c, bracket=True)
        if (place is not None and c.kind() == "OPEN") or c.kind() in ("SHUT", "NUM", "SEMI", "NL"):
            if place is not None:
                join.places.append(place)
            c.take("SHUT")
        else:
            c.at = back
    else:
        place = read_place(c)
        if place is not None:
            join.places.append(place)
            _come_to(c)
        elif c.kind() == "to" and (named := _named_place(c)) is not None:
            join.places.append(named)
    pieces.append((join, c.span(start)))
    return True


def _come_to(c: Cursor) -> None:
    """``the first picot you come to,``: words about a place, stepped over up to the comma."""
    ahead = 0
    while ahead < 5 and c.kind(ahead) in ("glue", "WORD", "to", "this"):
        ahead += 1
    if (
        c.kind(ahead) == "COMMA"
        and c.kind(ahead + 1) == "NUM"
        and any(t.kind == "WORD" for t in c.tokens[c.at : c.at + ahead])
    ):
        c.at += ahead


def _named_place(c: Cursor) -> Place | None:
    """``lock it to the edge, five``: a place of a name of its own, before more work."""
    ahead = 1
    while c.kind(ahead) in ("glue", "this") and ahead < 4:
        ahead += 1
    if c.kind(ahead) != "WORD" or c.kind(ahead + 1) not in ("COMMA", "NUM", "STOP", "SEMI", "reverse_work", "close"):
        return None
    words = " ".join(c.peek(i).text for i in range(1, ahead + 1))
    c.at += ahead + 1
    return Place(words=words)
