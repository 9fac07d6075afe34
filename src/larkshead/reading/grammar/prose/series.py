"""Series of like passages, told in words: what one is called and made of, how many there are, what stands between and after."""

from __future__ import annotations

import itertools

from larkshead.model import BareThread, Cut, Length, Turn
from larkshead.reading.grammar.core import CLAUSE_ENDS
from larkshead.reading.grammar.places import ELEMENTS, PICOTS
from larkshead.reading.grammar.prose.again import AgainTold
from larkshead.reading.grammar.prose.naming import names_something
from larkshead.reading.grammar.said import SaidBetween, SaidElement, SaidRepeat, SaidStep, SaidTrim, SaidUnit
from larkshead.reading.grammar.samename import same_name
from larkshead.reading.grammar.tokens import Token

_NOTHING = frozenset({"nothing", "denied", "deny"})
_ONE = frozenset({"glue", "each", "pronoun", "NUM"})
_COUNTED = frozenset({"more", "glue", "of", "this", "such"})
# How far a sentence is looked through.
_REACH = 24


class SeriesTold(AgainTold):
    """Series of like passages: what one is called and made of, how many there are, what stands between and after."""

    parting = False

    def series(self) -> bool:
        """A statement of a series at the position."""
        return (
            self._none_after_last()
            or self._between()
            or self._after_each()
            or self._told_apart_unit()
            or self.once_more()
        )

    def run_on(self) -> None:
        if self.parting:
            self.parting = False
            self.said.append(SaidBetween(False, self.c.span(self.c.at)))
        super().run_on()

    def define(self) -> bool:
        """``A tulip is three rings ...``, ``One clover: three rings ...``: the passage that begins here has a name."""
        c = self.c
        start = c.at
        while c.kind() in _ONE and c.at - start < 3 and not (c.kind() == "NUM" and c.peek().value != 1):
            c.next()
        name = self._named_unit(c.peek())
        if name is not None and c.peek(1).value != "is" and not (c.kind(1) == "has" and c.kind(3) in ELEMENTS):
            # "one unit goes like this:"
            at = c.at
            c.next()
            c.skip({"glue", "like", "this", "has"})
            if c.kind() != "COLON":
                name = None
            c.at = max(at, c.at - 1)
        if name is None:
            c.at = start
            return False
        told = c.find({*ELEMENTS, *PICOTS}, {"STOP", "PARA", "END"}, _REACH)
        if told is None or self._restates(start):
            c.at = start
            return False
        c.at += 2
        self.said.append(SaidUnit(name, c.span(start)))
        return True

    def _restates(self, at: int) -> bool:
        return at < self.c.limit and self.c.tokens[at].kind == "restating"

    def units(self) -> bool:
        """``that is one bobble``, ``make six arms``: what was told has a name, and is worked so many times by that name."""
        c = self.c
        start = c.at
        if self._unit_times():
            return True
        c.skip({"glue", "this", "work_over", "WORD", "want", "in_all"} if c.kind() != "NUM" else ())
        if c.kind() != "NUM" or c.at - start > 4:
            c.at = start
            return False
        ahead = 1
        more = c.kind(1) == "more"
        while c.kind(ahead) in _COUNTED and ahead < 4:
            ahead += 1
        word = c.peek(ahead)
        name = self._named_unit(word)
        if name is None and names_something(c.peek(ahead + 1)) and word.kind == "WORD":
            # "six double units"
            ahead += 1
            name = self._named_unit(c.peek(ahead))
        times = int(c.peek().value)
        # "80 side rings" counts the rings of a side and no sides.
        if name is None or times < 2 or c.kind(ahead + 1) in ELEMENTS or c.find({"COLON"}, CLAUSE_ENDS, 12) is not None:
            c.at = start
            return False
        c.at += ahead + 1
        c.take("in_all")
        how = "more" if more or "another" in [t.kind for t in c.tokens[start : c.at]] else "all"
        self.said.append(SaidRepeat("unit", c.span(start), times=times, how=how, labels=[name]))
        self.open = None
        self._of_which(name, start)
        if c.kind() == "COMMA" and c.kind(1) == "each":
            # "three motifs, each of them four rings"
            self.said.append(SaidUnit(name, c.span(start)))
            c.at += 2
            c.skip({"of", "this", "glue"})
        return True

    def _unit_times(self) -> bool:
        """``the trefoil and its bit of thread four times``: how often the passage with a name."""
        c = self.c
        start = c.at
        end = c.find({*CLAUSE_ENDS, "COMMA", *ELEMENTS, *PICOTS}, (), 10) or 0
        named = next((name for i in range(end) if (name := self._named_unit(c.peek(i))) is not None), None)
        at = next((i for i in range(end) if c.kind(i) in ("NUM", "twice")), None)
        if at is None or not any(isinstance(said, SaidUnit) for said in self.lately()):
            return False
        times = 2 if c.kind(at) == "twice" else int(c.peek(at).value)
        if named is not None and (c.kind(at) == "twice" or c.kind(at + 1) == "times"):
            if names_something(c.peek(at + 2)):
                return False
            c.at += at + (1 if c.kind(at) == "twice" else 2)
            self.said.append(SaidRepeat("unit", c.span(start), times=times, how="all", labels=[named]))
            self.open = None
            return True
        return False

    def turn(self) -> bool:
        """``turn after every buckle``: a turn that belongs to the passage named."""
        c = self.c
        start = c.at
        if c.kind(1) == "after" and c.kind(2) == "each" and self._named_unit(c.peek(3)) is not None:
            c.at += 4
            return self.say(Turn(), start)
        return super().turn()

    def _of_which(self, name: str, start: int) -> None:
        """``two hearts with their chains make a group``, ``six pairs with five chains between``: what else is told of those counted."""
        c = self.c
        end = c.find(CLAUSE_ENDS, (), _REACH) or 0
        for ahead in range(end):
            token = c.peek(ahead)
            if token.kind == "NUM" and c.kind(ahead + 1) in ELEMENTS and c.kind(ahead + 2) == "between":
                self.said.append(SaidTrim(c.span(start), ELEMENTS[c.kind(ahead + 1)]))
                c.at += ahead + 3
                c.skip({"this"})
                return
            other = self._named_unit(token)
            if other is not None and other != name and c.tokens[c.at + ahead - 1].value == "one":
                c.at += ahead + 1
                self.said.append(SaidUnit(other, c.span(start), name))
                return

    def _named_unit(self, token: Token) -> str | None:
        if not names_something(token):
            return None
        word = token.text.lower()
        return next((name for name in self.names if same_name(name, word)), None)

    def _between(self) -> bool:
        """``between each clover and the next ...``, ``from each to the next ...``: what follows parts the passages."""
        c = self.c
        start = c.at
        c.skip({"glue"})
        named = None
        if c.take("between"):
            c.skip({"each", "glue", "NUM", "this"})
            if c.kind() == "pronoun" and self._named_unit(c.peek(1)) is not None:
                c.next()
            named = self._named_unit(c.peek())
            if named is not None or c.kind() == "pronoun":
                c.next()
        elif c.kind() == "from" and c.kind(1) in ("each", "NUM"):
            c.at += 2
            named = self._named_unit(c.peek())
            if named is not None:
                c.next()
            named = named or ("" if c.kind() == "to" else None)
        if named is None:
            c.at = start
            return False
        if c.kind() in ("glue", "to") and c.find({"next"}, CLAUSE_ENDS, 3) is not None:
            c.at += (c.find({"next"}, CLAUSE_ENDS, 3) or 0) + 1
            if self._named_unit(c.peek()) or c.kind() in ("pronoun", "NUM"):
                c.next()
        self.parting = True
        self.said.append(SaidBetween(True, c.span(start)))
        self.open = None
        return True

    def _after_each(self) -> bool:
        """``after each heart``, ``once each daisy is done``: what follows belongs to the passage named."""
        c = self.c
        start = c.at
        if c.kind() not in ("after", "once", "all"):
            return False
        c.next()
        if c.kind() not in ("each", "glue") or c.kind(1) == "END":
            c.at = start
            return False
        c.next()
        if self._named_unit(c.peek()) is None:
            c.at = start
            return False
        c.next()
        self.open = None
        return True

    def _told_apart_unit(self) -> bool:
        """``a fifth trefoil to finish``: one more of a passage that was counted."""
        c = self.c
        start = c.at
        c.skip({"glue"})
        if (
            c.kind() in ("ORD", "last", "another")
            and c.at > start
            and (name := self._named_unit(c.peek(1))) is not None
            and c.tokens[c.at - 1].value == "one"
            and isinstance(self._last_repeat(), SaidRepeat)
        ):
            c.at += 2
            self.said.append(SaidRepeat("another", c.span(start), times=1, labels=[name]))
            self.open = None
            return True
        c.at = start
        return False

    def _with_each(self, start: int, length: Length) -> bool:
        """``leave 6 mm after each tulip``: thread that belongs to the passage named."""
        c = self.c
        ahead = c.find({"each"}, CLAUSE_ENDS | {"COMMA"}, 7)
        if ahead and c.kind(ahead - 1) == "after" and self._named_unit(c.peek(ahead + 1)) is not None:
            c.at += ahead + 2
            return self.say(BareThread(length), start)
        behind = c.tokens[max(self.sentence, start - 6) : start]
        if any(a.kind == "each" and self._named_unit(b) is not None for a, b in itertools.pairwise(behind)):
            c.skip({"of", "glue", "thread", "bare_thread", "space"})
            return self.say(BareThread(length), start)
        return super()._with_each(start, length)

    def cut(self) -> bool:
        """``cut after each motif``: a cut that belongs to the passage named."""
        c = self.c
        start = c.at
        ahead = c.find({"after"}, CLAUSE_ENDS, 4)
        if ahead and c.kind(ahead + 1) == "each" and (name := self._named_unit(c.peek(ahead + 2))) is not None:
            c.at += ahead + 3
            self.say(Cut(), start)
            self.said.append(SaidRepeat("whole", c.span(start), labels=[name]))
            return True
        return super().cut()

    def _last_repeat(self) -> object:
        return next((s for s in self.lately() if isinstance(s, SaidRepeat | SaidElement)), None)

    def _none_after_last(self) -> bool:
        """``no gap after the fifteenth``, ``nothing after the last``, ``the last one has none``, ``leave the chain off the eighth``."""
        c = self.c
        start = c.at
        if c.kind() not in (
            "glue",
            "after",
            "nothing",
            "denied",
            "deny",
            "last",
            "ORD",
            "leave",
            "with",
            "only",
            "but",
        ):
            return False
        end = c.find({"STOP", "SEMI", "PARA", "END", "OPEN"}, (), _REACH)
        if end is None:
            return False
        kinds = ["deny" if c.peek(i).value == "deny" else c.kind(i) for i in range(end)]
        if (
            "each" in kinds
            or "join" in kinds
            or any(k in PICOTS for k in kinds)
            or ("NUM" in kinds[:-1] and (any(c.peek(i).value != 1 for i, k in enumerate(kinds) if k == "NUM")))
        ):
            return False
        which = next((i for i, k in enumerate(kinds) if k in ("last", "ORD")), None)
        if which is None or not any(isinstance(s, SaidElement | SaidStep) for s in self.lately()):
            return False
        nothing = next((i for i, k in enumerate(kinds) if k in _NOTHING), None)
        after = "after" in kinds
        left_off = kinds[0] == "leave" and any(k in ELEMENTS and i < which for i, k in enumerate(kinds))
        if nothing is None and not left_off:
            return False
        if nothing is not None and not after and not ("has" in kinds and nothing > which):
            return False
        kind = next((ELEMENTS[k] for i, k in enumerate(kinds) if k in ELEMENTS and i < which), "") if left_off else ""
        cut = next((i for i, k in enumerate(kinds) if k == "cut"), None)
        c.at += end
        if self.parting:
            self.parting = False
            self.said.append(SaidBetween(False, c.span(start)))
        self.said.append(SaidTrim(c.span(start), kind))
        if cut is not None:
            self.said.append(SaidStep(Cut(), c.span(start)))
        self.open = None
        return True
