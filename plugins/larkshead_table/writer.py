"""Writes tables: Markdown, comma- and tab-separated values, and columns aligned by spaces.

``rows`` has the columns and their wording. Around the rows stand lines as in shorthand: in Markdown and in aligned
columns above each table, in separated values as rows with a single cell. No cell begins
with a mark that makes a spreadsheet take it for a formula.
"""

from __future__ import annotations

import csv
import io

from larkshead.conventions import Convention
from larkshead.model import Pattern
from larkshead.writing import Written
from larkshead_table.rows import Sheet, lay_out


def write(pattern: Pattern, convention: Convention) -> Written:
    """The pattern as Markdown tables, one for each part."""
    sheet = lay_out(pattern, convention)
    blocks = [f"# {_escape(sheet.title)}" if sheet.title else ""]
    blocks += [_escape(line) for line in sheet.before]
    for heading, rows in _tables(sheet):
        blocks.append(f"## {_escape(heading)}" if heading else "")
        if rows:
            lines = [_markdown(rows[0]), "|" + " --- |" * len(sheet.columns), *map(_markdown, rows[1:])]
            blocks.append("\n".join(lines))
    if sheet.notes:
        blocks.append(sheet.wording.fill("notes_heading"))
        blocks.append("\n".join(sheet.wording.fill("notes_item", text=_escape(note)) for note in sheet.notes))
    return _written("\n\n".join(filter(None, blocks)), sheet)


def write_csv(pattern: Pattern, convention: Convention) -> Written:
    """The pattern as comma-separated values."""
    return _separated(lay_out(pattern, convention), ",")


def write_tsv(pattern: Pattern, convention: Convention) -> Written:
    """The pattern as tab-separated values."""
    return _separated(lay_out(pattern, convention), "\t")


def write_columns(pattern: Pattern, convention: Convention) -> Written:
    """The pattern in columns aligned by spaces, one table for each part."""
    sheet = lay_out(pattern, convention)
    blocks = ["\n".join(filter(None, (sheet.title, *sheet.before)))]
    for heading, rows in _tables(sheet):
        lines = [heading] if heading else []
        if rows:
            widths = [max(len(row[at]) for row in rows) for at in range(len(sheet.columns))]
            rows.insert(1, ["-" * width for width in widths])
            lines += [
                "  ".join(f"{cell:{width}}" for cell, width in zip(row, widths, strict=True)).rstrip() for row in rows
            ]
        blocks.append("\n".join(lines))
    if sheet.notes:
        notes = [sheet.wording.fill("notes_item", text=note) for note in sheet.notes]
        blocks.append("\n".join([sheet.wording.fill("notes_heading"), *notes]))
    return _written("\n\n".join(filter(None, blocks)), sheet)


def _tables(sheet: Sheet) -> list[tuple[str, list[list[str]]]]:
    """The heading and the cells of each part's table, its heads first; a table of heads alone where no part has steps."""
    tables = [(heading, [sheet.columns, *map(sheet.cells, rows)] if rows else []) for heading, rows in sheet.sections]
    if not any(rows for _, rows in tables):
        tables.append(("", [sheet.columns]))
    return tables


def _separated(sheet: Sheet, mark: str) -> Written:
    file = io.StringIO()
    writer = csv.writer(file, delimiter=mark, lineterminator="\n")
    for line in (sheet.title, *sheet.before):
        if line:
            writer.writerow([line])
    writer.writerow(sheet.columns)
    blanks = [""] * (len(sheet.columns) - 1)
    for heading, rows in sheet.sections:
        if heading:
            writer.writerow([heading, *blanks])
        writer.writerows(sheet.cells(row) for row in rows)
    for note in sheet.notes:
        writer.writerow([f"{sheet.wording.fill('notes_heading')} {note}"])
    return _written(file.getvalue(), sheet)


def _markdown(cells: list[str]) -> str:
    return "| " + " | ".join(_escape(cell) for cell in cells) + " |"


def _escape(text: str) -> str:
    return text.replace("\\", "\\\\").replace("|", "\\|")


def _written(text: str, sheet: Sheet) -> Written:
    text = text.strip("\n")
    return Written(text + "\n" if text else "", sheet.wording.losses)
