"""Cells that name elements."""

from __future__ import annotations

from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.said import SaidElement
from larkshead.reading.grammar.tokens import Token
from larkshead_table.columns import Column
from larkshead_table.grid import Cell
from larkshead_table.heads import read_head
from larkshead_table.joins import span_of
from larkshead_table.looks import meanings
from larkshead_table.names import is_name
from larkshead_table.plans import Unit
from larkshead_table.repeats import label_key, read_again
from larkshead_table.rowlabels import LabelCells
from larkshead_table.rowworks import WorkCells


class ElementCells(LabelCells, WorkCells):
    """Mixed into the reading of a row."""

    def on_element(self, tokens: list[Token], column: Column, cell: Cell) -> None:
        said = meanings(cell.text(self.reader.source), self.convention)
        if "none" in said:
            return
        if "same" in said and self.reader.last:
            before = next(reversed(self.reader.last.values()))
            self.plan.units.append(
                Unit(SaidElement(before.kind, span_of(tokens), size=before.size, thread=before.thread))
            )
            return
        if column.letters and len(tokens) == 1:
            self.nameless(tokens, column, cell)
            return
        tokens = self.numbered(tokens)
        c = Cursor(list(tokens))
        has_work = self.reader.has("work") or self.reader.has("slot") or self.reader.has("side_one")
        head = read_head(c, counts=not has_work)
        if head is None:
            self.nameless(tokens, column, cell)
            return
        element = head.element
        unit = Unit(element)
        self.plan.units.append(unit)
        self.numbers.append((element, head.number))
        for thread in (head.thread, element.thread):
            if thread:
                self.use_thread(thread, element.span)
        element.thread = None
        self.name_row(element)
        self.rest_of_element(c, unit, column, cell)

    def nameless(self, tokens: list[Token], column: Column, cell: Cell) -> None:
        """A cell that names no kind of element: a number under a head that does, or a name of the pattern's own."""
        kinds = [token.kind for token in tokens]
        if column.kind and (
            kinds == ["NUM"]
            or (len(kinds) == 1 and len(tokens[0].text) <= 2)
            or (len(kinds) == 3 and kinds[0] == kinds[2] == "NUM" and kinds[1] in ("DASH", "to"))
        ):
            element = SaidElement(column.kind, span_of(tokens), size=column.size)
            if len(kinds) == 3:
                element.first, element.last = int(tokens[0].value), int(tokens[2].value)
                self.plan.count = max(1, element.last - element.first + 1)
            else:
                element.label = tokens[0].text
                element.first = int(tokens[0].value) if kinds == ["NUM"] else None
            self.plan.labels.append(label_key(cell.text(self.reader.source)))
            self.name_row(element)
            self.plan.units.append(Unit(element))
        elif is_name(tokens):
            self.name = cell.text(self.reader.source)
            self.plan.labels.append(label_key(self.name))
        elif not self._rows_alone(tokens):
            self.say(tokens, column, cell)

    def _rows_alone(self, tokens: list[Token]) -> bool:
        """``steps 1 to 4`` where another column says how often."""
        if not any(self.cells[at] for at, column in enumerate(self.reader.columns) if column.role == "times"):
            return False
        again, rest = read_again(tokens, self.reader.listener.labels, self.convention, times_column=True)
        if again is None or not (again.refs or again.last_rows or again.near) or again.in_all is not None or rest:
            return False
        self.plan.again.append(again)
        return True

    def rest_of_element(self, c: Cursor, unit: Unit, column: Column, cell: Cell) -> None:
        """What stands behind the name in the same cell: how many, the work, actions."""
        element = unit.element
        assert element is not None
        rest = " ".join(token.text.lower() for token in c.tokens[c.at : c.limit])
        if any("follow" in said and phrase in rest for phrase, said in self.convention.cells.items()):
            self.plan.follows = True
            c.at = c.limit
        if c.kind() == "times" and c.kind(1) == "NUM" and c.kind(2) in ("END", "SHUT"):
            element.count = max(1, int(c.peek(1).value))
            c.at += 2
        elif (
            c.kind() == "OPEN"
            and c.kind(1) in ("times", "NUM")
            and c.kind(2) in ("NUM", "times")
            and c.kind(3) == "SHUT"
        ):
            element.count = max(1, next(int(t.value) for t in c.tokens[c.at + 1 : c.at + 3] if t.kind == "NUM"))
            c.at += 4
        elif (
            c.kind() == "OPEN"
            and c.kind(2) == "SHUT"
            and element.label is None
            and c.kind(1) in ("WORD", "label", "small", "large")
        ):
            token = c.peek(1)
            if token.kind in ("small", "large"):
                element.size = token.kind
            else:
                element.label = token.text
                self.name_row(element)
            c.at += 3
        if element.count > 1:
            self.plan.count = element.count
            element.count = 1
        if c.kind() == "of" and c.kind(1) in ("NUM", "OPEN"):
            c.next()
        self.work_at(c, unit, column, cell)

    def on_kind_work(self, tokens: list[Token], column: Column, cell: Cell) -> None:
        said = meanings(cell.text(self.reader.source), self.convention)
        if "none" in said:
            return
        element = SaidElement(column.kind, span_of(tokens), size=column.size)
        unit = Unit(element)
        self.plan.units.append(unit)
        if not self.same(unit, tokens, said):
            self.work_at(Cursor(list(tokens)), unit, column, cell)
        self.keep(unit)

    def new_element(self, element: SaidElement) -> None:
        if self.name and element.label is None:
            element.label, self.name = self.name, ""
        self.plan.units.append(Unit(element))
        self.name_row(element)
