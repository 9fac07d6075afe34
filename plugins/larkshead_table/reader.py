"""Reads tables of any layout: Markdown, separated values, grids, aligned columns, tables that lie on their side.

The layout gives rows of cells with their places in the text; heads (or what stands beneath them) tell what each column
holds; each row becomes what it says, in order, and the layout shared with shorthand and prose makes the pattern of it.
"""

from __future__ import annotations

from collections import Counter

from larkshead.conventions import Convention
from larkshead.model import Pattern
from larkshead.reading import Notice, Reading, Source, Span
from larkshead.reading.grammar.abbreviations import tell_abbreviations
from larkshead.reading.grammar.account import hear_front
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.layout.layout import Layout
from larkshead.reading.grammar.lexer import tokenize
from larkshead.reading.grammar.tokens import Token
from larkshead.reading.texture import words_end
from larkshead_table.around import Around, fill_front, hear_text, read_own_list
from larkshead_table.columns import Column, Content, choose_roles
from larkshead_table.grid import Grid, Row
from larkshead_table.heads import read_head
from larkshead_table.layout import part_head, take_apart
from larkshead_table.listed import in_order, turn_behind
from larkshead_table.looks import looks
from larkshead_table.names import is_name, is_numbered, row_label
from larkshead_table.places import Places
from larkshead_table.repeats import label_key
from larkshead_table.rowreader import RowReader
from larkshead_table.sayings import Listener
from larkshead_table.sizes import tell_sizes
from larkshead_table.soundness import empty_table, mend_row, missing_columns, no_counts
from larkshead_table.spans import Repeats
from larkshead_table.telling import Telling
from larkshead_table.written import read_written

# Columns are told apart by so many rows; later ones are like them.
_SAMPLE = 60
# Words, numbers and marks of a table and the text about it: some ten thousand rows.
_MOST_WORDS = 120_000
# A cell that ends so goes on in the next line; a line that begins so goes on with the one above.
_OPEN_ENDS = frozenset(
    {"COMMA", "of", "to", "from", "and", "last", "previous", "next", "ORD", "OPEN", "DASH", "PLUS", "between"}
)
_GOES_ON = frozenset({"of", "to", "COMMA", "SHUT"})


def read(source: Source, convention: Convention) -> Reading:
    """The reading of a table in any layout: exactly where larkshead wrote it, else as a reader would take it."""
    written = read_written(source, convention)
    if written is not None:
        return written
    end = words_end(source.text, _MOST_WORDS)
    if end is not None:
        message = f"more than {_MOST_WORDS:,} words, numbers and marks up to here: a table as long as this is not read"
        beyond = Notice("too-long", "error", message, Span(end - 1, end))
        return Reading(source, Pattern(), notices=[beyond], style="table", convention=convention.name)
    return TableReading(source, convention).run()


