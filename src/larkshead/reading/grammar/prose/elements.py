"""Elements in running words: named only, by size, going on, like others but for something."""

from __future__ import annotations

import itertools

from larkshead.model import (
    Halves,
    Join,
    Picot,
    SideChange,
    Stitches,
)
from larkshead.reading.grammar.changes import clause_end, read_changes
from larkshead.reading.grammar.core import CLAUSE_ENDS
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.items import ITEM_STARTS, read_work
from larkshead.reading.grammar.places import ELEMENTS, PICOTS
from larkshead.reading.grammar.prose.amending import Amending
from larkshead.reading.grammar.prose.words import INTRO, JOINS
from larkshead.reading.grammar.said import (
    Alike,
    Change,
    SaidElement,
    SaidNote,
)
from larkshead.reading.source import Span

# What two elements may have the same, that makes them alike.
_SAME_WHAT = frozenset({"WORD", "size", "glue", "of", "double_stitch", "total"})

# Words before an element that is only spoken of.
_SPOKEN_OF = frozenset({"this", "of", "glue", "round", "around", "each", "ORD", "last", "previous"})


class ProseElements(Amending):
    """Elements in running words: named only, by size, going on, like others but for something."""

    def tell(self, element: SaidElement) -> None:
        self.named = ""
        self.from_name = ""
        for item, _ in element.pieces if self.picot_size else ():
            if isinstance(item, Picot) and not item.size:
                item.size = self.picot_size  # type: ignore[assignment]
        _drop_restated(element)
        drop_announced(element)
        for item, _ in element.pieces if self.join_beads else ():
            if isinstance(item, Join) and item.kind == "picot":
                item.beads = item.beads or self.join_beads
        if element.kind.startswith("split"):
            one_side_change(element)
            _side_behind_lock(element)
        self.listed(element)
        for item, _ in element.pieces if self.picot_beads else ():
            if isinstance(item, Picot):
                item.beads = item.beads or self.picot_beads
        if self.waiting:
            element.pieces[:0] = self.waiting
            self.waiting = []
        if element.kind == "josephine ring":
            self._in_halves(element)
        super().tell(element)

    def listed(self, element: SaidElement) -> None:
        """``six, picot, six for the one; six, join, six for the other``: as many elements as there are counts told apart."""
        c = self.c
        if element.count > 1 or element.alike is not None or element.kind.startswith("split"):
            return
        at = c.at - 1
        while at > 0 and c.tokens[at].start >= element.span.start and c.tokens[at].value != "of_one":
            at -= 1
        if c.tokens[at].value != "of_one":
            return
        items = [item for item, _ in element.pieces]
        element.count = 1 + sum(
            isinstance(one, Stitches) and isinstance(two, Stitches) for one, two in itertools.pairwise(items)
        )

    def _in_halves(self, element: SaidElement) -> None:
        """A Josephine ring told by its number alone counts halves where one before it did."""
        told = (
            item
            for said in self.lately()
            if isinstance(said, SaidElement) and said.kind == element.kind
            for item, _ in said.pieces
        )
        halves = next((item for item in told if isinstance(item, Halves)), None)
        if halves is not None and not any(isinstance(item, Halves) for item, _ in element.pieces):
            element.pieces = [
                (Halves(halves.half, item.count) if isinstance(item, Stitches) else item, span)
                for item, span in element.pieces
            ]

    def _label(self, element: SaidElement) -> None:
        """Also lists: ``Rings B, C and D``, ``Rings 1, 3 and 5``."""
        c = self.c
        kind = c.kind()
        if (
            kind in ("NUM", "label")
            and c.kind(1) in ("COMMA", "glue")
            and (c.kind(2) == kind or (c.kind(2) == "glue" and c.kind(3) == kind))
        ):
            at, found = c.at, [c.peek()]
            c.next()
            while c.kind() in ("COMMA", "glue") and (c.kind(1) == kind or (c.kind(1) == "glue" and c.kind(2) == kind)):
                c.skip({"COMMA", "glue"})
                found.append(c.next())
            if c.kind() in ("COLON", "like", "same", "glue", "each", "OPEN") and len(found) > 1:
                element.label = found[0].text
                element.count = len(found)
                if kind == "NUM":
                    element.numbers = [int(t.value) for t in found]
                return
            c.at = at
        super()._label(element)

    def _is_label_number(self) -> bool:
        if super()._is_label_number():
            return True
        c = self.c
        after = c.kind(1)
        if (
            after == "COMMA"
            and c.kind(2) not in ("NUM", "join", "lock_join", "close", *PICOTS)
            and not c.tokens[c.at].text.isdigit()
        ):
            return c.find({"COLON"}, CLAUSE_ENDS, 16) is not None
        return (
            after in ("like", "same")
            or (
                after in ("glue", "restating")
                and c.kind(2) in ("like", "same", "NUM", "glue", "ORD", *PICOTS)
                and c.kind(2) != "glue"
            )
            or (after == "glue" and c.kind(2) == "glue" and c.kind(3) in ("like", "same"))
        )

    def _body(self, element: SaidElement) -> None:
        """The work, after the words that introduce it (``is``, ``of``, ``that's``, ``with shuttle one``)."""
        c = self.c
        back = c.at
        introduced = False
        colon = c.find({"COLON"}, CLAUSE_ENDS | {"NUM", *PICOTS, *ELEMENTS, "OPEN"}, 16)
        colon = colon if colon is not None else self._led_around()
        if colon and c.kind(colon + 1) in ("NUM", "OPEN"):
            c.at += colon + 1
            introduced = True
        while c.kind() in INTRO and c.at - back < 8:
            if c.kind() == "ORD" and c.kind(1) in ("restating", "glue", "NUM", "COMMA"):
                c.next()
                continue
            if c.kind() == "shuttle" or (c.kind() == "ORD" and c.kind(1) != "shuttle"):
                if c.kind() == "ORD":
                    break
                c.next()
                if (
                    c.kind() in ("NUM", "ORD")
                    and c.kind(1) not in PICOTS
                    and (c.kind(1) not in ("double_stitch", "COMMA") or (c.kind(1) == "COMMA" and c.kind(2) == "NUM"))
                ):
                    c.next()
                continue
            introduced = introduced or c.kind() in ("of", "with", "COLON", "COMMA")
            if c.kind() == "COMMA" and c.kind(1) == "NUM" and c.kind(2) == "of" and c.kind(3) == "this":
                element.count = int(c.peek(1).value)
                c.at += 4
                continue
            if c.kind() == "COLON":
                back = c.at
            c.next()
        self._stated(element)
        if c.kind() not in ITEM_STARTS or (c.kind() == "NUM" and not self._counts_stitches(c.at == back or introduced)):
            c.at = back
            return
        if c.kind() not in ("NUM", "OPEN", "first_half", "second_half") and not introduced and c.at - back > 1:
            c.at = back
            return
        if c.kind() in PICOTS and c.at == back and c.kind(1) in ("glue", "of", "to", "previous"):
            # "the chain's picot is ..." speaks of it.
            return
        if c.kind() in PICOTS and c.at > 0 and c.tokens[c.at - 1].kind in ("ORD", "this", "last") and not introduced:
            c.at = back
            return
        element.pieces = read_work(c, self._syntax(element))
        if any(isinstance(item, SideChange) for item, _ in element.pieces):
            self._second_thread()
        if not any(isinstance(item, Stitches | Halves) for item, _ in element.pieces) or (
            len(element.pieces) == 1 and c.kind() in ELEMENTS
        ):
            element.pieces = []
            c.at = back

    def _led_around(self) -> int | None:
        """How far the colon is in ``one long chain goes right round that ring, with lock joins on the way: six, ...``."""
        c = self.c
        if c.tokens[c.at - 1].kind not in ELEMENTS:
            return None
        for at in range(18):
            kind = c.kind(at)
            if kind == "COLON":
                return at
            if kind in (*CLAUSE_ENDS, "NUM", "reverse_work", "OPEN"):
                return None
            if kind in (*ELEMENTS, *PICOTS) and (not at or c.kind(at - 1) not in _SPOKEN_OF):
                return None
        return None

    def _second_thread(self) -> None:
        """``..., 3 ds with the tail``: the thread of the second side, named behind its counts, stepped over."""
        c = self.c
        behind = Cursor(c.tokens, c.at, c.limit)
        if behind.take("with"):
            behind.skip({"glue", "ORD", "this"})
            if behind.take("tail", "ball", "shuttle", "second_side", "thread"):
                behind.take("NUM")
                c.at = behind.at

    def _stated(self, element: SaidElement) -> None:
        """``of 20 double stitches in all: 4 ...``: the sum told before the work."""
        c = self.c
        if c.kind() != "NUM":
            return
        ahead = 2 if c.kind(1) == "double_stitch" else 1
        ahead += c.kind(ahead) == "in_all"
        if ahead > 1 and c.kind(ahead) == "COMMA":
            # "of 18 stitches in all, like so: 5 ..."
            ahead += _words_before_colon(c, ahead)
        if c.kind(ahead) != "COLON" or c.kind(ahead + 1) not in ("NUM", *PICOTS):
            return
        number = c.peek()
        element.stated = int(number.value)
        c.at += ahead + 1

    def _alike(self, element: SaidElement) -> bool:
        c = self.c
        back = c.at
        colon = c.find({"COLON"}, CLAUSE_ENDS | {"NUM", *PICOTS, *ELEMENTS}, 8)
        if colon is not None and c.kind(colon + 1) in ("same", "like", "glue"):
            # "second ring, right up against it: the same"
            c.at += colon
        while c.kind() in ("glue", "COMMA", "COLON", "WORD", "of") and (c.at - back < 4 or c.kind() == "COLON"):
            c.next()
        same = c.kind() == "same"
        if c.kind() not in ("like", "same"):
            c.at = back
            return False
        if not super()._alike(element):
            c.at = back
            return False
        if same:
            # "of the same count", "of the same number of stitches"
            count = Cursor(c.tokens, c.at, c.limit)
            count.skip(_SAME_WHAT)
            if count.kind() in (*CLAUSE_ENDS, "COMMA", "close"):
                c.at = count.at
        end = self._change_end()
        kinds = [t.kind for t in c.tokens[c.at : end]]
        self._swap(element, kinds)
        if JOINS & set(kinds):
            element.changes = read_changes(c, end, element.kind)
        elif c.kind() in ("glue", "COMMA", "but", "WORD", "previous") and c.kind(1) not in ELEMENTS:
            while c.kind() in ("WORD", "previous", "but") and c.at < end:
                c.next()
        return True

    def _swap(self, element: SaidElement, kinds: list[str]) -> None:
        """``with seven wherever that has five``: one count for another all through."""
        c = self.c
        for i, kind in enumerate(kinds[:12]):
            if kind == "NUM" and "where" in kinds[i + 1 : i + 3] and "NUM" in kinds[i + 2 : i + 7]:
                j = kinds.index("NUM", i + 2)
                change = Change(item=int(c.tokens[c.at + j].value), what="stitches", into=str(c.tokens[c.at + i].value))
                if element.alike is not None:
                    element.alike.changes.append(change)
                return

    def _change_end(self) -> int:
        """How far a change told of the element just named reaches: to the end of the clause, or to the next step."""
        c = self.c
        end = clause_end(c)
        for i in range(c.at, end):
            kind = c.tokens[i].kind
            if kind in (
                "reverse_work",
                "close",
                "cut",
                "no_turn",
                "leave",
                "until",
                "repeat",
                "want",
                "go_on",
                "work_over",
                "length_wanted",
            ) or (
                kind in ELEMENTS
                and i + 1 < end
                and c.tokens[i + 1].kind in ("NUM", "of", "COLON")
                and c.tokens[i - 1].kind not in ("previous", "of", "last", "ORD", "glue", "to", *JOINS)
            ):
                return i
        return end

    def _sized_one(self, start: int | None) -> bool:
        """``a small one three picot three``, ``little one same as the other little one``."""
        c = self.c
        begin = c.at if start is None else start
        if not (c.kind() in ("small", "large") and c.kind(1) == "pronoun"):
            return False
        last = next((s for s in self.lately() if isinstance(s, SaidElement)), None)
        if last is None:
            return False
        element = SaidElement(last.kind, c.span(begin), size=c.kind())
        back = c.at
        c.at += 2
        if not self._alike(element):
            self._body(element)
        if not element.pieces and element.alike is None:
            c.at = back
            return False
        while c.kind() in ("small", "large", "pronoun", "more", "other") and element.alike is not None:
            c.next()
        return self.tell_whole(element, begin)

    def _more_of_it(self) -> bool:
        """``chain twenty more on the same chain``: the chain told last goes on."""
        c = self.c
        if not (c.kind() in ELEMENTS and c.kind(1) == "NUM"):
            return False
        last = self.said[-1] if self.said else None
        if isinstance(last, SaidNote) and not last.unread and self.open is not None and len(self.said) > 1:
            # "..., a small picot at the point, chain twelve"
            last = self.said[-2]
        if not isinstance(last, SaidElement) or last.kind != ELEMENTS[c.kind()] or not last.pieces:
            return False
        if c.kind(2) != "more" and not (
            last is self.open and last.kind == "chain" and isinstance(last.pieces[-1][0], Picot)
        ):
            return False
        start = c.at
        number = c.peek(1)
        c.at += 2
        c.take("more")
        last.pieces.append((Stitches(int(number.value)), Span(number.start, number.end)))
        while c.kind() in ("to", "same", "glue", "of", "with", "WORD", "denied", "this") and c.at - start < 8:
            c.next()
        if c.kind() in ELEMENTS and c.tokens[c.at - 1].kind in ("same", "this"):
            c.next()
        last.span = last.span.join(c.span(start))
        self.open = last
        return True

    def _spoken_of(self) -> bool:
        """``the chain goes along the top of the rings, so it's four ...``: a ring that only says where the chain lies."""
        c = self.c
        if not self.named or c.kind(1) not in ("glue", "this", "restating", "COMMA"):
            return False
        at = c.at - 1
        while at > 0 and c.tokens[at].kind in ("glue", "ORD", "small", "large", "other", "each"):
            at -= 1
        return at < c.at - 1 and c.tokens[at].kind in ("of", "from", "between", "base", "tip", "around")

    def _chanted(self, at: int) -> bool:
        return at > 1 and self.c.tokens[at - 2].kind in ELEMENTS and self.c.kind() in ELEMENTS

    def _named_only(self, count: int, number: int | None, start: int | None) -> bool:
        """``Next ring. Three double stitches, ...``: the work comes in the next sentence."""
        c = self.c
        begin = c.at if start is None else start
        back = c.at
        token = c.next()
        if (
            token.kind in ELEMENTS
            and c.kind() in ("STOP", "COLON", "PARA", "NL")
            and c.kind(1) == "NUM"
            and c.kind(2)
            in (
                "double_stitch",
                "COMMA",
                "STOP",
                *PICOTS,
            )
        ):
            c.next()
            element = SaidElement(ELEMENTS[token.kind], c.span(begin), count=count, first=number)
            self._body(element)
            if element.pieces:
                return self.tell_whole(element, begin)
        if (
            token.kind in ELEMENTS
            and back
            and c.tokens[back - 1].kind in ("another", "like", "same")
            and any(isinstance(s, SaidElement) and s.kind == ELEMENTS[token.kind] for s in self.lately())
        ):
            element = SaidElement(ELEMENTS[token.kind], c.span(begin), alike=Alike(), count=count)
            self._after_element(element)
            self.tell(element)
            return True
        c.at = back
        return False

    def element(self, count: int = 1, size: str = "", number: int | None = None, start: int | None = None) -> bool:
        c = self.c
        back = c.at
        if (
            start is None
            and back
            and (
                (c.tokens[back - 1].kind in ("this", "other") and c.tokens[back - 1].value != "is_it")
                or self._spoken_of()
            )
        ):
            return False
        if (c.kind(1) in ELEMENTS and c.kind() in ELEMENTS) or (
            back and c.tokens[back - 1].kind in ELEMENTS and self._chanted(back)
        ):
            # "keep going ring chain ring chain"
            return False
        if self._more_of_it() or self._sized_one(start):
            return True
        if super().element(count, size, number, start):
            return True
        c.at = back
        return self._named_only(count, number, start)


