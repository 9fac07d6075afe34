"""Reads native YAML and JSON: text into a document, the document into a pattern, each fault at its line and column."""

from __future__ import annotations

from collections.abc import Callable

from larkshead.model import Element, Pattern
from larkshead.model.plain import Path, pattern_from_plain
from larkshead.reading.notices import Notice
from larkshead.reading.origins import Origins
from larkshead.reading.reading import Reading
from larkshead.reading.source import Source
from larkshead_native.document import DocumentError, Node

_MOST_NOTICES = 200


def read_yaml(source: Source, convention: object | None = None) -> Reading:
    """The pattern that native YAML holds. Never raises on content: what it cannot read it reports."""
    from larkshead_native.yaml_document import parse_yaml

    return _read(source, "native", parse_yaml)


def read_json(source: Source, convention: object | None = None) -> Reading:
    """The pattern that native JSON holds. Never raises on content: what it cannot read it reports."""
    from larkshead_native.json_document import parse_json

    return _read(source, "json", parse_json)


def _read(source: Source, style: str, parse: Callable[[str], Node]) -> Reading:
    reading = Reading(source, Pattern(), style=style)
    try:
        document = parse(source.text)
    except DocumentError as fault:
        reading.notices.append(Notice(fault.kind, "error", fault.message, fault.span))
        return reading
    reading.pattern = read_document(document, reading.origins, reading.notices)
    return reading


def read_document(document: Node, origins: Origins, notices: list[Notice]) -> Pattern:
    """The pattern of a document; what is wrong with it goes to the notices, where things stand to the origins."""
    unsaid = 0

    def fault(path: Path, message: str) -> None:
        nonlocal unsaid
        if len(notices) < _MOST_NOTICES:
            notices.append(Notice("not-a-pattern", "error", message, document.at(path).span))
        else:
            unsaid += 1

    def note(thing: object, path: Path, work_path: Path | None) -> None:
        items = None
        if work_path is not None and isinstance(thing, Element):
            spans = [node.span for node in document.at(work_path).children()]
            # Items that could not be read leave no item behind, so the rest cannot be told apart by number.
            items = spans if len(spans) == len(thing.work) else None
        origins.record(thing, document.at(path).span, items)

    pattern = pattern_from_plain(document.plain(), note, fault)
    if unsaid:
        notices.append(Notice("not-a-pattern", "error", f"{unsaid} more faults are not listed"))
    return pattern
