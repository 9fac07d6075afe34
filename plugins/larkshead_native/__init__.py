"""The native notation: a pattern as YAML that a designer can read and type, and as JSON, its twin."""

from __future__ import annotations

from larkshead.host.hookspecs import hookimpl
from larkshead.host.specs import NotationSpec


@hookimpl
def larkshead_notations() -> list[NotationSpec]:
    """Native YAML and native JSON, read and written."""
    return [
        NotationSpec(
            name="native",
            summary="the whole pattern as YAML, to read and to type",
            suffixes=(".yaml", ".yml"),
            reader="larkshead_native.reader:read_yaml",
            writer="larkshead_native.yaml_writer:write",
            recogniser="larkshead_native.recogniser:recognise_yaml",
            rewriter="larkshead_native.rewrite:rewrite",
            worded=False,
        ),
        NotationSpec(
            name="json",
            summary="the whole pattern as JSON, for other programs",
            suffixes=(".json",),
            reader="larkshead_native.reader:read_json",
            writer="larkshead_native.json_writer:write",
            recogniser="larkshead_native.recogniser:recognise_json",
            worded=False,
        ),
    ]
