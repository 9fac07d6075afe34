"""Bundled patterns of our own design, each in several notations: ``patterns/NAME/NAME.prose.txt`` and so on.

``windflower`` (one shuttle, two rounds, climbs by mock picots and a split ring), ``millstream`` (shuttle and ball, as
long as wanted), ``harebell`` (two shuttles, thrown rings), ``hopscotch`` (squares joined to each other), ``rowan``
(beads) and ``turnstile`` (a text with slips in it, for trying the proofing).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from larkshead.host.hookspecs import hookimpl
from larkshead.host.specs import SampleSpec

if TYPE_CHECKING:
    from pathlib import Path

_SUMMARIES = {
    "windflower": "six-fold motif for one shuttle, two rounds round a centre ring without a cut",
    "millstream": "edging for shuttle and ball, as long as wanted",
    "harebell": "wreath for two shuttles with a ring thrown off every chain",
    "hopscotch": "square motif joined to its neighbour at two picots",
    "rowan": "bracelet with beads on every chain",
    "turnstile": "hexagon whose text has slips in it, for trying the proofing",
}
_SUFFIXES = {"shorthand": ".shorthand.txt", "prose": ".prose.txt", "table": ".table.md", "native": ".yaml"}


@hookimpl
def larkshead_samples() -> list[SampleSpec]:
    """The samples, each in every form."""
    return [
        SampleSpec(
            name,
            summary,
            "larkshead_samples",
            tuple((form, f"patterns/{name}/{name}{suffix}") for form, suffix in _SUFFIXES.items()),
        )
        for name, summary in _SUMMARIES.items()
    ]


def names() -> list[str]:
    """The names of the samples."""
    return list(_SUMMARIES)


def path(name: str, form: str) -> Path:
    """The file of a sample in a form (shorthand, prose, table, native); KeyError for one that is not there."""
    from importlib.resources import files
    from pathlib import Path

    if name not in _SUMMARIES:
        raise KeyError(name)
    return Path(str(files("larkshead_samples"))) / "patterns" / name / f"{name}{_SUFFIXES[form]}"
