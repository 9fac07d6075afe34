"""No looking for garbage while objects are made by the million and none of them is thrown away."""

from __future__ import annotations

import gc

# Objects laid by unsearched before a search through all there is.
_MOST = 500_000


class NoCollecting:
    """Stops the collector inside a ``with``: reading, working and proofing make no garbage worth the search.

    Inside one another they do no harm; the collector goes on after the outermost, if it was on before. What was made
    inside is then in use, and a search through it would be in vain: it is laid by with what lives long. What is thrown
    away later is found by a search through everything, made before the next ``with`` once half a million have come together.
    """

    __slots__ = ("_was_on",)
    # Objects laid by since the last such search.
    _laid_by = 0

    def __enter__(self) -> None:
        self._was_on = gc.isenabled()
        if self._was_on and NoCollecting._laid_by > _MOST:
            NoCollecting._laid_by = 0
            gc.collect()
        gc.disable()

    def __exit__(self, *_: object) -> None:
        if not self._was_on:
            return
        # Objects frozen by whoever else runs in this process stay so.
        if not gc.get_freeze_count():
            NoCollecting._laid_by += gc.get_count()[0]
            gc.freeze()
            gc.unfreeze()
        gc.enable()
