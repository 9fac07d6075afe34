"""A document taken apart with the place of every value in its text, whether it was YAML or JSON."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from larkshead.model.plain import KNOWN_KEYS, Key, Path
from larkshead.reading.source import Span

# Keys of one group; the longest that a pattern has are habits, a few dozen.
MOST_KEYS = 1000
# Values in a document that no pattern has there, and plain values one after the other in one list.
MOST_STRANGE = 1000
MOST_PLAIN = 100_000
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


class Sense:
    """Keeps what is no pattern from being read to its end: told of each value that is put into a group or a list.

    A pattern has few keys in a group, no group or list that is empty or stands in a list of lists, and no endless row
    of plain values; a fault here and there is left to those who know what belongs where.
    """

    __slots__ = ("strange",)

    def __init__(self) -> None:
        self.strange = 0

    def check(self, into: Node, node: Node) -> None:
        """DocumentError where there is more of what no pattern has than could be a slip."""
        held, value = into.value, node.value
        if isinstance(held, dict):
            if len(held) > MOST_KEYS:
                message = f"a group of more than {MOST_KEYS:,} keys; no group of a pattern has as many"
                raise DocumentError("too-long", message, Span(into.start, into.start + 1))
        elif isinstance(value, (dict, list)):
            if value and isinstance(value, dict) and not value.keys().isdisjoint(KNOWN_KEYS):
                return
            self.strange += 1
            if self.strange > MOST_STRANGE:
                message = f"more than {MOST_STRANGE:,} groups and lists up to here that no pattern has"
                raise DocumentError("not-a-pattern", message, node.span)
        elif (
            len(held) > MOST_PLAIN
            and len(held) % MOST_PLAIN == 1
            and not any(isinstance(one.value, dict) for one in held[-MOST_PLAIN:])
        ):
            message = f"{MOST_PLAIN:,} plain values stand here one after the other; no list of a pattern has as many"
            raise DocumentError("too-long", message, Span(into.start, into.start + 1))


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
