"""For whoever writes a plugin: reading texts in tests as the command line reads them."""

from __future__ import annotations

from collections.abc import Callable

from larkshead.app.workbench import Workbench
from larkshead.reading import Reading, Source


def reader(convention: str | None = None) -> Callable[[str, str], Reading]:
    """``read(text, notation)`` for ``larkshead.linting.testing``, with the installed notations.

    ``convention`` is the one texts are read with, the usual one when None. CannotRun for a notation or convention that
    is not there.
    """
    bench = Workbench()

    def read(text: str, notation: str) -> Reading:
        return bench.read(Source(text, f"example in {notation}"), notation, convention or bench.usual_convention())

    return read
