"""Tables: Markdown, comma- and tab-separated values, columns aligned by spaces."""

from larkshead.host.hookspecs import hookimpl
from larkshead.host.specs import NotationSpec


@hookimpl
def larkshead_notations() -> list[NotationSpec]:
    """The notations of this plugin: one reader for all tables, a writer for each layout."""
    reader = "larkshead_table.reader:read"
    return [
        NotationSpec("table", "a Markdown table", (".md",), reader=reader, writer="larkshead_table.writer:write"),
        NotationSpec(
            "csv", "comma-separated values", (".csv",), reader=reader, writer="larkshead_table.writer:write_csv"
        ),
        NotationSpec(
            "tsv", "tab-separated values", (".tsv",), reader=reader, writer="larkshead_table.writer:write_tsv"
        ),
        NotationSpec(
            "columns",
            "columns aligned by spaces",
            (".txt",),
            reader=reader,
            writer="larkshead_table.writer:write_columns",
        ),
    ]
