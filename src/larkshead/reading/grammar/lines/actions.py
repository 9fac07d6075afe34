"""Actions in lines of shorthand: turns, bare thread, lock joins, shuttles, fastening on and cutting."""

from __future__ import annotations

from itertools import islice

from larkshead.conventions.convention import SEVERAL
from larkshead.model import (
    Attach,
    BareThread,
    Cut,
    HideEnds,
    Length,
    LockJoin,
    MockPicot,
    NoTurn,
    Place,
    Switch,
    Turn,
)
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.lengths import read_length
from larkshead.reading.grammar.lines.remarks import LineRemarks
from larkshead.reading.grammar.lines.state import KINDS
from larkshead.reading.grammar.meanings import JOINS, Meaning
from larkshead.reading.grammar.places import PICOTS, places_between
from larkshead.reading.grammar.said import (
    SaidCover,
    SaidElement,
    SaidHeading,
    SaidLine,
    SaidNote,
    SaidRepeat,
    SaidShut,
    SaidStep,
)
from larkshead.reading.grammar.shapes import letter_at

# Where the words of a place end.
_PLACE_ENDS = frozenset(
    {
        "COMMA",
        "STOP",
        "SEMI",
        "NL",
        "PARA",
        "END",
        "SHUT",
        "MARK",
        "reverse_work",
        "no_turn",
        "cut",
        "mock_picot",
        "switch",
        "hide_ends",
        "repeat",
        "COLON",
        "EQUALS",
        "SLASH",
        "ELLIPSIS",
        "times",
    }
)
_ENDS = ("STOP", "SEMI", "NL", "PARA", "END", "ELLIPSIS")
# Things told behind which a thread is no longer looked for.
_FAR_BACK = 200


