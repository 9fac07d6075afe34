"""The text of a web page: what a browser shows of it, without scripts, styles and navigation."""

from __future__ import annotations

import re
from html.parser import HTMLParser

from larkshead_documents.lines import TextLines, number_text

_HIDDEN = frozenset(
    {"script", "style", "head", "nav", "template", "noscript", "svg", "select", "button", "form", "iframe"}
)
_BLOCKS = frozenset(
    {
        "p", "div", "section", "article", "main", "header", "footer", "aside", "blockquote", "pre", "figure", "figcaption",
        "h1", "h2", "h3", "h4", "h5", "h6", "dl", "dt", "dd", "address", "details", "summary", "hr", "ul", "ol", "li", "body",
    }
)  # fmt: skip
_LISTS = {"1": "decimal", "a": "lower letter", "A": "upper letter", "i": "lower roman", "I": "upper roman"}
_CELLS = frozenset({"td", "th"})
_CHARSET = re.compile(rb"""<meta[^>]+charset\s*=\s*["']?([\w-]+)""", re.IGNORECASE)
_DEEPEST = 500
# Columns of a table at most.
_WIDEST = 100
# Bytes of a page that is read at most; the longest pages of patterns have a tenth of that.
_LARGEST = 2_000_000


def text_of(data: bytes, most: int) -> str:
    """The text of a page; ValueError for one that is too large or nested too deep."""
    if len(data) > min(most, _LARGEST):
        raise ValueError(f"it is larger than {min(most, _LARGEST):,} bytes")
    page = _Page()
    page.feed(_decoded(data))
    page.close()
    page.finish()
    return page.lines.text()


def _decoded(data: bytes) -> str:
    """The page's characters: as its mark or its own word says, else UTF-8, else the usual Western encoding."""
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return data.decode("utf-16", "replace")
    told = _CHARSET.search(data[:4096])
    for encoding in (told[1].decode("ascii") if told else "utf-8", "utf-8", "cp1252"):
        try:
            return data.decode(encoding).lstrip("\ufeff")
        except (UnicodeDecodeError, LookupError):
            continue
    return data.decode("latin-1")


class _Page(HTMLParser):
    """Walks the tags of a page. What is open is kept in a list, so that nesting costs no depth of calls."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.lines = TextLines()
        self.hidden: list[str] = []
        self.words: list[str] = []
        # The lists that are open: their style of numbers and the number of the next entry.
        self.lists: list[tuple[str, int]] = []
        self.mark: str | None = None
        self.verbatim = 0
        # Tables that are open: rows of cells; the innermost takes the words.
        self.tables: list[list[list[str]]] = []
        # For each open table, the columns that a cell of an earlier row reaches down into, and for how many rows yet.
        self.spans: list[dict[int, int]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if self.hidden or tag in _HIDDEN:
            if tag in _HIDDEN:
                self.hidden.append(tag)
            return
        given = dict(attrs)
        if tag == "br":
            self.words.append(" " if self.tables else "\n")
        elif tag == "table":
            if len(self.tables) >= _DEEPEST:
                raise ValueError("its tables are nested too deep")
            self._flush()
            self.tables.append([])
            self.spans.append({})
        elif tag == "tr" and self.tables:
            self._end_row()
            self.tables[-1].append([])
        elif tag in _CELLS and self.tables:
            self._end_cell()
            if not self.tables[-1]:
                self.tables[-1].append([])
            self._begin_cell(min(_number(given.get("colspan"), 1), _WIDEST), _number(given.get("rowspan"), 1))
        elif tag in _BLOCKS and not self.tables:
            self._flush()
            if tag in ("ul", "ol"):
                style = _LISTS.get(given.get("type") or "1", "decimal") if tag == "ol" else ""
                self.lists.append((style, _number(given.get("start"), 1)))
            elif tag == "li":
                style, number = self.lists[-1] if self.lists else ("", 1)
                number = _number(given.get("value"), number)
                self.mark = number_text(number, style)
                if self.lists:
                    self.lists[-1] = style, number + 1
            elif tag == "pre":
                self.verbatim += 1
        elif tag in _BLOCKS:
            self.words.append(" ")

    def handle_endtag(self, tag: str) -> None:
        if self.hidden:
            if tag in self.hidden:
                while self.hidden.pop() != tag:
                    pass
            return
        if tag == "table" and self.tables:
            self._end_row()
            rows = self.tables.pop()
            self.spans.pop()
            if self.tables and self.tables[-1] and self.tables[-1][-1]:
                # A table within a cell: its words are the cell's.
                self.tables[-1][-1][-1] += " ".join(" ".join(row) for row in rows)
            else:
                self.lines.table(rows)
        elif tag in _CELLS and self.tables:
            self._end_cell()
        elif tag in _BLOCKS and not self.tables:
            self._flush()
            if tag in ("ul", "ol") and self.lists:
                self.lists.pop()
            elif tag == "pre" and self.verbatim:
                self.verbatim -= 1

    def handle_data(self, data: str) -> None:
        if not self.hidden:
            self.words.append(data if self.verbatim else re.sub(r"\s+", " ", data))

    def finish(self) -> None:
        """What is still open at the end of the page."""
        while self.tables:
            self.handle_endtag("table")
        self._flush()

    def _begin_cell(self, across: int, down: int) -> None:
        """A new cell behind those that earlier rows reach down into; the words of a wide one stand in its last column."""
        row, spans = self.tables[-1][-1], self.spans[-1]
        self._pass_spans()
        for column in range(len(row), len(row) + max(1, across)):
            row.append("")
            if down > 1:
                # Counted down at the end of each row, this one too.
                spans[column] = down

    def _pass_spans(self) -> None:
        row, spans = self.tables[-1][-1], self.spans[-1]
        while spans.get(len(row), 0) > 0 and len(row) < _WIDEST:
            row.append("")

    def _end_row(self) -> None:
        self._end_cell()
        if self.tables[-1]:
            self._pass_spans()
            self.spans[-1] = {column: left - 1 for column, left in self.spans[-1].items() if left > 1}

    def _end_cell(self) -> None:
        """The words since the cell began are its own; a caption's stand before the table."""
        if self.tables[-1] and self.tables[-1][-1]:
            self.tables[-1][-1][-1] += "".join(self.words)
            self.words.clear()
        elif not self.tables[-1]:
            self._flush()

    def _flush(self) -> None:
        text = "".join(self.words)
        self.words.clear()
        if self.mark is not None and text.strip():
            self.lines.item(text, self.mark)
            self.mark = None
        else:
            self.lines.paragraph(text)


def _number(text: str | None, usual: int) -> int:
    return int(text) if text is not None and re.fullmatch(r"\d{1,6}", text) else usual
