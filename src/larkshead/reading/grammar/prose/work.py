"""Work that goes on in the next clause, that no word names, or that an ordinal or a pronoun names."""

from __future__ import annotations

from larkshead.model import (
    Halves,
    Join,
    NoTurn,
    Picot,
    SideChange,
    Stitches,
    Switch,
)
from larkshead.reading.grammar.core import CLAUSE_ENDS
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.itemjoins import begins_with_bead
from larkshead.reading.grammar.items import ITEM_STARTS, read_work
from larkshead.reading.grammar.places import ELEMENTS, PARTS, PICOTS
from larkshead.reading.grammar.prose.elements import ProseElements, drop_announced, one_side_change
from larkshead.reading.grammar.prose.words import JOINS
from larkshead.reading.grammar.said import (
    Piece,
    SaidElement,
    SaidNote,
    SaidStep,
    SaidUnit,
)
from larkshead.reading.grammar.spreads import read_division, read_surrounds

# What may be said of half stitches before what they make is named.
_ABOUT_HALVES = ("COMMA", "first_half", "second_half", "only", "close", "this", "all")
_COUNTED = frozenset({"double_stitch", "half_stitch", "first_half", "second_half"})
# Threads that may be named where a split element changes sides.
_THREADS = frozenset({"ball", "tail", "thread", "bare_thread", "second_side"})


