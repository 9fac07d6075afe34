"""Rows of a table to what they say, cell by cell, by the roles of the columns."""

from __future__ import annotations

from copy import deepcopy

from larkshead.conventions import Convention
from larkshead.model import (
    Attach,
    BareThread,
    Join,
    Length,
    LockJoin,
    MockPicot,
    NoTurn,
    Picot,
    Place,
    StatedTotal,
    Stitches,
    Switch,
    Turn,
)
from larkshead.reading import Notice, Source, Span
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.items import WorkSyntax
from larkshead.reading.grammar.lengths import read_length
from larkshead.reading.grammar.places import ELEMENTS, PARTS, PICOTS
from larkshead.reading.grammar.said import Piece, Said, SaidElement, SaidHeading, SaidNote, SaidStep, SaidTotal
from larkshead.reading.grammar.statements import Statements
from larkshead.reading.grammar.tokens import Token
from larkshead_table.columns import Column
from larkshead_table.grid import Cell, Row
from larkshead_table.heads import read_head
from larkshead_table.joins import read_targets, span_of, tells_lock, unsaid_joins
from larkshead_table.looks import meanings
from larkshead_table.plans import Again, Plan, Target, Unit
from larkshead_table.repeats import label_key, read_again
from larkshead_table.sayings import Listener
from larkshead_table.works import between_items, lay_beads, lay_between, read_work_cell, spread_picots, sums, two_sides

_BRACES = "\\/{}|⎫⎬⎭⎪⎧⎨⎩┐┘┤│╮╯)]["
_NAME_KINDS = frozenset(
    {
        "WORD",
        "middle",
        "centre",
        "last",
        "first",
        "ORD",
        "next",
        "opposite",
        "small",
        "large",
        "base",
        "tip",
        "fabric",
        "corner",
        "ends",
    }
)
_KINDS = {"ring": "split ring", "chain": "split chain"}
_TOTALS = {"ds": "ds", "picots": "picots", "joins_made": "joins"}


class RowReader:
    """Reads the rows of one table after the other. What goes on from row to row is kept: the thread, the round, names."""

    def __init__(self, source: Source, convention: Convention, listener: Listener, notices: list[Notice]) -> None:
        self.source = source
        self.convention = convention
        self.listener = listener
        self.notices = notices
        self.columns: list[Column] = []
        self.thread = ""
        self.first_thread = ""
        self.round = ""
        self.plans: list[Plan] = []
        self.last: dict[str, SaidElement] = {}
        self.shown: set[str] = set()
        self.spans: dict[int, Span] = {}
        self.default: Place | None = None

    def read(self, row: Row, cells: list[list[Token]]) -> Plan:
        """The plan of a row; ``cells`` are the tokens of its cells."""
        plan = Plan(row.span, len(self.plans) + 1)
        self.plans.append(plan)
        reading = _RowReading(self, plan, row, cells)
        reading.run()
        return plan

    def has(self, role: str) -> bool:
        """Whether the table has a column of this role."""
        return any(column.role == role for column in self.columns)

    def find(self, key: str) -> Plan | None:
        """The row a label names, the last one of that name told before."""
        for plan in reversed(self.plans[:-1]):
            if key in plan.labels:
                return plan
        return None


