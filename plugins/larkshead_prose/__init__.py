"""Prose: patterns in sentences."""

from larkshead.host.hookspecs import hookimpl
from larkshead.host.specs import NotationSpec


@hookimpl
def larkshead_notations() -> list[NotationSpec]:
    """The notations of this plugin."""
    return [
        NotationSpec(
            "prose",
            "sentences, numbered steps, or running speech",
            (".txt",),
            reader="larkshead_prose.reader:read",
            writer="larkshead_prose.writer:write",
            recogniser="larkshead_prose.recogniser:recognise",
        ),
        NotationSpec(
            "prose-terse",
            "sentences with the abbreviations of running text (ds, p, rw)",
            (".txt",),
            reader="larkshead_prose.reader:read",
            writer="larkshead_prose.writer:write_terse",
        ),
    ]
