"""The step list: one line a step, in the order written, so that patterns can be compared line by line."""

from __future__ import annotations

from larkshead.host.hookspecs import hookimpl
from larkshead.host.specs import NotationSpec


@hookimpl
def larkshead_notations() -> list[NotationSpec]:
    """The step list, read and written."""
    return [
        NotationSpec(
            name="steplist",
            summary="one line a step, for comparing patterns line by line",
            suffixes=(".steps",),
            reader="larkshead_steplist.reader:read",
            writer="larkshead_steplist.writer:write",
            recogniser="larkshead_steplist.recogniser:recognise",
            worded=False,
        )
    ]