class ProseWork(ProseElements):
    """Work that goes on in the next clause, that no word names, or that an ordinal or a pronoun names."""

    def go_on(self) -> bool:
        """More work for the element told last: ``..., 6; and join to the first picot; finish with 4``."""
        c = self.c
        start = c.at
        if self.open is None or c.kind() in ("OPEN", "DASH") or not (c.kind() in ITEM_STARTS or begins_with_bead(c)):
            return False
        if c.kind() in JOINS and (self.open.kind.endswith("chain") or c.tokens[start - 1].kind == "STOP"):
            return False
        if (
            self.c.tokens[self.sentence : self.sentence + 1]
            and self.open.span.end < c.tokens[self.sentence].start
            and any(
                t.kind not in ("glue", "COMMA", "NUM", "DASH", "another", *ITEM_STARTS)
                and not (
                    self.open.kind.startswith("split")
                    and t.kind in ("with", "ORD", "shuttle", "to", "WORD", "COLON", "SEMI", *_THREADS)
                )
                for t in c.tokens[self.sentence : start]
            )
        ):
            return False
        if (
            c.kind() == "NUM"
            and isinstance(self.open.pieces[-1][0], Stitches)
            and not self.open.kind.startswith("split")
            and self._behind_semicolon(start)
        ):
            return False
        if c.kind() == "NUM":
            split = self.open.kind.startswith("split")
            if not self._counts_stitches(split) or c.kind(1) not in (
                *(("to", "like", "from", "with", "WORD") if split else ()),
                "double_stitch",
                "COMMA",
                "STOP",
                "SEMI",
                "close",
                "glue",
                "join",
                "again",
                "END",
                "first_half",
                "second_half",
                "bead",
                *PICOTS,
            ):
                return False
            if c.kind(1) == "glue" and c.kind(2) in ELEMENTS:
                return False
            if c.tokens[start - 1].kind in (
                "WORD",
                "each",
                "go_on",
                "to",
                "restating",
                "this",
                "from",
                "until",
                "other",
            ) and not (split and c.tokens[start - 1].kind in ("WORD", "this", "other")):
                return False
        elif c.kind() in PICOTS and not (
            isinstance(self.open.pieces[-1][0].__class__, type) and c.kind(1) in ("COMMA", "NUM", "glue")
        ):
            return False
        pieces = read_work(c, self._syntax(self.open))
        if not pieces:
            c.at = start
            return False
        element = self.open
        if _tells_all(element.pieces, pieces):
            element.pieces = []
        self._side_told_between(element, pieces, start)
        element.pieces.extend(pieces)
        drop_announced(element)
        if element.kind.startswith("split"):
            one_side_change(element)
        self.listed(element)
        self._after_element(element)
        element.span = element.span.join(c.span(start))
        if c.tokens[c.at - 1].kind in ("close", "half_closed"):
            self.open = None
        return True

    def _side_told_between(self, element: SaidElement, pieces: list[Piece], start: int) -> None:
        """In a split element, a thread named before the count that goes on: there the other side begins."""
        c = self.c
        if not element.kind.startswith("split") or any(
            isinstance(item, SideChange) for item, _ in (*element.pieces, *pieces)
        ):
            return
        for at in range(start - 1, max(-1, start - 24), -1):
            if c.tokens[at].end <= element.pieces[-1][1].end:
                return
            if c.tokens[at].kind in _THREADS or c.tokens[at].kind == "shuttle":
                pieces.insert(0, (SideChange(), c.span(at, at + 1)))
                return

    def other_side(self) -> bool:
        """``...; with shuttle two, nine stitches``: the second side of the split element that is being told."""
        c = self.c
        start = c.at
        element = self.open
        if element is None or not element.kind.startswith("split") or c.kind() not in ("with", "shuttle", "switch"):
            return False
        if any(isinstance(item, SideChange) for item, _ in element.pieces):
            return False
        while c.kind() in (
            "with",
            "glue",
            "ORD",
            "shuttle",
            "other",
            "COMMA",
            "COLON",
            "this",
            "WORD",
            "to",
            *_THREADS,
        ) or (
            c.kind() == "NUM"
            and c.tokens[c.at - 1].kind == "shuttle"
            and c.kind(1) in ("COMMA", "COLON", "NUM", "WORD", "glue")
        ):
            c.next()
            if c.at - start > 10:
                break
        if c.kind() == "switch":
            c.at = start
            return False
        pieces = read_work(c, self._syntax(element)) if c.kind() in ("NUM", "join") else []
        if not any(isinstance(item, Stitches) for item, _ in pieces):
            c.at = start
            return False
        element.pieces += [(SideChange(), c.span(start, start + 1)), *pieces]
        one_side_change(element)
        self._after_element(element)
        element.span = element.span.join(c.span(start))
        return True

    def by_shuttle(self) -> bool:
        """``with the second shuttle``: where another shuttle is named than the one in use, they are changed."""
        c = self.c
        start = c.at
        if c.kind() != "with" or (self.open is not None and self.open.kind.startswith("split")):
            return False
        if self.named.startswith("split"):
            return False
        at = start + 1
        while at < c.limit and c.tokens[at].kind in ("glue", "this", "same"):
            at += 1
        if at + 1 >= c.limit or c.tokens[at].kind not in ("ORD", "other") or c.tokens[at + 1].kind != "shuttle":
            return False
        if not any(isinstance(said, SaidElement) for said in self.lately()):
            return False
        to = f"shuttle {c.tokens[at].value}" if c.tokens[at].kind == "ORD" else None
        c.at = at + 2
        return self.say(Switch(to), start)

    def more_of_one(self) -> bool:
        """``five more of the chain, lock to the picot, five``: the element named is gone on with."""
        c = self.c
        start = c.at
        if c.kind() != "NUM" or c.kind(1) != "more":
            return False
        at = start + 2 + (c.kind(2) == "double_stitch")
        if at >= c.limit or c.tokens[at].kind not in ("of", "to"):
            return False
        at += 1
        while at < c.limit and c.tokens[at].kind in ("glue", "this", "same"):
            at += 1
        if at >= c.limit or c.tokens[at].kind not in ELEMENTS or c.tokens[at].text[-1] in "sS":
            return False
        kind = ELEMENTS[c.tokens[at].kind]
        last = next((s for s in self.lately() if isinstance(s, SaidElement)), None)
        if last is None or not any(isinstance(s, SaidElement) and s.kind == kind for s in self.lately()):
            return False
        number = c.peek()
        c.at = at + 1
        behind = Cursor(c.tokens, c.at, c.limit)
        behind.take("COMMA")
        pieces: list[Piece] = [(Stitches(int(number.value)), c.span(start, start + 1))]
        if more := read_work(behind, self.syntax):
            pieces += more
            c.at = behind.at
        if last.kind == kind and last is self.open:
            last.pieces += pieces
            last.span = last.span.join(c.span(start))
            return True
        element = SaidElement(kind, c.span(start), pieces)
        return self.tell_whole(element, start)

    def back_on_chain(self) -> bool:
        """``..., close the little ring, swap back and do another five``: the chain the ring was thrown off goes on."""
        c = self.c
        start = c.at
        c.skip({"glue"})
        c.take("another")
        if c.kind() != "NUM" or not self._counts_stitches(False) or not self._thrown_off():
            c.at = start
            return False
        if c.kind(1) not in ("double_stitch", "more", "glue", "COMMA", *CLAUSE_ENDS, *PICOTS):
            c.at = start
            return False
        element = SaidElement("chain", c.span(start))
        element.pieces = read_work(c, self._syntax(element))
        if not any(isinstance(item, Stitches) for item, _ in element.pieces):
            c.at = start
            return False
        c.take("more")
        return self.tell_whole(element, start)

    def _thrown_off(self) -> bool:
        """Whether a ring was told last and the chain it was thrown off before, with no turn, threads changed about it at most."""
        seen: list[str] = []
        switched = 0
        for said in self.lately():
            if isinstance(said, SaidElement):
                seen.append(said.kind)
                if len(seen) == 2:
                    return seen[0] in ("ring", "josephine ring") and seen[1] == "chain" and switched > 0
            elif isinstance(said, SaidStep):
                if not isinstance(said.step, Switch | NoTurn):
                    return False
                switched += isinstance(said.step, Switch)
            elif not isinstance(said, SaidNote):
                return False
        return False

    def _behind_semicolon(self, at: int) -> bool:
        """``4, picot, 4; then 5, picot, 5``: what comes behind the mark begins anew."""
        tokens = self.c.tokens
        back = at - 1
        while back > 0 and tokens[back].kind == "glue" and at - back < 4:
            back -= 1
        return back >= 0 and tokens[back].kind == "SEMI"

    def ends_told(self) -> bool:
        """``Six stitches come before the first picot and six behind the last``: the ends of an element told by its picots alone."""
        c = self.c
        if c.kind() not in ("NUM", "ends", "with"):
            return False
        last = next((s for s in self.lately() if isinstance(s, SaidElement)), None)
        if last is None or not last.pieces or not isinstance(last.pieces[0][0], Picot):
            return False
        if not isinstance(last.pieces[-1][0], Picot):
            return False
        start = c.at
        before, _, after = read_surrounds(c)
        if before is None or after is None:
            return False
        span = c.span(start)
        last.pieces = [(Stitches(before), span), *last.pieces, (Stitches(after), span)]
        last.span = last.span.join(span)
        return True

    def by_thread(self) -> bool:
        """``with the ball thread put on nine``: work over the shuttle's thread is a chain, though no word says so."""
        c = self.c
        start = c.at
        if (
            c.kind() not in ("with", "to")
            or self.named.startswith("split")
            or (self.open is not None and self.open.kind.startswith("split"))
        ):
            return False
        ball = c.find({"ball"}, CLAUSE_ENDS | {"COMMA", "NUM"}, 4)
        if ball is None or any(c.kind(i) not in ("glue", "this") for i in range(1, ball)):
            return False
        c.at += ball + 1
        c.skip({"thread", "COMMA", "glue", "this", "WORD", "COLON"})
        if (
            c.kind() != "NUM"
            or not self._counts_stitches(True)
            or c.kind(1) not in ("double_stitch", "COMMA", "again", "glue", "SEMI", *CLAUSE_ENDS, *PICOTS)
        ):
            c.at = start
            return False
        element = SaidElement("chain", c.span(start))
        element.pieces = read_work(c, self._syntax(element))
        if not any(isinstance(item, Stitches) for item, _ in element.pieces):
            c.at = start
            return False
        return self.tell_whole(element, start)

    def implied(self) -> bool:
        """Work told with no word for the element: a ring."""
        c = self.c
        start = c.at
        if c.kind() not in ("NUM", *PICOTS) or (c.kind() in PICOTS and (not self.fresh or c.kind(1) != "COMMA")):
            return False
        if start and c.tokens[start - 1].kind in (*PARTS, "step", "shuttle"):
            return False
        probe = Cursor(c.tokens, c.at, c.limit)
        pieces = read_work(probe, self.syntax)
        between = [t.kind for t in c.tokens[start : probe.at]]
        if self._makes(pieces, probe, start):
            return True
        if len(pieces) == 1 and isinstance(pieces[0][0], Halves) and not self.tokens_before(start, "to"):
            c.at = probe.at
            kind = self.named or ("josephine ring" if c.find({"close"}, CLAUSE_ENDS, 3) is not None else "chain")
            element = SaidElement(kind, c.span(start), pieces)
            return self.tell_whole(element, start)
        if pieces and probe.kind() == "of" and probe.kind(1) in ELEMENTS and all(k not in PICOTS for k in between[:1]):
            element = SaidElement(ELEMENTS[probe.kind(1)], c.span(start), pieces)
            c.at = probe.at + 2
            element.span = c.span(start)
            self.tell(element)
            return True
        if (
            self.named.startswith("split")
            and pieces
            and isinstance(pieces[0][0], Stitches)
            and between[0] == "NUM"
            and self._counts_stitches(True)
        ):
            element = SaidElement(self.named, c.span(start))
            element.pieces = read_work(c, self._syntax(element))
            element.span = c.span(start)
            self.tell(element)
            return True
        if len(pieces) == 1 and isinstance(pieces[0][0], Stitches) and self._closed(probe):
            element = SaidElement(self.named or "ring", c.span(start), pieces, unnamed=True)
            c.at = probe.at
            c.skip({"glue"})
            return self.tell_whole(element, start)
        least = 2 if self.fresh and "double_stitch" in between else 3
        if len(pieces) < least or not any(k in PICOTS or k in JOINS or k == "bead" for k in between):
            return False
        last = next((s for s in self.lately() if isinstance(s, SaidElement)), None)
        named = self.named
        kind = self.named or ("chain" if between[0] in PICOTS and last is not None and last.kind == "chain" else "ring")
        counted = bool(self.named) and self.tokens_before(start, "COMMA") and self.named_count > 1
        count = min(self.named_count, 10**6) if counted else 1
        element = SaidElement(kind, c.span(start), pieces, count=count, unnamed=not counted)
        c.at = probe.at
        self._after_element(element)
        element.span = c.span(start)
        self.tell(element)
        self.from_name = named
        return True

    def _closed(self, behind: Cursor) -> bool:
        """Behind a single count: it is closed, so it is a ring."""
        probe = Cursor(behind.tokens, behind.at, behind.limit)
        probe.skip({"glue", "COMMA"})
        return probe.kind() == "close" and self._counts_stitches(False)

    def _makes(self, pieces: list[Piece], behind: Cursor, start: int) -> bool:
        """``Fifteen half stitches make a Josephine knot``; ``nine doubles on the ball make the chain``: what the work told first is."""
        c = self.c
        over_one = behind.kind() in ("to", "like") and behind.kind(1) == "glue" and behind.kind(2) in ELEMENTS
        counted = any(t.kind in _COUNTED for t in c.tokens[start : behind.at])
        if not pieces or not (counted or (over_one and len(pieces) == 1 and self._counts_stitches(False))):
            return False
        halves = isinstance(pieces[-1][0], Halves)
        over = {*CLAUSE_ENDS, "NUM", "of", "with", "reverse_work", *PICOTS, *(() if halves else ("COMMA", "close"))}
        noun = behind.find(set(ELEMENTS), over, 14 if halves else 6)
        if (
            noun is None
            or not noun
            or behind.kind(noun + 1) not in (*CLAUSE_ENDS, "COMMA", "reverse_work", "close", "cut", "glue")
        ):
            return False
        between = ("glue", "WORD", "to", "like", "ball", "thread", *(_ABOUT_HALVES if halves else ()))
        if any(behind.kind(i) not in between for i in range(noun)):
            return False
        element = SaidElement(ELEMENTS[behind.kind(noun)], c.span(start), pieces)
        c.at = behind.at + noun + 1
        if len(pieces) == 1 and isinstance(pieces[0][0], Stitches):
            # "20 ds as a chain, dividing them into five equal groups by picots"
            parted: list[Piece] = []
            if read_division(c, pieces[0][0].count, start, parted):
                element.pieces = parted
        return self.tell_whole(element, start)

    def head(self) -> bool:
        """``Middle one: 5 ds, ...``, ``The heart: six``: a few words and a colon before work stand for an element."""
        c = self.c
        start = c.at
        colon = c.find(
            {"COLON"}, CLAUSE_ENDS | {"COMMA", "NUM", *ELEMENTS, *PARTS, "step", "shuttle", "MARK", "OPEN", "repeat"}, 5
        )
        if colon and c.kind(colon + 1) in (*ELEMENTS, "glue", "reverse_work", "leave", "with"):
            for token in c.tokens[start : start + colon]:
                if token.kind == "WORD" and len(token.text) > 2:
                    self.names.add(token.text.lower())
                    self.said.append(SaidUnit(token.text.lower(), c.span(start)))
            c.at += colon + 1
            return True
        if not colon or c.kind(colon + 1) != "NUM" or c.kind(colon + 2) not in ("double_stitch", "COMMA", *PICOTS):
            return False
        last = next((s for s in self.lately() if isinstance(s, SaidElement)), None)
        if last is None and not self.named:
            return False
        size = next((c.kind(i) for i in range(colon) if c.kind(i) in ("large", "small")), "")
        # "The second and third: ..."
        count = sum(c.kind(i) == "ORD" for i in range(colon)) or 1
        c.at += colon + 1
        element = SaidElement(self.named or (last.kind if last else "ring"), c.span(start), size=size, count=count)
        element.pieces = read_work(c, self._syntax(element))
        if not element.pieces:
            c.at = start
            return False
        return self.tell_whole(element, start)

    def ordinal(self) -> bool:
        c = self.c
        start = c.at
        if super().ordinal():
            return True
        c.at = start
        number = int(c.next().value)
        also = 0
        while c.kind() in ("COMMA", "glue") and c.kind(1) == "ORD" and c.find({"COLON"}, CLAUSE_ENDS, 8) is not None:
            # "The second and third: ..."
            c.at += 2
            also += 1
        if self._noun_ordinal(number, start):
            told = self.said[-1]
            if also and isinstance(told, SaidElement):
                told.count = also + 1
            return True
        c.at = start
        return False

    def _noun_ordinal(self, number: int | None, start: int) -> bool:
        """``The third: five, picot, five``; ``the sixth is a split ring``: an ordinal that stands for the element."""
        c = self.c
        if self.open is not None and self.open.kind.startswith("split") and number == 2:
            c.take("COMMA")
            return self.go_on()
        if c.kind() == "glue":
            named = c.find(set(ELEMENTS), CLAUSE_ENDS | {"COMMA", "NUM", *JOINS}, 6)
            if named is not None and c.kind(named) not in ("ring", "chain"):
                c.at += named
                return self.element(number=number, start=start)
        last = next((s for s in self.lately() if isinstance(s, SaidElement)), None)
        if last is None:
            return False
        if c.kind() in ("glue", "like", "same") and (c.kind() != "glue" or c.kind(1) in ("like", "same")):
            element = SaidElement(self.named or last.kind, c.span(start), label=str(number), first=number)
            if self._alike(element):
                element.span = c.span(start)
                self.tell(element)
                return True
            return False
        colon = c.find({"COLON"}, CLAUSE_ENDS | {"COMMA", "NUM"}, 7)
        aside = c.find({"COMMA"}, CLAUSE_ENDS | {"NUM"}, 6)
        if colon is None and aside is not None and c.kind(aside + 1) in JOINS and c.kind(aside + 2) == "COLON":
            # "a second one beside it, joined: 6, ..."
            colon = aside + 2
        if colon is not None:
            c.at += colon + 1
        elif (c.kind() == "COMMA" and c.kind(1) == "NUM") or (
            c.kind() == "NUM" and c.kind(1) in ("COMMA", "double_stitch")
        ):
            c.take("COMMA")
        elif c.kind() in ("glue", "pronoun") and c.find({"NUM"}, CLAUSE_ENDS | {"COMMA", *JOINS}, 4) is not None:
            c.at += c.find({"NUM"}, (), 4) or 0
            if c.kind(1) not in ("COMMA", "double_stitch", "glue", *PICOTS):
                return False
        else:
            return False
        element = SaidElement(
            self.named or last.kind, c.span(start), label=str(number) if number else None, first=number
        )
        self._body(element)
        if not element.pieces:
            return False
        return self.tell_whole(element, start)

    def each_of_them(self) -> bool:
        """``five rings ..., each of the rings is four, picot, four``: so many as were named."""
        c = self.c
        start = c.at
        count = self.named_count
        if count < 2 or not self.named:
            return False
        c.next()
        while c.kind() in ("of", "this", "glue", "pronoun", *ELEMENTS) and c.at - start < 7:
            c.next()
        if c.kind() != "NUM" or not self._counts_stitches(True):
            c.at = start
            return False
        element = SaidElement(self.named, c.span(start), count=min(count, 10**6))
        element.pieces = read_work(c, self._syntax(element))
        if not any(isinstance(item, Stitches) for item, _ in element.pieces):
            c.at = start
            return False
        return self.tell_whole(element, start)


def _tells_all(told: list[Piece], pieces: list[Piece]) -> bool:
    """``a ring with three picots. Four stitches, a picot, two, ...``: what was told by its picots alone is now told whole."""
    if any(isinstance(item, Stitches | Halves) for item, _ in (told[0], told[-1])):
        return False
    spots = [sum(isinstance(item, Picot | Join) for item, _ in work) for work in (told, pieces)]
    return spots[0] == spots[1] > 0 and isinstance(pieces[0][0], Stitches)
