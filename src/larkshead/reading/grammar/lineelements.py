"""Elements in lines of shorthand: name, label, counts, what is thrown off them, and the places told behind them."""

from __future__ import annotations

from copy import deepcopy
from dataclasses import replace
from typing import TYPE_CHECKING

from larkshead.model import Element, ElementRef, Join, NoTurn, Place, SideChange, Switch, Thrown
from larkshead.reading.grammar.countstring import ITEM_KINDS, MARKS, SIDE_KINDS, CountSyntax, read_counts, read_times
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.items import items_of
from larkshead.reading.grammar.meanings import JOINS, Meaning, Varying
from larkshead.reading.grammar.openjoins import OpenJoins
from larkshead.reading.grammar.places import ELEMENTS, PICOTS, places_between, read_place
from larkshead.reading.grammar.said import Alike, Change, Piece, Said, SaidElement, SaidNote, SaidPlain, SaidStep
from larkshead.reading.grammar.totals import read_counted
from larkshead.reading.notices import Notice

if TYPE_CHECKING:
    from larkshead.reading.grammar.tokens import Token

KINDS = {**ELEMENTS, "large_ring": "ring", "small_ring": "ring"}
_SIZES = {"large_ring": "large", "small_ring": "small"}
_OPENERS = frozenset({"COLON", "EQUALS", "of"})


