"""What is known while the rows of a table are read, and while one of them is."""

from __future__ import annotations

from typing import TYPE_CHECKING

from larkshead.conventions import Convention
from larkshead.model import (
    Length,
    Place,
    Switch,
)
from larkshead.model.work import PicotSize
from larkshead.reading import Notice, Source, Span
from larkshead.reading.grammar.said import Piece, Said, SaidElement, SaidStep
from larkshead.reading.grammar.tokens import Token
from larkshead_table.columns import Column
from larkshead_table.grid import Cell, Row
from larkshead_table.joins import span_of
from larkshead_table.plans import Plan, Target, Unit
from larkshead_table.repeats import label_key
from larkshead_table.sayings import Listener


class TableRows:
    """What goes on from row to row: the columns, the thread in use, the round, rows and elements told so far."""

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
        self.by_label: dict[str, Plan] = {}
        self.repeat_open = False
        self.last: dict[str, SaidElement] = {}
        self.shown: set[str] = set()
        self.default: Place | None = None

    def begin(self, plan: Plan) -> None:
        """A row is read next; the one before it can be named from now on."""
        if self.plans:
            for label in self.plans[-1].labels:
                self.by_label[label] = self.plans[-1]
        self.plans.append(plan)

    def column(self, at: int) -> Column:
        """The column at a place; one of no role where a row has more cells than the table has columns."""
        return self.columns[at] if at < len(self.columns) else Column()

    def has(self, role: str) -> bool:
        """Whether the table has a column of this role."""
        return any(column.role == role for column in self.columns)

    def find(self, key: str) -> Plan | None:
        """The row a label names, the last one of that name told before."""
        return self.by_label.get(key)


class RowState:
    """The reading of one row: its cells, and what is gathered from them until the row is told whole."""

    def __init__(self, reader: TableRows, plan: Plan, row: Row, cells: list[list[Token]]) -> None:
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
        self.picots_told: list[Token] = []
        self.slots: list[Token] = []
        self.picot_size: Length | None = None
        self.picot_kind: PicotSize = ""
        self.name = ""
        self.numbers: list[tuple[SaidElement, Token | None]] = []

    def text(self, column: int) -> str:
        return self.row.cell(column).text(self.reader.source)

    def notice(self, kind: str, severity: str, message: str, tokens: list[Token]) -> None:
        self.notices.append(Notice(kind, severity, message, span_of(tokens)))  # type: ignore[arg-type]

    def once(self, what: str, message: str, tokens: list[Token]) -> None:
        if what not in self.reader.shown:
            self.reader.shown.add(what)
            self.notice("assumed", "note", message, tokens)

    def act(self, said: Said) -> None:
        """An action, in the order of the columns."""
        self.plan.unit().after.append(said)

    def use_thread(self, name: str, span: Span) -> None:
        reader = self.reader
        if reader.thread and name != reader.thread:
            self.plan.before.append(SaidStep(Switch(name), span))
        if not reader.thread:
            reader.first_thread = name
        reader.thread = name

    def name_row(self, element: SaidElement) -> None:
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

    def keep(self, unit: Unit) -> None:
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

    if TYPE_CHECKING:

        def say(self, tokens: list[Token], column: Column, cell: Cell) -> None: ...
        def copied_row(self, tokens: list[Token]) -> bool: ...
        def new_element(self, element: SaidElement) -> None: ...
        def on_element(self, tokens: list[Token], column: Column, cell: Cell) -> None: ...
        def on_label(self, tokens: list[Token], column: Column, cell: Cell) -> None: ...
        def finish(self) -> None: ...
