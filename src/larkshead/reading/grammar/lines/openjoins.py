"""Joins told so far whose places are not told yet, the latest last: a place told later finds the joins it is for."""

from __future__ import annotations

from collections.abc import Callable
from itertools import islice

from larkshead.model import Join

# How many joins a place told later may look back over.
_LOOK_BACK = 2000


class OpenJoins:
    """Joins in the order told, each with its line and the element it belongs to."""

    __slots__ = ("_entries",)

    def __init__(self) -> None:
        self._entries: list[tuple[Join, int, object]] = []

    def add(self, join: Join, line: int, owner: object) -> None:
        """A join of ``owner``, told in ``line``."""
        self._entries.append((join, line, owner))

    def of(self, owner: object) -> list[Join]:
        """Those of an element just told that have no place yet, in order."""
        found: list[Join] = []
        for join, _, other in reversed(self._entries):
            if other is not owner:
                break
            if not join.places:
                found.append(join)
        return found[::-1]

    def nearest(self, line: int, places: int) -> list[Join]:
        """Those of the latest element with any; of elements before it on the same line, too, where more places are
        told.
        """
        self._drop_told()
        found: list[Join] = []
        element: object = None
        for join, its_line, owner in islice(reversed(self._entries), _LOOK_BACK):
            if element is not None and owner is not element and (len(found) >= places or its_line != line):
                break
            if join.places:
                continue
            element = owner
            found.append(join)
        return found[::-1]

    def every(self, wanted: Callable[[object], bool] | None = None) -> list[Join]:
        """All that have no place yet (of the elements wanted, among the latest), in order; all are handed over for
        good.
        """
        if wanted is not None:
            return [join for join, _, owner in self._entries[-_LOOK_BACK:] if not join.places and wanted(owner)]
        found = [join for join, _, _ in self._entries if not join.places]
        self._entries.clear()
        return found

    def _drop_told(self) -> None:
        while self._entries and self._entries[-1][0].places:
            self._entries.pop()
