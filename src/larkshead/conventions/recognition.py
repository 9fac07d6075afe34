"""Telling one convention from another by the words a text is told in."""

from __future__ import annotations

import os
import re

from larkshead.conventions.compiled import load_document

# How many words for a convention it takes to believe them wholly.
_ENOUGH = 4


def recognise(path: str | os.PathLike[str], text: str) -> float:
    """How much the words of ``text`` speak for the convention in the file ``path``: 0 not at all, 1 all of them.

    The convention names the words under ``recognised``, those that speak for it and those against; each is counted as often as
    it stands in the text.
    """
    words: dict[str, list[str]] = load_document(path).get("recognised", {})
    lowered = " ".join(text.lower().split())
    told = _hits(words.get("for", ()), lowered)
    denied = _hits(words.get("against", ()), lowered)
    if not told:
        return 0.0
    return told / (told + denied) * min(1.0, told / _ENOUGH)


def _hits(phrases: list[str] | tuple[str, ...], text: str) -> int:
    if not phrases:
        return 0
    forms = sorted((_form(phrase) for phrase in phrases), key=len, reverse=True)
    return sum(1 for _ in re.finditer("|".join(forms), text))


def _form(phrase: str) -> str:
    start = r"(?<!\w)" if phrase[0].isalnum() else ""
    end = r"(?!\w)" if phrase[-1].isalnum() else ""
    return start + re.escape(phrase) + end
