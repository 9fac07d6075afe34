"""A document taken apart with the place of every value in its text, whether it was YAML or JSON."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from larkshead.model.plain import Key, Path
from larkshead.reading.source import Span

# Groups within groups: a hundred repeats within repeats, each a list in a group of keys, and what is inside the last.
DEEPEST = 210
_MISSING = object()


class DocumentError(Exception):
    """A text that is not YAML or not JSON, or that is refused; the message is in plain words."""

    def __init__(self, kind: str, message: str, span: Span) -> None:
        super().__init__(message)
        self.kind = kind
        self.message = message
        self.span = span


class Node:
    """A value and where it stands. A group of keys holds ``(key node, value node)`` by key, a list its nodes.

    ``flow`` tells brackets from indented lines.
    """

    __slots__ = ("end", "flow", "start", "value")

    def __init__(self, value: Any, start: int, end: int, flow: bool = True) -> None:
        self.value = value
        self.start = start
        self.end = end
        self.flow = flow

    @property
    def span(self) -> Span:
        return Span(self.start, self.end)

    def plain(self) -> Any:
        """The value as plain data."""
        value = self.value
        if isinstance(value, list):
            return [node.plain() for node in value]
        if isinstance(value, dict):
            return {key: pair[1].plain() for key, pair in value.items()}
        return value

    def at(self, path: Path) -> Node:
        """The node a path leads to; the last there is on the way where it leads nowhere."""
        node = self
        for step in path:
            value = node.value
            if isinstance(value, dict):
                pair = value.get(_lookup(value, step))
                if pair is None:
                    break
                node = pair[0] if isinstance(step, Key) else pair[1]
            elif isinstance(value, list) and isinstance(step, int) and 0 <= step < len(value):
                node = value[step]
            else:
                break
        return node

    def children(self) -> Iterable[Node]:
        """The values inside."""
        if isinstance(self.value, list):
            return self.value
        if isinstance(self.value, dict):
            return [pair[1] for pair in self.value.values()]
        return []


def _lookup(group: dict[Any, Any], step: Any) -> Any:
    """The key as the group has it: a Key is a text, though the group's own may be a number."""
    if step in group:
        return step
    return next((key for key in group if str(key) == step), _MISSING)
