"""Recognising the style and the convention of a text when nobody says which they are."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

from larkshead.app.errors import CannotRun
from larkshead.reading import Notice, Source

if TYPE_CHECKING:
    from larkshead.app.workbench import Workbench

# What a fitting file name adds to how sure a recogniser is, and how sure one must be at least.
_SUFFIX_BONUS = 0.3
_LEAST = 0.15
# How sure a recogniser must be before a text is read by another convention than the usual one.
_BELIEVED = 0.75
# A text is recognised by its beginning; no recogniser needs more.
_ENOUGH = 40_000


def choose_style(bench: Workbench, source: Source) -> tuple[str, list[Notice]]:
    """The likeliest style of a text and the notice that says so; CannotRun where nothing fits."""
    suffix = os.path.splitext(source.name)[1].lower()
    head = source if len(source.text) <= _ENOUGH else Source(source.text[:_ENOUGH], source.name)
    ranking: list[tuple[float, str]] = []
    readable = {name: p for name, p in bench.registry.notations.items() if p.spec.reader is not None}
    owners = [name for name, provided in readable.items() if suffix in provided.spec.suffixes]
    if len(owners) == 1 and not readable[owners[0]].spec.worded:
        return owners[0], []
    for name, provided in readable.items():
        owns = name in owners
        score = 0.5 if owners == [name] else 0.0
        if provided.spec.recogniser is not None:
            try:
                score = float(bench.body(provided, provided.spec.recogniser)(head))
            except Exception:
                # A recogniser that fails recognises nothing; if its style is asked for, the reader will tell.
                score = 0.0
        ranking.append((score + (_SUFFIX_BONUS if owns and score > 0.1 else 0.0), name))
    best = max(ranking, key=lambda entry: entry[0], default=None)
    if best is None or best[0] < _LEAST:
        raise CannotRun(
            "what style this is written in cannot be told; say it with --from", source.name, "unknown-style"
        )
    if owners == [best[1]]:
        # The file's name says it already.
        return best[1], []
    return best[1], [Notice("style-recognised", "note", f"read as {best[1]}; say --from if it is another style")]


def choose_convention(bench: Workbench, source: Source) -> tuple[str, list[Notice]]:
    """The likeliest convention of a text, and the notice that says so where it is not the usual one."""
    usual = bench.usual_convention()
    head = source if len(source.text) <= _ENOUGH else Source(source.text[:_ENOUGH], source.name)
    scores: dict[str, float] = {}
    for name, provided in bench.registry.conventions.items():
        if provided.spec.recogniser is not None:
            try:
                scores[name] = float(bench.body(provided, provided.spec.recogniser)(head))
            except Exception:
                scores[name] = 0.0
    scores.setdefault(usual, _BELIEVED)
    best = max(scores, key=lambda name: (scores[name], name == usual), default=usual)
    if best == usual:
        return best, []
    title = bench.registry.conventions[best].spec.summary
    return best, [Notice("convention-recognised", "note", f"read as {best} ({title}); say --read-as if it is another")]