class LineElements:
    """Mixed into Lines."""

    if TYPE_CHECKING:
        c: Cursor
        tokens: list[Token]
        match: list[int]
        said: list[Said]
        notices: list[Notice]
        joins: OpenJoins
        last: SaidElement | SaidPlain | None
        line: int
        depth: int
        numbered: bool
        sizes_told: bool
        slash_parts: bool
        names: dict[str, list[Token]]
        element_labels: set[str]
        step_of: dict[int, str]
        step: str
        same_size: bool

        def syntax(self, split: bool = False, halves: bool = False, chain: bool = False) -> CountSyntax: ...
        def clause_end(self, at: int, stops: tuple[str, ...] = ()) -> int: ...
        def words_between(self, start: int, end: int) -> str: ...
        def kind_at(self, at: int) -> str: ...
        def is_group(self, at: int) -> bool: ...
        def place_all(self, places: list[Place], joins: list[Join]) -> None: ...
        def total_in(self, start: int, end: int, scope: str) -> bool: ...
        def skip(self) -> bool: ...
        def repeat_in(self, start: int, end: int) -> bool: ...
        def strong_start(self, at: int) -> bool: ...

    # --- the element -------------------------------------------------------------------------------------------

    def element(self, count: int = 1, start: int | None = None, number: int | None = None, size: str = "") -> bool:
        """An element with its work at the position; False, and nothing stepped over, where its work does not follow."""
        c = self.c
        back = c.at
        start = back if start is None else start
        said = SaidElement("ring", c.span(start), count=count, size=size)
        split = False
        while c.kind() in ("small", "large", "split", "thrown"):
            if c.kind() == "split":
                split = True
            elif c.kind() == "thrown":
                said.technique = "thrown"
            else:
                said.size = c.kind()
            c.next()
        token = c.next()
        if token.kind == "label":
            said.label = token.text
        elif token.kind in KINDS:
            said.kind = KINDS[token.kind]
            said.size = _SIZES.get(token.kind, said.size)
            if token.kind == "thrown_ring":
                said.technique = "thrown"
            meaning = token.value
            if isinstance(meaning, Meaning):
                said.size = meaning.size or said.size
                said.label = meaning.label
        else:
            c.at = back
            return False
        if split and not said.kind.startswith("split"):
            said.kind = f"split {said.kind}"
        if number is not None:
            said.first, said.label = number, str(number)
        self._label(said)
        self._aside(said)
        if c.kind() in _OPENERS or (
            c.kind() in ("COMMA", "STOP", "DASH")
            and c.kind(1) in ITEM_KINDS | {"OPEN"}
            and (
                c.kind() != "DASH"
                or (c.peek(1).spaced and said.label is not None)
                or (not c.peek().spaced and not c.peek(1).spaced)
            )
        ):
            c.next()
        self._with_thread(said)
        if self._alike(said):
            self._tell(said, start)
            return True
        if not self._work(said, token, back):
            c.at = back
            return False
        return True

    def _work(self, said: SaidElement, token: Token, start: int) -> bool:
        c = self.c
        split = self._may_split(said, token)
        syntax = self.syntax(split, said.kind == "josephine ring", "chain" in said.kind)
        if said.kind == "josephine ring" and self._halves_only():
            syntax.halves = True
        said.pieces = read_counts(c, syntax)
        if not said.pieces and not self._behind_words(said, syntax):
            return False
        self._settle_kind(said, token)
        if self._thrown_ahead(said):
            return self._about_thrown(said, syntax, start, token)
        self._tell(said, start)
        return True

    def _halves_only(self) -> bool:
        return True

    def _may_split(self, said: SaidElement, token: Token) -> bool:
        """Whether a slash may change sides here: in split elements, and where slashes do not part the steps."""
        return said.kind.startswith("split") or (not self.slash_parts and said.kind in ("ring", "chain"))

    def _settle_kind(self, said: SaidElement, token: Token) -> None:
        """A split element by its two sides; a small ring where SR is written without sides beside a large ring."""
        sides = any(isinstance(item, SideChange) for item, _ in said.pieces)
        if sides and said.kind in ("ring", "chain") and said.pieces:
            said.kind = f"split {said.kind}"
        elif (
            not sides
            and said.kind == "split ring"
            and self.sizes_told
            and len(token.text) <= 2
            and not isinstance(token.value, Meaning)
        ):
            said.kind, said.size = "ring", "small"
            self.notices.append(
                Notice(
                    "assumed",
                    "warning",
                    f"{token.text} read as a small ring, since large rings are told apart here",
                    self.c.span(self.c.at - 1),
                )
            )

    def _behind_words(self, said: SaidElement, syntax: CountSyntax) -> bool:
        """Work behind words that describe the element: ``five rings touching all the way round, each 5 + 6 - 6 + 5``."""
        c = self.c
        back = c.at
        end = min(self.clause_end(c.at), c.at + 30)
        for at in range(c.at, end):
            kind = self.tokens[at].kind
            if kind in KINDS or kind in ("reverse_work", "MARK", "repeat", "cut"):
                break
            if kind == "NUM" and at > back and self.tokens[at - 1].kind in ("each", "of", "COLON", "COMMA", "with") and self.kind_at(at + 1) in (
                "DASH", "PLUS", "PLUSMINUS", "DOT", "ITEM", "picot", "small_picot", "long_picot", "double_stitch", "join"
            ):  # fmt: skip
                c.at = at
                said.pieces = read_counts(c, syntax)
                if len(said.pieces) > 1:
                    return True
        c.at = back
        return False

    def _label(self, said: SaidElement) -> None:
        """A number or letter right behind the element's name, or a range or list of them."""
        c = self.c
        token = c.peek()
        if token.kind == "NUM" and self._numbers(said.kind):
            c.next()
            said.first = int(token.value)
            said.label = str(token.value)
            self._range(said)
        elif len(token.text) == 1 and token.text.isalpha() and token.text.isupper() and token.kind not in PICOTS:
            if token.kind not in ("label", "WORD", "NAME") and c.kind(1) not in (
                "COLON",
                "OPEN",
                "EQUALS",
                "NUM",
                "STOP",
                "like",
                "same",
            ):
                return
            c.next()
            said.label = token.text
            self._lettered_range(said)

    def _numbers(self, kind: str) -> bool:
        """Whether the figure at the position is the element's number and not its first count."""
        c = self.c
        glued = not c.peek().spaced
        after = c.peek(1)
        if after.kind in ("COLON", "EQUALS"):
            return True
        if after.kind == "NUM":
            return True
        if not glued:
            return (
                (after.kind == "STOP" and c.kind(2) == "NUM" and after.spaced is False)
                or after.kind in ("like", "same")
                or (
                    after.kind == "OPEN"
                    and (
                        self.kind_at(c.at + 2) not in ITEM_KINDS
                        and self.kind_at(c.at + 2) not in KINDS
                        and self.kind_at(c.at + 2) not in ("switch", "shuttle")
                    )
                    and self.match[c.at + 1] >= 0
                    and self.kind_at(self.match[c.at + 1] + 1) in ("COLON", "NUM")
                )
            )
        if (after.kind in ("DASH", "to") and c.kind(2) in KINDS and c.kind(3) == "NUM") or (
            after.kind == "COMMA" and c.kind(2) in KINDS and c.kind(3) == "NUM" and not c.peek(3).spaced
        ):
            return True
        if (
            after.kind in ("DASH", "to")
            and c.kind(2) == "NUM"
            and c.kind(3) in ("COLON", "OPEN", "like", "same", "COMMA" if c.kind(4) in ("like", "same") else "COLON")
        ):
            return True
        if after.kind == "glue" and c.kind(2) in KINDS and c.kind(3) == "NUM":
            return True
        if after.kind == "OPEN":
            return True
        if after.kind in ("STOP", "COMMA") and c.kind(2) == "NUM" and after.spaced is False and c.peek(2).spaced:
            return self.numbered or after.kind == "STOP"
        if after.kind in ("DASH",) and self.numbered and after.spaced and c.kind(2) == "NUM":
            return True
        return (
            after.kind in ("like", "same", "with", "shuttle", "bead")
            or (after.kind in PICOTS and self.numbered and after.spaced)
            or (self.numbered and after.kind in ("split", "half_closed", "WORD"))
        )

    def _range(self, said: SaidElement) -> None:
        """``R2-R5``, ``R2-5``, ``R3, R4, R5``."""
        c = self.c
        while True:
            if (
                c.kind() in ("DASH", "to", "COMMA", "glue")
                and c.kind(1) in KINDS
                and c.kind(2) == "NUM"
                and c.kind(3) not in ("DASH", "PLUS")
            ):
                said.last = int(c.peek(2).value)
                c.at += 3
            elif (
                c.kind() in ("DASH", "to", "glue", "COMMA")
                and c.kind(1) == "NUM"
                and c.kind(2) in ("COLON", "NUM", "OPEN", "like", "same", "COMMA")
            ):
                if c.kind(2) == "COMMA" and c.kind(3) not in ("like", "same", "NUM"):
                    break
                said.last = int(c.peek(1).value)
                c.at += 2
            else:
                break
        if said.last is not None and said.first is not None and said.last > said.first:
            said.count = min(said.last - said.first + 1, 10**9)

    def _lettered_range(self, said: SaidElement) -> None:
        c = self.c
        last = said.label or "A"
        while c.kind() in ("DASH", "to", "COMMA", "glue"):
            ahead = 2 if c.kind(1) in KINDS else 1
            token = c.peek(ahead)
            if (
                len(token.text) != 1
                or not token.text.isupper()
                or c.kind(ahead + 1) not in ("COLON", "COMMA", "DASH", "glue", "like", "same")
            ):
                break
            last = token.text
            c.at += ahead + 1
        count = ord(last) - ord(said.label or "A") + 1
        if 1 < count <= 26:
            said.count = count

    def _aside(self, said: SaidElement) -> None:
        """A remark in brackets between the name and the counts: ``(inner)``, ``(split)``, ``(sh 1)``."""
        c = self.c
        if c.kind() != "OPEN" or self.match[c.at] < 0 or (c.kind(1) in ITEM_KINDS and self.match[c.at] != c.at + 2):
            return
        end = self.match[c.at]
        kinds = [t.kind for t in self.tokens[c.at + 1 : end]]
        if end == c.at + 2 and said.label is None and self.kind_at(end + 1) in ("COLON", "EQUALS"):
            said.label = self.tokens[c.at + 1].text
            c.at = end + 1
            return
        if any(kind in KINDS and i + 1 < len(kinds) and kinds[i + 1] == "NUM" for i, kind in enumerate(kinds)):
            return
        if self.kind_at(end + 1) not in ITEM_KINDS and self.kind_at(end + 1) not in (
            "COLON",
            "EQUALS",
            "OPEN",
            "COMMA",
            "DASH",
            "like",
            "same",
        ):
            return
        if "split" in kinds and not said.kind.startswith("split"):
            said.kind = f"split {said.kind}"
        if "shuttle" in kinds:
            self._thread_at(said, c.at + 1 + kinds.index("shuttle"))
        said.size = next((k for k in kinds if k in ("small", "large")), said.size)
        if not {"split", "shuttle", "small", "large"} & set(kinds):
            said.remark = self.words_between(c.at + 1, end)
        c.at = end + 1

    def _with_thread(self, said: SaidElement) -> None:
        """``with SH1`` between the name and the counts."""
        c = self.c
        if (c.kind() in ("with", "glue", "from") and c.kind(1) == "shuttle") or c.kind() == "shuttle":
            at = c.at if c.kind() == "shuttle" else c.at + 1
            if self.kind_at(at + 1) in ("NUM", "ORD"):
                self._thread_at(said, at)
                c.at = at + 2
                c.take("COLON", "COMMA")

    def _thread_at(self, said: SaidElement, at: int) -> None:
        if self.kind_at(at + 1) in ("NUM", "ORD"):
            said.thread = f"shuttle {self.tokens[at + 1].value}"
        elif self.kind_at(at - 1) == "ORD":
            said.thread = f"shuttle {self.tokens[at - 1].value}"

    # --- like another --------------------------------------------------------------------------------------------

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
        picot = next((i for i, k in enumerate(kinds) if k in PICOTS or k in ("DASH", "DOT", "PLUSMINUS")), None)
        if join is not None and any(k in ("reverse_work", *KINDS) for k in kinds[:join]):
            join = None
        if join is None:
            self._retarget(said, end)
            return
        item: str | int = "first"
        if picot is not None:
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
        change = Change(item=item, places=[place] if place else [], span=c.span(c.at, end))
        said.changes.append(change)
        c.at = end

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

    # --- thrown elements -----------------------------------------------------------------------------------------

    def _thrown_ahead(self, said: SaidElement) -> bool:
        """Whether a bracket with an element in it stands inside this one's work: a ring thrown off it."""
        c = self.c
        if c.kind() != "OPEN" or said.kind not in ("chain", "mock ring", "split chain"):
            return False
        end = self.match[c.at]
        if end < 0:
            return False
        inside = {t.kind for t in self.tokens[c.at + 1 : end]}
        after = self.kind_at(end + 1)
        if after == "times" or (after == "NUM" and self.kind_at(end + 2) == "times"):
            return False
        return bool(inside & set(KINDS)) and any(self.strong_start(i) for i in range(c.at + 1, end))

    def _about_thrown(self, said: SaidElement, syntax: CountSyntax, start: int, token: Token) -> bool:
        """The pieces of an element about what is thrown off it: a mock ring holds it, a chain stands in pieces."""
        c = self.c
        whole = said.kind == "mock ring"
        pieces: list[Piece] = said.pieces
        while self._thrown_ahead(said):
            end = self.match[c.at]
            inner = self._inside(c.at + 1, end)
            begin = c.at
            c.at = end + 1
            while (
                c.kind() == "OPEN"
                and self.match[c.at] >= 0
                and self.kind_at(c.at + 1) == "shuttle"
                and not ({t.kind for t in self.tokens[c.at : self.match[c.at]]} & set(KINDS))
            ):
                c.at = self.match[c.at] + 1
            if whole:
                for thing in inner:
                    if isinstance(thing, SaidElement):
                        thrown = Element(thing.kind, items_of(thing.pieces), thing.label, technique="thrown")  # type: ignore[arg-type]
                        pieces.append((Thrown(thrown), thing.span))
            else:
                piece = SaidElement(
                    said.kind, c.span(start, begin), pieces, label=said.label, thread=said.thread, size=said.size
                )
                self._tell(piece, start, tail=False)
                piece.span = c.span(start, begin)
                self._lay_thrown(inner, begin, end)
            start = c.at
            more = read_counts(c, syntax)
            if whole:
                pieces.extend(more)
            else:
                pieces = more
                if not more:
                    return True
        said.pieces = pieces
        self._tell(said, start)
        return True

    def _inside(self, start: int, end: int) -> list[Said]:
        """What is said between two brackets."""
        from larkshead.reading.grammar.lines import Lines

        if self.depth > 5:
            return []
        assert isinstance(self, Lines)
        inner = Lines(self.tokens[start:end], self.names, self.depth + 1, self)
        return [thing for thing in inner.run() if isinstance(thing, SaidElement | SaidStep)]

    def _lay_thrown(self, inner: list[Said], begin: int, end: int) -> None:
        """A thrown element between two changes of shuttle, told or not."""
        span = self.c.span(begin, end)
        unturned = any(isinstance(t.value, Meaning) and t.value.unturned for t in self.tokens[begin:end])
        told = any(isinstance(thing, SaidStep) and isinstance(thing.step, Switch) for thing in inner)
        around: list[Said] = [SaidStep(NoTurn(), span)] if unturned else []
        if not told:
            around.append(SaidStep(Switch(), span))
        for thing in inner:
            if isinstance(thing, SaidElement):
                thing.technique = thing.technique or "thrown"
        self.said.extend([*around, *inner, *deepcopy(around)])
        if told and sum(isinstance(thing, SaidStep) and isinstance(thing.step, Switch) for thing in inner) == 1:
            named = any(
                isinstance(thing, SaidStep) and isinstance(thing.step, Switch) and thing.step.to for thing in inner
            )
            if named:
                self.said.append(SaidStep(Switch("shuttle 1"), span))

    # --- behind the work -----------------------------------------------------------------------------------------

    def _tell(self, said: SaidElement, start: int, tail: bool = True) -> None:
        """Add the element to what is said, with all that stands behind its work."""
        self.said.append(said)
        self.last = said
        if self.step:
            self.step_of[id(said)] = self.step
            self.step = ""
        if said.label is not None:
            self.element_labels.add(said.label)
        here = len(self.said)
        for item, _ in said.pieces:
            for one in (item, *(item.passes.values() if isinstance(item, Varying) else ())):
                plain = one.item if isinstance(one, Varying) else one
                if isinstance(plain, Join):
                    if self.same_size and said.size:
                        for place in plain.places:
                            if (
                                place.element is not None
                                and place.element.which == "previous"
                                and not place.element.size
                            ):
                                place.element = replace(place.element, size=said.size)
                    self.joins.add(plain, self.line, said)
        for change in said.changes:
            change.element_kind = said.kind
        if tail:
            self._tail(said, here)
        said.span = self.c.span(start)

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
            if kind in ("PLUS", "join", "COMMA") and self._told_places(said):
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
        """``SC 6 / 6: work 6, leave 5 mm bare, LJ to the base of R1, and work 6 back``: how the sides are worked; its join is of the work."""
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
        """A bracket behind an element or a step: places of its joins, its total, or a remark. False for a group of steps."""
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
        if kinds[:1] == ["repeat"] and self.repeat_in(start + 1, end):
            return True
        if kinds and kinds[0] in ITEM_KINDS - {"PLUS", "join", "lock_join", "folded_join", "ITEM", *PICOTS, "NUM"}:
            c.at = start
            return False
        if self.targets(start + 1, end, said):
            return True
        self.said.append(SaidNote(self.words_between(start, end + 1), c.span(start)))
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
        return places_between(self.tokens, start, end)

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
        at = c.at + 1 if c.kind() == "COMMA" else c.at
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
