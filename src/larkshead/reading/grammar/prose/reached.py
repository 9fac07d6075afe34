"""Numbers to be reached, told at the end of a going on: ``till you can count 4 rings and 4 chains``, ``until it has ten rings``."""

from __future__ import annotations

from larkshead.model import Attach
from larkshead.reading.grammar.core import CLAUSE_ENDS
from larkshead.reading.grammar.places import ELEMENTS, PARTS, PICOTS
from larkshead.reading.grammar.prose.passages import Passages
from larkshead.reading.grammar.said import SaidElement, SaidHeading, SaidOffer, SaidRepeat, SaidStep, SaidStepLabel

# What may stand between a number and what it counts.
_WITHIN = frozenset({"small", "large", "glue", "of", "this", "such", "WORD", "free", "more", "label"})
# Behind these the clause has told its numbers.
_OVER = frozenset({*CLAUSE_ENDS, "cut", "reverse_work", "leave", "close", "attach", "no_turn", "mock_picot", "but"})
_GOING_ON = frozenset({"go_on", "work_over", "again", "repeat"})
_REACH = 30


class Reached(Passages):
    """Going on until a number is reached."""

    def reached(self) -> bool:
        """``until ...`` with the numbers of elements or passages there shall be in the end."""
        c = self.c
        start = c.at
        if c.kind() != "until":
            return False
        end = c.find(_OVER, (), _REACH) or 0
        goes_on = any(token.kind in _GOING_ON for token in c.tokens[max(0, start - _REACH // 2) : start])
        counts: dict[str, int] = {}
        passes = used = 0
        for at in range(1, end):
            if c.kind(at) != "NUM" or c.kind(at + 1) in ("UNIT", "times", "double_stitch", "NUM"):
                continue
            behind = at + 1
            while c.kind(behind) in _WITHIN and behind - at < 6:
                behind += 1
            kinds = [c.kind(i) for i in range(at + 1, behind)]
            number = int(c.peek(at).value)
            # "eight of the one and eight of the other", "eight of each"
            of_each = "of" in kinds and (c.kind(behind) in ("each", "other") or c.peek(behind - 1).value == "one")
            if of_each:
                counts["each"] = number
            elif c.kind(behind) in ELEMENTS:
                size = next((kind for kind in kinds if kind in ("small", "large")), "")
                counts.setdefault(f"{size} {ELEMENTS[c.kind(behind)]}".strip(), number)
            elif not counts and not passes and goes_on and number > 1 and c.kind(behind) not in (*PICOTS, "ends"):
                passes = number
            else:
                continue
            used = behind
        if not counts and not passes:
            return False
        c.at += max(used + (c.kind(used) in (*ELEMENTS, "each", "other")), 1)
        if counts:
            self.said.append(SaidRepeat("counts", c.span(start), how="all", counts=counts))
        else:
            self.said.append(SaidRepeat("unit", c.span(start), mark="reach", times=passes, how="all"))
        self.open = None
        return True

    def repeat(self) -> bool:
        """Also ``do it again and again till you have nine of them``."""
        c = self.c
        start = c.at
        until = c.find({"until"}, CLAUSE_ENDS | {"MARK", "step", *ELEMENTS}, 12) if c.kind() == "work_over" else None
        if until is not None:
            c.at += until
            if self.reached():
                return True
            c.at = start
        return super().repeat()

    def numbered_steps(self) -> bool:
        """``Do 5 and 6 three times in all``: steps of the list, named by their numbers alone."""
        c = self.c
        start = c.at
        if c.kind() != "NUM" or c.kind(1) not in ("glue", "to", "DASH") or c.kind(2) != "NUM" or c.kind(3) != "NUM":
            return False
        first, last = c.peek().text, c.peek(2).text
        labels = {said.label for said in self.lately() if isinstance(said, SaidStepLabel)}
        if not {first, last} <= labels or c.kind(4) not in ("times", "more"):
            return False
        times = int(c.peek(3).value)
        c.at += 4
        how = "more" if c.take("more") else "all"
        c.take("times")
        how = "more" if c.take("more") else how
        c.take("in_all")
        self.said.append(SaidRepeat("steps", c.span(start), first=first, last=last, times=times, how=how))
        self.open = None
        return True

    def offered(self) -> bool:
        """``left us with twelve free picots``, ``which has nine chains with one picot each``: places of work told elsewhere."""
        c = self.c
        start = c.at
        if c.kind() != "NUM" or c.kind(1) == "double_stitch":
            return False
        told = next((s for s in self.lately() if isinstance(s, SaidElement | SaidHeading | SaidStep)), None)
        if not (
            told is None
            or isinstance(told, SaidHeading)
            or (isinstance(told, SaidStep) and isinstance(told.step, Attach))
        ):
            return False
        before = {token.kind for token in c.tokens[max(0, start - 12) : start]}
        number = int(c.next().value)
        free = c.kind() == "free"
        c.skip({"free", "WORD", "glue", "small"} if c.kind(1) in (*PICOTS, *ELEMENTS) else ())
        noun = c.kind()
        c.next()
        if noun in ELEMENTS and c.kind() == "with" and c.kind(1) in ("NUM", "glue") and c.kind(2) in PICOTS:
            free = c.peek(1).value == 1 or c.peek(1).value == "one"
            c.at += 3
            c.skip({"each"})
        elif noun in ELEMENTS:
            # "of round 2, where there are eight chains"
            free = "where" in before
        elif noun not in PICOTS:
            free = False
        if not free or not before & {"has", "have", "with", "where", *PARTS} or c.kind() not in CLAUSE_ENDS:
            c.at = start
            return False
        self.said.append(SaidOffer(number, c.span(start)))
        return True
