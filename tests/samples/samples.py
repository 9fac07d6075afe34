"""Shared by the tests of the bundled samples: reading one in one of its forms."""

from __future__ import annotations

from functools import lru_cache

from larkshead_samples import names, path

from larkshead.app.workbench import Workbench
from larkshead.reading import Reading, Source

NAMES = names()
FORMS = ("shorthand", "prose", "table", "native")
SOUND = [name for name in NAMES if name != "turnstile"]


@lru_cache(maxsize=1)
def bench() -> Workbench:
    """One workbench for all tests."""
    return Workbench()


def text(name: str, form: str) -> str:
    """The text of a sample."""
    return path(name, form).read_text(encoding="utf-8")


@lru_cache(maxsize=64)
def read(name: str, form: str) -> Reading:
    """A sample as read in its own form."""
    return bench().read(Source(text(name, form), path(name, form).name), form, "en")