class TableReading:
    """One reading: the tables of a text and the words around them."""

    def __init__(self, source: Source, convention: Convention) -> None:
        self.source = source
        self.convention = convention
        self.notices: list[Notice] = []
        self.around = Around()

    def run(self) -> Reading:
        sheet = take_apart(self.source, self.convention)
        self.notices += sheet.notices
        if any(notice.kind == "broken-quoting" for notice in sheet.notices):
            # Where cells end is not known from here on: whatever were read would be another pattern.
            return Reading(self.source, Pattern(), notices=self.notices, style="table", convention=self.convention.name)
        first = next((at for at, block in enumerate(sheet.blocks) if isinstance(block, Grid)), len(sheet.blocks))
        texts = [(block, at > first) for at, block in enumerate(sheet.blocks) if isinstance(block, Span)]
        self.around = read_own_list(self.source, self.convention, texts)
        tables = [(grid, *self._head(grid)) for grid in sheet.grids]
        tokens = {id(row): self._cells(row) for _, head, rows in tables for row in ([head] if head else []) + rows}
        for grid, _, rows in tables:
            if grid.aligned:
                self._lay_wrapped(rows, tokens)
            tell_sizes((tokens[id(row)] for row in rows), self.notices)
        labels: set[str] = set()
        names: set[str] = set()
        columns: list[list[Column]] = []
        for grid, head, rows in tables:
            chosen = self._columns(head, rows, tokens)
            columns.append(chosen)
            self._check(grid, head, rows, chosen, tokens)
            self._names(rows, chosen, tokens, labels, names)
        listener = Listener(self.source, self.convention, labels, names)
        reader = RowReader(self.source, self.convention, listener, self.notices)
        table = text = 0
        for block in sheet.blocks:
            if isinstance(block, Grid):
                reader.columns = columns[table]
                begun = len(reader.plans)
                for row in tables[table][2]:
                    reader.read(row, tokens[id(row)])
                no_counts(reader.plans[begun:], self.notices, (tables[table][1] or block).span)
                table += 1
            else:
                plan = hear_text(self.source, self.convention, listener, self.around, text, *texts[text], self.notices)
                plan.outside = True
                reader.plans.append(plan)
                text += 1
        reader.plans[:] = in_order(reader.plans)
        turn_behind(reader.plans)
        layout = Layout()
        if reader.first_thread:
            layout.shuttle = reader.first_thread
        repeats = Repeats(reader.plans, self.notices, merged=any(_times_first(chosen) for chosen in columns))
        stretches = repeats.find()
        places = Places(reader.plans, repeats.labels, stretches, self.notices)
        places.lay_told()
        telling = Telling(
            reader.plans,
            stretches,
            places,
            self.notices,
            layout.origins,
            self.around.default or reader.default,
        )
        pattern = layout.build([*self.around.covers, *telling.tell()])
        fill_front(pattern, self.around)
        for block in sheet.blocks:
            layout.origins.heard.append(block if isinstance(block, Span) else block.span)
        for front in self.around.fronts:
            hear_front(layout.origins, front, self.source)
        layout.origins.noted += self.around.noted
        notices = sorted([*self.notices, *layout.notices], key=lambda n: n.span.start if n.span else 0)
        reading = Reading(self.source, pattern, layout.origins, notices, "table", self.convention.name)
        self._tell_abbreviations(reading, texts, [row for _, _, rows in tables for row in rows], tokens)
        return reading

    def _tell_abbreviations(
        self, reading: Reading, texts: list[tuple[Span, bool]], rows: list[Row], cells: dict[int, list[list[Token]]]
    ) -> None:
        """The abbreviations of the text and of the cells, as the convention alone reads them."""
        used: list[Token] = []
        for span, _ in texts:
            used += tokenize(self.source.text, self.convention, None, *span)
        for row in rows:
            for cell in self._cells(row, own=False) if self.around.own else cells[id(row)]:
                used += cell
        used.sort(key=lambda token: token.start)
        tell_abbreviations(reading, used, self.convention, self.around.fronts)

    def _head(self, grid: Grid) -> tuple[Row | None, list[Row]]:
        return part_head(grid, lambda row: [cell.text(self.source) for cell in row.cells], self.convention)

    def _cells(self, row: Row, own: bool = True) -> list[list[Token]]:
        forms = self.around.own if own else None
        return [
            [token for span in cell.spans for token in tokenize(self.source.text, self.convention, forms, *span)]
            for cell in row.cells
        ]

    def _lay_wrapped(self, rows: list[Row], tokens: dict[int, list[list[Token]]]) -> None:
        """Lines in which cells of the line above run on become part of it."""
        kept: list[Row] = []
        for row in rows:
            cells = tokens[id(row)]
            if kept and _runs_on(tokens[id(kept[-1])], cells):
                above = kept[-1]
                for at, cell in enumerate(row.cells):
                    above.cells[at].spans.extend(cell.spans)
                    tokens[id(above)][at] = tokens[id(above)][at] + cells[at]
                above.span = above.span.join(row.span)
            else:
                kept.append(row)
        rows[:] = kept

    def _columns(self, head: Row | None, rows: list[Row], tokens: dict[int, list[list[Token]]]) -> list[Column]:
        counts = Counter(len(row.cells) for row in rows)
        width = max(counts, key=lambda n: (counts[n], n), default=0)
        if head is not None:
            width = max(len(head.cells), width if counts[width] * 2 > len(rows) else 0)
        heads: list[tuple[str, list[Token]]] = [("", [])] * width
        if head is not None:
            texts = [cell.text(self.source) for cell in head.cells]
            heads[: len(texts)] = list(zip(texts, tokens[id(head)], strict=True))[:width]
        contents = [Content([]) for _ in range(width)]
        for row in rows[:_SAMPLE]:
            for column, content in enumerate(contents):
                cell = row.cell(column)
                if cell.spans:
                    content.looks.append(looks(tokens[id(row)][column], cell.text(self.source), self.convention))
        return choose_roles(heads, contents, self.convention)

    def _check(
        self, grid: Grid, head: Row | None, rows: list[Row], columns: list[Column], tokens: dict[int, list[list[Token]]]
    ) -> None:
        """Notices of what is wrong with a table; rows with too many cells are mended where that can be done."""
        if not any(row.filled() for row in rows):
            self.notices.append(empty_table(grid.span))
            return
        wrong = missing_columns(head, columns, [tokens[id(row)] for row in rows], self.around.elements, grid.span)
        if wrong is not None:
            self.notices.append(wrong)
        for at, row in enumerate(rows):
            mended = mend_row(row, columns, self.source.text, self._cells, self.convention)
            if mended is not None:
                rows[at], notice = mended
                tokens[id(rows[at])] = self._cells(rows[at])
                self.notices.append(notice)

    def _names(
        self,
        rows: list[Row],
        columns: list[Column],
        tokens: dict[int, list[list[Token]]],
        labels: set[str],
        names: set[str],
    ) -> None:
        """The labels of rows and the words elements are called by, gathered before any row is read."""
        labelled = any(column.role == "label" for column in columns)
        part = ""
        for number, row in enumerate(rows):
            if not labelled:
                labels.add(str(number + 1))
            part = _part_letter(columns, tokens[id(row)]) or part
            for column, cell in zip(columns, tokens[id(row)], strict=False):
                if not cell:
                    continue
                if column.role == "label" and part and len(cell) == 1:
                    names.add(part + label_key(cell[0].text))
                    labels.add(part + label_key(cell[0].text))
                if column.role == "label" and len(cell) <= 3:
                    labels.add(label_key("".join(token.text for token in cell)))
                    labels.update(row_label(token) for token in (cell[0], cell[-1]) if token.kind != "DASH")
                    if cell[0].text.isalpha() and len(cell) == 1:
                        names.add(cell[0].text.lower())
                elif column.role == "element":
                    if is_numbered(cell):
                        labels.add(label_key(cell[0].text))
                        cell = cell[2:]
                    head = None if column.letters else read_head(Cursor(list(cell)))
                    if head is not None and head.element.label:
                        label, kind = head.element.label.lower(), head.element.kind.split()[-1]
                        labels |= {f"{kind}:{label}", f"{kind[0]}{label}"}
                        if label[0].isalpha():
                            names.add(label)
                    elif (column.letters and len(cell) == 1) or (head is None and len(cell) == 1 and is_name(cell)):
                        names.add(cell[0].text.lower())


def _times_first(columns: list[Column]) -> bool:
    """Whether how often stands before what is worked."""
    roles = [column.role for column in columns]
    return "times" in roles and "element" in roles and roles.index("times") < roles.index("element")


def _part_letter(columns: list[Column], cells: list[list[Token]]) -> str:
    """The letter of a part told in its column."""
    for column, cell in zip(columns, cells, strict=False):
        if column.role == "part" and len(cell) == 1 and len(cell[0].text) <= 2 and cell[0].text.isalpha():
            return label_key(cell[0].text)
    return ""


def _runs_on(above: list[list[Token]], cells: list[list[Token]]) -> bool:
    """Whether the cells of a line go on with those above: nothing stands at its head, a cell above is left open."""
    filled = [at for at, cell in enumerate(cells) if cell]
    if not filled or filled[0] == 0 or any(at >= len(above) or not above[at] for at in filled):
        return False
    return any(above[at][-1].kind in _OPEN_ENDS or cells[at][0].kind in _GOES_ON for at in filled)
