"""What is no step in lines of shorthand: sentences that cover joins, changes on some passes, and plain remarks."""

from __future__ import annotations

from dataclasses import replace

from larkshead.model import BareThread, Place
from larkshead.reading.grammar.changes import read_changes
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.lengths import read_length
from larkshead.reading.grammar.lines.again import LineAgain
from larkshead.reading.grammar.lines.state import KINDS
from larkshead.reading.grammar.meanings import JOINS
from larkshead.reading.grammar.places import PICOTS, places_between, read_place
from larkshead.reading.grammar.said import (
    Change,
    SaidChange,
    SaidCover,
    SaidElement,
    SaidFollowed,
    SaidMock,
    SaidNote,
    SaidTotal,
)
from larkshead.reading.grammar.totals import read_of_each

_TRADE = frozenset({"NUM", *PICOTS, *JOINS, *KINDS, "reverse_work", "double_stitch", "bead"})

_BARE_WORDS = frozenset({"leave", "space", "bare_thread", "thread"})
_ALL_SPACES = frozenset(
    {"between", "all", "each", "ring", "split_ring", "element", "of", "glue", "WORD", "with", "to", "this"}
)


class LineRemarks(LineAgain):
    """A layer of Lines."""

    def remark(self) -> None:
        """What no statement takes: a total, a cover, a change, or words kept as a note; up to the next step in the
        clause.
        """
        c = self.c
        start = c.at
        end = self.clause_end(start)
        if end == start:
            c.next()
            return
        if c.kind() in (*KINDS, "total") and self.total_in(start, end, ""):
            c.at = end
            return
        if c.kind() in ("all", "each", "WORD", "thread", "with") and self.spaces_between():
            return
        if (each := read_of_each(c)) is not None:
            each.words = self.words_between(start, c.at)
            self.said.append(SaidTotal(each, c.span(start)))
            return
        heads = self.fresh and self.kind_at(start) == "WORD" and self.kind_at(start + 1) == "COLON"
        if heads and self.kind_at(start + 2) in ("centre", "motif", "round", "row", "ORD", "reverse_work"):
            # "Directions: Rnd 1 ...": the heading of a part behind the colon.
            c.at = start + 2
            self.said.append(SaidNote(self.words_between(start, c.at), c.span(start)))
            return
        if self._mock_ring(start, end) or self._following(start, end):
            return
        strong = self.next_strong(start, end)
        if (
            strong is None
            and self.kind_at(start + 1) == "COLON"
            and hasattr(self, "_on_" + self.kind_at(start + 2))
            and self.kind_at(start + 2) not in ("NUM", "glue", "OPEN")
        ):
            # "Climb: mock picot of 3 mm"
            c.at = start + 2
            self.heard.append(c.span(start))
            return
        if strong == start:
            strong = self.next_strong(start + 1, end)
        if self._followed(start, end, strong):
            return
        stop = end if strong is None else strong
        if strong is None:
            made = (
                self.kind_at(start) == "glue" and self.kind_at(start + 1) == "NUM" and self.kind_at(start + 2) in KINDS
            )
            if made and self._so_many_of_each(end):
                return
            if self.kind_at(start) != "go_on" and self.total_in(start, end, ""):
                c.at = end
                return
            if (
                self._row_again(start, end)
                or self._labels_again(end)
                or self._so_many_made(start, end)
                or self._same_again(start, end)
                or self._so_many_of_each(end)
                or self._on_named_passes(start, end)
                or self.covering_joins()
                or self._first_time(end)
                or self.changes_told()
            ):
                return
        elif self._like_these(start) or self._so_many_of(start, strong):
            return
        elif (
            self.kind_at(start) == "this"
            and all(t.kind in ("this", "glue") for t in self.tokens[start:strong])
            and self.kind_at(strong + 1) == "NUM"
            and self.kind_at(strong + 2) in ("STOP", "SEMI", "NL", "PARA", "END")
        ):
            # "it should be Ch 8" speaks of one told elsewhere.
            stop = end
        elif sum(t.kind == "WORD" for t in self.tokens[self._behind_colon(start, strong) : strong]) > 1 and self.tokens[
            strong - 1
        ].kind not in (
            "COLON",
            "COMMA",
            "NUM",
            "ELLIPSIS",
        ):
            # Words that only speak of an element ("the old sheet had Ch 6-5").
            stop = end
        else:
            colon = next((i for i in range(start, stop) if self.tokens[i].kind == "COLON"), None)
            if colon is not None:
                stop = min(stop, colon + 1)
        if strong is None:
            stop = self._action_behind_comma(start, stop)
        c.at = max(stop, start + 1)
        kinds = {t.kind for t in self.tokens[start : c.at]}
        if kinds <= {"glue", "COMMA", "SHUT", "COLON", "QUOTE", "OTHER", "DASH", "times", "again"}:
            return
        # What speaks of threads, or of what a step stands in the place of, leaves nothing to work.
        unread = bool(kinds & _TRADE) and not kinds & {"WORD", "shuttle", "instead", "thread"}
        self.said.append(SaidNote(self.words_between(start, c.at), c.span(start), unread))

    def _followed(self, start: int, end: int, strong: int | None) -> bool:
        """``R2-R5: 6+6 rw, each followed by C 8 rw``, ``each with a C 8 rw after it``: what stands behind each of them."""
        if not isinstance(self.last, SaidElement) or self.last.count < 2:
            return False
        if strong is None:
            # "... after it" behind what was told so.
            told = [t.kind for t in self.tokens[start:end]]
            if told[:1] == ["after"] and set(told[1:]) <= {"this", "each", "glue", *KINDS} and len(told) > 1:
                self.c.at = end
                return True
            return False
        lead = [t.kind for t in self.tokens[start:strong]]
        after = any(t.kind == "after" for t in self.tokens[strong:end])
        if set(lead) - {"followed", "each", "all", "with", "glue", "after", "this", "of", *KINDS} or not (
            "followed" in lead or (set(lead) & {"each", "all"} and ("after" in lead or ("with" in lead and after)))
        ):
            return False
        self.said.append(SaidFollowed(self.c.span(start, strong)))
        self.c.at = strong
        return True

    def spaces_between(self) -> bool:
        """``All bare threads between rings 2 mm``, ``leave 3 mm between all rings``: what lies between any two."""
        c = self.c
        start = c.at
        end = self.clause_end(start, ("COMMA",))
        kinds = [t.kind for t in self.tokens[start:end]]
        if "between" not in kinds or "UNIT" not in kinds or not _BARE_WORDS & set(kinds):
            return False
        at = next((start + i for i, kind in enumerate(kinds) if kind in ("NUM", "FRACTION", "about")), end)
        probe = Cursor(self.tokens, at, end)
        length = read_length(probe)
        rest = [t.kind for t in (*self.tokens[start:at], *self.tokens[probe.at : end])]
        if length is None or set(rest) - _BARE_WORDS - _ALL_SPACES or rest.count("ring") > 1:
            return False
        c.at = end
        self.said.append(SaidCover("space", c.span(start), True, BareThread(length)))
        return True

    def _action_behind_comma(self, start: int, end: int) -> int:
        """Where a step stands alone behind a comma in words that are none: ``..., cut.``; else ``end``."""
        for at in range(start + 1, end - 1):
            if self.tokens[at].kind == "COMMA" and self.tokens[at + 1].kind in ("cut", "reverse_work", "no_turn"):
                after = self.kind_at(at + 2)
                if after in ("COMMA", "STOP", "SEMI", "NL", "PARA", "END", "SHUT", "MARK", "glue", "after", "between"):
                    return at
        return end

    def _behind_colon(self, start: int, end: int) -> int:
        """Where the clause begins anew behind a colon, or ``start``."""
        return next((i + 1 for i in range(end - 1, start, -1) if self.tokens[i].kind == "COLON"), start)

    def _mock_ring(self, start: int, end: int) -> bool:
        """``SCMR: leave a loop`` opens a mock ring made of the chains that follow; ``draw the mock ring closed`` ends
        it.
        """
        kinds = [t.kind for t in self.tokens[start:end]]
        if "mock_ring" not in kinds or ("NUM" in kinds and self.next_strong(start, end) is not None):
            return False
        if kinds[0] == "mock_ring" and ("leave" in kinds or "loop" in kinds):
            self.said.append(SaidMock(True, self.c.span(start, end)))
        elif "close" in kinds:
            self.said.append(SaidMock(False, self.c.span(start, end)))
        else:
            return False
        self.said.append(SaidNote(self.words_between(start, end), self.c.span(start, end)))
        self.c.at = end
        return True

    def covering_joins(self) -> bool:
        """``All + to last p of the ring before``, ``joins are to the ps of Rnd 1, one after another``, ``each + to the
        next pin hole``.

        The place goes to the joins told so far that have none; those still to come take it as well.
        """
        c = self.c
        start = c.at
        end = self.clause_end(start)
        if self._one_element_joins(start, end):
            return False
        at = start
        seen = False
        passed = 0
        while at < end and passed < 12:
            kind = self.tokens[at].kind
            if kind == "PLUS" or kind in JOINS or kind == "ITEM":
                seen = True
            elif (kind in ("to", "last", "previous", "same") and seen) or (
                kind in ("next", "ORD") and seen and self.kind_at(at + 1) in (*PICOTS, *KINDS, "free")
            ):
                break
            elif (kind == "NUM" and self.kind_at(at - 1) not in ("OPEN", "of", "step", "glue")) or (
                kind in PICOTS and not seen
            ):
                return False
            at += 1
            passed += 1
        if not seen or at >= end:
            return False
        named = self._elements_named(start, at)
        rest = next(
            (
                i
                for i in range(at + 1, end)
                if self.tokens[i].kind in ("COMMA", "glue") and self.kind_at(i + 1) in JOINS
            ),
            end,
        )
        found = places_between(self.tokens, at, rest)
        place = found[0] if found else Place(words=self.words_between(at, rest))
        kinds = {t.kind for t in self.tokens[at:rest]}
        if "fabric" in kinds:
            place.spot = "fabric"
        elif place.picot is None and place.spot == "picot" and place.part is not None and kinds & set(PICOTS):
            # "to the ps of Rnd 1": one after the other.
            place.picot = "next"
        self.place_all([place], self.joins.every((lambda owner: self._is_named(owner, named)) if named else None))
        if not named:
            self.default = self.default or place
        self._but_the_first(start, end)
        c.at = end
        if rest < end:
            c.at = rest + 1
            if not self.changes_told():
                c.at = end
        return True

    def _but_the_first(self, start: int, end: int) -> None:
        """``Every ring joins to the last p of the ring before, except the first``: the first has a picot there."""
        but = next((i for i in range(start, end) if self.tokens[i].kind == "but"), None)
        if but is None:
            return
        behind = [t for t in self.tokens[but + 1 : end] if t.kind not in ("glue", "of", "all", *KINDS)]
        if len(behind) == 1 and behind[0].kind == "ORD" and behind[0].value == 1:
            kind = next((KINDS[t.kind] for t in self.tokens[start:but] if t.kind in KINDS), "")
            change = Change("first", "join", "picot", element_kind=kind, passes="first", span=self.c.span(start, end))
            self.said.append(SaidChange(change, self.c.span(start, end)))

    def _is_named(self, owner: object, names: set[str]) -> bool:
        """Whether an element is one of those named, by its label or by the label of its step."""
        return getattr(owner, "label", None) in names or self.step_of.get(id(owner)) in names

    def _one_element_joins(self, start: int, end: int) -> bool:
        """Whether the clause is of one element's join: ``The ninth ring joins``, ``the last ring is joined``."""
        for at in range(start, end):
            kind = self.tokens[at].kind
            if kind in JOINS or kind in ("PLUS", "ITEM", "each", "all"):
                return False
            if kind in KINDS:
                return self.kind_at(at - 1) in ("ORD", "last", "NUM") or self.kind_at(at + 1) == "NUM"
        return False

    def _elements_named(self, start: int, end: int) -> set[str]:
        """The labels a covering sentence names: ``joins of [3] and [5]``."""
        return {t.text for t in self.tokens[start:end] if t.kind in ("label",) or t.kind == "NUM"}

    def _first_time(self, end: int) -> bool:
        """``first time a p where the + is``, ``On the very first ring make a p there instead``: the join is a picot
        there.
        """
        c = self.c
        start = c.at
        tokens = self.tokens[start:end]
        kinds = [t.kind for t in tokens]
        first = next((i for i, t in enumerate(tokens) if t.kind == "ORD" and t.value == 1), None)
        picot = next((i for i, k in enumerate(kinds) if k in PICOTS), None)
        if first is None or picot is None or "last" in kinds[:picot]:
            return False
        if "UNIT" in kinds:
            return False
        cue = "instead" in kinds or "PLUS" in kinds or any(k in JOINS for k in kinds) or "where" in kinds
        if picot < first and not {"instead", "where"} & set(kinds):
            return False
        if not cue or kinds[min(first + 1, len(kinds) - 1)] in PICOTS:
            return False
        kind = next((KINDS[k] for k in kinds[first : first + 3] if k in KINDS), "")
        change = Change("first", "join", "picot", element_kind=kind, passes="first", span=c.span(start, end))
        self.said.append(SaidChange(change, c.span(start, end)))
        c.at = end
        rest = [i for i in range(start, end) if self.tokens[i].kind == "SEMI"]
        if rest:
            c.at = rest[0]
        return True

    def changes_told(self) -> bool:
        """``The ninth ring joins to the first as well, by its last p``: what is other on some pass."""
        c = self.c
        start = c.at
        end = self.clause_end(start)
        tokens = self.tokens[start : end + 1]
        kinds = [t.kind for t in self.tokens[start:end]]
        if not set(kinds) & set(JOINS) and "PLUS" in kinds and "to" in kinds and {"last", "ORD"} & set(kinds[:2]):
            # "last R + to first R too"
            sign = kinds.index("PLUS")
            tokens[sign] = tokens[sign]._replace(kind="join")
            kinds[sign] = "join"
        if not set(kinds) & set(JOINS) or "UNIT" in kinds:
            return False
        if "centre" in kinds and self.kind_at(start + kinds.index("centre") + 1) in PICOTS:
            # The centre picot is the one in the middle.
            centre = kinds.index("centre")
            tokens[centre] = tokens[centre]._replace(kind="middle")
        changes = read_changes(Cursor(tokens, 0, len(tokens)), end - start)
        found = [change for change in changes if change.elements or change.passes != "" or change.places]
        if not found or not any(t.kind in KINDS or t.kind in PICOTS for t in self.tokens[start:end]):
            return False
        for change in found:
            self.said.append(SaidChange(change, c.span(start, end)))
        c.at = end
        return True

    def _on_named_passes(self, start: int, end: int) -> bool:
        """``in the second, third and fourth chains join to the picot of the first chain instead``: on each of these
        passes.
        """
        c = self.c
        numbers: list[int] = []
        at = start
        while at < end and self.kind_at(at) in ("to", "glue", "ORD", "COMMA", "each", "of", "on"):
            if self.kind_at(at) == "ORD":
                numbers.append(int(self.tokens[at].value))
            at += 1
        if len(numbers) < 2 or self.kind_at(at) not in KINDS:
            return False
        kind = KINDS[self.kind_at(at)]
        at += 1
        while at < end and self.kind_at(at) in ("COMMA", "glue"):
            at += 1
        if self.kind_at(at) not in JOINS:
            return False
        probe = Cursor(self.tokens, at + 1, end)
        probe.skip(("to", "glue"))
        place = read_place(probe)
        for number in numbers:
            change = Change(
                "first",
                places=[replace(place)] if place else [],
                elements="number",
                element_kind=kind,
                passes=number,
                span=c.span(start, end),
            )
            self.said.append(SaidChange(change, c.span(start, end)))
        c.at = end
        return True