def _words_before_colon(c: Cursor, ahead: int) -> int:
    """How many words lead from the comma ahead to a colon; 0 where anything else stands there."""
    for more in range(1, 5):
        kind = c.kind(ahead + more)
        if kind == "COLON":
            return more
        if kind not in ("like", "glue", "WORD"):
            break
    return 0


def _drop_restated(element: SaidElement) -> None:
    """``..., so twelve stitches, three picots``: the sum told at the end is not worked again."""
    total = 0
    for i, (item, _) in enumerate(element.pieces):
        if isinstance(item, Stitches):
            rest = [later for later, _ in element.pieces[i + 1 :]]
            before = element.pieces[i - 1][0] if i else None
            if (
                i > 3
                and item.count == total
                and isinstance(before, Stitches)
                and all(isinstance(x, Picot) for x in rest)
            ):
                del element.pieces[i:]
                return
            total += item.count


def _side_behind_lock(element: SaidElement) -> None:
    """A split chain that is locked on its way goes on with the other thread from there."""
    items = [item for item, _ in element.pieces]
    if element.kind != "split chain" or any(isinstance(item, SideChange) for item in items):
        return
    for i, item in enumerate(items):
        if isinstance(item, Join) and item.kind == "lock" and any(isinstance(x, Stitches) for x in items[i + 1 :]):
            element.pieces.insert(i + 1, (SideChange(), element.pieces[i][1]))
            return


def drop_announced(element: SaidElement) -> None:
    """``with seven picots. Three stitches, a small picot, two, ...``: how many there will be is not worked before they are told."""
    first = next((i for i, (item, _) in enumerate(element.pieces) if not isinstance(item, Picot)), 0)
    if first < 2:
        return
    behind = element.pieces[first:]
    told = sum(1 for item, _ in behind if isinstance(item, Picot | Join))
    if told >= first and isinstance(behind[0][0], Stitches) and isinstance(behind[-1][0], Stitches):
        # "each with six about it" may stand between.
        del element.pieces[: first + isinstance(behind[1][0], Stitches)]


def one_side_change(element: SaidElement) -> None:
    """The threads named beside the counts change sides once: where stitches stand on either hand."""
    changes = [i for i, (item, _) in enumerate(element.pieces) if isinstance(item, SideChange)]
    if len(changes) < 2 and not (changes and changes[-1] == len(element.pieces) - 1):
        return
    between = next((i for i in changes if any(isinstance(x, Stitches) for x, _ in element.pieces[i + 1 :])), None)
    element.pieces[:] = [
        piece for i, piece in enumerate(element.pieces) if i == between or not isinstance(piece[0], SideChange)
    ]
