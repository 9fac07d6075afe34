"""Shorthand: abbreviations and marks."""

from larkshead.host.hookspecs import hookimpl
from larkshead.host.specs import NotationSpec


@hookimpl
def larkshead_notations() -> list[NotationSpec]:
    """The notations of this plugin."""
    return [
        NotationSpec(
            "shorthand",
            "abbreviations and marks, as R 5-5-5-5 cl RW",
            (".txt",),
            reader="larkshead_shorthand.reader:read",
            writer="larkshead_shorthand.writer:write",
            recogniser="larkshead_shorthand.recogniser:recognise",
        )
    ]
