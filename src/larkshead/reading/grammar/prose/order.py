"""What is told out of its order: elements told before those they follow, turns between two told, rings thrown off a chain told after it."""

from __future__ import annotations

from copy import deepcopy

from larkshead.model import Stitches, Switch, Turn
from larkshead.reading.grammar.core import CLAUSE_ENDS
from larkshead.reading.grammar.items import read_work
from larkshead.reading.grammar.places import ELEMENTS
from larkshead.reading.grammar.prose.actions import ProseActions
from larkshead.reading.grammar.said import Piece, Said, SaidElement, SaidHeading, SaidStep
from larkshead.reading.source import Span

_SENTENCE_ENDS = frozenset({"STOP", "PARA", "END"})
_THROWN = frozenset({"thrown", "thrown_ring"})
_REACH = 60


class OutOfOrder(ProseActions):
    """What is told out of its order."""

    # An element told ahead: it follows (or goes before) the next element of a kind.
    ahead: tuple[SaidElement, str, bool] | None = None

    def run(self) -> list[Said]:
        """Everything said, in the order of work where words tell it."""
        said = super().run()
        self._let_go()
        return said

    def _let_go(self) -> None:
        if self.ahead is not None:
            self.said.append(self.ahead[0])
            self.ahead = None

    def heading(self) -> bool:
        """A heading; an element told ahead of one that never came stands before it."""
        if not super().heading():
            return False
        if self.ahead is not None:
            self.said.insert(-1, self.ahead[0])
            self.ahead = None
        return True

    def tell(self, element: SaidElement) -> None:
        """``The chain of nine comes after the ring``: told ahead, it waits for the ring."""
        if self.ahead is None and (told := self._follows()) is not None:
            kind, after = told
            if not any(isinstance(s, SaidElement) and s.kind == kind for s in self._part_so_far()):
                self.ahead = (element, kind, after)
                self.open = None
                return
        if self.ahead is None or self.ahead[1] != element.kind:
            super().tell(element)
            return
        waiting, _, after = self.ahead
        self.ahead = None
        if not after:
            self.said.append(waiting)
        super().tell(element)
        if after:
            self.said.append(waiting)

    def _part_so_far(self) -> list[Said]:
        part: list[Said] = []
        for said in self.lately():
            if isinstance(said, SaidHeading):
                break
            part.append(said)
        return part

    def _follows(self) -> tuple[str, bool] | None:
        """Behind an element's work: which kind it is said to come after (True) or before (False)."""
        c = self.c
        at = c.at
        while (
            at < c.limit and at - c.at < 4 and (c.tokens[at].kind in ("glue", "this") or c.tokens[at].value == "comes")
        ):
            at += 1
        if at == c.at or not any(t.value == "comes" for t in c.tokens[c.at : at]):
            return None
        if at + 1 >= c.limit or c.tokens[at].kind not in ("after", "previous"):
            return None
        noun = at + 1
        while noun < c.limit and c.tokens[noun].kind in ("glue", "this"):
            noun += 1
        if noun + 1 >= c.limit or c.tokens[noun].kind not in ELEMENTS:
            return None
        if c.tokens[noun + 1].kind not in (*CLAUSE_ENDS, "COMMA", "glue", "WORD"):
            return None
        return ELEMENTS[c.tokens[noun].kind], c.tokens[at].kind == "after"

    def leave(self) -> bool:
        """Thread left; ``leave 2 mm before it`` stands before the element told last."""
        return self._put_before(super().leave())

    def _put_before(self, told: bool) -> bool:
        """Behind a step just told, ``before it`` or ``before and after it``: the step goes there."""
        c = self.c
        if not told or not self.said or not isinstance(self.said[-1], SaidStep):
            return told
        at = c.at + (c.kind() == "all")
        if at >= c.limit or c.tokens[at].kind != "previous":
            return told
        at += 1
        both = [t.kind for t in c.tokens[at : at + 2]] == ["glue", "after"]
        at += 2 * both
        where = next((i for i in range(len(self.said) - 2, -1, -1) if isinstance(self.said[i], SaidElement)), None)
        alone = c.tokens[c.at - 2].kind in CLAUSE_ENDS if c.at > 1 else False
        if alone and at + 1 < c.limit and c.tokens[at].kind == "glue" and c.tokens[at + 1].kind in ELEMENTS:
            # "Turn before the chain." as a sentence of its own, behind the chain
            at += 1
            kind = ELEMENTS[c.tokens[at].kind]
            where = next((i for i in range(len(self.said) - 2, -1, -1) if _is(self.said[i], kind)), None)
        elif at >= c.limit or c.tokens[at].kind != "this":
            return told
        if where is None or not self._ends(at + 1) or not self._unturned(where):
            return told
        step = self.said[-1]
        if both:
            self.said.insert(where, SaidStep(deepcopy(step.step), step.span))
        else:
            self.said.pop()
            self.said.insert(where, step)
        c.at = at + 1
        return True

    def _unturned(self, where: int) -> bool:
        """Whether the step told late is not there already."""
        before = self.said[where - 1] if where else None
        step = self.said[-1]
        return not (
            isinstance(before, SaidStep) and isinstance(step, SaidStep) and type(before.step) is type(step.step)
        )

    def turn(self) -> bool:
        """A turn; ``turn the work between the two`` puts it between the two elements told."""
        c = self.c
        start = c.at
        if c.kind(1) == "between":
            at = c.at + 2
            while at < c.limit and c.tokens[at].kind in ("glue", "this"):
                at += 1
            counted = at < c.limit and c.tokens[at].kind == "NUM" and c.tokens[at].value == 2
            at += counted
            told = [i for i, s in enumerate(self.said) if isinstance(s, SaidElement)]
            if at > c.at + 2 and (counted or len(told) == 2) and len(told) > 1 and self._ends(at):
                c.at = at
                self.said.insert(told[-1], SaidStep(Turn(), c.span(start)))
                return True
        return self._put_before(super().turn())

    def _ends(self, at: int) -> bool:
        return at >= self.c.limit or self.c.tokens[at].kind in (*CLAUSE_ENDS, "COMMA")

    def thrown_late(self) -> bool:
        """``A ring of three, picot, three is thrown off after the first four of the chain``: the chain told before is parted there."""
        c = self.c
        start = c.at
        before = start - 1
        while before >= 0 and c.tokens[before].kind == "glue":
            before -= 1
        if before >= 0 and c.tokens[before].kind not in CLAUSE_ENDS:
            return False
        end = start
        while end < c.limit and end - start < _REACH and c.tokens[end].kind not in _SENTENCE_ENDS:
            end += 1
        kinds = [t.kind for t in c.tokens[start:end]]
        if not _THROWN & set(kinds) or ("ring" not in kinds and "thrown_ring" not in kinds):
            return False
        where = next((i for i in range(len(self.said) - 1, -1, -1) if isinstance(self.said[i], SaidElement)), None)
        chain = self.said[where] if where is not None else None
        if where is None or not isinstance(chain, SaidElement) or chain.kind != "chain" or not chain.pieces:
            return False
        total = sum(item.count for item, _ in chain.pieces if isinstance(item, Stitches))
        spot = self._spot(start, end, total)
        if spot is None:
            return False
        reached, begin, upto = spot
        ring = self._ring(start, end, begin, upto)
        if ring is None:
            return False
        first, rest = _parted(chain.pieces, reached)
        if not first or not rest:
            return False
        span = c.span(start, end)
        other = SaidElement("chain", span, rest)
        chain.pieces = first
        between: list[Said] = [SaidElement("ring", span, ring, technique="thrown")]
        if "shuttle" in kinds:
            between = [SaidStep(Switch(None), span), *between, SaidStep(Switch(None), span)]
        self.said[where + 1 : where + 1] = [*between, other]
        self.open = None
        c.at = end
        return True

    def _spot(self, start: int, end: int, total: int) -> tuple[int, int, int] | None:
        """After how many stitches of the chain the ring stands, and where the words that say so begin and end."""
        tokens = self.c.tokens
        for at in range(start, end):
            kind = tokens[at].kind
            if kind in ("halfway", "middle"):
                return total // 2, at, at + 1
            if kind == "after":
                number = at + 1
                while number < end and tokens[number].kind in ("glue", "ORD", "this"):
                    number += 1
                if number < end and tokens[number].kind == "NUM" and 0 < tokens[number].value < total:
                    upto = number + 1
                    while upto < end and tokens[upto].kind in ("double_stitch", "of", "glue", "this", "chain"):
                        upto += 1
                    return int(tokens[number].value), at, upto
        return None

    def _ring(self, start: int, end: int, begin: int, upto: int) -> list[Piece] | None:
        """The work of the ring in the sentence, beside the words that place it."""
        c = self.c
        back = c.at
        for at in range(start, end):
            if begin <= at < upto or c.tokens[at].kind != "NUM":
                continue
            if c.tokens[at - 1].kind == "shuttle":
                continue
            c.at = at
            pieces = read_work(c, self.syntax)
            c.at = back
            if any(isinstance(item, Stitches) for item, _ in pieces):
                return pieces
        return None


def _is(said: Said, kind: str) -> bool:
    return isinstance(said, SaidElement) and said.kind == kind


def _parted(pieces: list[Piece], reached: int) -> tuple[list[Piece], list[Piece]]:
    """The work up to so many stitches, and what follows them."""
    first: list[Piece] = []
    left = reached
    for i, (item, span) in enumerate(pieces):
        if not isinstance(item, Stitches):
            first.append((item, span))
            continue
        if item.count < left:
            first.append((item, span))
            left -= item.count
            continue
        first.append((Stitches(left), span))
        over = item.count - left
        rest: list[Piece] = [(Stitches(over), Span(span.start, span.end))] if over else []
        return first, [*rest, *pieces[i + 1 :]]
    return first, []
