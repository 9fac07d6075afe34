"""Fasten and join, each in all its meanings: close a ring, end a thread or begin one, join a picot, lock a thread, sew."""

from __future__ import annotations

from itertools import pairwise

from larkshead.model import Attach, BareThread, Cut, Element, ElementRef, Join, LockJoin, Picot, Place, Repeat
from larkshead.reading.grammar.books.counts import counts_ahead
from larkshead.reading.grammar.books.joining import STOPS, Joining
from larkshead.reading.grammar.books.told import NOUNS, Replaced
from larkshead.reading.grammar.books.walk import BREAKS, CLAUSE_ENDS
from larkshead.reading.grammar.books.wording import items_told, select
from larkshead.reading.grammar.places import PICOTS
from larkshead.reading.grammar.tokens import Token


class Fastening(Joining):
    """Fasten and join, each in all its meanings."""

    def fasten(self) -> bool:
        c = self.c
        start = c.at
        verb = c.peek()
        if verb.kind in ("draw", "join") and self._closes():
            return self.close()
        if verb.kind == "draw" and (
            not self.worked() if verb.value == "told" else any(t.kind == "by" for t in self.behind(30))
        ):
            # How a thread is joined is explained, or what is drawn through the finished piece.
            return self._step_over(self.stop(start + 1))
        if verb.kind == "draw" and self.told is None and isinstance(self.last_step(), Cut) and c.kind(1) == "this":
            # What is done with the ends of a thread that was cut.
            return self._step_over(self.stop(start + 1))
        if c.kind(1) == "off" or c.find({"off"}, STOPS, 4) is not None:
            return self.end_thread()
        if self._instead_between(start):
            return True
        end = self.stop(start + 1)
        if c.tokens[end : end + 1] and c.tokens[end].kind == "COMMA":
            end = self._behind_insertion(end)
        before = [t.kind for t in c.tokens[start + 1 : end]]
        target = self.target(start + 1, end)
        if verb.kind == "attach" and (target is None or target > start + 2):
            c.next()
            return self._attach(None, start)
        if target is None:
            return self._no_target(start, end, before)
        if verb.kind == "fasten" and target == start + 1 and verb.value != "told" and self._thread_only(target + 1):
            c.at = target + 2
            self._attach(None, start)
            return True
        said = c.tokens[start + 1 : target]
        kinds = {t.kind for t in said}
        lock = bool(kinds & {"core", "right_hand"}) or verb.kind == "lock_join"
        if "core" in kinds:
            self.over = True
        one = any(t.kind == "glue" and t.value == "one" for t in said)
        fresh = "thread" in kinds and ("another" in kinds or (one and "ORD" in kinds)) and verb.kind != "draw"
        ends = "thread_end" in kinds
        # Of two threads told apart by number the second is the one worked over.
        lock = lock or (self.over and "thread" in kinds and "ORD" in kinds and not fresh)
        c.at = target + 1
        count = self._count_here()
        place = self.place_here()
        if place is None:
            if ends or (
                verb.kind == "fasten"
                and not self.told
                and not self.named
                and not self.placed
                and "either_order" not in before
            ):
                c.at = start
                return (
                    self.end_thread()
                    if self.worked() and not (verb.value == "told" and not ends)
                    else self._step_over(end)
                )
            if "either_order" in before or c.kind() == "either_order":
                return self._step_over(end)
            place = Place(words=self.words(target + 1, end))
            c.at = end
        self.skip_place_rest()
        if verb.value == "told" and self.told is None and self._said_of_many(place, start):
            return True
        if verb.value == "told" and self.told is None and self.placed is None and not kinds & set(PICOTS):
            # How the piece hangs together is described.
            return True
        if "next" in kinds and kinds & set(NOUNS) and self._next_joined(said, place, start):
            return True
        if self.told is None and self.repeated is not None and self._element_joined(said, place, start):
            return True
        if "each" in kinds and self.told is None and self.repeated is not None and verb.value != "told":
            self._each_to(place, start)
            return True
        items = self._items(verb, said, start)
        if items:
            region = [*c.tokens[self.clause_start : start], *said]
            kind, size, which = select(region)
            which = self._one_of_these(start) or which
            self._change(Replaced(items, [place], c.span(start), kind, size, which), region)
            return True
        if any(t.kind == "space" for t in said):
            self._space_before(said, start)
        self._lay(place, start, lock, fresh or ends, verb.value == "told", count)
        self.fastened = c.at
        return True

    def _instead_between(self, start: int) -> bool:
        """``fasten them, instead of on the 1st purl, on the last purl of ...``"""
        c = self.c
        tokens = c.tokens
        at = start + 1
        while at < len(tokens) and tokens[at].kind in ("this", "glue", "thread", "large", "small", "each", *NOUNS):
            at += 1
        if at + 1 >= len(tokens) or tokens[at].kind != "COMMA" or tokens[at + 1].kind != "instead":
            return False
        end = at + 2
        while end < len(tokens) and tokens[end].kind != "COMMA" and tokens[end].kind not in CLAUSE_ENDS:
            end += 1
        items = items_told(tokens[at:end])
        if not items or end + 1 >= len(tokens) or tokens[end + 1].kind not in ("to", "through"):
            return False
        c.at = end + 2
        place = self.place_here()
        if place is None:
            c.at = start
            return False
        self.skip_place_rest()
        region = [*tokens[self.clause_start : start], *tokens[start + 1 : at]]
        kind, size, which = select(region)
        self._change(Replaced(items, [place], c.span(start), kind, size, which), region)
        return True

    def _items(self, verb: Token, said: list[Token], start: int) -> list[str | int]:
        """Which picots the join stands for, told beside it: ``joined by its first purl to ...``, ``..., instead of the middle purl``, ``the
        first purl of each is joined to ...``, ``after the third double``."""
        tokens = self.c.tokens
        for at, token in enumerate(said[:-1]):
            if token.kind == "ORD" and said[at + 1].kind == "double_stitch" and self.told is None:
                return [-int(token.value)]
        if verb.kind != "draw" and any(t.kind in PICOTS for t in said):
            return items_told(said)
        region = tokens[self.clause_start : start]
        counted = any(a.kind == "NUM" and b.kind in ("double_stitch", *PICOTS) for a, b in pairwise(region))
        if self.told is None and not counted and self.has_elements():
            items = items_told(region)
            if items and items != ["only"]:
                return items
        return self.instead_ahead()

    def _space_before(self, said: list[Token], start: int) -> None:
        """``fasten the cotton not far off to ...``: thread left before the fastening."""
        if self.told is not None and self.counts_soon():
            return
        self.add(BareThread(), self.c.span(start))

    def _count_here(self) -> int:
        """How many places are named at once, each for a join of its own: ``separately through the 2 picots``."""
        c = self.c
        apart = any(t.kind == "separately" for t in c.tokens[max(0, c.at - 6) : c.at])
        number = c.peek(1) if c.kind() == "glue" else c.peek()
        return int(number.value) if apart and number.kind == "NUM" and 1 < number.value < 10 else 1

    def _closes(self) -> bool:
        """``join the stitches into a circle``, ``draw the cotton up``, ``tighten ... so as to draw them into a half ring``."""
        c = self.c
        for ahead in range(1, 14):
            kind = c.kind(ahead)
            if kind == "stitches" and c.peek().kind == "join" and c.kind(ahead + 1) in (*BREAKS, "glue"):
                return c.find({"to", "through"}, BREAKS, ahead + 3) is None
            if kind in ("into", "up", "tight", "close") or (
                kind == "glue" and c.peek(ahead).value == "close" and c.peek().kind == "draw"
            ):
                return not (kind == "up" and c.peek().kind == "join")
            if kind in ("through", "to", "from", "COMMA", *PICOTS) and not (
                kind == "to" and c.kind(ahead + 1) in ("glue", "WORD", "draw")
            ):
                return False
            if kind in CLAUSE_ENDS:
                return False
        return False

    def _thread_only(self, at: int) -> bool:
        """``fasten on the cotton afresh``: the thread, and no place behind it."""
        c = self.c
        tokens = c.tokens
        while at < len(tokens) and tokens[at].kind == "glue":
            at += 1
        if at < len(tokens) and tokens[at].kind in CLAUSE_ENDS | {"COMMA"}:
            return True
        if at + 1 < len(tokens) and tokens[at].kind in ("ORD", "another"):
            at += 1
        if at >= len(tokens) or tokens[at].kind != "thread":
            return False
        following = [t.kind for t in tokens[at + 1 : at + 4]]
        return (
            "between" not in following
            and not (following[:1] == ["which"] or following[:2] == ["COMMA", "which"])
            and "to" not in following[:2]
        )

    def _no_target(self, start: int, end: int, before: list[str]) -> bool:
        c = self.c
        verb = c.tokens[start]
        if verb.kind == "join" and ("ball" in before or ("from" in before and "thread" in before)):
            c.at = end
            return self._attach(None, start)
        ended = verb.value == "told" and any(t.kind == "thread_end" for t in self.behind(5))
        if verb.kind in ("fasten", "join") and ("thread_end" in before or ended):
            return self.end_thread()
        items = items_told(c.tokens[start + 1 : end]) if verb.kind == "join" and "by" in before else []
        if items and self.told is None and self.repeated is None and self.last_element() is not None:
            # ``joining it by the first purl``: to the one before
            place = Place("picot", "last", ElementRef(self.known[-1].kind if self.known else "", "previous"))
            c.at = end
            self._change(Replaced(items, [place], c.span(start)), [])
            return True
        if "either_order" in before or "up" in before:
            return self._each_other(start, end)
        if verb.kind == "fasten" and (not before or {"thread", "thread_end", "this"} & set(before)):
            if verb.value == "told" and "thread_end" not in before:
                return self._step_over(end)
            return self.end_thread()
        if (
            verb.kind == "join"
            and self.told is not None
            and verb.value != "told"
            and not set(before) - {"glue", "this", "WORD"}
        ):
            c.at = end
            self._lay(Place(), start, False, False, False, 1)
            return True
        return self._step_over(start + 1 if verb.kind == "draw" else end)

    def _step_over(self, end: int) -> bool:
        self.c.at = max(end, self.c.at + 1)
        return True

    def _attach(self, place: Place | None, start: int) -> bool:
        self.add(Attach([place] if place is not None else []), self.c.span(start))
        return True

    def _lay(self, place: Place, start: int, lock: bool, fresh: bool, told: bool, count: int) -> None:
        """A join where it was told: in the work going on, in a copy's first picot, a new thread, or a lock join."""
        c = self.c
        span = c.span(start)
        if self.told is None and self.named is not None and not fresh and self.counts_soon():
            self.begin(start)
        if fresh and not (self.told is not None and self.counts_soon()):
            self._attach(place, start)
            return
        if self.told is not None:
            for _ in range(count):
                self.told.pieces.append((Join([place], "lock" if lock and self.over else "picot"), span))
            if count > 1:
                self.flush()
            return
        if told and self.alike_row and isinstance(self.placed, Repeat | Element):
            # ``fastening the cotton on to the corresponding purl of the 1st row``: in place of its own
            for element in self.elements([self.placed])[-1:]:
                sizes = [i for i, x in enumerate(element.work) if isinstance(x, Picot) and x.size == place.size]
                if sizes:
                    element.work[sizes[-1]] = Join([place])
                    return
        which = place.element.which if place.element is not None else None
        own = place.part is None and (isinstance(which, int) or which in ("previous", "first", "last", None, "same"))
        if (
            told
            and self.placed is not None
            and own
            and isinstance(self.placed, Element | Repeat)
            and place.spot == "picot"
        ):
            copies = self.elements([self.placed])
            change = Replaced([1], [place], span)
            for element in copies:
                self.change_work(element, change)
            return
        if not self.worked() and not self.marks:
            self._attach(place, start)
            return
        for _ in range(count):
            self.lock(LockJoin([place]), span)

    def counts_soon(self) -> bool:
        c = self.c
        for ahead in range(4):
            if counts_ahead(c, ahead):
                return True
            if c.kind(ahead) not in ("COMMA", "glue", "WORD"):
                return False
        return False
