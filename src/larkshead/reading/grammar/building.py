"""What every putting-together of a pattern has: the pattern begun, its origins and notices, and totals held to the work."""

from __future__ import annotations

from larkshead.model import Element, Part, Pattern, Repeat, StatedTotal, Step
from larkshead.reading.grammar.said import SaidTotal
from larkshead.reading.grammar.totals import disagreements, part_steps, tally
from larkshead.reading.notices import Notice, Severity
from larkshead.reading.origins import Origins
from larkshead.reading.source import Span

# Steps that are looked over at most for totals, changes and repeats told of them.
MOST_LOOKED_OVER = 1_000_000


class Building:
    """A pattern in the making, with the part and the steps that are being told."""

    def __init__(self) -> None:
        self.pattern = Pattern()
        self.origins = Origins()
        self.notices: list[Notice] = []
        self.part = Part()
        self.steps: list[Step] = self.part.steps
        self.totals: list[tuple[StatedTotal, Element | None]] = []
        # Steps of the part looked over for what is told of them, all told.
        self.looked_over = 0

    def notice(self, kind: str, severity: Severity, message: str, span: Span | None) -> None:
        """Say something of the reading."""
        self.notices.append(Notice(kind, severity, message, span))

    def too_much(self, span: Span) -> bool:
        """Whether so much is told of the steps before it that no more of it is followed; that is said once."""
        if self.looked_over > MOST_LOOKED_OVER:
            return True
        self.looked_over += len(self.part.steps)
        if self.looked_over <= MOST_LOOKED_OVER:
            return False
        message = "so much is told of steps told before that from here on totals, changes and repeats are not followed"
        self.notice("too-long", "error", message, span)
        return True

    def add(self, step: Step, span: Span) -> None:
        """A step at the end of what is told, with its place in the text."""
        self.origins.record(step, span)
        self.steps.append(step)

    def _SaidTotal(self, said: SaidTotal) -> None:
        element = (
            next((s for s in reversed(self.steps[-6:]) if isinstance(s, Element)), None)
            if said.total.scope == "element"
            else None
        )
        self.add(said.total, said.span)
        if said.total.scope == "sofar" and not self.too_much(said.span):
            self.hold(said.total, tally(self.part.steps), said.span)
        else:
            self.totals.append((said.total, element))

    def hold(self, stated: StatedTotal, worked: dict[str, int], span: Span | None) -> None:
        """A notice for every number told that is not what is worked."""
        for text in disagreements(stated, worked):
            self.notice("contradiction", "warning", f"the text disagrees with itself: {text}", span)

    def check_totals(self) -> None:
        """Hold every total told to what is worked."""
        whole: dict[str, int] | None = None
        open_ended = bool(self.totals) and self.open_ended()
        for stated, element in self.totals:
            span = self.origins.of(stated)
            if stated.scope == "element":
                if element is not None:
                    self.hold(stated, tally([element]), span)
            elif not stated.of and not open_ended:
                if whole is None:
                    whole = tally(part_steps(self.pattern.parts))
                self.hold(stated, whole, span)

    def open_ended(self) -> bool:
        """Some repeat has no number: totals cannot be held to it."""
        return any(
            isinstance(step, Repeat) and step.times is None for part in self.pattern.parts for step in part.steps
        )
