"""Joins told of elements and not in their work: instead of a picot, of each, of the last, of those to come."""

from __future__ import annotations

from larkshead.model import Attach, Element, ElementRef, Join, LockJoin, Picot, Place, Repeat
from larkshead.reading.grammar.books.replacing import Replacing, shape_of
from larkshead.reading.grammar.books.told import Replaced
from larkshead.reading.grammar.books.walk import BREAKS, CLAUSE_ENDS
from larkshead.reading.grammar.books.wording import items_told, select
from larkshead.reading.grammar.places import PICOTS
from larkshead.reading.grammar.tokens import Token
from larkshead.reading.source import Span

# What ends that which belongs to a verb.
STOPS = frozenset({*CLAUSE_ENDS, "COMMA", "COLON", "MARK", "repeat", "reverse_work", "cut", "knot", "instead", "go_on"})
_TARGETS = frozenset({"to", "through"})


class Joining(Replacing):
    """Joins told of elements and not in their work."""

    def _one_of_these(self, start: int) -> str | int:
        """``3 circles as before, the first joined ...``: one of those just named."""
        before = self.c.tokens[start - 1]
        if before.kind == "ORD" and any(t.kind == "after" for t in self.c.tokens[max(0, start - 4) : start]):
            # ``each after the first``
            return "each"
        if before.kind == "ORD":
            return int(before.value)
        for token in reversed(self.c.tokens[max(self.sentence_start, start - 5) : start]):
            # ``but the fourth is besides fastened``
            if token.kind == "ORD":
                return int(token.value)
            if token.kind not in ("glue", "besides", "WORD") or token.value == "one":
                break
        return "last" if before.kind == "last" else ""

    def _element_joined(self, said: list[Token], place: Place, start: int) -> bool:
        """``join the last ring to the first``: by the picot that lies towards it."""
        if any(t.kind in PICOTS for t in said) or place.element is None:
            return False
        kind, size, which = select(said)
        if not kind and len(said) < 4:
            # ``join the 4th to the 1st``
            which = next((int(t.value) for t in said if t.kind == "ORD"), which)
        if which == "" or place.part is not None:
            return False
        towards = "last" if place.element.which in ("first", 1) else 1
        self._change(Replaced([towards], [place], self.c.span(start), kind, size, which), said)
        return True

    def _each_to(self, place: Place, start: int) -> None:
        """``join each to the preceding by the first purl``"""
        c = self.c
        begin = c.at
        while c.kind() not in BREAKS:
            c.next()
        items = items_told(c.tokens[begin : c.at]) or [1]
        self._change(Replaced(items, [place], c.span(start), "", "", "each"), [])

    def _next_joined(self, said: list[Token], place: Place, start: int) -> bool:
        """``join the next ring to the preceding one by the long picot``: the passes to come, each joined to the one before."""
        c = self.c
        if self.told is not None or self.repeated is not None or not self.has_elements() or place.element is None:
            return False
        if place.element.which != "previous":
            return False
        begin = c.at
        while c.kind() not in BREAKS:
            c.next()
        place.picot = place.picot or "last"
        place.size = next((PICOTS[t.kind] for t in c.tokens[begin : c.at] if t.kind in PICOTS), place.size)
        body = [self.copied(step) for step in self.steps if not isinstance(step, Attach)]
        repeat = Repeat(body, None, "length wanted")
        self.origins.record(repeat, c.span(start))
        self.steps.append(repeat)
        self.repeated = repeat
        for element in self.elements(body)[:1]:
            self.change_work(element, Replaced([1], [place], c.span(start)))
        return True

    def _said_of_many(self, place: Place, start: int) -> bool:
        """``the last small circle is fastened on to the same purl``: said of elements told, behind their repeat."""
        c = self.c
        kind, size, which = select(c.tokens[self.clause_start : start])
        if self.repeated is None or not kind or which == "" or self.placed is not None:
            return False
        items = self.instead_ahead() or [1]
        self.replace(Replaced(items, [place], c.span(start), kind, size, which))
        return True

    def _each_other(self, start: int, end: int) -> bool:
        """``join together the larger ovals by the purl``: each to the one before, by the side picots; where only the picture
        could tell by which, it stays a note."""
        c = self.c
        said = c.tokens[start + 1 : end]
        items = items_told(said)
        kind, size, _ = select(said)
        c.at = end
        if items and kind:
            place = Place("picot", "last")
            place.element = self._previous(kind, size)
            self._change(
                Replaced([1 if items == ["only"] else items[0]], [place], c.span(start), kind, size, "each"), said
            )
            return True
        span = c.span(start)
        if not self._sisters_joined(span):
            self.notice("unclear-join", "note", "which picots are joined to each other is not said in words", span)
        return True

    def _sisters_joined(self, span: Span) -> bool:
        """All are joined to each other: those whose sisters join the one before by their first picot do so, too."""
        if self.repeated is None:
            return False
        told = self.elements(self.repeated.steps)
        done = False
        for element in told:
            sister = next(
                (e for e in told if shape_of(e) == shape_of(element) and isinstance(_first_spot(e), Join)), None
            )
            if sister is not None and sister is not element and isinstance(_first_spot(element), Picot):
                place = Place("picot", "last", ElementRef(element.kind, "previous"))
                done = self.change_work(element, Replaced([1], [place], span)) or done
        return done

    def _previous(self, kind: str, size: str) -> ElementRef:
        return ElementRef(kind, "previous", None, size)

    def instead(self) -> bool:
        """``instead of working the 1st purl [of every circle], fasten it on to the last purl of the preceding circle``."""
        c = self.c
        start = c.at
        ahead = c.find({"fasten", "join", "draw", "lock_join"}, CLAUSE_ENDS, 40)
        if ahead is None:
            c.next()
            return True
        verb = start + ahead
        # A verb in a relative clause stands before the one that is meant.
        said = c.tokens[start + 1 : verb]
        items = items_told(said)
        region = [*c.tokens[self.clause_start : start], *said]
        end = self.stop(verb + 1)
        target = self.target(verb + 1, end)
        if target is None:
            target = next((i for i in range(verb + 1, end) if c.tokens[i].kind in ("this", "glue")), None)
            if target is None:
                c.at = end
                return True
        c.at = target + 1
        place = self.place_here()
        if place is None:
            place = Place(words=self.words(target + 1, end))
            c.at = max(end, c.at)
        self.skip_place_rest()
        if not items:
            items = [1]
        kind, size, which = select(region)
        if (
            which == ""
            and any(t.kind in ("this",) for t in c.tokens[verb:target])
            and isinstance(self.last_step(), Repeat)
        ):
            which = "each"
        self._change(Replaced(items, [place], c.span(start), kind, size, which), region)
        self._and_on()
        return True

    def _and_on(self) -> None:
        """``..., then on to the 1st circle of the preceding round``: fastened a second time, behind the element."""
        c = self.c
        back = c.at
        c.skip({"COMMA", "glue"})
        begin = c.at
        if c.kind() == "to" and c.at > back:
            c.next()
            place = self.place_here()
            if place is not None:
                self.lock(LockJoin([place]), c.span(begin))
                return
        c.at = back

    def _change(self, change: Replaced, region: list[Token]) -> None:
        """Said of the element at hand while it is told; else of the repeat told last."""
        if self.told is not None:
            self.flush()
            self.repeated = self.repeated if self.steps and self.steps[-1] is self.repeated else None
        self.replace(change)

    def stop(self, at: int) -> int:
        """Where what belongs to the verb ends."""
        tokens = self.c.tokens
        while at < len(tokens) and tokens[at].kind not in STOPS:
            if tokens[at].kind in ("fasten", "join", "draw", "close") and tokens[at].value != "told":
                break
            at += 1
        return at

    def target(self, at: int, end: int) -> int | None:
        tokens = self.c.tokens
        wanted = {"through"} if tokens[at - 1].kind == "draw" else _TARGETS
        for i in range(at, end):
            if tokens[i].kind in wanted:
                return i
            if tokens[i].kind in ("base", "between"):
                return i - 1
        return None

    def words(self, start: int, end: int) -> str:
        return " ".join(self.source.quote(self.c.span(start, max(end, start + 1))).split())

    def _behind_insertion(self, at: int) -> int:
        """``fasten the cotton, after a like interval, on to ...``: the words between the commas stand inside."""
        tokens = self.c.tokens
        if tokens[at + 1].kind in _TARGETS and tokens[at - 1].kind == "double_stitch":
            # ``join after the 4th double, to the 5th picot``
            return self.stop(at + 1)
        for i in range(at + 1, min(at + 9, len(tokens) - 1)):
            if tokens[i].kind in CLAUSE_ENDS:
                return at
            if tokens[i].kind == "COMMA":
                return self.stop(i + 1) if tokens[i + 1].kind in _TARGETS else at
        return at


def _first_spot(element: Element) -> Picot | Join | None:
    return next((i for i in element.work if isinstance(i, Picot | Join)), None)
