"""YAML with the place of every value, put together from ruamel.yaml's events without recursion.

Plain words are texts but for whole and decimal numbers, true, false, and null or nothing at all. In brackets, a comma
does not end a place: ``{join: previous ring, last picot}`` is one text. Tags, anchors and aliases, and more than one
document are refused; so is a key said twice.
"""

from __future__ import annotations

import re
from typing import Any

from larkshead.reading.source import Span
from larkshead_native.document import DEEPEST, DocumentError, Node, Sense

# What a scanner in Python can take on in two seconds or so; larger patterns are read as JSON or step lists.
MOST_CHARACTERS = 300_000
LONGEST_LINE = 20_000
_FORBIDDEN = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\ud800-\udfff\ufffe\uffff]")
_WHOLE = re.compile(r"[-+]?[0-9]{1,15}")
_DECIMAL = re.compile(r"[-+]?[0-9]{1,15}\.[0-9]{1,15}")
_CONSTANTS: dict[str, Any] = {"": None, "~": None, "null": None, "true": True, "false": False}


def parse_yaml(text: str) -> Node:
    """The document; DocumentError for what is not YAML or is refused."""
    _check_bounds(text)
    from ruamel.yaml import YAML
    from ruamel.yaml.error import MarkedYAMLError, YAMLError

    yaml = YAML(typ="safe", pure=True)
    try:
        return _compose(yaml.parse(text), text)
    except MarkedYAMLError as fault:
        raise _explained(fault, text) from None
    except (YAMLError, ValueError, AttributeError, IndexError) as fault:
        # The scanner itself stumbles over some texts that are no YAML.
        raise DocumentError("not-yaml", f"not YAML: {str(fault).splitlines()[0][:80]}", Span(0, 0)) from None


def _check_bounds(text: str) -> None:
    bad = _FORBIDDEN.search(text)
    if bad:
        raise DocumentError(
            "not-yaml",
            f"a character that no text file holds (code {ord(bad.group()):04X}); the file may be no text, or damaged",
            Span(bad.start(), bad.end()),
        )
    if len(text) > MOST_CHARACTERS:
        raise DocumentError(
            "too-long",
            f"YAML of {len(text):,} characters is not read (the most is {MOST_CHARACTERS:,}); give it as JSON",
            Span(0, 1),
        )
    at = 0
    while at < len(text):
        end = text.find("\n", at)
        end = len(text) if end < 0 else end
        if end - at > LONGEST_LINE:
            raise DocumentError(
                "too-long",
                f"a line of {end - at:,} characters (the longest read is {LONGEST_LINE:,})",
                Span(at, at + 80),
            )
        at = end + 1


def _compose(events: Any, text: str) -> Node:
    """One document from the events of the scanner."""
    from ruamel.yaml import events as kinds

    stack: list[_Open] = []
    sense = Sense()
    root: Node | None = None
    for event in events:
        start, end = event.start_mark.index, event.end_mark.index
        span = Span(start, end)
        if isinstance(event, kinds.NodeEvent):
            _refuse_names(event, isinstance(event, kinds.AliasEvent), span)
        if isinstance(event, kinds.ScalarEvent):
            if event.style in ("|", ">"):
                end = len(text[:end].rstrip())
            node = Node(_scalar(event), start, end)
        elif isinstance(event, kinds.CollectionStartEvent):
            if len(stack) >= DEEPEST:
                raise DocumentError("too-deep", f"groups stand within groups more than {DEEPEST} deep", span)
            made: Any = [] if isinstance(event, kinds.SequenceStartEvent) else {}
            if not stack and made == []:
                # Said at once: a long file of another kind need not be read to its end.
                raise DocumentError(
                    "not-a-pattern", "a pattern is a group of keys (title, parts or steps, ...); found a list", span
                )
            stack.append(_Open(Node(made, start, end, bool(event.flow_style))))
            continue
        elif isinstance(event, kinds.CollectionEndEvent):
            closed = stack.pop()
            node = closed.node
            # A block ends where its last value does, not where the next thing begins.
            node.end = end if node.flow or closed.last is None else closed.last.end
        elif isinstance(event, kinds.DocumentStartEvent) and root is not None:
            raise DocumentError("not-yaml", "a second document begins here; a file holds one pattern", span)
        else:
            continue
        if stack:
            sense.check(stack[-1].node, node)
            stack[-1].add(node)
        else:
            root = node
    if root is None:
        raise DocumentError("empty", "the file holds no pattern", Span(0, 0))
    return root