class _RowReading:
    """The reading of one row."""

    def __init__(self, reader: RowReader, plan: Plan, row: Row, cells: list[list[Token]]) -> None:
        self.reader = reader
        self.plan = plan
        self.row = row
        self.cells = cells
        self.convention = reader.convention
        self.notices = reader.notices
        self.targets: list[Target] = []
        self.locked: list[Token] = []
        self.beads: list[Token] = []
        self.between: list[Token] = []
        self.sides: list[list[Piece]] = [[], []]
        self.totals: list[tuple[str, int, Span]] = []
        self.slots: list[Token] = []
        self.picot_size: Length | None = None
        self.name = ""
        self.numbers: list[tuple[SaidElement, Token | None]] = []

    def run(self) -> None:
        filled = [at for at, tokens in enumerate(self.cells) if tokens]
        if not filled or self._whole_row(filled):
            return
        elements = [at for at in filled if at < len(self.reader.columns) and self.reader.columns[at].role == "element"]
        for at in (*elements, *(at for at in filled if at not in elements)):
            if at >= len(self.reader.columns):
                # Cells beyond the last column, which a notice tells of.
                self._say(self.cells[at], Column(), self.row.cell(at))
                continue
            column = self.reader.columns[at]
            handler = getattr(self, "_" + (column.role or "say"), self._say)
            handler(self.cells[at], column, self.row.cell(at))
        self._finish()

    # --- rows that say one thing -------------------------------------------------------------------------------

    def _whole_row(self, filled: list[int]) -> bool:
        """A heading, the start or end of a repeat, a row of totals."""
        first = self.cells[filled[0]]
        text = self._text(filled[0])
        said = meanings(text, self.convention)
        if "total" in said or ("total" in meanings(first[0].text, self.convention) and self._only_numbers(filled[1:])):
            self._total_row(filled)
            return True
        if "opens" in said and len(filled) == 1:
            self.plan.opens = True
            return True
        shut = self._shuts(first) if any(plan.opens for plan in self.reader.plans[:-1]) or len(filled) == 1 else 0
        if shut:
            self._end_of_repeat(first[shut:])
            for at in filled[1:]:
                self._say(self.cells[at], self.reader.columns[at], self.row.cell(at))
            self._finish()
            return True
        if len(filled) == 1 and self._heading(first, filled[0]):
            return True
        telling = (
            [at for at in filled if self.reader.columns[at].role != "label"]
            if filled[-1] < len(self.reader.columns)
            else []
        )
        if len(telling) == 1 and self._copied_row(self.cells[telling[0]]):
            for at in filled:
                if at != telling[0]:
                    self._label(self.cells[at], self.reader.columns[at], self.row.cell(at))
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
        statements = Statements(list(tokens), WorkSyntax())
        if statements.heading():
            said = statements.said[0]
            rest = tokens[statements.c.at :]
            if isinstance(said, SaidHeading) and not any(t.kind in ("times", "more", "repeat", "NUM") for t in rest):
                said.span = span_of(tokens)
                words = self.reader.source.quote(span_of(rest)) if rest else ""
                said.name = words.strip(" :.–—-")
                self.plan.heading = said
                return True
        role = self.reader.columns[column].role
        named = [t for t in tokens if t.kind in ("WORD", "centre", "glue", "motif")]
        if len(named) == len(tokens) <= 4 and role in ("label", "part", "element") and tokens[0].text[0].isupper():
            self.plan.heading = SaidHeading("", span_of(tokens), name=self._text(column))
            return True
        return False

    def _total_row(self, filled: list[int]) -> None:
        counts: dict[str, int] = {}
        for at in filled:
            tokens, role = self.cells[at], self.reader.columns[at].role
            for i, token in enumerate(tokens):
                if token.kind != "NUM":
                    continue
                after = next((t.kind for t in tokens[i + 1 : i + 3] if t.kind not in ("glue", "small", "large")), "")
                what = _what_total(after) or (
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

    # --- columns -----------------------------------------------------------------------------------------------

    def _label(self, tokens: list[Token], column: Column, cell: Cell) -> None:
        plan = self.plan
        text = cell.text(self.reader.source)
        kinds = [token.kind for token in tokens]
        if len(kinds) >= 3 and kinds[1] in ("DASH", "to", "glue") and label_key(tokens[0].text) and len(kinds) <= 4:
            plan.first, plan.last = row_label(tokens[0]), row_label(tokens[-1])
            plan.labels.append(label_key(text))
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
                self._element(tokens, column, cell)
        else:
            self._say(tokens, column, cell)

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

    def _part(self, tokens: list[Token], column: Column, cell: Cell) -> None:
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

    def _element(self, tokens: list[Token], column: Column, cell: Cell) -> None:
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
            self._nameless(tokens, column, cell)
            return
        tokens = self._numbered(tokens)
        c = Cursor(list(tokens))
        has_work = self.reader.has("work") or self.reader.has("slot") or self.reader.has("side_one")
        head = read_head(c, counts=not has_work)
        if head is None:
            self._nameless(tokens, column, cell)
            return
        element = head.element
        unit = Unit(element)
        self.plan.units.append(unit)
        self.numbers.append((element, head.number))
        for thread in (head.thread, element.thread):
            if thread:
                self._use_thread(thread, element.span)
        element.thread = None
        self._name(element)
        self._rest_of_element(c, unit, column, cell)

    def _numbered(self, tokens: list[Token]) -> list[Token]:
        """``1. Ring``, ``a) chain``: the number of the row stands before the element."""
        if is_numbered(tokens):
            self.plan.labels.append(label_key(tokens[0].text))
            return tokens[2:]
        return tokens

    def _nameless(self, tokens: list[Token], column: Column, cell: Cell) -> None:
        """A cell that names no kind of element: a number under a head that does, or a name of the pattern's own."""
        kinds = [token.kind for token in tokens]
        if column.kind and (
            kinds == ["NUM"]
            or (len(kinds) == 1
            and len(tokens[0].text) <= 2)
            or (len(kinds) == 3
            and kinds[0] == kinds[2] == "NUM"
            and kinds[1] in ("DASH", "to"))
        ):
            element = SaidElement(column.kind, span_of(tokens), size=column.size)
            if len(kinds) == 3:
                element.first, element.last = int(tokens[0].value), int(tokens[2].value)
                self.plan.count = max(1, element.last - element.first + 1)
            else:
                element.label = tokens[0].text
                element.first = int(tokens[0].value) if kinds == ["NUM"] else None
            self.plan.labels.append(label_key(cell.text(self.reader.source)))
            self._name(element)
            self.plan.units.append(Unit(element))
        elif is_name(tokens):
            self.name = cell.text(self.reader.source)
            self.plan.labels.append(label_key(self.name))
        else:
            self._say(tokens, column, cell)

    def _name(self, element: SaidElement) -> None:
        """The row goes by the name of its element, too."""
        labels = self.plan.labels
        if element.label is not None:
            kind = element.kind.split()[-1]
            labels.append(f"{kind}:{element.label.lower()}")
            labels.append(label_key(element.label) if not element.label.isdigit() else f"{kind[0]}{element.label}")
        elif element.first is not None and element.last is not None:
            kind = element.kind.split()[-1]
            labels.extend(
                f"{kind}:{number}" for number in range(element.first, min(element.last, element.first + 99) + 1)
            )

    def _rest_of_element(self, c: Cursor, unit: Unit, column: Column, cell: Cell) -> None:
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
                self._name(element)
            c.at += 3
        if element.count > 1:
            self.plan.count = element.count
            element.count = 1
        if c.kind() == "of" and c.kind(1) in ("NUM", "OPEN"):
            c.next()
        self._work_at(c, unit, column, cell)

    def _kind_work(self, tokens: list[Token], column: Column, cell: Cell) -> None:
        said = meanings(cell.text(self.reader.source), self.convention)
        if "none" in said:
            return
        element = SaidElement(column.kind, span_of(tokens), size=column.size)
        unit = Unit(element)
        self.plan.units.append(unit)
        if not self._same(unit, tokens, said):
            self._work_at(Cursor(list(tokens)), unit, column, cell)
        self._keep(unit)

    def _work(self, tokens: list[Token], column: Column, cell: Cell) -> None:
        said = meanings(cell.text(self.reader.source), self.convention)
        unit = self.plan.unit()
        if unit.element is None:
            if "none" in said or self._length_of_action(tokens, unit, column):
                return
            c = Cursor(list(tokens))
            if read_head(c, counts=True) is not None or not read_work_cell(Cursor(list(tokens)), "ring", []):
                self._say(tokens, column, cell)
                return
            kind = column.kind or "ring"
            unit.element = SaidElement(kind, span_of(tokens), size=column.size, label=self.name or None)
            self.name = ""
            if not column.kind:
                self._notice(
                    "assumed", "warning", "what this work belongs to is not said; it is taken for a ring", tokens
                )
        if self._same(unit, tokens, said) or "none" in said:
            return
        self._work_at(Cursor(list(tokens)), unit, column, cell)

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

    def _same(self, unit: Unit, tokens: list[Token], said: tuple[str, ...]) -> bool:
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
            self._notice("unread-text", "warning", "this refers to a row that is not told", tokens)
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

    def _work_at(self, c: Cursor, unit: Unit, column: Column, cell: Cell) -> None:
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
            self._say(rest, column, cell)

    def _slot(self, tokens: list[Token], column: Column, cell: Cell) -> None:
        self.slots += tokens

    def _side_one(self, tokens: list[Token], column: Column, cell: Cell) -> None:
        self._side(0, tokens, column, cell)

    def _side_two(self, tokens: list[Token], column: Column, cell: Cell) -> None:
        self._side(1, tokens, column, cell)

    def _side(self, number: int, tokens: list[Token], column: Column, cell: Cell) -> None:
        if "none" in meanings(cell.text(self.reader.source), self.convention):
            return
        if any(token.kind in ELEMENTS for token in tokens[:3]):
            # A column for each shuttle, with what is worked with it.
            self._use_thread(f"shuttle {number + 1}", span_of(tokens))
            self._element(tokens, Column("element", head=column.head), cell)
            return
        c = Cursor(list(tokens))
        self.sides[number] = read_work_cell(c, "ring", self.notices)
        if c.tokens[c.at : c.limit]:
            self._say(c.tokens[c.at : c.limit], column, cell)

    def _between(self, tokens: list[Token], column: Column, cell: Cell) -> None:
        self.between = tokens

    def _joins(self, tokens: list[Token], column: Column, cell: Cell) -> None:
        said = meanings(cell.text(self.reader.source), self.convention)
        if "none" in said or "unsaid" in said:
            return
        targets = read_targets(tokens, self.reader.listener.names, self.convention)
        heard_words = any(t.kind in ("ORD", "last") for t in tokens) and any(
            t.kind in ("join", "is", "instead") for t in tokens
        )
        if not targets or (heard_words and not any(unsaid_joins(e.pieces) for e in self.plan.elements)):
            if tells_lock(tokens) and not targets:
                self.locked = tokens
            else:
                self._say(tokens, column, cell)
            return
        for target in targets:
            target.lock = target.lock or column.role == "lock"
        self.targets += targets

    _lock = _joins

    def _turn(self, tokens: list[Token], column: Column, cell: Cell) -> None:
        text = cell.text(self.reader.source)
        said = meanings(text, self.convention)
        span = span_of(tokens)
        if "no" in said:
            self._act(SaidStep(NoTurn(), span))
        elif "yes" in said:
            self._act(SaidStep(Turn(), span))
        elif "none" not in said:
            if len(text) <= 2 and not {token.kind for token in tokens} & {"reverse_work", "no_turn"}:
                self._once("mark", f"{text} in this column is taken for yes", tokens)
                self._act(SaidStep(Turn(), span))
            else:
                self._say(tokens, column, cell)

    def _close(self, tokens: list[Token], column: Column, cell: Cell) -> None:
        said = meanings(cell.text(self.reader.source), self.convention)
        if not said and any(token.kind != "close" for token in tokens):
            self._say(tokens, column, cell)

    def _thread(self, tokens: list[Token], column: Column, cell: Cell) -> None:
        said = meanings(cell.text(self.reader.source), self.convention)
        if "same" in said or ("none" in said and not any(t.kind == "NUM" for t in tokens)):
            return
        numbers = [int(token.value) for token in tokens if token.kind in ("NUM", "ORD")]
        words = [token for token in tokens if token.kind == "WORD" or (len(token.text) == 1 and token.text.isalpha())]
        if len(numbers) > 1 and not any(token.kind in ("ball", "with", "to") for token in tokens):
            return
        if numbers:
            self._use_thread(
                f"shuttle {numbers[-1] if any(t.kind == 'to' for t in tokens) else numbers[0]}", span_of(tokens)
            )
        elif len(words) == 1:
            named = any(token.kind == "shuttle" for token in tokens)
            self._use_thread(
                f"shuttle {words[0].text}" if named or len(words[0].text) == 1 else words[0].text, span_of(tokens)
            )

    def _use_thread(self, name: str, span: Span) -> None:
        reader = self.reader
        if reader.thread and name != reader.thread:
            self.plan.before.append(SaidStep(Switch(name), span))
        if not reader.thread:
            reader.first_thread = name
        reader.thread = name

    def _beads(self, tokens: list[Token], column: Column, cell: Cell) -> None:
        if "none" not in meanings(cell.text(self.reader.source), self.convention):
            self.beads = tokens

    def _gap(self, tokens: list[Token], column: Column, cell: Cell) -> None:
        if "none" in meanings(cell.text(self.reader.source), self.convention):
            return
        c = Cursor(list(tokens))
        c.skip(("leave", "glue", "space", "bare_thread", "of"))
        length = read_length(c, bare_unit=True)
        if length is None:
            said = meanings(cell.text(self.reader.source), self.convention)
            if "yes" in said:
                self._act(SaidStep(BareThread(None), span_of(tokens)))
            else:
                self._say(tokens, column, cell)
            return
        if not length.unit:
            length.unit = column.unit
            if not column.unit:
                self._once("unit", "the unit of these lengths is not said", tokens)
        self._act(SaidStep(BareThread(length), span_of(tokens)))
        rest = c.tokens[c.at : c.limit]
        if any(token.kind not in ("thread", "bare_thread", "space", "glue", "of", "STOP") for token in rest):
            self._say(rest, column, cell)

    def _picot_size(self, tokens: list[Token], column: Column, cell: Cell) -> None:
        length = read_length(Cursor(list(tokens)), bare_unit=True)
        if length is not None:
            length.unit = length.unit or column.unit
            self.picot_size = length
        elif "none" not in meanings(cell.text(self.reader.source), self.convention):
            self._say(tokens, column, cell)

    def _times(self, tokens: list[Token], column: Column, cell: Cell) -> None:
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
            self._say(tokens, column, cell)
        elif rest:
            self._say(rest, column, cell)

    def _ds(self, tokens: list[Token], column: Column, cell: Cell) -> None:
        self._count_of("ds", tokens, column, cell)

    def _picots(self, tokens: list[Token], column: Column, cell: Cell) -> None:
        self._count_of("picots", tokens, column, cell)

    def _joins_made(self, tokens: list[Token], column: Column, cell: Cell) -> None:
        self._count_of("joins", tokens, column, cell)

    def _count_of(self, what: str, tokens: list[Token], column: Column, cell: Cell) -> None:
        numbers = [token for token in tokens if token.kind == "NUM"]
        said = meanings(cell.text(self.reader.source), self.convention)
        if len(numbers) == 1 and len(tokens) <= 2:
            self.totals.append((what, int(numbers[0].value), span_of(tokens)))
        elif "none" in said:
            self.totals.append((what, 0, span_of(tokens)))
        else:
            self._say(tokens, column, cell)

    def _ignore(self, tokens: list[Token], column: Column, cell: Cell) -> None:
        return

    # --- words -------------------------------------------------------------------------------------------------

    def _say(self, tokens: list[Token], column: Column, cell: Cell) -> None:
        """A cell of words: whatever it says goes to its place in the row."""
        if self._copied_row(tokens):
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
                    self._new_element(said)
            elif isinstance(said, SaidStep) and isinstance(said.step, Switch) and said.step.to:
                self._use_thread(said.step.to, said.span)
            else:
                self._act(said)

    def _copied_row(self, tokens: list[Token]) -> bool:
        """``as step 2``, ``same as row 1``: a whole row told again."""
        kinds = [token.kind for token in tokens if token.kind != "glue"]
        if (
            self.plan.units
            or not kinds
            or kinds[0] not in ("like", "same")
            or any(k in ("join", "PLUS", "but", "picot") for k in kinds)
        ):
            return False
        keys = [label_key("".join(t.text for t in tokens if t.kind not in ("like", "same", "glue", "STOP", *PARTS)))]
        plan = next((found for key in keys if (found := self.reader.find(key)) is not None), None)
        if plan is None or not plan.works:
            return False
        self.plan.units = deepcopy(plan.units)
        for unit in self.plan.units:
            if unit.element is not None:
                unit.element.span = span_of(tokens)
                unit.element.label = None
        return True

    def _new_element(self, element: SaidElement) -> None:
        if self.name and element.label is None:
            element.label, self.name = self.name, ""
        self.plan.units.append(Unit(element))
        self._name(element)

    _then = _notes = _say

    def _act(self, said: Said) -> None:
        """An action, in the order of the columns."""
        self.plan.unit().after.append(said)

    # --- the row as a whole ------------------------------------------------------------------------------------

    def _join_repeats(self) -> None:
        """``Repeat steps 3 and 4 | 4 more times``: a repeat told over two columns."""
        times = self.plan.times
        if times is None or times.refs or times.kinds or times.near:
            return
        open_ended = [again for again in self.plan.again if again.in_all is None and not again.open and not again.until]
        if len(open_ended) == 1:
            again = open_ended[0]
            again.times, again.total = times.times, times.total
            again.how = times.how or again.how
            again.span = again.span.join(times.span)
            self.plan.times = None

    def _finish(self) -> None:
        self._join_repeats()
        if self.reader.round:
            self.plan.labels += [label_key(self.reader.round) + label for label in self.plan.labels[:1]]
        if self.slots:
            self._work(self.slots, Column("work"), Cell([span_of(self.slots)]))
        if self.name:
            self._act(SaidNote(self.name, self.row.span))
        elements = [unit for unit in self.plan.units if unit.element is not None]
        if any(self.sides):
            self._two_sides()
            elements = [unit for unit in self.plan.units if unit.element is not None]
        unit = elements[-1] if elements else None
        if unit is not None and unit.element is not None:
            element = unit.element
            if self.between:
                element.pieces = lay_between(
                    element.pieces, between_items(self.between), self.notices, span_of(self.between)
                )
            self._spread(element)
        self._place_targets()
        if unit is not None and unit.element is not None:
            element = unit.element
            if self.picot_size is not None:
                for item, _ in element.pieces:
                    if isinstance(item, Picot):
                        item.length = self.picot_size
            if self.beads and not lay_beads(self.beads, element.pieces, span_of(self.beads), self.notices):
                self._notice("unclear-count", "warning", "where these beads go is not said", self.beads)
            self._tell_totals(unit)
        elif self.beads or self.between:
            self._notice("unread-text", "warning", "this belongs to no element", self.beads or self.between)
        for element, number in self.numbers:
            if not element.pieces and number is not None and not any(self.sides):
                # "Chain 8" with no other counts in its row.
                element.pieces = [(Stitches(int(number.value)), Span(number.start, number.end))]
                element.label, element.first = None, None
        for told in elements:
            self._keep(told)
            if told.element is not None and not told.element.pieces and told.element.alike is None:
                self._no_work(told)

    def _keep(self, unit: Unit) -> None:
        element = unit.element
        if element is not None and element.pieces:
            element.span = self._whole_span(element)
        if element is not None and element.pieces:
            self.reader.last.pop(element.kind + element.size, None)
            self.reader.last[element.kind + element.size] = element

    def _whole_span(self, element: SaidElement) -> Span:
        """From the element's name to the end of its counts, or the counts alone where they stand on another line."""
        counts = element.pieces[0][1].join(element.pieces[-1][1])
        whole = element.span.join(counts)
        return counts if "\n" in self.reader.source.quote(whole) else whole

    def _no_work(self, unit: Unit) -> None:
        element = unit.element
        assert element is not None
        self.notices.append(Notice("unclear-count", "warning", f"this {element.kind} has no counts", element.span))

    def _two_sides(self) -> None:
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

    def _spread(self, element: SaidElement) -> None:
        """A plain count of stitches beside a number of picots."""
        told = next(((count, span) for what, count, span in self.totals if what == "picots"), None)
        if told is not None and told[0]:
            element.pieces = spread_picots(element.pieces, *told, self.notices)

    def _place_targets(self) -> None:
        """Places told go to the joins of the row in order; what is left over is a lock join or makes a picot a join."""
        joins = [
            (unit, join)
            for unit in self.plan.units
            if unit.element is not None
            for join in unsaid_joins(unit.element.pieces)
        ]
        left: list[Target] = []
        for target in self.targets:
            self.reader.spans[id(target.place)] = target.span
            locks = [entry for entry in joins if entry[1].kind == "lock"]
            entry = None
            if target.lock:
                entry = locks[0] if locks else None
            elif joins:
                entry = joins[0]
            if entry is None:
                left.append(target)
                continue
            joins.remove(entry)
            entry[1].places = [target.place]
            if target.folded and entry[1].kind == "picot":
                entry[1].kind = "folded"
        if (
            self.targets
            and joins
            and not left
            and (
                len(self.targets) == 1
                and (self.targets[0].every or self.targets[0].place.picot in ("next", "any", "free"))
            )
        ):
            for _, join in joins:
                join.places = [deepcopy(self.targets[0].place)]
        for target in left:
            self._left_over(target)
        if self.locked:
            self._lock_step([], span_of(self.locked))

    def _left_over(self, target: Target) -> None:
        unit = self.plan.unit()
        for said in reversed(unit.after):
            # "tie in" with its place in the column of joins.
            if isinstance(said, SaidStep) and isinstance(said.step, Attach | LockJoin) and not said.step.places:
                said.step.places = [target.place]
                return
        element = unit.element
        ring = element is not None and element.kind in ("ring", "split ring", "mock ring")
        if not target.lock and ring and element is not None and target.place.spot in ("picot", "join", "mock picot"):
            if self._make_join(element, target):
                return
        self._lock_step([target], target.span)

    def _lock_step(self, targets: list[Target], span: Span) -> None:
        self.plan.unit().locks.append(SaidStep(LockJoin([target.place for target in targets]), span))

    def _make_join(self, element: SaidElement, target: Target) -> bool:
        """A join is told in its column, but the counts show a picot in its place."""
        picots = [at for at, (item, _) in enumerate(element.pieces) if isinstance(item, Picot)]
        spots = [at for at, (item, _) in enumerate(element.pieces) if isinstance(item, Picot | Join)]
        if not picots:
            return False
        at = picots[0]
        if isinstance(target.item, int) and 0 < target.item <= len(spots):
            at = spots[target.item - 1]
        elif target.item == "last":
            at = picots[-1]
        elif target.item == "middle":
            at = spots[len(spots) // 2]
        elif target.item == "" and (any(isinstance(item, Join) for item, _ in element.pieces)):
            at = picots[-1]
        item, span = element.pieces[at]
        element.pieces[at] = (Join([target.place], "folded" if target.folded else "picot"), span)
        if target.item == "":
            self.notices.append(
                Notice("assumed", "note", "the join told here is taken for the picot written in its place", target.span)
            )
        return True

    def _tell_totals(self, unit: Unit) -> None:
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

    # --- small things ------------------------------------------------------------------------------------------

    def _text(self, column: int) -> str:
        return self.row.cell(column).text(self.reader.source)

    def _notice(self, kind: str, severity: str, message: str, tokens: list[Token]) -> None:
        self.notices.append(Notice(kind, severity, message, span_of(tokens)))  # type: ignore[arg-type]

    def _once(self, what: str, message: str, tokens: list[Token]) -> None:
        if what not in self.reader.shown:
            self.reader.shown.add(what)
            self._notice("assumed", "note", message, tokens)


def is_numbered(tokens: list[Token]) -> bool:
    """Whether a cell begins with the number or letter of its row."""
    return (
        len(tokens) > 2
        and tokens[1].kind in ("STOP", "SHUT", "COLON")
        and (tokens[0].kind == "NUM" or (len(tokens[0].text) == 1 and tokens[0].text.isalpha() and tokens[0].kind not in ELEMENTS))
    )


def row_label(token: Token) -> str:
    """The key of a row named by a number, a letter, or an ordinal."""
    return str(token.value) if token.kind == "ORD" else label_key(token.text)


def is_name(tokens: list[Token]) -> bool:
    """Whether a cell may be what an element is called: one to three words that say nothing else."""
    return 0 < len(tokens) <= 3 and all(token.kind in _NAME_KINDS and token.text[0].isalpha() for token in tokens)


def _what_total(kind: str) -> str:
    if kind in ELEMENTS:
        return ELEMENTS[kind].replace(" ", "_") + "s"
    if kind in PICOTS:
        return "picots"
    return {"double_stitch": "ds", "join": "joins", "lock_join": "lock_joins", "bead": "beads"}.get(kind, "")
