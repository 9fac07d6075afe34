"""Cells that tell actions: turns, threads, bare thread, how often, and whatever is said in words."""

from __future__ import annotations

from larkshead.model import (
    BareThread,
    NoTurn,
    Switch,
    Turn,
)
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.lengths import read_length
from larkshead.reading.grammar.said import SaidElement, SaidNote, SaidStep
from larkshead.reading.grammar.tokens import Token
from larkshead_table.columns import Column
from larkshead_table.grid import Cell
from larkshead_table.joins import span_of, unsaid_joins
from larkshead_table.looks import meanings
from larkshead_table.repeats import read_again
from larkshead_table.rowstate import RowState
from larkshead_table.works import read_work_cell

_BRACES = "\\/{}|⎫⎬⎭⎪⎧⎨⎩┐┘┤│╮╯)]["


class ActionCells(RowState):
    """Mixed into the reading of a row."""

    def on_turn(self, tokens: list[Token], column: Column, cell: Cell) -> None:
        text = cell.text(self.reader.source)
        said = meanings(text, self.convention)
        span = span_of(tokens)
        if "no" in said:
            self.act(SaidStep(NoTurn(), span))
        elif "yes" in said:
            self.act(SaidStep(Turn(), span))
        elif "none" not in said:
            if len(text) <= 2 and not {token.kind for token in tokens} & {"reverse_work", "no_turn"}:
                self.once("mark", f"{text} in this column is taken for yes", tokens)
                self.act(SaidStep(Turn(), span))
            else:
                self.say(tokens, column, cell)

    def on_close(self, tokens: list[Token], column: Column, cell: Cell) -> None:
        said = meanings(cell.text(self.reader.source), self.convention)
        if not said and any(token.kind != "close" for token in tokens):
            self.say(tokens, column, cell)

    def on_thread(self, tokens: list[Token], column: Column, cell: Cell) -> None:
        said = meanings(cell.text(self.reader.source), self.convention)
        if "same" in said or ("none" in said and not any(t.kind == "NUM" for t in tokens)):
            return
        numbers = [int(token.value) for token in tokens if token.kind in ("NUM", "ORD")]
        words = [token for token in tokens if token.kind == "WORD" or (len(token.text) == 1 and token.text.isalpha())]
        if len(numbers) > 1 and not any(token.kind in ("ball", "with", "to") for token in tokens):
            return
        if numbers:
            self.use_thread(
                f"shuttle {numbers[-1] if any(t.kind == 'to' for t in tokens) else numbers[0]}", span_of(tokens)
            )
        elif len(words) == 1:
            named = any(token.kind == "shuttle" for token in tokens)
            self.use_thread(
                f"shuttle {words[0].text}" if named or len(words[0].text) == 1 else words[0].text, span_of(tokens)
            )

    def on_gap(self, tokens: list[Token], column: Column, cell: Cell) -> None:
        if "none" in meanings(cell.text(self.reader.source), self.convention):
            return
        c = Cursor(list(tokens))
        c.skip(("leave", "glue", "space", "bare_thread", "of"))
        length = read_length(c, bare_unit=True)
        if length is None:
            said = meanings(cell.text(self.reader.source), self.convention)
            if "yes" in said:
                self.act(SaidStep(BareThread(None), span_of(tokens)))
            else:
                self.say(tokens, column, cell)
            return
        if not length.unit:
            length.unit = column.unit
            if not column.unit:
                self.once("unit", "the unit of these lengths is not said", tokens)
        self.act(SaidStep(BareThread(length), span_of(tokens)))
        rest = c.tokens[c.at : c.limit]
        if any(token.kind not in ("thread", "bare_thread", "space", "glue", "of", "STOP") for token in rest):
            self.say(rest, column, cell)

    def on_picot_size(self, tokens: list[Token], column: Column, cell: Cell) -> None:
        length = read_length(Cursor(list(tokens)), bare_unit=True)
        if length is not None:
            length.unit = length.unit or column.unit
            self.picot_size = length
        elif any(token.kind in ("small", "large", "long") for token in tokens) and len(tokens) <= 2:
            self.picot_kind = "small" if any(token.kind == "small" for token in tokens) else "long"
        elif "none" not in meanings(cell.text(self.reader.source), self.convention):
            self.say(tokens, column, cell)

    def on_times(self, tokens: list[Token], column: Column, cell: Cell) -> None:
        text = cell.text(self.reader.source)
        if text[0] in _BRACES or (text[-1] in _BRACES and text.count("(") == text.count(")") - (text[-1] == ")")):
            self.plan.brace = text
        elif "none" in meanings(text, self.convention) and not any(t.kind == "NUM" for t in tokens):
            return
        again, rest = read_again(tokens, self.reader.listener.labels, self.convention, times_column=True)
        self.plan.times = again
        if self.plan.brace:
            return
        if again is None:
            self.say(tokens, column, cell)
        elif rest:
            self.say(rest, column, cell)

    def on_ignore(self, tokens: list[Token], column: Column, cell: Cell) -> None:
        return

    def say(self, tokens: list[Token], column: Column, cell: Cell) -> None:
        """A cell of words: whatever it says goes to its place in the row."""
        if self.copied_row(tokens):
            return
        if len(tokens) > 2 and tokens[1].kind == "COLON" and "note" in meanings(tokens[0].text, self.convention):
            span = span_of(tokens[2:])
            self.act(SaidNote(self.reader.source.quote(span).strip(), span))
            return
        unit = self.plan.unit()
        if unit.element is not None and not unit.element.pieces and tokens[0].kind in ("NUM", "OPEN"):
            c = Cursor(list(tokens))
            unit.element.pieces = read_work_cell(c, unit.element.kind, self.notices)
            while unit.element.pieces and c.kind() in ("COMMA", "SEMI", "STOP", "COLON"):
                c.next()
            tokens = c.tokens[c.at : c.limit]
            if not tokens:
                return
        waiting = any(unsaid_joins(element.pieces) for element in self.plan.elements)
        heard = self.reader.listener.hear(tokens, self.notices, joins=waiting)
        self.plan.again += heard.again
        self.plan.loose += heard.changes
        self.targets += heard.targets
        if heard.default is not None and self.reader.default is None:
            self.reader.default = heard.default
        for said in heard.said:
            if isinstance(said, SaidElement):
                unit = self.plan.unit()
                if unit.element is not None and not unit.element.pieces and unit.element.kind == said.kind:
                    unit.element.pieces = said.pieces
                else:
                    self.new_element(said)
            elif isinstance(said, SaidStep) and isinstance(said.step, Switch) and said.step.to:
                self.use_thread(said.step.to, said.span)
            else:
                self.act(said)

    on_say = on_then = on_notes = say
