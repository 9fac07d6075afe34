"""Rows of a table to what they say, cell by cell, by the roles of the columns."""

from __future__ import annotations

from larkshead.model import (
    Picot,
    Stitches,
)
from larkshead.reading import Span
from larkshead.reading.grammar.said import SaidNote
from larkshead.reading.grammar.tokens import Token
from larkshead_table.columns import Column
from larkshead_table.grid import Cell, Row
from larkshead_table.joins import span_of
from larkshead_table.plans import Plan
from larkshead_table.repeats import label_key
from larkshead_table.rowactions import ActionCells
from larkshead_table.rowelements import ElementCells
from larkshead_table.rowjoins import JoinCells
from larkshead_table.rowstate import TableRows
from larkshead_table.rowwhole import WholeRows
from larkshead_table.works import between_items, lay_beads, lay_between


class RowReader(TableRows):
    """Reads the rows of one table after the other."""

    def read(self, row: Row, cells: list[list[Token]]) -> Plan:
        """The plan of a row; ``cells`` are the tokens of its cells."""
        plan = Plan(row.span, len(self.plans) + 1)
        self.begin(plan)
        missing = len(self.columns) - len(cells)
        RowReading(self, plan, row, [*cells, *([] for _ in range(missing))]).run()
        return plan


class RowReading(WholeRows, ElementCells, JoinCells, ActionCells):
    """The reading of one row: every cell by its column, then the row as a whole."""

    def run(self) -> None:
        filled = [at for at, tokens in enumerate(self.cells) if tokens]
        if not filled or self.whole_row(filled):
            return
        for at in sorted(filled, key=lambda at: self.reader.column(at).role != "element"):
            column = self.reader.column(at)
            handler = getattr(self, "on_" + (column.role or "notes"), self.on_notes)
            handler(self.cells[at], column, self.row.cell(at))
        self.finish()

    def _join_repeats(self) -> None:
        """``Repeat steps 3 and 4 | 4 more times``: a repeat told over two columns."""
        plan = self.plan
        told = [*plan.again, *([plan.times] if plan.times is not None else [])]
        what = [again for again in told if again.in_all is None and not again.open and not again.until]
        how_often = [
            again for again in told if again.in_all is not None and not (again.refs or again.kinds or again.near)
        ]
        if len(what) != 1 or len(how_often) != 1:
            return
        (again,), (times,) = what, how_often
        again.times, again.total = times.times, times.total
        again.how = times.how or again.how
        again.span = again.span.join(times.span)
        plan.again = [other for other in plan.again if other is not times]
        if plan.times is times:
            plan.times = None

    def finish(self) -> None:
        self._join_repeats()
        if self.reader.round:
            self.plan.labels += [label_key(self.reader.round) + label for label in self.plan.labels[:1]]
        if self.slots:
            self.on_work(self.slots, Column("work"), Cell([span_of(self.slots)]))
        if self.name:
            self.act(SaidNote(self.name, self.row.span))
        elements = [unit for unit in self.plan.units if unit.element is not None]
        if any(self.sides):
            self.lay_sides()
            elements = [unit for unit in self.plan.units if unit.element is not None]
        unit = elements[-1] if elements else None
        if unit is not None and unit.element is not None:
            element = unit.element
            if self.between:
                element.pieces = lay_between(
                    element.pieces, between_items(self.between), self.notices, span_of(self.between)
                )
            self.spread(element)
        self.place_targets()
        if unit is not None and unit.element is not None:
            element = unit.element
            for item, _ in element.pieces:
                if isinstance(item, Picot):
                    item.length = self.picot_size or item.length
                    item.size = self.picot_kind or item.size
            if self.beads and not lay_beads(self.beads, element.pieces, span_of(self.beads), self.notices):
                self.notice("unclear-count", "warning", "where these beads go is not said", self.beads)
            self.tell_totals(unit)
        elif self.beads or self.between:
            self.notice("unread-text", "warning", "this belongs to no element", self.beads or self.between)
        for element, number in self.numbers:
            if not element.pieces and number is not None and not any(self.sides):
                # "Chain 8" with no other counts in its row.
                element.pieces = [(Stitches(int(number.value)), Span(number.start, number.end))]
                element.label, element.first = None, None
        for told in elements:
            self.keep(told)
            if told.element is not None:
                self.check_work(told.element)
        self.point_joins()
