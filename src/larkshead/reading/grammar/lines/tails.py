"""What stands behind an element's work in lines of shorthand: closing, times, places of its joins, totals, remarks."""

from __future__ import annotations

from larkshead.model import (
    BareThread,
    ElementRef,
    Join,
    LockJoin,
    NoTurn,
    Place,
    SideChange,
    Turn,
)
from larkshead.reading.grammar.counts.work import ITEM_KINDS, MARKS, SIDE_KINDS, read_counts, read_times
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.lengths import read_length
from larkshead.reading.grammar.lines.state import KINDS
from larkshead.reading.grammar.lines.totals import LineTotals
from larkshead.reading.grammar.meanings import JOINS
from larkshead.reading.grammar.places import ELEMENTS, PICOTS, places_between, read_place
from larkshead.reading.grammar.said import (
    SaidElement,
    SaidLine,
    SaidNote,
    SaidPlain,
    SaidRepeat,
    SaidStep,
)
from larkshead.reading.grammar.tokens import Token
from larkshead.reading.grammar.totals import read_counted

_AFTER_CLOSED = frozenset({"END", "NL", "PARA", "STOP", "SEMI", "reverse_work", "no_turn", "SHUT"})


class LineTails(LineTotals):
    """A layer of Lines."""

    def _tail(self, said: SaidElement, here: int) -> None:
        c = self.c
        while True:
            back = c.at
            if (c.kind() in ("COMMA", "glue", "STOP") and c.kind(1) in ("close", "half_closed")) or (
                c.kind() == "COMMA" and c.kind(1) == "OPEN" and not self.is_group(c.at + 1)
            ):
                c.next()
            kind = c.kind()
            if kind == "close":
                c.next()
                if c.kind() == "STOP" and ELEMENTS.get(c.kind(1)) == said.kind and c.kind(2) in _AFTER_CLOSED:
                    # "cl. R": the word for closing shortened, and the element it closes.
                    c.at += 2
                continue
            if kind in ("large_ring",) and c.kind(1) not in ("NUM", "OPEN", "COLON") and c.kind(1) not in ITEM_KINDS:
                # "lr" typed for "clr".
                c.next()
                continue
            if kind == "half_closed":
                said.half_closed = True
                c.next()
                continue
            if kind == "OPEN" and self.aside(said):
                self._go_on(said)
                continue
            if kind == "times" and c.kind(1) == "NUM" and said.count == 1:
                said.count = min(max(read_times(c) or 1, 1), 10**12)
                continue
            if (
                kind == "NUM"
                and c.kind(1) == "times"
                and said.count == 1
                and self.tokens[c.at - 1].kind == "close"
                and c.kind(2) != "OPEN"
                and c.kind(2) != "COLON"
            ):
                said.count = min(max(read_times(c) or 1, 1), 10**12)
                continue
            if self._references(said):
                continue
            if kind in ("PLUS", "join", "COMMA", "SLASH") and self._told_places(said):
                continue
            if kind in ("COLON", "COMMA") and (self._total_behind() or self._sides_explained(said)):
                continue
            c.at = back
            return

    def _go_on(self, said: SaidElement) -> None:
        """Work that goes on behind a place or remark in brackets: ``4+4 (last p of prev SR) // 4-4``."""
        c = self.c
        split = said.kind.startswith("split") or (said.kind in ("ring", "chain") and not self.slash_parts)
        if (
            said.alike is not None
            or not said.pieces
            or (c.kind() not in MARKS | set(PICOTS) and not (split and c.kind() in SIDE_KINDS))
        ):
            return
        if c.kind() == "PLUS" and c.kind(1) not in ("NUM", "OPEN"):
            return
        before = len(said.pieces)
        said.pieces = read_counts(
            c, self.syntax(split, said.kind == "josephine ring", "chain" in said.kind), 0, said.pieces
        )
        for item, _ in said.pieces[before:]:
            if isinstance(item, Join):
                self.joins.add(item, self.line, said)
        if any(isinstance(item, SideChange) for item, _ in said.pieces) and not said.kind.startswith("split"):
            said.kind = f"split {said.kind}"

    def _sides_explained(self, said: SaidElement) -> bool:
        """``SC 6 / 6: work 6, leave 5 mm bare, LJ to the base of R1, and work 6 back``: how the sides are worked; its
        join is of the work.
        """
        c = self.c
        if c.kind() != "COLON" or not said.kind.startswith("split"):
            return False
        end = self.clause_end(c.at)
        side = next((i for i, (item, _) in enumerate(said.pieces) if isinstance(item, SideChange)), len(said.pieces))
        for at in range(c.at, end):
            if self.tokens[at].kind == "lock_join":
                probe = Cursor(self.tokens, at + 1, end)
                if probe.kind() == "with" and probe.kind(1) == "shuttle":
                    probe.at += 3
                probe.skip(("to", "glue"))
                place = read_place(probe)
                said.pieces.insert(side, (Join([place] if place else [], "lock"), c.span(at, max(probe.at, at + 1))))
                break
        said.remark = self.words_between(c.at + 1, end)
        c.at = end
        return True

    def _total_behind(self) -> bool:
        """``cl RW: 5 ordinary picots`` and ``..., 12 ds``."""
        c = self.c
        counted = read_counted(Cursor(self.tokens, c.at + 1, min(self.clause_end(c.at), c.at + 12)))
        if not counted[0]:
            return False
        end = counted[1]
        if self.kind_at(end) not in ("STOP", "NL", "PARA", "END", "SEMI") and (
            c.kind() == "COMMA" or self.kind_at(end) != "COMMA"
        ):
            return False
        self.total_in(c.at + 1, end, "element")
        c.at = end
        return True

    def aside(self, said: SaidElement | SaidPlain | None) -> bool:
        """A bracket behind an element or a step: places of its joins, its total, or a remark. False for a group of
        steps.
        """
        c = self.c
        start = c.at
        end = self.match[start]
        if end < 0 or self.is_group(start):
            return False
        kinds = [t.kind for t in self.tokens[start + 1 : end]]
        if any(
            k in KINDS
            and i + 1 < len(kinds)
            and kinds[i + 1] == "NUM"
            and i + 2 < len(kinds)
            and kinds[i + 2] in ("DASH", "PLUS")
            for i, k in enumerate(kinds)
        ):
            return False
        c.at = end + 1
        if self.total_in(start + 1, end, "element"):
            return True
        if kinds == ["shuttle", "NUM"] and (self.strong_start(end + 1) or self.kind_at(end + 1) == "NUM"):
            c.at = start
            return False
        if kinds[-1:] == ["UNIT"] and set(kinds) <= {"NUM", "FRACTION", "UNIT", "about", "DASH", "to"}:
            length = read_length(Cursor(self.tokens, start + 1, end))
            turned = self.said and isinstance(self.said[-1], SaidStep) and isinstance(self.said[-1].step, Turn | NoTurn)
            if length is not None and turned:
                # "r 5-5 rw (6mm) r 5-5"
                return self.say(BareThread(length), start)
        if len(kinds) == 1 and kinds[0] in ("close", "reverse_work", "no_turn"):
            if kinds[0] != "close":
                self.say(Turn() if kinds[0] == "reverse_work" else NoTurn(), start)
            return True
        if (
            kinds == ["shuttle", "NUM"]
            and isinstance(said, SaidElement)
            and not said.thread
            and self.kind_at(end + 1) in ("NL", "PARA", "END", "STOP", "SEMI", "COMMA", "reverse_work")
        ):
            said.thread = f"shuttle {self.tokens[start + 2].value}"
            return True
        if kinds[:1] == ["repeat"] and self.repeat_in(start + 1, end):
            return True
        if said is not None and "times" in kinds[:2] and "NUM" in kinds[:2] and set(kinds[2:]) <= {"in_all", "glue"}:
            return self._times_in(start + 1 + kinds.index("NUM"), end, said)
        if kinds[:1] in (["reverse_work"], ["no_turn"]) and len(kinds) > 1 and set(kinds) & {"each", "all", "between"}:
            c.at = start + 1
            self._on_reverse_work() if kinds[0] == "reverse_work" else self._on_no_turn()  # type: ignore[attr-defined]
            c.at = end + 1
            return True
        named = end == start + 2 and self._names_step(self.tokens[start + 1])
        if (
            not named
            and kinds
            and kinds[0] in ITEM_KINDS - {"PLUS", "join", "lock_join", "folded_join", "ITEM", *PICOTS, "NUM"}
        ):
            c.at = start
            return False
        if self.targets(start + 1, end, said):
            return True
        if kinds and kinds[0] in JOINS and said is not None and said.kind == "chain" and said is self.last:
            found = self.places_in(start + 2, end)
            return self.say(LockJoin(found[:1]), start)
        self.said.append(SaidNote(self.words_between(start, end + 1), c.span(start)))
        return True

    def _times_in(self, start: int, end: int, said: SaidElement | SaidPlain) -> bool:
        """``R 5-5 RW, Ch 6 RW (6 times)``: of the line, or of the element alone that it stands behind."""
        times = min(max(int(self.tokens[start].value), 1), 10**12)
        if isinstance(said, SaidElement) and self.said and self.said[-1] is said and said.count == 1:
            before = next((thing for thing in reversed(self.said[:-1]) if not isinstance(thing, SaidStep)), None)
            if isinstance(before, SaidLine) or before is None:
                said.count = times
                return True
        self.said.append(SaidRepeat("line", self.c.span(start, end), times=times, how="all"))
        return True

    def targets(self, start: int, end: int, said: SaidElement | SaidPlain | None) -> bool:
        """Places told between ``start`` and ``end``, laid on the joins before that have none yet."""
        every = any(t.kind in ("all", "each") for t in self.tokens[start : min(end, start + 4)])
        places = self.places_in(start, end)
        if not places:
            return False
        if every:
            self.place_all(places, self.joins.every())
            return True
        nearest = self.joins.nearest(self.line, len(places))
        if not nearest:
            return False
        self.place_all(places, nearest)
        if any(t.kind == "folded_join" for t in self.tokens[start:end]):
            nearest[min(len(places), len(nearest)) - 1].kind = "folded"
        return True

    def places_in(self, start: int, end: int) -> list[Place]:
        """The places named between two tokens, in order."""
        if any(self._names_step(t) for t in self.tokens[start:end]):
            named = [t._replace(kind="label") if self._names_step(t) else t for t in self.tokens[start:end]]
            return places_between(named, 0, len(named))
        return places_between(self.tokens, start, end)

    def _names_step(self, token: Token) -> bool:
        """Whether a letter that abbreviates something else names an element or line told before: ``(B)``."""
        text = token.text
        return (
            len(text) == 1
            and text.isupper()
            and token.kind not in ("label", *KINDS)
            and (text in self.element_labels or text in self.step_labels)
        )

    def _references(self, said: SaidElement) -> bool:
        """``A3``, ``C3 A1`` behind an element: the picots its joins go to, by element and number."""
        c = self.c
        if c.at >= c.limit or self.tokens[c.at].text not in self.element_labels:
            return False
        joins = self.joins.of(said)
        if not joins:
            return False
        places: list[Place] = []
        at = c.at
        while (
            at < c.limit
            and self.tokens[at].text in self.element_labels
            and self.kind_at(at + 1) == "NUM"
            and not self.tokens[at + 1].spaced
        ):
            place = Place(
                "picot", int(self.tokens[at + 1].value), words=self.tokens[at].text + self.tokens[at + 1].text
            )
            place.element = ElementRef("", None, self.tokens[at].text)
            places.append(place)
            at += 2
            if self.kind_at(at) == "COMMA":
                at += 1
        if not places:
            return False
        c.at = at
        self.place_all(places, joins)
        return True

    def _told_places(self, said: SaidElement) -> bool:
        """``, + to last p of R1``, ``, joining to the last picot of the previous R, then to the first picot of R1``."""
        c = self.c
        at = c.at + 1 if c.kind() in ("COMMA", "SLASH") else c.at
        if self.kind_at(at) not in ("PLUS", "join", "glue", "each", "to", "with"):
            return False
        if self.kind_at(at) in ("glue", "with", "to") and self.kind_at(at + 1) not in (
            "PLUS",
            "join",
            "folded_join",
            *PICOTS,
            "last",
            "previous",
            "ORD",
        ):
            return False
        return bool(self.joins.of(said)) and self.told_places(at)

    def told_places(self, at: int) -> bool:
        """The places told in the clause that begins at ``at``; stepped over where they find their joins."""
        c = self.c
        back = c.at
        end = self.clause_end(at)
        for i in range(at, end):
            kind = self.tokens[i].kind
            if (
                kind in ("reverse_work", "no_turn", "cut", "close", "SHUT", "MARK")
                or kind == "lock_join"
                or (
                    kind in KINDS
                    and i > at
                    and self.kind_at(i + 1) == "NUM"
                    and self.kind_at(i + 2) in ("DASH", "PLUS", "picot", "double_stitch")
                )
            ):
                end = i
                break
        if not self.targets(at, end, self.last):
            c.at = back
            return False
        c.at = end
        if self.tokens[end - 1].kind == "COMMA":
            c.at -= 1
        return True
