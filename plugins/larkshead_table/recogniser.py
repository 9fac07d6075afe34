"""Recognising tables, each by what parts its cells."""

from __future__ import annotations

from larkshead.reading import Source
from larkshead.reading.texture import tabular


def recognise_table(source: Source) -> float:
    """How much a text looks like a Markdown table."""
    return tabular(source.text, ("|",))


def recognise_csv(source: Source) -> float:
    """How much a text looks like values parted by commas or semicolons."""
    return tabular(source.text, (",", ";"))


def recognise_tsv(source: Source) -> float:
    """How much a text looks like values parted by tabs."""
    return tabular(source.text, ("\t",))


def recognise_columns(source: Source) -> float:
    """How much a text looks like columns aligned by blanks."""
    return tabular(source.text, ("",))