class LineActions(LineRemarks):
    """A layer of Lines."""

    def _on_reverse_work(self) -> bool:
        """``RW``, or a sentence that gives all the turns: ``RW between all``, ``Reverse work after every ring``."""
        c = self.c
        start = c.at
        c.next()
        if c.kind() in ("after", "between", "each", "all"):
            end = self.clause_end(c.at, ("COMMA",))
            kinds = [t.kind for t in self.tokens[c.at : end]]
            if (
                "each" in kinds or "all" in kinds or set(kinds) & set(KINDS) or len(kinds) == 1 or "element" in kinds
            ) and "NUM" not in kinds:
                between = "between" in kinds and "after" not in kinds
                c.at = end
                self.said.append(SaidCover("turn", c.span(start), between))
                return True
        return self.say(Turn(), start)

    def _on_no_turn(self) -> bool:
        """``DNR``, or of a whole passage: ``no turning inside``."""
        c = self.c
        start = c.at
        c.next()
        if c.tokens[start].text[-1:] == "s" and " " in c.tokens[start].text:
            # "No turns."
            self.said.append(SaidCover("noturn", c.span(start), True))
            return True
        if c.kind() in ("WORD", "each", "all", "between", "this") and not self.strong_start(c.at):
            c.at = self.clause_end(c.at, ("COMMA",))
            self.said.append(SaidCover("noturn", c.span(start), True))
            return True
        return self.say(NoTurn(), start)

    def _on_close(self) -> bool:
        c = self.c
        c.next()
        return True

    def _on_leave(self) -> bool:
        return self._bare()

    def _on_bare_thread(self) -> bool:
        return self._bare()

    def _on_space(self) -> bool:
        return self._bare()

    def _on_small_picot(self) -> bool:
        return self._bare()

    def _bare(self) -> bool:
        """``leave 3/8 in.``, ``sp 3mm``, ``gap 1/4"``, ``leave a space``, and an own abbreviation with its length."""
        c = self.c
        start = c.at
        if self.spaces_between():
            return True
        token = c.next()
        meaning = token.value
        length: Length | None = meaning.length if isinstance(meaning, Meaning) else None
        named = token.kind in ("space", "bare_thread")
        while c.kind() in ("glue", "space", "bare_thread", "of", "small", "thread") and not (
            c.kind() == "glue" and c.kind(1) in ("FRACTION", "ORD")
        ):
            named = named or c.kind() in ("space", "bare_thread", "thread")
            c.next()
        if c.kind() == "OPEN" and c.kind(1) in ("NUM", "FRACTION", "about") and self.match[c.at] >= 0:
            inner = Cursor(self.tokens, c.at + 1, self.match[c.at])
            bracketed = read_length(inner)
            if bracketed is not None and inner.at == inner.limit:
                c.at = self.match[c.at] + 1
                return self.say(BareThread(bracketed), start)
        told = read_length(c, bare_unit=named and c.kind() in ("NUM", "FRACTION") and c.kind(1) in _ENDS)
        if told is None and c.kind() == "about":
            c.next()
        if told is None and (token.kind == "small_picot" or (token.kind == "leave" and not named)):
            c.at = start
            return False
        while c.kind() in ("of", "glue", "thread", "bare_thread", "space") and not (
            c.kind() == "glue" and c.kind(1) not in ("of", "thread", "bare_thread", "space")
        ):
            c.next()
        if (
            c.kind() == "STOP"
            and told is not None
            and c.kind(1) not in ("NL", "PARA", "END")
            and not c.peek().spaced
            and c.tokens[c.at - 1].kind == "UNIT"
            and c.peek(1).text[:1].islower()
        ):
            # The full stop of an abbreviated unit.
            c.next()
        usual = length or self.space
        return self.say(
            BareThread(told or (Length(usual.value, usual.unit, usual.upto, usual.about) if usual else None)), start
        )

    def _bare_length_first(self) -> bool:
        """``3mm sp``, ``1/4" space``: the length before its word."""
        c = self.c
        start = c.at
        if self.spaces_between():
            return True
        length = read_length(c)
        if length is not None:
            c.skip(("of", "glue"))
            if c.take("space", "bare_thread", "small_picot", "thread") is not None:
                c.skip(("bare_thread", "space"))
                return self.say(BareThread(length), start)
            if self._between_elements(start, c.at):
                return self.say(BareThread(length), start)
        c.at = start
        return False

    def _between_elements(self, start: int, end: int) -> bool:
        """Whether a length alone stands behind a turn or a ring on its line: ``R 5-5, RW, 6 mm, R 4-4``."""
        before = self.said[-1] if self.said else None
        return (
            not self._fresh_line(start)
            and self.tokens[end - 1].kind == "UNIT"
            and self.kind_at(end) in ("COMMA", "SEMI", "reverse_work", "SHUT", "MARK", "NL", "PARA", "END", *KINDS)
            and (
                (isinstance(before, SaidStep) and isinstance(before.step, Turn | NoTurn))
                or (isinstance(before, SaidElement) and before.kind in ("ring", "split ring"))
            )
        )

    def _on_FRACTION(self) -> bool:
        return self._bare_length_first()

    def _on_about(self) -> bool:
        return self._bare_length_first()

    def _on_lock_join(self) -> bool:
        """``LJ to base of first R``, ``lj (p between R1 and R2)``, ``lock the 5th Ch to the foot of the 1st R``."""
        return self._join_step()

    def _on_folded_join(self) -> bool:
        return self._on_join()

    def _on_joining(self) -> bool:
        return self._on_join()

    def _on_join(self) -> bool:
        """A join behind an element: its place, or a lock join; told of other elements it is a change."""
        c = self.c
        start = c.at
        end = self.clause_end(start)
        kinds = [t.kind for t in self.tokens[start:end]]
        behind_repeat = bool(self.said) and (
            isinstance(self.said[-1], SaidRepeat)
            or (isinstance(self.said[-1], SaidShut) and self.said[-1].times is not None)
        )
        if kinds[1:4] == ["base", "to", "base"]:
            # "joined base to base" speaks of what is told.
            return False
        if kinds[1:2] == ["WORD"] and "to" not in kinds and len(c.peek().text) > 2:
            # "joined side by side" speaks of what is told.
            return False
        if (
            behind_repeat
            and ("to" not in kinds or kinds[1:2] == ["this"])
            and not self.joins.of(self.last)
            and self.kind_at(start - 1) == "COMMA"
        ):
            # "..., joining the rings by their sides" behind a repeat speaks of what is told.
            c.at = end
            self.said.append(SaidNote(self.words_between(start, end), c.span(start)))
            return True
        plural = c.peek().value == SEVERAL
        if plural and self.covering_joins():
            return True
        if self._begins_part(kinds):
            return self._on_attach()
        same_clause = (
            not any(t.kind in _ENDS for t in self.tokens[self.clause_start : start])
            and self.last is not None
            and start > self.clause_start
        )
        waiting = bool(self.joins.of(self.last))
        if waiting and (same_clause or "PLUS" in kinds) and self.told_places(start):
            return True
        subject = self._subject(start, end)
        if (
            subject == "picot"
            or (subject == "element" and behind_repeat and self.kind_at(start - 1) in ("COMMA", "glue"))
        ) and self.changes_told():
            return True
        if (
            waiting
            and self.last is not None
            and self.last.kind == "ring"
            and "base" not in kinds
            and self.told_places(start)
        ):
            return True
        if waiting and same_clause and self.last is not None and self.last.kind == "ring" and "base" not in kinds:
            self.place_all([Place(words=self.words_between(start + 1, end))], self.joins.of(self.last))
            c.at = end
            return True
        return self._join_step()

    def _begins_part(self, kinds: list[str]) -> bool:
        """``Rnd 2: join to any p of Rnd 1``: with nothing worked before in the part the thread is fastened on."""
        if kinds[0] != "join" or len(self.c.peek().text) < 3 or not set(kinds) & {"to", "any"}:
            return False
        before = next((thing for thing in reversed(self.said) if not isinstance(thing, SaidLine | SaidNote)), None)
        return isinstance(before, SaidHeading) and before.like is None

    def _subject(self, start: int, end: int) -> str:
        """What is joined: ``the last chain to ...`` an element, ``the third p of the last ring to ...`` a picot."""
        for i in range(start + 1, end):
            kind = self.tokens[i].kind
            if kind in PICOTS:
                return (
                    "picot"
                    if any(t.kind == "to" for t in self.tokens[i:end])
                    and not any(t.kind == "to" for t in self.tokens[start:i])
                    else ""
                )
            if kind in KINDS:
                return "element" if any(t.kind == "to" for t in self.tokens[i:end]) else ""
            if kind == "to":
                return ""
        return ""

    def _join_step(self) -> bool:
        c = self.c
        start = c.at
        token = c.next()
        c.skip(("glue", "join"))
        step = LockJoin()
        if c.kind() in ("with", "by", "from") and c.kind(1) == "shuttle" and c.kind(2) == "NUM":
            step.thread = f"shuttle {c.peek(2).value}"
            c.at += 3
        end = self._place_end(c.at)
        if self._subject(start, end) == "element":
            # "lock the 5th Ch to the foot of the 1st R"
            c.at = next(i for i in range(c.at, end) if self.tokens[i].kind == "to")
        place = self.place()
        if place is not None:
            step.places = [place]
        elif isinstance(token.value, Meaning) and token.value.place is not None:
            step.places = [token.value.place]
        return self.say(step, start)

    def place(self) -> Place | None:
        """The place told at the position with all its words stepped over, None where none is told."""
        c = self.c
        start = c.at
        if c.kind() == "OPEN" and self.match[c.at] >= 0:
            end = self.match[c.at]
            found = self._place_within(start + 1, end)
            c.at = end + 1
            return found
        end = self._place_end(start)
        if end == start:
            return None
        c.at = end
        return self._place_within(start, end)

    def _place_end(self, at: int) -> int:
        start = at
        while at < self.c.limit:
            kind = self.tokens[at].kind
            if kind == "mock_picot" and self.tokens[at - 1].kind in (
                ("of", "glue", "ORD", "to", "last", "this") if at > start else JOINS
            ):
                at += 1
                continue
            if kind in _PLACE_ENDS or kind == "OPEN":
                if (
                    kind == "STOP"
                    and at > start
                    and self.tokens[at - 1].kind in KINDS
                    and len(self.tokens[at - 1].text) == 1
                    and self.kind_at(at + 1) in ("of", "SHUT")
                ):
                    at += 1
                    continue
                break
            if (
                kind in KINDS
                and at > start
                and self.element_ahead(at)
                and self.tokens[at - 1].kind
                not in ("previous", "next", "last", "first", "ORD", "of", "same", "any", "each")
            ):
                break
            if (
                kind in ("lock_join", "leave", "bare_thread", "space")
                and at > start
                and self.kind_at(at + 1) in ("NUM", "FRACTION", "to", "OPEN")
            ):
                break
            if kind == "glue" and self.kind_at(at + 1) in ("reverse_work", "cut", "hide_ends", "close", "leave"):
                break
            at += 1
        return at

    def _place_within(self, start: int, end: int) -> Place:
        """The place the words between two tokens name; where they name none the words themselves are kept."""
        found = places_between(self.tokens, start, end)
        place = found[0] if found else None
        words = self.words_between(start, end)
        if place is None:
            kinds = {t.kind for t in self.tokens[start:end]}
            return Place("start" if "where" in kinds else "picot", words=words)
        if "where" in {t.kind for t in self.tokens[start:end]}:
            place.spot = "start"
        place.words = words
        return place

    def _on_mock_picot(self) -> bool:
        c = self.c
        start = c.at
        c.next()
        c.skip(("of", "glue"))
        length = read_length(c) if c.kind() in ("NUM", "FRACTION", "about") else None
        return self.say(MockPicot(length, self._number_of_picot()), start)

    def _number_of_picot(self) -> int | None:
        """``, the 6th picot``, ``; it is the 8th picot of the ring``: which picot of its ring a mock picot is,
        stepped over.
        """
        c = self.c
        for at in range(c.at, min(c.at + 12, c.limit)):
            kind = self.kind_at(at)
            if kind in ("NL", "PARA", "to", *JOINS) or self.strong_start(at):
                return None
            if kind == "ORD" and self.kind_at(at + 1) in PICOTS:
                c.at = at + 2
                if c.kind() == "of":
                    c.next()
                    c.skip(("glue",))
                    c.take(*KINDS)
                return int(self.tokens[at].value)
        return None

    def _on_switch(self) -> bool:
        c = self.c
        start = c.at
        if c.kind(1) == "MARK":
            # "back to # four more times"
            return bool(self._on_repeat())  # type: ignore[attr-defined]
        token = c.next()
        c.skip(("glue", "to"))
        to = None
        if c.kind() == "shuttle":
            c.next()
            if c.kind() in ("NUM", "ORD"):
                to = f"shuttle {c.next().value}"
        elif c.kind() == "ORD" and c.kind(1) == "shuttle":
            to = f"shuttle {c.next().value}"
            c.next()
        del token
        return self.say(Switch(to), start)

    def _on_shuttle(self) -> bool:
        """``Sh1:`` before what it works; a change of shuttles only where it is another than the one in use."""
        c = self.c
        start = c.at
        c.next()
        if c.kind() not in ("NUM", "ORD", "label") and not self._lettered_shuttle(c.at):
            c.at = start
            return False
        token = c.next()
        number = token.value
        if not isinstance(number, int) and len(token.text) == 1:
            # Shuttles A and B are the first and second.
            number = ord(token.text.upper()) - ord("A") + 1
        if c.kind() == "glue" and self._lettered_shuttle(c.at + 1):
            c.at += 2
        if not isinstance(number, int) or self._thread_talk(c.at):
            c.at = start
            return False
        if c.kind() == "to" and c.kind(1) == "NUM" and c.kind(2) == "COLON":
            # "Sh 1 over 2:"
            c.at += 2
        if c.kind() in ("SLASH", "glue", "PLUS", "with", "to") and (
            (c.kind(1) == "shuttle" and c.kind(2) in ("NUM", "label")) or c.kind(1) == "ball"
        ):
            # "SH1/SH2: Ch 8", "Sh1 + ball: Ch 8": the threads of a chain, the core first.
            c.at += 2 if c.kind(1) == "ball" else 3
        c.take("COLON")
        c.take("SHUT") if self.kind_at(start - 1) == "OPEN" else None
        return self.say(Switch(f"shuttle {number}"), start)

    def _on_with(self) -> bool:
        """``With shuttle 1: R ...``."""
        c = self.c
        if not self.fresh and self.clause_start != c.at:
            return False
        if c.kind(1) != "shuttle" or c.kind(2) not in ("NUM", "label"):
            return False
        c.next()
        if self._on_shuttle():
            return True
        c.at -= 1
        return False

    def _lettered_shuttle(self, at: int) -> bool:
        return letter_at(self.tokens, at) and self.kind_at(at + 1) in ("COLON", "glue", *KINDS)

    def _thread_talk(self, at: int) -> bool:
        """Whether the words behind a shuttle's name speak of its thread and work nothing."""
        end = self.clause_end(at)
        return self.kind_at(at) in ("WORD", "with", "thread", "size", "to") and not any(
            self.strong_start(i) for i in range(at, end)
        )

    def _on_ORD(self) -> bool:
        """``1st ring: ...``; ``second shuttle:``; ``a sixth A``."""
        c = self.c
        start = c.at
        number = int(c.next().value)
        if c.kind() == "shuttle":
            c.next()
            c.take("COLON")
            return self.say(Switch(f"shuttle {number}"), start)
        if c.kind() in (*KINDS, "small", "large", "split") and self.element(number=number, start=start):
            return True
        if c.kind() == "NAME":
            return bool(self._on_NAME())  # type: ignore[attr-defined]
        c.at = start
        return False

    def _on_attach(self) -> bool:
        c = self.c
        start = c.at
        c.next()
        threads = self._threads_named()
        place = self.place()
        return self.say(Attach([place] if place else [], threads), start)

    def _threads_named(self) -> list[str]:
        """``shuttle and ball`` behind the word for fastening on, stepped over."""
        c = self.c
        threads: list[str] = []
        at = c.at
        while self.kind_at(at) in ("glue", "thread", "shuttle", "ball") and at - c.at < 6:
            if self.kind_at(at) in ("shuttle", "ball"):
                numbered = self.kind_at(at) == "shuttle" and self.kind_at(at + 1) == "NUM"
                threads.append(f"shuttle {self.tokens[at + 1].value}" if numbered else self.kind_at(at))
                at += numbered
            at += 1
        if threads:
            c.at = at
        return threads

    def _on_fasten(self) -> bool:
        """``tie``: threads tied off behind work, fastened on where none is live."""
        c = self.c
        start = c.at
        c.next()
        end = self.clause_end(start)
        cut = next((i for i in range(start, end) if self.tokens[i].kind == "cut"), None)
        if cut is not None:
            c.at = cut + 1
            if not any(t.kind in ("hide_ends", "leave") for t in self.tokens[cut:end]):
                c.at = end
            return self.say(Cut(tie=True), start)
        live = True
        for thing in islice(reversed(self.said), _FAR_BACK):
            if isinstance(thing, SaidElement):
                break
            if isinstance(thing, SaidStep) and isinstance(thing.step, Cut):
                live = False
                break
        else:
            live = False
        if live:
            c.at = start
            return False
        place = self.place()
        return self.say(Attach([place] if place else []), start)

    def _on_cut(self) -> bool:
        """``CT``, ``cut and tie``, ``Tie, cut and hide the ends``."""
        c = self.c
        start = c.at
        text = c.next().text
        while c.kind() in ("cut", "fasten") or (c.kind() in ("COMMA", "glue") and c.kind(1) in ("cut", "fasten")):
            c.next()
        tie = (
            " " in text.strip()
            or any(t.kind == "fasten" for t in self.tokens[start : c.at])
            or (text.isupper() and len(text) == 2)
        )
        threads: list[str] = []
        if c.kind() in ("glue", "both") and c.kind(1) in ("ball", "shuttle", "tail"):
            c.next()
        if c.kind() in ("ball", "shuttle", "tail"):
            name = c.next().kind
            if c.kind() == "NUM":
                name = f"{name} {c.next().value}"
            threads = [name]
        end = self.clause_end(c.at, ("COMMA", "MARK", "SHUT", "OPEN"))
        if c.kind() in ("to", "WORD", "with", "leave") and not self.strong_start(c.at):
            c.at = end
        return self.say(Cut(tie, threads), start)

    def _on_glue(self) -> bool:
        """``and hide the ends`` behind a cut."""
        if self.kind_at(self.c.at + 1) != "hide_ends":
            return False
        self.c.next()
        return self._on_hide_ends()

    def _on_hide_ends(self) -> bool:
        start = self.c.at
        self.c.next()
        return self.say(HideEnds(), start)