def _refuse_names(event: Any, alias: bool, span: Span) -> None:
    """Refuse what would make one text stand for another."""
    if alias:
        raise DocumentError("alias", "aliases (*name) are not read: write it out, or use a repeat", span)
    if event.anchor is not None:
        raise DocumentError("alias", "anchors (&name) are not read: write it out, or use a repeat", span)
    if event.tag is not None and str(event.tag) != "!":
        raise DocumentError("tag", "tags (!name) are not read: leave them out", span)


class _Open:
    """A list or a group of keys that is not closed yet."""

    __slots__ = ("key", "last", "node", "said")

    def __init__(self, node: Node) -> None:
        self.node = node
        # The last value put in; the key whose value is next; the last value a place in brackets may go on from.
        self.last: Node | None = None
        self.key: Node | None = None
        self.said: Node | None = None

    def add(self, node: Node) -> None:
        """The next value of a list, or the next key or value of a group."""
        held = self.node.value
        if isinstance(held, list):
            held.append(node)
            self.last = node
        elif self.key is None:
            self.key = self.checked_key(node)
        elif self.goes_on(self.key, node):
            self.key = None
        else:
            if self.key.value in held:
                raise _twice(self.key)
            held[self.key.value] = (self.key, node)
            self.last = self.said = node
            self.key = None

    def checked_key(self, node: Node) -> Node:
        if isinstance(node.value, (dict, list)) or node.value is None:
            raise DocumentError("not-yaml", "a key is a word or a number", node.span)
        if not self.node.flow and node.value in self.node.value:
            raise _twice(node)
        return node

    def goes_on(self, key: Node, value: Node) -> bool:
        """Whether what looks like a key without a value is the rest of the place before the comma; then it is added."""
        said = self.said
        unsaid = self.node.flow and value.value is None and value.start == value.end
        if not unsaid or said is None or not isinstance(said.value, str) or not isinstance(key.value, str):
            return False
        said.value = f"{said.value}, {key.value}"
        said.end = key.end
        return True


def _twice(key: Node) -> DocumentError:
    return DocumentError("duplicate-key", f"the key {str(key.value)[:40]!r} stands here twice", key.span)


def _scalar(event: Any) -> Any:
    value = event.value
    if event.style is not None or event.tag is not None:
        return value
    if value in _CONSTANTS:
        return _CONSTANTS[value]
    if _WHOLE.fullmatch(value):
        return int(value)
    return float(value) if _DECIMAL.fullmatch(value) else value


_EXPLAINED = (
    ("found character '\\t'", "a tab stands in the indentation: indent with spaces"),
    (
        "mapping values are not allowed",
        "a colon is out of place: indent the line as those above, or put text in quotes",
    ),
    ("could not find expected ':'", "a key without its colon, or text that goes on where it may not"),
    ("expected <block end>", "the line does not fit those above: look at its indentation and dashes"),
    ("expected ',' or ']'", "a list in [ ] is not closed, or a comma is missing"),
    ("expected ',' or '}'", "a group in { } is not closed, or a comma is missing"),
    ("while scanning a quoted scalar", "a text in quotes is not closed"),
    ("found unexpected end of stream", "a text in quotes is not closed"),
    ("while scanning a double-quoted scalar", "a wrong \\ sequence in a text in quotes"),
    ("undefined alias", "aliases (*name) are not read: write it out, or use a repeat"),
    ("cannot start any token", "a text that begins with this mark stands in quotes"),
    ("expected the node content", "a value is missing, or a bracket is not closed"),
    ("expected alphabetic or numeric", "a text that begins with & or * stands in quotes"),
    ("block sequence entries are not allowed", "a dash is out of place: each step stands on a line of its own"),
    ("directive", "a line that begins with % is no part of a pattern"),
    ("sequence entries", "a dash is out of place: each step stands on a line of its own"),
)


def _explained(fault: Any, text: str) -> DocumentError:
    """The scanner's complaint in plain words, where it stands."""
    said = f"{fault.context or ''} {fault.problem or ''}"
    words = next((ours for theirs, ours in _EXPLAINED if theirs in said), "the text cannot be read from here on")
    mark = fault.problem_mark or fault.context_mark
    # An open bracket or quote is found at the end of the file: what opened it helps more.
    if fault.context_mark is not None and mark is not None and mark.index >= len(text.rstrip()):
        mark = fault.context_mark
    at = mark.index if mark is not None else 0
    return DocumentError("not-yaml", f"not YAML: {words}", Span(at, min(at + 1, len(text))))
