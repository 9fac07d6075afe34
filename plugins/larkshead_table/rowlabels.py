"""Cells that number rows, name rounds, or tell on which pass a row is worked."""

from __future__ import annotations

from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.places import PARTS
from larkshead.reading.grammar.said import SaidHeading
from larkshead.reading.grammar.tokens import Token
from larkshead_table.columns import Column
from larkshead_table.grid import Cell
from larkshead_table.heads import read_head
from larkshead_table.joins import span_of
from larkshead_table.names import is_numbered, row_label
from larkshead_table.plans import Again
from larkshead_table.repeats import label_key
from larkshead_table.rowstate import RowState

# One row stands for no more.
_MOST_LISTED = 500


class LabelCells(RowState):
    """Mixed into the reading of a row."""

    def on_label(self, tokens: list[Token], column: Column, cell: Cell) -> None:
        plan = self.plan
        text = cell.text(self.reader.source)
        kinds = [token.kind for token in tokens]
        if len(kinds) == 3 and kinds[1] in ("DASH", "to", "glue") and label_key(tokens[0].text):
            plan.first, plan.last = row_label(tokens[0]), row_label(tokens[-1])
            plan.labels.append(label_key(text))
            return
        listed = [
            token for token in tokens if token.kind not in ("COMMA", "glue", "PLUS", "SLASH") or token.text.isalnum()
        ]
        if len(listed) > 1 and len(tokens) > len(listed) and self._rows_again(listed, tokens):
            return
        numbers = [int(token.value) for token in tokens if token.kind == "NUM"]
        if len(numbers) > 1 and numbers == sorted(set(numbers)) and set(kinds) <= {"NUM", "COMMA", "glue", "SLASH"}:
            plan.numbers = numbers[:_MOST_LISTED]
            return
        if kinds == ["ORD"]:
            plan.labels.append(row_label(tokens[0]))
            return
        which = self._on_pass(tokens)
        if which is not None:
            plan.instead = (label_key(tokens[0].text), which)
            return
        if kinds[0] in PARTS and len(kinds) == 2:
            plan.labels.append(label_key(tokens[1].text))
            if kinds[0] != "step" and kinds[0] != "row":
                plan.heading = SaidHeading(
                    PARTS[kinds[0]], span_of(tokens), int(tokens[1].value) if kinds[1] == "NUM" else None
                )
        elif len(text) <= 8 or len(kinds) <= 2:
            plan.labels.append(label_key(text))
            head = read_head(Cursor(list(tokens))) if not self.reader.has("element") else None
            if head is not None:
                self.on_element(tokens, column, cell)
        else:
            self.say(tokens, column, cell)

    def _rows_again(self, listed: list[Token], tokens: list[Token]) -> bool:
        """``A, B`` beside ``5 times in all``: rows told before, worked again."""
        works = {"element", "work", "kind_work", "slot", "side_one", "side_two"}
        keys = [row_label(token) for token in listed]
        if any(self.reader.find(key) is None for key in keys) or any(
            cell and self.reader.column(at).role in works for at, cell in enumerate(self.cells)
        ):
            return False
        self.plan.again.append(Again(span_of(tokens), refs=[(key, key) for key in keys]))
        return True

    def _on_pass(self, tokens: list[Token]) -> str | int | None:
        """``3 on the last pass``: the row tells what is worked instead of row 3 on a pass."""
        if (
            len(tokens) < 3
            or label_key(tokens[0].text) not in self.reader.listener.labels
            or tokens[1].kind not in ("to", "COMMA", "last", "ORD", "WORD", "OPEN")
        ):
            return None
        for token in tokens[1:]:
            if token.kind == "last":
                return "last"
            if token.kind == "ORD":
                return "first" if token.value == 1 else int(token.value)
            if token.kind == "NUM":
                return int(token.value)
        return None

    def on_part(self, tokens: list[Token], column: Column, cell: Cell) -> None:
        text = cell.text(self.reader.source)
        if text == self.reader.round:
            return
        self.reader.round = text
        kind = next((PARTS[t.kind] for t in tokens if t.kind in PARTS), "centre" if tokens[0].kind == "centre" else "")
        number = next((int(t.value) for t in tokens if t.kind in ("NUM", "ORD")), None)
        if not kind:
            heads = [
                word
                for word, (token_kind, _) in self.convention.forms.items()
                if token_kind in PARTS and word == column.head.lower().strip(" .:")
            ]
            kind = PARTS[self.convention.forms[heads[0]][0]] if heads else ""
        name = "" if number is not None or (kind == "centre" and len(tokens) == 1) else text
        self.plan.heading = SaidHeading(kind or ("round" if number is not None else ""), span_of(tokens), number, name)

    def numbered(self, tokens: list[Token]) -> list[Token]:
        """``1. Ring``, ``a) chain``: the number of the row stands before the element."""
        if is_numbered(tokens):
            self.plan.labels.append(label_key(tokens[0].text))
            return tokens[2:]
        return tokens
