"""Elements told by pointing back: ``the big one again``, ``the same chain``, ``the other little one``, ``the same bare piece``."""

from __future__ import annotations

from larkshead.model import BareThread, Step, Turn
from larkshead.reading.grammar.changes import read_changes
from larkshead.reading.grammar.core import CLAUSE_ENDS
from larkshead.reading.grammar.places import ELEMENTS
from larkshead.reading.grammar.prose.order import OutOfOrder
from larkshead.reading.grammar.prose.words import JOINS
from larkshead.reading.grammar.said import Alike, SaidElement, SaidStep

# What may stand behind an element pointed back to: the clause ends there, or something is done next.
_BEHIND = frozenset(
    {
        *CLAUSE_ENDS,
        "COMMA",
        "glue",
        "reverse_work",
        "no_turn",
        "leave",
        "cut",
        "joining",
        "join",
        "lock_join",
        "but",
        "only",
        "until",
        "go_on",
        "by",
        "with",
    }
)
# Words before that make it a place, or part of something else told.
_POINTED_AT = frozenset(
    {"to", "of", "from", "after", "previous", "between", "base", "last", "each", "this", "until", "at"}
)
_BARE = frozenset({"space", "bare_thread", "thread"})


class AgainTold(OutOfOrder):
    """Elements told by pointing back to one that is told."""

    def once_more(self) -> bool:
        """``the same chain again``, ``the big one again``, ``the other little one``."""
        c = self.c
        start = c.at
        if not self.element_lately():
            return False
        if start and c.tokens[start - 1].kind in _POINTED_AT:
            return False
        if self._another_alone():
            return True
        if c.kind() == "ditto" and c.kind(1) in CLAUSE_ENDS:
            return self._ditto()
        if (
            c.kind() == "with"
            and c.find({"same"}, (), 3) is not None
            and c.find(set(ELEMENTS), CLAUSE_ENDS, 4) is not None
        ):
            # "..., with the same chain turned both sides"
            c.next()
        again = c.skip({"glue", "again", "COMMA"}) and "again" in [t.kind for t in c.tokens[start : c.at]]
        if c.at > start and c.tokens[c.at - 1].kind == "COMMA":
            c.at = start
            return False
        pointed = c.take("same", "other") is not None
        sized = c.take("small", "large")
        noun = c.take(*ELEMENTS, "pronoun") if sized or pointed or c.kind(1) == "again" or again else None
        if noun is None:
            c.at = start
            return self._bare_again(start) if pointed and not sized else False
        before = c.at
        c.skip({"again"})
        again = bool(again) or c.at > before
        if not (pointed or again) or c.kind() not in _BEHIND or c.peek().value == "is":
            c.at = start
            return False
        if noun.kind == "pronoun" and not sized:
            c.at = start
            return False
        size = sized.kind if sized is not None else ""
        kind = ELEMENTS.get(noun.kind) or self._kind_of_size(size)
        element = SaidElement(kind, c.span(start), alike=Alike(size=size), size=size)
        turned = self._turned_both_sides()
        end = self._change_end()
        kinds = [t.kind for t in c.tokens[c.at : end]]
        if JOINS & set(kinds) and "NUM" not in kinds[:4] and c.kind() != "lock_join" and c.kind(1) != "lock_join":
            element.changes = read_changes(c, end, kind)
        element.span = c.span(start)
        if turned:
            self.said.append(SaidStep(Turn(), c.span(start)))
        self.tell(element)
        if turned:
            self.said.append(SaidStep(Turn(), c.span(start)))
        return True

    def _ditto(self) -> bool:
        """``The same again.``: the element told last."""
        c = self.c
        start = c.at
        told = next((said for said in self.lately() if isinstance(said, SaidElement)), None)
        if told is None:
            return False
        c.next()
        self.tell(SaidElement(told.kind, c.span(start), alike=Alike()))
        return True

    def _another_alone(self) -> bool:
        """``make another, leave 5 mm``: the element told last, once more."""
        c = self.c
        start = c.at
        if c.kind() != "another" or c.kind(1) not in ("COMMA", "SEMI"):
            return False
        told = next((said for said in self.lately() if isinstance(said, SaidElement)), None)
        if told is None or (start and c.tokens[start - 1].kind in _POINTED_AT):
            return False
        c.next()
        self.tell(SaidElement(told.kind, c.span(start), alike=Alike()))
        return True

    def _kind_of_size(self, size: str) -> str:
        told = [said for said in self.lately() if isinstance(said, SaidElement)]
        return next((said.kind for said in told if said.size == size), told[0].kind)

    def _turned_both_sides(self) -> bool:
        """``..., turned both sides``, ``turning before and after``: a turn on either hand, stepped over."""
        c = self.c
        start = c.at
        c.skip({"COMMA", "with", "glue"})
        if c.kind() != "reverse_work":
            c.at = start
            return False
        end = c.find({*CLAUSE_ENDS, "COMMA", *ELEMENTS}, (), 9) or 0
        kinds = [c.kind(i) for i in range(end)]
        if not ({"either_side", "all", "ends"} & set(kinds) or {"previous", "after"} <= set(kinds)):
            c.at = start
            return False
        c.at += end
        return True

    def _bare_again(self, start: int) -> bool:
        """``then the same bare piece again``: thread left as before."""
        c = self.c
        c.skip({"glue"})
        c.take("same")
        end = c.find({*CLAUSE_ENDS, "COMMA", "again"}, (), 5)
        named = {c.kind(i) for i in range(end or 0)}
        told = next((s.step for s in self.lately() if isinstance(s, SaidStep) and isinstance(s.step, BareThread)), None)
        if end is None or told is None or not named & _BARE:
            c.at = start
            return False
        c.at += end
        c.skip({"again"})
        step: Step = BareThread(told.length)
        return self.say(step, start)
