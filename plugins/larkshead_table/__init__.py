"""Tables: Markdown, comma- and tab-separated values, columns aligned by spaces."""

from larkshead.host.hookspecs import hookimpl
from larkshead.host.specs import NotationSpec


@hookimpl
def larkshead_notations() -> list[NotationSpec]:
    """The notations of this plugin: one reader for all tables, a writer for each layout."""
    layouts = (
        ("table", "a Markdown table", ".md"),
        ("csv", "comma-separated values", ".csv"),
        ("tsv", "tab-separated values", ".tsv"),
        ("columns", "columns aligned by spaces", ".txt"),
    )
    return [
        NotationSpec(
            name,
            summary,
            (suffix,),
            reader="larkshead_table.reader:read",
            writer="larkshead_table.writer:write" if name == "table" else f"larkshead_table.writer:write_{name}",
            recogniser=f"larkshead_table.recogniser:recognise_{name}",
        )
        for name, summary, suffix in layouts
    ]
