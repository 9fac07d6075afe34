"""Statements in running words: what full sentences and speech have beyond the shared grammar.

Work goes on over clauses, elements are named by ordinals and pronouns, numbers and changes are told apart from the steps they go
for. Everything else is the shared grammar's."""

from __future__ import annotations

from larkshead.reading.grammar.changes import clause_end
from larkshead.reading.grammar.core import CLAUSE_ENDS
from larkshead.reading.grammar.places import ELEMENTS
from larkshead.reading.grammar.prose.counts import Counts
from larkshead.reading.grammar.prose.shared_out import SharedOut
from larkshead.reading.grammar.said import (
    SaidNote,
)


class ProseStatements(Counts, SharedOut):
    """Statements in running words: what full sentences and speech have beyond the shared grammar.

    Work goes on over clauses, elements are named by ordinals and pronouns, numbers and changes are told apart from the steps they go
    for. Everything else is the shared grammar's."""

    stops = frozenset(
        {
            "MARK",
            "around",
            "want",
            "until",
            "go_on",
            "length_wanted",
            "twice",
            "work_over",
            "followed",
            "bead",
            "with",
            "COMMA",
            "each",
            "another",
            "amends",
        }
    )

    def statement(self) -> bool:
        c = self.c
        kind = c.kind()
        if self.fresh:
            if kind == "DASH" and c.peek(1).spaced:
                c.next()
                return True
            if self.heading() or self.step_label() or self.alike_part() or self.define():
                return True
        if c.peek().value == "restating" and self.unit_named():
            return True
        if kind == "glue" and (not self._leads() or (c.kind(1) == "step" and c.kind(2) == "NUM")):
            c.next()
            return True
        if self.fresh and (self.alike_part() or self.head()):
            return True
        if kind == "each" and c.kind(1) == "join" and c.find({"bead"}, CLAUSE_ENDS | {"COLON"}, 10) is not None:
            self.join_beads = 1
            c.at = clause_end(c)
            return True
        if kind == "vague":
            self.said.append(SaidNote(c.peek().text, c.span(c.at, c.at + 1), vague=True))
            c.next()
            return True
        if (
            kind in ("step", "row", "round")
            and c.kind(1) == "NUM"
            and c.at
            and c.find({"times", "twice"}, CLAUSE_ENDS | set(ELEMENTS), 9) is not None
        ):
            # "work steps 2 and 3 four more times"
            c.at -= 1
            return self.repeat()
        if (
            self.amend()
            or self.sized()
            or self.thrown_late()
            or self.other_side()
            or self.more_of_one()
            or self.by_shuttle()
            or self.back_on_chain()
            or self.by_thread()
            or self.ends_told()
        ):
            return True
        if (
            kind == "each"
            or (kind in ("glue", "all") and (c.kind(1) == "of" or c.peek(1).value == "is") and c.kind(2) == "NUM")
        ) and self.each_of_them():
            return True
        if (
            self.follow()
            or self.lot()
            or self.unit_named()
            or self.series()
            or self.beads()
            or self.units()
            or self.with_gap()
            or self.between_two()
            or self.beside_each()
        ):
            return True
        if (
            self.total()
            or self.numbered_steps()
            or self.every()
            or self.offered()
            or self.count()
            or self.reached()
            or self.change()
            or self.go_on()
            or self.implied()
            or self.gap()
        ):
            return True
        return super().statement()

    def _leads(self) -> bool:
        """Filler that may lead into a statement of number or a change; other filler is passed over."""
        return (
            self.c.find(
                {
                    "NUM",
                    "each",
                    "last",
                    "ORD",
                    "twice",
                    "until",
                    "go_on",
                    "around",
                    "repeat",
                    "want",
                    "nothing",
                    "denied",
                },
                CLAUSE_ENDS,
                4,
            )
            is not None
        )
