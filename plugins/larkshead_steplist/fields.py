"""Fields of a remark or a heading: ``main; key: value; flag; free words``.

Values stand as they are; one that holds a mark of the notation, or begins or ends with a blank, is a JSON string.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable

from larkshead.model import Length, parse_length
from larkshead.model.placewords import quoted_json

_FIELD = re.compile(r'\s*(?:([a-z]+(?: [a-z]+)*|[pj]\d{1,6}): ?)?("(?:[^"\\]|\\.)*"(?=\s*(?:;|$))|[^;]*)(?:;|$)')
_UNSAFE = re.compile(r"[;\x00-\x1f\x7f-\x9f\u2028\u2029]")


class Fields:
    """Fields as read: ``main`` the first when it has no key, ``quoted`` whether it was quoted, ``rest`` free words."""

    __slots__ = ("flags", "main", "quoted", "rest", "values")

    def __init__(self) -> None:
        self.main: str | None = None
        self.quoted = False
        self.values: dict[str, str] = {}
        self.flags: set[str] = set()
        self.rest: list[str] = []


def read_fields(text: str, is_key: Callable[[str], bool], flags: frozenset[str] = frozenset()) -> Fields:
    """The fields of a text; only what ``is_key`` knows is a key, only what ``flags`` holds a flag."""
    made = Fields()
    at = 0
    while at < len(text):
        found = _FIELD.match(text, at)
        if found is None or found.end() == at:
            break
        key, value = found.group(1), found.group(2).strip()
        at = found.end()
        quoted = value.startswith('"') and value.endswith('"') and len(value) > 1
        if key is not None and is_key(key) and key not in made.values:
            made.values[key] = unquoted(value)
            continue
        if key is not None:
            value, quoted = found.group().rstrip(";").strip(), False
        if not value:
            continue
        if value in flags:
            made.flags.add(value)
        elif made.main is None and not made.values and not made.flags and not made.rest:
            made.main, made.quoted = unquoted(value), quoted
        else:
            made.rest.append(unquoted(value))
    return made


def is_safe(text: str) -> bool:
    """Whether a value can stand without quotes."""
    return bool(text) and text == text.strip() and not text.startswith('"') and not _UNSAFE.search(text)


def quoted_if_needed(text: str) -> str:
    """A value as written."""
    return text if is_safe(text) else quoted_json(text)


def unquoted(text: str) -> str:
    """A value as read."""
    if text.startswith('"') and text.endswith('"') and len(text) > 1:
        import json

        try:
            return str(json.loads(text))
        except ValueError:
            return text
    return text


def written_fields(main: str | None, pairs: Iterable[tuple[str, str | None]]) -> str:
    """Fields as one text: ``main`` already as it is to stand, a pair with no value is a flag."""
    out = [main] if main else []
    for key, value in pairs:
        out.append(key if value is None else f"{key}: {quoted_if_needed(value)}")
    return "; ".join(out)


def written_length(length: Length) -> str:
    """``about 3mm``, ``5..10mm``, ``1/4in``."""
    return f"about {length}" if length.about else str(length)


def read_length(text: str) -> Length:
    """The length that ``written_length`` wrote; ValueError for anything else."""
    about = text.startswith("about ")
    length = parse_length(text[6:] if about else text)
    length.about = about
    return length
