"""Rows that say one thing: a heading, the start or end of a repeat, totals, another row told again."""

from __future__ import annotations

from copy import deepcopy

from larkshead.model import (
    StatedTotal,
)
from larkshead.reading.grammar.changes import read_changes
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.lines.lines import Lines
from larkshead.reading.grammar.passes import apply_change
from larkshead.reading.grammar.places import PARTS
from larkshead.reading.grammar.said import Change, SaidElement, SaidHeading, SaidNote, SaidTotal
from larkshead.reading.grammar.tokens import Token
from larkshead.reading.grammar.totals import COUNTED
from larkshead_table.joins import span_of
from larkshead_table.looks import meanings
from larkshead_table.plans import Again
from larkshead_table.repeats import label_key, read_again
from larkshead_table.rowstate import RowState

_TOTALS = {"ds": "ds", "picots": "picots", "joins_made": "joins"}


class WholeRows(RowState):
    """Mixed into the reading of a row."""

    def whole_row(self, filled: list[int]) -> bool:
        """A heading, the start or end of a repeat, a row of totals."""
        first = self.cells[filled[0]]
        text = self.text(filled[0])
        said = meanings(text, self.convention)
        if "total" in said or ("total" in meanings(first[0].text, self.convention) and self._only_numbers(filled[1:])):
            self._total_row(filled)
            return True
        if "opens" in said and len(filled) == 1:
            self.plan.opens = self.reader.repeat_open = True
            return True
        shut = self._shuts(first) if self.reader.repeat_open or len(filled) == 1 else 0
        if shut:
            self._end_of_repeat(first[shut:])
            for at in filled[1:]:
                self.say(self.cells[at], self.reader.column(at), self.row.cell(at))
            self.finish()
            return True
        if len(filled) == 1 and self._heading(first, filled[0]):
            return True
        telling = [at for at in filled if self.reader.column(at).role != "label"]
        if len(telling) == 1 and self.copied_row(self.cells[telling[0]]):
            for at in filled:
                if at != telling[0]:
                    self.on_label(self.cells[at], self.reader.column(at), self.row.cell(at))
            return True
        return False

    def _shuts(self, tokens: list[Token]) -> int:
        """How many tokens of a cell say that a repeat ends here."""
        for size in range(min(4, len(tokens)), 0, -1):
            words = " ".join(token.text for token in tokens[:size])
            if "shuts" in meanings(words, self.convention) and (
                size > 1 or len(tokens) == 1 or tokens[1].kind in ("COMMA", "COLON")
            ):
                return size
        return 0

    def _end_of_repeat(self, tokens: list[Token]) -> None:
        again = None
        for at in range(len(self.cells)):
            rest = tokens if at == 0 else self.cells[at]
            if rest and again is None:
                again, _ = read_again(rest, self.reader.listener.labels, self.convention, times_column=True)
                if again is not None and at:
                    self.cells[at] = []
        self.plan.shuts = again or Again(self.row.span)

    def _only_numbers(self, columns: list[int]) -> bool:
        return bool(columns) and all(any(t.kind == "NUM" for t in self.cells[at]) for at in columns)

    def _heading(self, tokens: list[Token], column: int) -> bool:
        """``Round 2``, ``Centre``: a row that opens a part."""
        lines = Lines(list(tokens))
        if lines.heading():
            said = lines.said[-1]
            rest = tokens[lines.c.at :]
            if isinstance(said, SaidHeading) and not any(t.kind in ("times", "more", "repeat", "NUM") for t in rest):
                said.span = span_of(tokens)
                words = self.reader.source.quote(span_of(rest)) if rest else ""
                said.name = words.strip(" :.–—-")
                self.plan.heading = said
                return True
        role = self.reader.column(column).role
        named = [t for t in tokens if t.kind in ("WORD", "centre", "glue", "motif")]
        if len(named) == len(tokens) <= 4 and role in ("label", "part", "element") and tokens[0].text[0].isupper():
            self.plan.heading = SaidHeading("", span_of(tokens), name=self.text(column))
            return True
        return False

    def _total_row(self, filled: list[int]) -> None:
        counts: dict[str, int] = {}
        for at in filled:
            tokens, role = self.cells[at], self.reader.column(at).role
            for i, token in enumerate(tokens):
                if token.kind != "NUM":
                    continue
                after = next((t.kind for t in tokens[i + 1 : i + 3] if t.kind not in ("glue", "small", "large")), "")
                what = COUNTED.get(after, "") or (
                    _TOTALS.get(role, "") or ("ds" if role in ("work", "slot") else "beads" if role == "beads" else "")
                    if len(tokens) == 1
                    else ""
                )
                if what:
                    counts[what] = int(token.value)
        if counts:
            total = StatedTotal(counts, "pattern", words=self.reader.source.quote(self.row.span))
            self.plan.unit().after.append(SaidTotal(total, self.row.span))
        else:
            self.plan.unit().after.append(SaidNote(self.reader.source.quote(self.row.span), self.row.span))

    def copied_row(self, tokens: list[Token]) -> bool:
        """``as step 2``, ``same as row 1 but the last p is a join``: a row told again, with what is other in it."""
        at = 0
        while at < len(tokens) and tokens[at].kind in ("glue", "like", "same", *PARTS):
            at += 1
        if self.plan.units or not any(token.kind in ("like", "same") for token in tokens[:at]):
            return False
        end = at
        while end < len(tokens) and tokens[end].kind not in ("COMMA", "SEMI", "STOP", "but", "with", "OPEN"):
            end += 1
        plan = self.reader.find(label_key("".join(token.text for token in tokens[at:end])))
        if plan is None or not plan.works:
            return False
        changes = read_changes(Cursor(tokens, end), len(tokens))
        if end < len(tokens) - 1 and not changes:
            return False
        self.plan.units = deepcopy(plan.units)
        told = sum(1 for at, cell in enumerate(self.cells) if cell and self.reader.column(at).role != "label")
        for unit in self.plan.units:
            if told > 1:
                # What comes then is told here as well.
                unit.locks, unit.after = [], []
            if unit.element is not None:
                unit.element.span = span_of(tokens)
                unit.element.label = None
                self._lay(unit.element, changes)
        return True

    def _lay(self, element: SaidElement, changes: list[Change]) -> None:
        """What is other in a copy of an element."""
        for change in changes:
            work = [item for item, _ in element.pieces]
            if apply_change(work, change):
                spans = [span for _, span in element.pieces]
                spans += [change.span] * (len(work) - len(spans))
                element.pieces = list(zip(work, spans, strict=False))
