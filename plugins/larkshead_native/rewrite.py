"""Native YAML written anew over the user's own file: what stays the same keeps its words, its order and its comments.

The new text is the old one with the stretches replaced that say something else now. Groups are compared key by key,
lists item by item, in the plain data of the two patterns; so a value that is written in another way but means the same
is left as it stands.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from difflib import SequenceMatcher
from typing import Any

from larkshead.model import Pattern
from larkshead.model.plain import pattern_to_plain
from larkshead.reading.notices import Notice
from larkshead.reading.origins import Origins
from larkshead_native import yaml_writer
from larkshead_native.document import DocumentError, Node
from larkshead_native.reader import read_document
from larkshead_native.yaml_document import parse_yaml


def rewrite(source_text: str, pattern: Pattern) -> str:
    """The YAML of a pattern in the shape of ``source_text``; written afresh where that is no native YAML."""
    fresh = yaml_writer.write(pattern).text
    try:
        document = parse_yaml(source_text)
    except DocumentError:
        return fresh
    notices: list[Notice] = []
    before = read_document(document, Origins(), notices)
    if notices or not isinstance(document.value, dict) or document.flow:
        return fresh
    if before == pattern:
        return source_text
    old, new = (_as_parts(pattern_to_plain(one), "parts" in document.value) for one in (before, pattern))
    edits = _Edits(source_text)
    if not edits.fits(document, old):
        return fresh
    edits.group(document, old, new)
    text = edits.result()
    try:
        after = read_document(parse_yaml(text), Origins(), notices)
    except DocumentError:
        return fresh
    return text if after == pattern and not notices else fresh


def _as_parts(plain: dict[str, Any], wanted: bool) -> dict[str, Any]:
    """The plain data with its steps in a part, where the file has them so."""
    if wanted and "steps" in plain:
        plain["parts"] = [{"steps": plain.pop("steps")}]
    return plain


class _Edits:
    """Replacements of stretches of a text."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.edits: list[tuple[int, int, str]] = []

    def result(self) -> str:
        out = []
        at = 0
        for start, end, new in sorted(self.edits, key=lambda edit: (edit[0], edit[1])):
            out.append(self.text[at:start])
            out.append(new)
            at = max(at, end)
        return "".join([*out, self.text[at:]])

    # Places in the text

    def margin(self, at: int) -> str:
        """The blanks that what begins at an offset stands after, a dash counting as one."""
        return " " * (at - self.line_start(at))

    def line_start(self, at: int) -> int:
        return self.text.rfind("\n", 0, at) + 1

    def line_end(self, at: int) -> int:
        """Past the end of the line."""
        end = self.text.find("\n", at)
        return len(self.text) if end < 0 else end + 1

    # Values

    def group(self, node: Node, old: dict[str, Any], new: dict[str, Any]) -> None:
        """Change an indented group of keys to say ``new``."""
        pairs = {str(key): pair for key, pair in node.value.items()}
        indent = self.margin(node.start)
        for key in old:
            if key not in new:
                self.drop(pairs[key][0], pairs[key][1])
        last: Node | None = None
        added: list[str] = []
        for key, value in new.items():
            if key not in pairs:
                added += yaml_writer.pair_lines(key, value, indent)
                continue
            if added:
                self.insert_before(pairs[key][0], added)
                added = []
            if key not in old or value != old[key]:
                self.value(key, pairs[key], old.get(key), value, indent)
            last = pairs[key][1]
        if added:
            self.insert_after(last or node, added)

    def value(self, key: str, pair: tuple[Node, Node], old: Any, new: Any, indent: str) -> None:
        node = pair[1]
        if not node.flow and isinstance(old, list) and isinstance(new, list) and new:
            self.items(node, old, new)
        elif isinstance(old, dict) and isinstance(new, dict) and self.fits(node, old, new):
            self.group(node, old, new)
        else:
            self.replace_value(pair, yaml_writer.pair_lines(key, new, indent), indent)

    def replace_value(self, pair: tuple[Node, Node], lines: list[str], indent: str) -> None:
        """Put new lines in the place of a key and its value; a comment after a value on one line stays there."""
        key, node = pair
        first = lines[0][len(indent) :]
        self.edits.append((key.start, max(node.end, key.end), "\n".join([first, *lines[1:]])))

    def fits(self, node: Node, old: dict[str, Any], new: dict[str, Any] | None = None) -> bool:
        """Whether a group can be changed key by key: it has the keys of its plain data, and is still the same thing."""
        return (
            isinstance(node.value, dict)
            and not node.flow
            and set(old) <= set(map(str, node.value))
            and (new is None or next(iter(old), "") == next(iter(new), ""))
        )

    def items(self, node: Node, old: list[Any], new: list[Any]) -> None:
        """Change an indented list to say ``new``."""
        nodes = node.value
        indent = self.margin(node.start)
        matcher = SequenceMatcher(None, _names(old), _names(new), autojunk=False)
        for what, start, end, new_start, new_end in matcher.get_opcodes():
            if what == "equal":
                continue
            both = min(end - start, new_end - new_start)
            for at in range(both):
                self.item(nodes[start + at], old[start + at], new[new_start + at], indent)
            for at in range(start + both, end):
                self.drop(nodes[at], nodes[at], "-")
            lines = yaml_writer.list_lines(new[new_start + both : new_end], indent)
            if lines and start + both:
                self.insert_after(nodes[start + both - 1], lines)
            elif lines:
                self.edits.append((self.line_start(nodes[0].start), self.line_start(nodes[0].start), _text(lines)))

    def item(self, node: Node, old: Any, new: Any, indent: str) -> None:
        if isinstance(old, dict) and isinstance(new, dict) and self.fits(node, old, new):
            self.group(node, old, new)
            return
        lines = yaml_writer.item_lines(new, indent)
        self.edits.append((node.start, node.end, "\n".join([lines[0][len(indent) + 2 :], *lines[1:]])))

    # Lines

    def drop(self, first: Node, last: Node, lead: str = "") -> None:
        """Take away the lines of a key and its value, or of an item."""
        start, end = self.line_start(first.start), self.line_end(max(first.end, last.end))
        if self.text[start : first.start].strip() == lead:
            self.edits.append((start, end, ""))

    def insert_before(self, node: Node, lines: list[str]) -> None:
        start = self.line_start(node.start)
        if self.text[start : node.start].strip():
            # The first key of an item, after its dash.
            indent = self.margin(node.start)
            self.edits.append((node.start, node.start, _text(lines)[len(indent) :] + indent))
        else:
            self.edits.append((start, start, _text(lines)))

    def insert_after(self, node: Node, lines: list[str]) -> None:
        end = self.line_end(node.end)
        text = _text(lines)
        if end == len(self.text) and not self.text.endswith("\n"):
            text = "\n" + text.removesuffix("\n")
        self.edits.append((end, end, text))


def _text(lines: list[str]) -> str:
    return "".join(line + "\n" for line in lines)


def _names(values: list[Any]) -> list[str]:
    """Values as texts, so that they can be matched."""
    make: Callable[[Any], str] = json.dumps
    return [make(value) for value in values]
