"""The text of a document in lines: a paragraph on each, lists numbered as they are shown, tables as rows of cells."""

from __future__ import annotations

import re
import zipfile
from collections.abc import Sequence
from io import BytesIO

_BLANKS = re.compile(r"[ \t\xa0\u2007\u202f]+")


class TextLines:
    """Collects what a document shows, in reading order."""

    def __init__(self) -> None:
        self.blocks: list[str] = []
        self._kinds: list[str] = []

    def paragraph(self, text: str) -> None:
        """Running text; its own line breaks are kept."""
        self._add("paragraph", _tidy(text))

    def item(self, text: str, mark: str = "") -> None:
        """An entry of a list with its number; a bullet says nothing and could be taken for a mark of the pattern's own."""
        lines = _tidy(text)
        if lines:
            self._add("item", f"{mark} {lines}".lstrip())

    def table(self, rows: Sequence[Sequence[str]]) -> None:
        """A table, written with bars between the cells and a rule under the first row."""
        rows = [[_cell(text) for text in row] for row in rows]
        rows = [row for row in rows if any(row)]
        if not rows:
            return
        width = max(map(len, rows))
        filled = [[*row, *[""] * (width - len(row))] for row in rows]
        lines = ["| " + " | ".join(row) + " |" for row in filled]
        lines.insert(1, "|" + "---|" * width)
        self._add("table", "\n".join(lines))

    def text(self) -> str:
        """Everything, paragraphs and tables parted by an empty line, entries of one list by none."""
        out: list[str] = []
        for at, block in enumerate(self.blocks):
            if at:
                out.append("\n" if self._kinds[at] == self._kinds[at - 1] == "item" else "\n\n")
            out.append(block)
        return "".join(out) + "\n" if out else ""

    def _add(self, kind: str, text: str) -> None:
        if text:
            self.blocks.append(text)
            self._kinds.append(kind)


def number_text(number: int, style: str) -> str:
    """The number of a list's entry as it is shown: ``decimal``, ``lower letter``, ``upper letter``, ``lower roman``, ``upper
    roman``, nothing for a bullet.
    """
    if style.endswith("letter"):
        shown = ""
        while number > 0:
            number, over = divmod(number - 1, 26)
            shown = chr(97 + over) + shown
    elif style.endswith("roman"):
        shown = ""
        for value, letters in _ROMAN:
            count, number = divmod(number, value)
            shown += letters * count
    elif style == "decimal":
        shown = str(number)
    else:
        return ""
    return (shown.upper() if style.startswith("upper") else shown) + "."


_ROMAN = (
    (1000, "m"), (900, "cm"), (500, "d"), (400, "cd"), (100, "c"), (90, "xc"), (50, "l"), (40, "xl"), (10, "x"), (9, "ix"),
    (5, "v"), (4, "iv"), (1, "i"),
)  # fmt: skip


def check_archive(data: bytes, most: int) -> None:
    """ValueError when what an archive unpacks to is larger than ``most`` bytes, or it is no archive."""
    try:
        with zipfile.ZipFile(BytesIO(data)) as archive:
            size = sum(entry.file_size for entry in archive.infolist() if entry.filename.endswith((".xml", ".rels")))
    except (zipfile.BadZipFile, OSError) as fault:
        raise ValueError(f"the archive is damaged ({fault})") from None
    if size > most:
        raise ValueError(f"it unpacks to more than {most:,} bytes, the limit that the settings give")


def _tidy(text: str) -> str:
    lines = [_BLANKS.sub(" ", line).strip() for line in text.splitlines()]
    return "\n".join(line for line in lines if line)


def _cell(text: str) -> str:
    return _BLANKS.sub(" ", " ".join(text.split())).replace("|", "\\|")
