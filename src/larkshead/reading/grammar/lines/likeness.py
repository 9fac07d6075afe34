"""Elements worked like others told before, in lines of shorthand, and what is other in them."""

from __future__ import annotations

from larkshead.reading.grammar.counts.work import MARKS
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.lines.state import KINDS
from larkshead.reading.grammar.lines.tails import LineTails
from larkshead.reading.grammar.meanings import JOINS
from larkshead.reading.grammar.places import PICOTS, read_place
from larkshead.reading.grammar.said import Alike, Change, SaidElement


class LineLikeness(LineTails):
    """A layer of Lines."""

    def _alike(self, said: SaidElement) -> bool:
        """``as R2``, ``same as SR2``, ``< > with a + for its first -``: work told before, with what is other here."""
        c = self.c
        back = c.at
        if c.kind() == "OPEN" and self.match[c.at] == c.at + 1:
            c.at += 2
            said.alike = Alike(kind=said.kind)
            self._changes(said)
            return True
        c.skip(("glue", "COMMA", "this"))
        if c.kind() not in ("like", "same"):
            c.at = back
            return False
        while c.kind() in ("like", "same", "glue"):
            c.next()
        alike = Alike()
        if c.kind() in KINDS:
            alike.kind = KINDS[c.next().kind]
            if c.kind() in ("NUM", "ORD"):
                alike.number = int(c.next().value)
            elif c.kind() in ("label", "WORD", "NAME") and len(c.peek().text) == 1:
                alike.label = c.next().text
        elif c.kind() == "ORD":
            alike.number = int(c.next().value)
            if c.kind() in KINDS:
                alike.kind = KINDS[c.next().kind]
        elif c.kind() == "NUM" or c.kind() in ("label", "NAME") or (c.kind() == "WORD" and len(c.peek().text) == 1):
            alike.label = c.next().text
        elif c.kind() in ("previous", "last"):
            alike.which = "previous"
            c.next()
            c.take(*KINDS)
        said.alike = alike
        self._changes(said)
        return True

    def _changes(self, said: SaidElement) -> None:
        """``but the first p becomes a + to the last p of R1``, ``with a + for its first -``, ``, to R2``."""
        c = self.c
        end = self.clause_end(c.at, ("close", "OPEN"))
        kinds = [t.kind for t in self.tokens[c.at : end]]
        join = next((i for i, k in enumerate(kinds) if k == "PLUS" or k in JOINS), None)
        if join is not None and join == len(kinds) - 1 and self._change_in_bracket(said, end):
            return
        picot = next((i for i, k in enumerate(kinds) if k in PICOTS or k in ("DASH", "DOT", "PLUSMINUS")), None)
        if join is not None and any(k in ("reverse_work", *KINDS) for k in kinds[:join]):
            join = None
        if join is None:
            self._retarget(said, end)
            return
        item: str | int = "first"
        told = picot is not None and "to" not in kinds[join:picot]
        if picot is not None and told:
            for token in reversed(self.tokens[max(c.at, c.at + picot - 3) : c.at + picot]):
                if token.kind in ("ORD", "last", "middle"):
                    item = (int(token.value) if token.value != 1 else "first") if token.kind == "ORD" else token.kind
                    break
        begin = c.at + join + 1
        to = next((i for i in range(begin, end) if self.tokens[i].kind == "to"), None)
        probe = Cursor(self.tokens, begin if to is None else to + 1, end)
        probe.skip(("glue", "this"))
        place = read_place(probe)
        if place is not None and picot is not None and to is None and place.element is None:
            place = None
        change = Change(item=item, places=[place] if place else [], item_told=told, span=c.span(c.at, end))
        said.changes.append(change)
        c.at = end

    def _change_in_bracket(self, said: SaidElement, opened: int) -> bool:
        """``but + (last p of R1) for its first p``: the place in brackets, and which picot is a join there."""
        c = self.c
        shut = self.match[opened] if self.kind_at(opened) == "OPEN" else -1
        if shut < 0:
            return False
        end = self.clause_end(shut + 1, ("COMMA",))
        behind = self.tokens[shut + 1 : end]
        picot = next((i for i, t in enumerate(behind) if t.kind in PICOTS or t.kind in MARKS), None)
        if picot is None or any(t.kind in KINDS or t.kind == "reverse_work" for t in behind):
            return False
        item: str | int = "first"
        for token in behind[:picot]:
            if token.kind == "ORD" and token.value != 1:
                item = int(token.value)
            elif token.kind in ("last", "middle"):
                item = token.kind
        places = self.places_in(opened + 1, shut)[:1]
        said.changes.append(Change(item=item, places=places, span=c.span(c.at, end)))
        c.at = end
        return True

    def _retarget(self, said: SaidElement, end: int) -> None:
        """``as R2, to R2``: the same join, to another place."""
        c = self.c
        probe = Cursor(self.tokens, c.at, end)
        probe.skip(("COMMA", "but", "glue"))
        if probe.kind() != "to":
            return
        probe.next()
        place = read_place(probe, bracket=True)
        if place is not None:
            said.changes.append(Change("", "join", "place", [place], span=c.span(c.at, probe.at)))
            c.at = probe.at
