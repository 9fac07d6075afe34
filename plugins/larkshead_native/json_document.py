"""JSON with the place of every value, read without recursion; what is not JSON is said in plain words."""

from __future__ import annotations

import re
from json import JSONDecodeError
from json.decoder import scanstring  # type: ignore[attr-defined]
from typing import Any

from larkshead.reading.source import Span
from larkshead_native.document import DEEPEST, DocumentError, Node, Sense

_BLANK = re.compile(r"[ \t\r\n]*")
_NUMBER = re.compile(r"-?(?:0|[1-9][0-9]*)(\.[0-9]+)?([eE][-+]?[0-9]+)?")
_WORD = re.compile(r"[A-Za-z_][\w-]*")
_CONSTANTS = {"true": True, "false": False, "null": None}
_HALF_CHARACTER = re.compile("[\ud800-\udfff]")
_MOST_DIGITS = 30


def parse_json(text: str) -> Node:
    """The document; DocumentError for what is not JSON."""
    return _Parser(text).document()


class _Parser:
    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 1 if text.startswith("\ufeff") else 0

    def document(self) -> Node:
        # Groups not yet closed, each with the key whose value is next.
        stack: list[tuple[Node, Node | None]] = []
        check = Sense().check
        while True:
            node = self.value(len(stack))
            if isinstance(node.value, (dict, list)) and not self.closes_at_once(node):
                stack.append((node, self.key(node) if isinstance(node.value, dict) else None))
                continue
            while stack:
                group, key = stack[-1]
                check(group, node)
                if key is None:
                    group.value.append(node)
                else:
                    group.value[key.value] = (key, node)
                if self.goes_on(group):
                    stack[-1] = (group, self.key(group) if key is not None else None)
                    break
                stack.pop()
                node = group
            else:
                self.blank()
                if self.at < len(self.text):
                    raise self.error("something stands after the end of the document")
                return node

    def blank(self) -> None:
        found = _BLANK.match(self.text, self.at)
        assert found
        self.at = found.end()

    def error(self, message: str, length: int = 1) -> DocumentError:
        if self.at >= len(self.text):
            message = f"the text ends too soon: {message}"
        return DocumentError("not-json", f"not JSON: {message}", Span(self.at, min(self.at + length, len(self.text))))

    def value(self, depth: int) -> Node:
        """A single value, or the opening of a group."""
        self.blank()
        start = self.at
        first = self.text[start : start + 1]
        if first in ("{", "["):
            if depth >= DEEPEST:
                raise DocumentError(
                    "too-deep", f"groups stand within groups more than {DEEPEST} deep", Span(start, start + 1)
                )
            self.at += 1
            return Node({} if first == "{" else [], start, start + 1)
        if first == '"':
            return Node(self.string(), start, self.at)
        number = _NUMBER.match(self.text, start)
        if number:
            digits = number.group()
            if len(digits) > _MOST_DIGITS:
                raise self.error(f"a number of {len(digits)} digits", len(digits))
            self.at = number.end()
            made: Any = float(digits) if number.group(1) or number.group(2) else int(digits)
            return Node(made, start, self.at)
        word = _WORD.match(self.text, start)
        if word and word.group() in _CONSTANTS:
            self.at = word.end()
            return Node(_CONSTANTS[word.group()], start, self.at)
        if word:
            raise self.error(f"found {word.group()[:30]!r}; texts stand in double quotes", len(word.group()))
        raise self.error(f"found {first!r} where a value is expected" if first else "a value is expected")

    def string(self) -> str:
        try:
            value, end = scanstring(self.text, self.at + 1, True)
        except JSONDecodeError as fault:
            if fault.msg.startswith("Unterminated"):
                raise self.error("a text has no closing quote") from None
            self.at = min(fault.pos, len(self.text) - 1)
            raise self.error("a text holds a line break, a control character or a wrong \\ sequence") from None
        if _HALF_CHARACTER.search(value):
            raise self.error("a text holds half a character (a \\u sequence without its other half)", end - self.at)
        self.at = end
        return str(value)

    def closes_at_once(self, group: Node) -> bool:
        self.blank()
        if self.text[self.at : self.at + 1] != ("}" if isinstance(group.value, dict) else "]"):
            return False
        self.at += 1
        group.end = self.at
        return True

    def goes_on(self, group: Node) -> bool:
        """Past the comma, or past the bracket that closes the group."""
        self.blank()
        closing = "}" if isinstance(group.value, dict) else "]"
        found = self.text[self.at : self.at + 1]
        if found == ",":
            self.at += 1
            return True
        if found != closing:
            raise self.error(f"a comma or {closing} is expected" + (f"; found {found!r}" if found else ""))
        self.at += 1
        group.end = self.at
        return False

    def key(self, group: Node) -> Node:
        self.blank()
        start = self.at
        if self.text[start : start + 1] != '"':
            raise self.error("a key in double quotes is expected")
        key = Node(self.string(), start, self.at)
        if key.value in group.value:
            raise DocumentError("duplicate-key", f"the key {key.value[:40]!r} stands here twice", key.span)
        self.blank()
        if self.text[self.at : self.at + 1] != ":":
            raise self.error("a colon is expected after a key")
        self.at += 1
        return key
