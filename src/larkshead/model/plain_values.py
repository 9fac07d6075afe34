"""Single values of plain data, each checked: texts, numbers, lengths, places. A fault costs its own value only."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from larkshead.model.lengths import Length, parse_length
from larkshead.model.places import Place
from larkshead.model.placewords import words_to_place

# The keys and indices that lead to a value from the top of the data.
Path = tuple[str | int, ...]


class Key(str):
    """The last step of a path that leads to a key itself and not to its value."""

    __slots__ = ()


class Missing:
    """Stands for a value that was faulty and has been reported."""


MISSING = Missing()
_MOST = 10**9


def shown(value: Any) -> str:
    """A value as a fault names it, short."""
    if value is None:
        return "nothing"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, dict):
        keys = ", ".join(str(key)[:20] for key in list(value)[:3])
        return f"a group of keys ({keys})" if keys else "an empty group"
    if isinstance(value, list):
        return f"a list of {len(value)}" if value else "an empty list"
    text = repr(value)
    return text if len(text) <= 44 else f"{text[:40]}...'"


class Values:
    """Checks of single values; ``fault`` is told the path and the message of each fault."""

    def __init__(self, fault: Callable[[Path, str], None]) -> None:
        self.fault = fault

    def wrong(self, path: Path, expected: str, value: Any) -> None:
        """Report a value that is not what is expected."""
        self.fault(path, f"{expected}; found {shown(value)}")

    def text(self, value: Any, path: Path, what: str = "") -> str:
        """A text; a whole number stands for its digits."""
        if isinstance(value, str):
            return value
        if isinstance(value, int) and not isinstance(value, bool) and abs(value) < 10**15:
            return str(value)
        self.wrong(path, f"{what or path[-1]} is a text", value)
        return ""

    def texts(self, value: Any, path: Path, what: str = "") -> list[str]:
        """A list of texts."""
        if not isinstance(value, list):
            self.wrong(path, f"{what or path[-1]} is a list of texts", value)
            return []
        return [self.text(one, (*path, at), f"each of {path[-1]}") for at, one in enumerate(value)]

    def whole(self, value: Any, path: Path, what: str, least: int = 0) -> int | None:
        """A whole number from ``least`` up; None where it is none."""
        if isinstance(value, float) and value.is_integer():
            value = int(value)
        if isinstance(value, int) and not isinstance(value, bool) and least <= value <= _MOST:
            return value
        self.wrong(path, f"{what} is a whole number from {least}", value)
        return None

    def yes(self, value: Any, path: Path, what: str) -> bool:
        """True or false."""
        if not isinstance(value, bool):
            self.wrong(path, f"{what} is true or false", value)
        return value is True

    def one_of(self, value: Any, path: Path, what: str, names: Mapping[str, Any]) -> Any:
        """What one of the names stands for; MISSING where it is none of them."""
        if isinstance(value, str) and value in names:
            return names[value]
        self.wrong(path, f"{what} is {' or '.join(names)}", value)
        return MISSING

    def length(self, value: Any, path: Path, what: str) -> Length | None:
        """A length: ``3 mm``, ``about 1/4 in``, ``5..10 mm``; a bare number has no unit."""
        if isinstance(value, (int, float)) and not isinstance(value, bool) and 0 <= value < _MOST:
            return Length(f"{value:g}" if isinstance(value, float) else str(value), "")
        if isinstance(value, str):
            about = value.startswith("about ")
            try:
                length = parse_length(value.removeprefix("about "))
            except ValueError:
                pass
            else:
                length.about = about
                return length
        self.wrong(path, f"{what} is a length such as 3 mm, 1/4 in or 5..10 mm", value)
        return None

    def places(self, value: Any, path: Path, what: str) -> list[Place]:
        """Where a join goes: a place in words, several in a list, none where it is left empty."""
        if value is None:
            return []
        if not isinstance(value, list):
            return self.place(value, path, what)
        return [place for at, one in enumerate(value) for place in self.place(one, (*path, at), what)]

    def place(self, value: Any, path: Path, what: str) -> list[Place]:
        """One place in words; kept as its words where they are not understood."""
        if not isinstance(value, str):
            self.wrong(path, f"{what} goes to a place in words, such as previous ring, last picot", value)
            return []
        try:
            return [words_to_place(value)]
        except ValueError as problem:
            self.fault(path, f"the place {shown(value)} is not understood: {problem}")
            return [Place(words=value)]

    def known_keys(self, data: dict[Any, Any], path: Path, what: str, known: tuple[str, ...]) -> None:
        """Report every key that does not belong."""
        for key in data:
            if key not in known:
                self.fault((*path, Key(key)), f"{what} may have {_listed(known)}; found {shown(key)}")


def _listed(names: tuple[str, ...]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
