"""No looking for garbage while objects are made by the million and none of them is thrown away."""

from __future__ import annotations

import gc


class NoCollecting:
    """Stops the collector inside a ``with``: reading, working and proofing make no garbage worth the search.

    Inside one another they do no harm; the collector goes on after the outermost, if it was on before.
    """

    __slots__ = ("_was_on",)

    def __enter__(self) -> None:
        self._was_on = gc.isenabled()
        gc.disable()

    def __exit__(self, *_: object) -> None:
        if self._was_on:
            gc.enable()
