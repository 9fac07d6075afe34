"""Actions in running words: lengths told late, thread with every element, joins only spoken of."""

from __future__ import annotations

from larkshead.model import (
    BareThread,
    Beads,
    Cut,
    Length,
    LockJoin,
    NoTurn,
    Turn,
)
from larkshead.reading.grammar.changes import clause_end
from larkshead.reading.grammar.core import CLAUSE_ENDS
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.itemjoins import begins_with_bead
from larkshead.reading.grammar.items import read_work
from larkshead.reading.grammar.lengths import read_length
from larkshead.reading.grammar.places import ELEMENTS, PICOTS, read_place
from larkshead.reading.grammar.prose.work import ProseWork
from larkshead.reading.grammar.said import (
    SaidBetween,
    SaidChange,
    SaidCover,
    SaidElement,
    SaidHeading,
    SaidNote,
    SaidRepeat,
    SaidStep,
)


class ProseActions(ProseWork):
    """Actions in running words: lengths told late, thread with every element, joins only spoken of."""

    def gap(self) -> bool:
        """``quarter inch``, ``another millimetre``: a length alone, between elements, is thread left bare."""
        c = self.c
        start = c.at
        if c.kind() == "another" and self._more_thread(start):
            return True
        if c.kind() == "another" and c.kind(1) in ("UNIT", "FRACTION", "NUM"):
            c.next()
        if c.kind() in ("NUM", "about"):
            return self._bare_length(start)
        if c.kind() not in ("FRACTION", "UNIT") or not self.said:
            c.at = start
            return False
        if c.kind() == "UNIT":
            if c.tokens[c.at - 1].kind != "another":
                c.at = start
                return False
            token = c.next()
            length: Length | None = Length("1", str(token.value))
        else:
            length = read_length(c)
        if length is None:
            c.at = start
            return False
        while c.kind() in ("of", "glue", "thread", "bare_thread", "space") and c.kind(1) in (
            "thread",
            "bare_thread",
            "space",
            "of",
            *CLAUSE_ENDS,
        ):
            c.next()
        return self.say(BareThread(length), start)

    def _more_thread(self, start: int) -> bool:
        """``another bit of thread``: as much as was left before."""
        c = self.c
        ahead = c.find({"thread", "bare_thread", "space"}, CLAUSE_ENDS | {"COMMA", "NUM", "UNIT", *ELEMENTS}, 4)
        left = next((s.step for s in self.lately() if isinstance(s, SaidStep) and isinstance(s.step, BareThread)), None)
        if ahead is None or left is None:
            return False
        c.at += ahead + 1
        if c.kind() == "about" and c.find({"same"}, (), 3) is not None:
            c.at += (c.find({"same"}, (), 3) or 0) + 1
        return self.say(BareThread(left.length), start)

    def _bare_length(self, start: int) -> bool:
        """``3 mm of bare thread``, ``another 5 mm of thread`` as a clause of its own."""
        c = self.c
        worked = self.element_lately()
        length = read_length(c) if worked else None
        if length is not None and c.kind() == "between" and c.kind(1) in (*CLAUSE_ENDS, "COMMA"):
            # "six rings ..., 4 mm apart"
            c.next()
            self.said.append(SaidCover("thread", c.span(start), True, BareThread(length)))
            return True
        if length is not None and length.unit in ("m", "yd"):
            # So long is no thread between elements: it is what the whole takes.
            length = None
        after = c.at
        c.skip({"of", "glue", "thread", "bare_thread", "space"})
        c.skip({"again"})
        named = {t.kind for t in c.tokens[after : c.at]} & {"thread", "bare_thread", "space", "again"}
        behind = c.at
        while (
            c.kind() in ("WORD", "glue", "this", "bare_thread", "previous", "after", "leave", "next")
            and c.at - behind < 6
        ):
            # "lie open", "is left before the next"
            c.next()
        if c.kind() not in (*CLAUSE_ENDS, "COMMA") and named & {"thread", "bare_thread"} and length is not None:
            # Running speech goes on without a mark; thread that is bought is told by the metre.
            c.at = behind
            if length.unit in ("mm", "cm", "in"):
                return self.say(BareThread(length), start)
        if length is None or not (named or self._between_steps(start)) or c.kind() not in (*CLAUSE_ENDS, "COMMA"):
            c.at = start
            return False
        return self.say(BareThread(length), start)

    def _between_steps(self, start: int) -> bool:
        """``Turn, 5 mm, the little one, turn, 5 mm.``: a length behind a step, where thread was left before."""
        told = [said.step for said in self.lately() if isinstance(said, SaidStep)]
        stepped = bool(self.said) and isinstance(self.said[-1], SaidStep) and isinstance(told[0], Turn)
        return stepped and self.tokens_before(start, "COMMA") and any(isinstance(step, BareThread) for step in told)

    def leave(self) -> bool:
        """``leave 1/4 inch of thread``, ``leave a tiny bit of thread, no more than 2 mm``: the length may come later in the clause."""
        c = self.c
        start = c.at
        first = c.next().kind
        if first == "small_picot":
            c.at = start
            return False
        if self._is_tail(start):
            c.at += c.find(CLAUSE_ENDS | {"COMMA"}, (), 30) or 0
            return True
        at = c.at
        length = None
        for ahead in range(14):
            kind = c.kind(ahead)
            if kind in CLAUSE_ENDS or kind in ELEMENTS or kind in ("reverse_work", "close", "join", "cut"):
                break
            if kind == "UNIT" and ahead and c.kind(ahead - 1) in ("glue", "another"):
                length = Length("1", str(c.peek(ahead).value))
                c.at += ahead + 1
                break
            if (
                kind == "between"
                and c.kind(ahead + 1) == "NUM"
                and c.kind(ahead + 3) == "NUM"
                and c.kind(ahead + 4) == "UNIT"
            ):
                length = Length(
                    str(c.peek(ahead + 1).value), str(c.peek(ahead + 4).value), str(c.peek(ahead + 3).value)
                )
                c.at += ahead + 5
                break
            if kind in ("NUM", "FRACTION", "ORD"):
                probe = Cursor(c.tokens, c.at + ahead, c.limit)
                length = read_length(probe)
                if length is not None:
                    c.at = probe.at
                    break
        if length is None and c.find({"same", "ditto"}, CLAUSE_ENDS | {"COMMA", *ELEMENTS}, 4) is not None:
            left = next(
                (s.step for s in self.lately() if isinstance(s, SaidStep) and isinstance(s.step, BareThread)), None
            )
            if left is not None:
                c.at += (c.find({"same"}, (), 4) or 0) + 1
                length = left.length
                if length is None:
                    c.skip({"again"})
                    return self.say(BareThread(None), start)
        if length is None:
            near = [c.tokens[i].kind for i in range(at, min(at + 8, c.limit))]
            end = next((i for i, k in enumerate(near) if k in CLAUSE_ENDS or k == "COMMA" or k in ELEMENTS), len(near))
            if first == "leave" and not {"space", "bare_thread", "thread"} & set(near[:end]):
                c.at = start
                return False
            if first != "leave":
                c.at = start
                return False
            c.at = at + next(
                (i + 1 for i in range(end - 1, -1, -1) if near[i] in ("space", "bare_thread", "thread")), 0
            )
        if length is not None and c.kind() in ("between", "thread", "of") and self._between_each(start, length):
            return True
        if length is not None and self._with_each(start, length):
            return True
        while c.kind() in ("of", "glue", "thread", "bare_thread", "space", "SHUT", "WORD", "this") and c.kind(
            1
        ) not in (*ELEMENTS, "NUM", "ORD"):
            if c.kind() in ("glue", "WORD", "this") and c.kind(1) not in (
                "thread",
                "bare_thread",
                "space",
                "WORD",
                *CLAUSE_ENDS,
            ):
                break
            c.next()
        return self.say(BareThread(length), start)

    def _between_each(self, start: int, length: Length) -> bool:
        """``5 mm between each ring and the next``: thread left between all elements of the passage."""
        c = self.c
        back = c.at
        while c.kind() in ("of", "thread", "glue", "bare_thread", "WORD") and c.at - back < 4:
            c.next()
        if c.kind() != "between":
            c.at = back
            return False
        c.at = clause_end(c)
        turned = isinstance(self.said[-1], SaidStep) and isinstance(self.said[-1].step, Turn) if self.said else False
        if turned:
            self.said.pop()
            self.said.append(SaidCover("turn", c.span(start), True))
        self.said.append(SaidCover("thread", c.span(start), True, BareThread(length)))
        return True

    def _with_each(self, start: int, length: Length) -> bool:
        """``after every ring leave 2 mm``, ``leave 3 mm before every one of them``: thread with each element of the passage."""
        c = self.c
        ahead = c.find({"each"}, CLAUSE_ENDS | {"COMMA"}, 7)
        if ahead is not None and ahead and c.kind(ahead - 1) in ("previous", "after"):
            what = "before" if c.kind(ahead - 1) == "previous" else "thread"
            c.at = clause_end(c)
        else:
            behind = [t.kind for t in c.tokens[max(self.sentence, start - 6) : start]]
            if behind[:1] == ["between"] and {*ELEMENTS, "WORD"} & set(behind[1:3]):
                # "Between rings leave 5 mm."
                self.said.append(SaidCover("thread", c.span(start), True, BareThread(length)))
                return True
            if behind[-2:] in (["between", "WORD"], ["between", "motif"], ["between", "passage"], ["between", "ring"]):
                # "Between bells leave 6 mm"
                self.said.append(SaidCover("thread", c.span(start), True, BareThread(length)))
                return True
            if "each" not in behind or behind[behind.index("each") - 1] != "after":
                return False
            what = "thread"
        self.said.append(SaidCover(what, c.span(start), False, BareThread(length)))
        return True

    def _parts_them(self, start: int, length: Length) -> bool:
        """``five pairs with 1 cm between``: thread between the passages just counted by their name."""
        c = self.c
        told = self.said[-1] if self.said else None
        if not (isinstance(told, SaidRepeat) and told.what == "unit" and told.labels):
            return False
        c.skip({"of", "thread", "glue", "bare_thread", "WORD"})
        if c.kind() != "between":
            return False
        c.next()
        c.skip({"this", "each", "glue"})
        self.said.append(SaidBetween(True, c.span(start)))
        self.say(BareThread(length), start)
        self.said.append(SaidBetween(False, c.span(start)))
        return True

    def between_two(self) -> bool:
        """``Between two rings 2 mm of thread``: thread between all elements of the passage."""
        c = self.c
        start = c.at
        if c.kind() != "between":
            return False
        c.next()
        c.skip({"NUM", "each", "glue", "this"})
        named = c.take(*ELEMENTS, "pronoun")
        c.skip({"glue", "next", "pronoun", "COMMA", "is"})
        length = read_length(c) if named is not None else None
        if length is None:
            c.at = start
            return False
        c.skip({"of", "glue", "thread", "bare_thread", "space"})
        self.said.append(SaidCover("thread", c.span(start), True, BareThread(length)))
        return True

    def with_gap(self) -> bool:
        """``with 1 mm between them``."""
        c = self.c
        start = c.at
        if c.kind() != "with":
            return False
        c.next()
        length = read_length(c)
        if length is not None and self._parts_them(start, length):
            return True
        if length is None or not self._between_each(start, length):
            c.at = start
            return False
        return True

    def lock_join(self) -> bool:
        c = self.c
        start = c.at
        if (c.kind() == "join" and self._nothing_joined(start)) or (
            c.kind() in ("join", "lock_join") and self._named_join(start)
        ):
            c.next()
            return True
        if self._last_one_closes(start) or self._of_a_ring(start):
            return True
        if not super().lock_join():
            return False
        said = self.said[-1]
        if (
            isinstance(said, SaidStep)
            and isinstance(said.step, LockJoin)
            and c.tokens[start].kind == "join"
            and len(self.said) < 12
            and not any(isinstance(s, SaidElement | SaidHeading | SaidRepeat) for s in self.lately())
            and not any(isinstance(s, SaidStep) and not isinstance(s.step, LockJoin) for s in self.lately())
        ):
            # Nothing is worked yet that could be joined.
            words = " ".join(t.text for t in c.tokens[start : c.at])
            self.said[-1] = SaidNote(words, said.span)
            return True
        before = self.said[-2] if len(self.said) > 1 else None
        if (
            isinstance(said, SaidStep)
            and isinstance(said.step, LockJoin)
            and not said.step.places
            and (c.tokens[start].kind in ("join", "joining") or isinstance(before, SaidRepeat | SaidChange))
        ):
            self.said.pop()
        return True

    def no_turn(self) -> bool:
        """``No turning in between.`` as a sentence of its own goes for all the elements told."""
        c = self.c
        start = c.at
        if (
            c.kind(1) == "between"
            and c.kind(2) in CLAUSE_ENDS
            and (not start or c.tokens[start - 1].kind in CLAUSE_ENDS)
        ):
            c.at += 2
            self.said.append(SaidCover("noturn", c.span(start), True, NoTurn()))
            return True
        return super().no_turn()

    def _nothing_joined(self, start: int) -> bool:
        return start > 0 and self.c.tokens[start - 1].kind in ("denied", "deny", "nothing")

    def _last_one_closes(self, start: int) -> bool:
        """``the last one is lock joined to the p where the round began``: no join more than the last of a repeat has."""
        c = self.c
        at = start - 1
        while at >= 0 and (
            c.tokens[at].kind in ("glue", "pronoun") or (c.tokens[at].kind == "NUM" and c.tokens[at].value == 1)
        ):
            at -= 1
        if at < 0 or c.tokens[at].kind != "last" or not any(isinstance(said, SaidRepeat) for said in self.said[-3:]):
            return False
        end = clause_end(c)
        if not {"where", "again", "start", "mock_picot"} & {token.kind for token in c.tokens[start:end]}:
            return False
        c.at = end
        span = c.span(start)
        self.said.append(SaidNote(" ".join(token.text for token in c.tokens[start:end]), span))
        return True

    def _of_a_ring(self, start: int) -> bool:
        """``the next ring joins to that third ring as normal``: a ring spoken of is joined in its own telling."""
        c = self.c
        if c.kind() != "join" or c.kind(1) != "to" or not start or c.tokens[start - 1].kind != "ring":
            return False
        c.at += 2
        if read_place(c) is None:
            c.at = start
            return False
        self.said.append(SaidNote(" ".join(t.text for t in c.tokens[start : c.at]), c.span(start)))
        return True

    def fasten(self) -> bool:
        """Behind a cut the ends are tied somewhere, and nothing is joined; the threads are tied on to a picot where work begins."""
        c = self.c
        start = c.at
        worked = next((said for said in self.lately() if isinstance(said, SaidElement | SaidStep | SaidHeading)), None)
        ended = isinstance(worked, SaidStep) and isinstance(worked.step, Cut)
        if c.kind(1) == "to" and (ended or worked is None or isinstance(worked, SaidHeading)):
            if c.find(set(PICOTS), CLAUSE_ENDS | {"COMMA"}, 9) is not None:
                return self.attach()
            if ended and c.tokens[start - 1].kind in ("COMMA", "glue"):
                c.at += c.find(CLAUSE_ENDS | {"COMMA"}, (), 14) or 1
                self.said.append(SaidNote(" ".join(t.text for t in c.tokens[start : c.at]), c.span(start)))
                return True
        return super().fasten()

    def _named_join(self, start: int) -> bool:
        """``the last lock join falls in ...``, ``the joined ring``: a join spoken of and not made."""
        if self.c.kind(1) in ELEMENTS and start > 0 and self.c.tokens[start - 1].kind == "glue":
            return True
        if self.tokens_before(start, "this") and self.c.kind(1) == "to":
            # "at the end of it lock to the foot of the ring"
            return False
        return start > 0 and self.c.tokens[start - 1].kind in ("last", "this", "each", "ORD")

    def attach(self) -> bool:
        """``tie on``; where the thread was tied on is only a place."""
        c = self.c
        if any(t.kind == "where" for t in c.tokens[max(0, c.at - 4) : c.at]):
            c.next()
            return True
        return super().attach()

    def cut(self) -> bool:
        """Cutting, tying and hiding told in one breath are one cut; where the ends are tied is no join."""
        c = self.c
        start = c.at
        if c.kind(1) == "to" and c.find(set(PICOTS), CLAUSE_ENDS | {"cut", "COMMA"}, 6) is not None:
            return self.attach()
        token = c.next()
        while c.kind() not in CLAUSE_ENDS:
            if (
                c.kind() in ("cut", "COMMA")
                and c.find({"cut"}, CLAUSE_ENDS | set(ELEMENTS) | {"NUM"}, 12) is None
                and c.kind() == "COMMA"
            ):
                break
            if c.kind() in ("reverse_work", "attach", "leave", "mock_picot", "NUM", "hide_ends", "MARK", "until"):
                break
            if c.kind() in ELEMENTS and c.tokens[c.at - 1].kind not in (
                "of",
                "ORD",
                "previous",
                "last",
                "this",
                "glue",
            ):
                break
            c.next()
        tied = token.value == "tied"
        return self.say(Cut(tie=tied or self._tied_before(start)), start)

    def _tied_before(self, at: int) -> bool:
        """``tie, cut``, ``tie the ends and cut``: tying told in the same clause before."""
        for token in reversed(self.c.tokens[max(at - 6, 0) : at]):
            if token.kind == "fasten":
                return True
            if token.kind not in ("COMMA", "glue", "this", "WORD", "thread", "ends"):
                break
        return False

    def turn(self) -> bool:
        """A turn; ``turning each time``, ``a turn before and after`` only say again what the passage does."""
        c = self.c
        start = c.at
        token = c.peek()
        before = c.tokens[start - 1] if start else None
        if before is not None and before.kind in ("with", "after", "previous"):
            c.next()
            return True
        if not super().turn():
            return False
        said = self.said[-1]
        if (
            isinstance(said, SaidStep)
            and isinstance(said.step, Turn)
            and token.value == "told"
            and c.kind() in ("each", "WORD")
        ):
            self.said.pop()
        return True

    def beads(self) -> bool:
        """``slide up a bead``: on the chain just told when nothing was done since, else on the one told next."""
        c = self.c
        start = c.at
        count = int(c.peek().value) if c.kind() == "NUM" and c.kind(1) == "bead" else 1
        if c.kind() == "NUM" and c.kind(1) == "bead":
            c.next()
        if c.kind() == "bead" and self.open is not None and begins_with_bead(c):
            # "before joining, slip a bead over the picot, and join"
            self.open.pieces += read_work(c, self._syntax(self.open))
            return True
        if c.kind() != "bead" or not self.moved(start):
            c.at = start
            return False
        c.next()
        piece = (Beads(count), c.span(start))
        if self.open is not None:
            self.open.pieces.append(piece)
        else:
            self.waiting.append(piece)
        return True
