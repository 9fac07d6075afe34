"""YAML with the place of every value, put together from ruamel.yaml's events without recursion.

Plain words are texts but for whole and decimal numbers, true, false, and null or nothing at all. In brackets, a comma
does not end a place: ``{join: previous ring, last picot}`` is one text. Tags, anchors and aliases, and more than one
document are refused; so is a key said twice.
"""

from __future__ import annotations

import re
from typing import Any

from larkshead.reading.source import Span
from larkshead_native.document import DEEPEST, DocumentError, Node

# What a scanner in Python can take on in a few seconds; larger patterns are read as JSON or step lists.
MOST_CHARACTERS = 2_000_000
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

    stack: list[tuple[Node, list[Node]]] = []
    root: Node | None = None
    for event in events:
        start, end = event.start_mark.index, event.end_mark.index
        if isinstance(event, kinds.AliasEvent):
            raise DocumentError(
                "alias", "aliases (*name) are not read: write it out, or use a repeat", Span(start, end)
            )
        if isinstance(event, kinds.NodeEvent):
            if event.anchor is not None:
                raise DocumentError(
                    "alias", "anchors (&name) are not read: write it out, or use a repeat", Span(start, end)
                )
            tag = getattr(event, "tag", None)
            if tag is not None and str(tag) != "!":
                raise DocumentError("tag", "tags (!name) are not read: leave them out", Span(start, end))
        if isinstance(event, kinds.ScalarEvent):
            if event.style in ("|", ">"):
                end = len(text[:end].rstrip())
            node = Node(_scalar(event), start, end)
        elif isinstance(event, kinds.CollectionStartEvent):
            if len(stack) >= DEEPEST:
                raise DocumentError(
                    "too-deep", f"groups stand within groups more than {DEEPEST} deep", Span(start, end)
                )
            made: Any = [] if isinstance(event, kinds.SequenceStartEvent) else {}
            if not stack and made == []:
                # Said at once: a long file of another kind need not be read to its end.
                raise DocumentError(
                    "not-a-pattern",
                    "a pattern is a group of keys (title, parts or steps, ...); found a list",
                    Span(start, end),
                )
            stack.append((Node(made, start, end, bool(event.flow_style)), []))
            continue
        elif isinstance(event, kinds.CollectionEndEvent):
            node, children = stack.pop()
            # A block ends where its last value does, not where the next thing begins.
            node.end = end if node.flow or not children else children[-1].end
            _fill(node, children)
        elif isinstance(event, kinds.DocumentStartEvent) and root is not None:
            raise DocumentError("not-yaml", "a second document begins here; a file holds one pattern", Span(start, end))
        else:
            continue
        if stack:
            stack[-1][1].append(node)
        else:
            root = node
    if root is None:
        raise DocumentError("empty", "the file holds no pattern", Span(0, 0))
    return root


def _scalar(event: Any) -> Any:
    value = event.value
    if event.style is not None or event.tag is not None:
        return value
    if value in _CONSTANTS:
        return _CONSTANTS[value]
    if _WHOLE.fullmatch(value):
        return int(value)
    return float(value) if _DECIMAL.fullmatch(value) else value


def _fill(node: Node, children: list[Node]) -> None:
    """Give a list its values, a group its keys and values."""
    if isinstance(node.value, list):
        node.value += children
        return
    group = node.value
    last: Node | None = None
    for key, value in zip(children[::2], children[1::2], strict=True):
        if isinstance(key.value, (dict, list)) or key.value is None:
            raise DocumentError("not-yaml", "a key is a word or a number", key.span)
        unsaid = node.flow and value.value is None and value.start == value.end
        if unsaid and last is not None and isinstance(last.value, str) and isinstance(key.value, str):
            last.value = f"{last.value}, {key.value}"
            last.end = key.end
            continue
        if key.value in group:
            raise DocumentError("duplicate-key", f"the key {str(key.value)[:40]!r} stands here twice", key.span)
        group[key.value] = (key, value)
        last = value


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
