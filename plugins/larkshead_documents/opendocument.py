"""The text of an OpenDocument file: its headings, paragraphs, lists and tables in order."""

from __future__ import annotations

from collections.abc import Iterator
from io import BytesIO
from typing import Any

from odfdo import Document

from larkshead_documents.lines import TextLines, check_archive, number_text

_SECTIONS = frozenset({"text:section", "text:list-header"})
_FORMATS = {"1": "decimal", "a": "lower letter", "A": "upper letter", "i": "lower roman", "I": "upper roman"}
# Spaces, tabs and line breaks are elements of their own; what was struck out is kept apart and not shown.
_BREAKS = {"text:tab": "\t", "text:line-break": "\n"}
_PASSED = frozenset({"text:tracked-changes", "office:annotation", "text:note-citation"})
_MOST_BLANKS = 100
_WIDEST = 100


def text_of(data: bytes, most: int) -> str:
    """The text of a document; ValueError for one that is damaged or unpacks to more than ``most`` bytes."""
    check_archive(data, most)
    try:
        document = Document(BytesIO(data))
        body = document.body
    except Exception as fault:
        raise ValueError(f"it cannot be opened ({type(fault).__name__})") from None
    lines = TextLines()
    _blocks(body, lines, document)
    return lines.text()


def _blocks(parent: Any, lines: TextLines, document: Any) -> None:
    waiting: list[tuple[Iterator[Any], str, int]] = [(iter(parent.children), "", 0)]
    numbers: dict[int, int] = {}
    while waiting:
        children, style, depth = waiting[-1]
        child = next(children, None)
        if child is None:
            waiting.pop()
        elif child.tag in ("text:p", "text:h"):
            if depth and depth in numbers:
                lines.item(_text(child), number_text(numbers.pop(depth), style))
            else:
                lines.paragraph(_text(child))
        elif child.tag == "text:list":
            name = child.get_attribute("text:style-name") or ""
            waiting.append((iter(child.children), _format(document, name, depth + 1) if name else style, depth + 1))
            numbers[-depth - 1] = 0
        elif child.tag == "text:list-item":
            numbers[-depth] = numbers.get(-depth, 0) + 1
            numbers[depth] = numbers[-depth]
            waiting.append((iter(child.children), style, depth))
        elif child.tag == "table:table":
            lines.table(_rows(child))
        elif child.tag in _SECTIONS:
            waiting.append((iter(child.children), style, depth))


def _rows(table: Any) -> list[list[str]]:
    """The cells of each row; what a merged cell covers is empty."""
    rows: list[list[str]] = []
    for row in table.get_elements("descendant::table:table-row"):
        texts: list[str] = []
        for cell in row.children:
            if cell.tag not in ("table:table-cell", "table:covered-table-cell"):
                continue
            words = " ".join(_text(paragraph) for paragraph in cell.get_elements("descendant::text:p"))
            times = cell.get_attribute("table:number-columns-repeated") or "1"
            texts += [words] * min(int(times) if str(times).isdigit() else 1, _WIDEST)
        rows.append(texts[:_WIDEST])
    return rows


def _format(document: Any, name: str, level: int) -> str:
    """The style of a list's numbers at a level; empty for bullets."""
    style = document.get_style("list", name)
    if style is None:
        return ""
    for kind in style.get_elements("text:list-level-style-number"):
        if kind.get_attribute("text:level") in (str(level), None):
            return _FORMATS.get(kind.get_attribute("style:num-format") or "1", "decimal")
    return ""


def _text(paragraph: Any) -> str:
    """All that is shown of a paragraph, in order."""
    words = [paragraph.text or ""]
    waiting = [iter(paragraph.children)]
    tails = [""]
    while waiting:
        node = next(waiting[-1], None)
        if node is None:
            waiting.pop()
            words.append(tails.pop())
            continue
        if node.tag in _PASSED:
            words.append(node.tail or "")
        elif node.tag == "text:s":
            count = node.get_attribute("text:c") or "1"
            words.append(" " * min(int(count) if count.isdigit() and len(count) < 5 else 1, _MOST_BLANKS))
            words.append(node.tail or "")
        elif node.tag in _BREAKS:
            words.append(_BREAKS[node.tag] + (node.tail or ""))
        else:
            words.append(node.text or "")
            waiting.append(iter(node.children))
            tails.append(node.tail or "")
    return "".join(words)
