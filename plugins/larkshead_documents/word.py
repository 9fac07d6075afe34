"""The text of a Word document: its paragraphs, numbered lists and tables in order, without what was struck out."""

from __future__ import annotations

from collections import defaultdict
from io import BytesIO
from typing import Any

from docx import Document
from docx.oxml.ns import qn
from docx.table import Table
from docx.text.paragraph import Paragraph

from larkshead_documents.lines import TextLines, check_archive, number_text

_TEXT, _TAB, _BREAKS = qn("w:t"), qn("w:tab"), (qn("w:br"), qn("w:cr"))
# What was struck out, and what only a field's machinery says.
_PASSED = (qn("w:del"), qn("w:moveFrom"), qn("w:instrText"), qn("w:pPr"))
_STYLES = {
    "decimal": "decimal",
    "lowerLetter": "lower letter",
    "upperLetter": "upper letter",
    "lowerRoman": "lower roman",
    "upperRoman": "upper roman",
}


def text_of(data: bytes, most: int) -> str:
    """The text of a document; ValueError for one that is damaged or unpacks to more than ``most`` bytes."""
    check_archive(data, most)
    try:
        document = Document(BytesIO(data))
    except Exception as fault:
        raise ValueError(f"it cannot be opened ({type(fault).__name__})") from None
    lines = TextLines()
    numbers = _Numbers(document)
    for block in document.iter_inner_content():
        if isinstance(block, Table):
            lines.table(_rows(block))
        else:
            mark = numbers.mark(block)
            text = _text(block)
            lines.paragraph(text) if mark is None else lines.item(text, mark)
    return lines.text()


def _rows(table: Table) -> list[list[str]]:
    """The cells of each row; one that is merged of several has its words once, the rest of it is empty."""
    seen: set[Any] = set()
    rows: list[list[str]] = []
    for row in table.rows:
        texts: list[str] = []
        for cell in row.cells:
            texts.append("" if cell._tc in seen else _cell(cell))
            seen.add(cell._tc)
        rows.append(texts)
    return rows


def _cell(cell: Any) -> str:
    return " ".join(_text(paragraph) for paragraph in cell.paragraphs)


def _text(paragraph: Paragraph) -> str:
    """All that is shown of a paragraph, what was inserted and linked included."""
    words: list[str] = []
    # A list and no calls within calls: a file may be nested at will.
    waiting = [iter(paragraph._p)]
    while waiting:
        for node in waiting[-1]:
            if node.tag in _PASSED:
                continue
            if node.tag == _TEXT:
                words.append(node.text or "")
            elif node.tag == _TAB:
                words.append("\t")
            elif node.tag in _BREAKS:
                words.append("\n")
            else:
                waiting.append(iter(node))
                break
        else:
            waiting.pop()
    return "".join(words)


class _Numbers:
    """The numbers that Word shows before the entries of lists; they stand nowhere in the text."""

    def __init__(self, document: Any) -> None:
        self.counts: dict[tuple[str, int], int] = defaultdict(int)
        self.formats: dict[tuple[str, int], tuple[str, int]] = {}
        self.abstract: dict[str, str] = {}
        part = next((r.target_part for r in document.part.rels.values() if r.reltype.endswith("/numbering")), None)
        if part is None or not hasattr(part, "element"):
            return
        for level in part.element.iter(qn("w:lvl")):
            owner = level.getparent().get(qn("w:abstractNumId"))
            style, start = level.find(qn("w:numFmt")), level.find(qn("w:start"))
            if owner is not None:
                key = (owner, _number(level.get(qn("w:ilvl"))))
                self.formats[key] = (
                    _STYLES.get(_value(style) or "decimal", ""),
                    _number(_value(start), 1),
                )
        for number in part.element.iter(qn("w:num")):
            of = number.find(qn("w:abstractNumId"))
            self.abstract[number.get(qn("w:numId")) or ""] = _value(of) or ""

    def mark(self, paragraph: Paragraph) -> str | None:
        """The number before a paragraph, empty for a bullet; None for one in no list."""
        held = self._held(paragraph)
        if held is None:
            return None
        name, level = held
        style, start = self.formats.get((self.abstract.get(name, ""), level), ("", 1))
        for key in [key for key in self.counts if key[0] == name and key[1] > level]:
            del self.counts[key]
        self.counts[name, level] += 1
        return number_text(start + self.counts[name, level] - 1, style)

    def _held(self, paragraph: Paragraph) -> tuple[str, int] | None:
        """The list a paragraph is in and how deep, as it says itself or its style does."""
        style: Any = paragraph.style
        known = [paragraph._p, *([style.element] if style is not None else [])]
        for element in known:
            properties = element.find(qn("w:pPr"))
            numbered = properties.find(qn("w:numPr")) if properties is not None else None
            if numbered is not None:
                name = _value(numbered.find(qn("w:numId")))
                level = _number(_value(numbered.find(qn("w:ilvl"))))
                return (name, level) if name and name != "0" else None
        return None


def _value(element: Any) -> str | None:
    return None if element is None else element.get(qn("w:val"))


def _number(text: str | None, usual: int = 0) -> int:
    return int(text) if text is not None and text.isdigit() and len(text) < 7 else usual
