"""Recognising tables, each by what parts its cells."""

from __future__ import annotations

from larkshead.reading import Source
from larkshead.reading.texture import tabular


def recognise_table(source: Source) -> float:
    """How much a text looks like a Markdown table."""
    return tabular(source.text, ("|",))


def recognise_csv(source: Source) -> float:
    """How much a text looks like values parted by commas or semicolons."""
    return max(tabular(source.text, (",", ";")), _by_name(source, ".csv", ",;"))


def recognise_tsv(source: Source) -> float:
    """How much a text looks like values parted by tabs."""
    return max(tabular(source.text, ("\t",)), _by_name(source, ".tsv", "\t"))


def recognise_columns(source: Source) -> float:
    """How much a text looks like columns aligned by blanks."""
    return tabular(source.text, ("",))


def _by_name(source: Source, suffix: str, marks: str) -> float:
    """How much the name of a file says that it is a table, where its first line has cells; what is broken in the rest
    is for the reader to tell."""
    first = source.text.lstrip().partition("\n")[0]
    return 0.8 if source.name.lower().endswith(suffix) and any(mark in first for mark in marks) else 0.0
