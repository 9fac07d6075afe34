"""Cells with counts: the work of an element, its sides, groups, beads, and totals of it."""

from __future__ import annotations

from copy import deepcopy

from larkshead.model import (
    BareThread,
    MockPicot,
    SideChange,
    StatedTotal,
)
from larkshead.reading import Notice, Span
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.lengths import read_length
from larkshead.reading.grammar.places import ELEMENTS, PARTS
from larkshead.reading.grammar.said import SaidElement, SaidNote, SaidStep
from larkshead.reading.grammar.tokens import Token
from larkshead_table.columns import Column
from larkshead_table.grid import Cell
from larkshead_table.heads import read_head
from larkshead_table.joins import span_of
from larkshead_table.looks import meanings
from larkshead_table.plans import Unit
from larkshead_table.repeats import label_key
from larkshead_table.rowstate import RowState
from larkshead_table.works import lay_told, read_work_cell, spread_picots, sums, told_where, two_sides

_KINDS = {"ring": "split ring", "chain": "split chain"}


class WorkCells(RowState):
    """Mixed into the reading of a row."""

    def on_work(self, tokens: list[Token], column: Column, cell: Cell) -> None:
        said = meanings(cell.text(self.reader.source), self.convention)
        unit = self.plan.unit()
        if unit.element is None:
            if "none" in said or self._length_of_action(tokens, unit, column):
                return
            c = Cursor(list(tokens))
            if read_head(c, counts=True) is not None or not read_work_cell(Cursor(list(tokens)), "ring", []):
                self.say(tokens, column, cell)
                return
            kind = column.kind or "ring"
            unit.element = SaidElement(kind, span_of(tokens), size=column.size, label=self.name or None)
            self.name = ""
            if not column.kind:
                self.notice(
                    "assumed", "warning", "what this work belongs to is not said; it is taken for a ring", tokens
                )
        if self.same(unit, tokens, said) or "none" in said:
            return
        self.work_at(Cursor(list(tokens)), unit, column, cell)

    def _length_of_action(self, tokens: list[Token], unit: Unit, column: Column) -> bool:
        """``BT | 5 mm``: the length of bare thread or a mock picot, told where others have their counts."""
        said = unit.after[-1] if unit.after else None
        if (
            not isinstance(said, SaidStep)
            or not isinstance(said.step, BareThread | MockPicot)
            or said.step.length is not None
        ):
            return False
        length = read_length(Cursor(list(tokens)), bare_unit=True)
        if length is None:
            return False
        length.unit = length.unit or column.unit
        said.step.length = length
        return True

    def same(self, unit: Unit, tokens: list[Token], said: tuple[str, ...]) -> bool:
        """``same``, ``as row 1``: the work of another row."""
        element = unit.element
        assert element is not None
        span = span_of(tokens)
        kinds = [token.kind for token in tokens]
        if "same" in said:
            model = self.reader.last.get(element.kind + element.size) or self.reader.last.get(element.kind)
        elif kinds[0] in ("like", "same") or kinds[:2] == ["glue", "like"]:
            model = self._model(tokens)
        else:
            return False
        if model is None:
            self.notice("unread-text", "warning", "this refers to a row that is not told", tokens)
            return True
        element.pieces = [(item, span) for item, _ in deepcopy(model.pieces)]
        return True

    def _model(self, tokens: list[Token]) -> SaidElement | None:
        """The element ``as R2``, ``same as row 1`` names."""
        texts = [token.text for token in tokens if token.kind not in ("like", "same", "glue", *PARTS)]
        keys = [label_key("".join(texts))]
        for at, token in enumerate(tokens):
            if token.kind in ELEMENTS and at + 1 < len(tokens):
                keys.append(f"{ELEMENTS[token.kind].split()[-1]}:{tokens[at + 1].text.lower()}")
        for key in keys:
            plan = self.reader.find(key)
            if plan is not None and plan.elements:
                return plan.elements[-1]
        return None

    def work_at(self, c: Cursor, unit: Unit, column: Column, cell: Cell) -> None:
        """The work at the position, and whatever the rest of the cell says."""
        element = unit.element
        assert element is not None
        pieces = read_work_cell(c, element.kind, self.notices)
        if pieces:
            element.pieces += pieces
            if element.kind == "ring" and any(token.kind == "SLASH" for token in c.tokens[: c.at]):
                pass
        while c.kind() in ("COMMA", "SEMI", "STOP", "COLON"):
            c.next()
        rest = c.tokens[c.at : c.limit]
        if rest:
            self.say(rest, column, cell)

    def on_slot(self, tokens: list[Token], column: Column, cell: Cell) -> None:
        self.slots += tokens

    def on_side_one(self, tokens: list[Token], column: Column, cell: Cell) -> None:
        self._side(0, tokens, column, cell)

    def on_side_two(self, tokens: list[Token], column: Column, cell: Cell) -> None:
        self._side(1, tokens, column, cell)

    def _side(self, number: int, tokens: list[Token], column: Column, cell: Cell) -> None:
        if "none" in meanings(cell.text(self.reader.source), self.convention):
            return
        if any(token.kind in ELEMENTS for token in tokens[:3]):
            # A column for each shuttle, with what is worked with it.
            self.use_thread(f"shuttle {number + 1}", span_of(tokens))
            self.on_element(tokens, Column("element", head=column.head), cell)
            return
        c = Cursor(list(tokens))
        self.sides[number] = read_work_cell(c, "ring", self.notices)
        if c.tokens[c.at : c.limit]:
            self.say(c.tokens[c.at : c.limit], column, cell)

    def on_between(self, tokens: list[Token], column: Column, cell: Cell) -> None:
        self.between = tokens

    def lay_sides(self) -> None:
        unit = self.plan.unit()
        spans = [piece[1] for side in self.sides for piece in side]
        if unit.element is None:
            unit.element = SaidElement("split ring" if all(self.sides) else "ring", spans[0].join(spans[-1]))
        element = unit.element
        if all(self.sides):
            element.kind = _KINDS.get(element.kind, element.kind)
            seam = self.sides[1][0][1]
            element.pieces = two_sides(self.sides[0], self.sides[1], Span(seam.start, seam.start))
        else:
            element.pieces = self.sides[0] or self.sides[1]

    def on_beads(self, tokens: list[Token], column: Column, cell: Cell) -> None:
        if "none" not in meanings(cell.text(self.reader.source), self.convention):
            self.beads = tokens

    def on_ds(self, tokens: list[Token], column: Column, cell: Cell) -> None:
        self._count_of("ds", tokens, column, cell)

    def on_picots(self, tokens: list[Token], column: Column, cell: Cell) -> None:
        self._count_of("picots", tokens, column, cell)

    def on_joins_made(self, tokens: list[Token], column: Column, cell: Cell) -> None:
        self._count_of("joins", tokens, column, cell)

    def _count_of(self, what: str, tokens: list[Token], column: Column, cell: Cell) -> None:
        numbers = [token for token in tokens if token.kind == "NUM"]
        said = meanings(cell.text(self.reader.source), self.convention)
        if what == "picots" and told_where(tokens):
            self.picots_told = tokens
        elif len(numbers) == 1 and len(tokens) <= 2:
            self.totals.append((what, int(numbers[0].value), span_of(tokens)))
        elif "none" in said:
            self.totals.append((what, 0, span_of(tokens)))
        else:
            self.say(tokens, column, cell)

    def spread(self, element: SaidElement) -> None:
        """A plain count of stitches beside a number of picots, or the places of them."""
        if self.picots_told and not lay_told(element.pieces, self.picots_told):
            span = span_of(self.picots_told)
            self.act(SaidNote(self.reader.source.quote(span), span, unread=True))
        told = next(((count, span) for what, count, span in self.totals if what == "picots"), None)
        if told is not None and told[0]:
            element.pieces = spread_picots(element.pieces, *told, self.notices)

    def tell_totals(self, unit: Unit) -> None:
        """Totals told in columns of their own, to be held to the work."""
        element = unit.element
        assert element is not None
        there = sums(element.pieces)
        for what, count, span in self.totals:
            if what == "picots" and count == there["picots"] + there["joins"] != there["picots"]:
                self.notices.append(Notice("assumed", "note", "joins are counted among the picots here", span))
                continue
            if element.pieces and count == there[what] * self.plan.count and self.plan.count > 1:
                count = there[what]
            unit.totals.append((StatedTotal({what: count}, "element", words=self.reader.source.quote(span)), span))

    def check_work(self, element: SaidElement) -> None:
        """Notices of an element without counts, and of a split element with one side."""
        if not element.pieces and element.alike is None:
            self._unclear(element, f"this {element.kind} has no counts")
        elif element.kind.startswith("split") and not any(isinstance(item, SideChange) for item, _ in element.pieces):
            self._unclear(element, f"this {element.kind} is told with one side only")

    def _unclear(self, element: SaidElement, message: str) -> None:
        self.notices.append(Notice("unclear-count", "warning", message, element.span))
