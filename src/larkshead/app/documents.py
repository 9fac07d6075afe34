"""Files that hold the text of a pattern among other things: web pages, word-processor documents."""

from __future__ import annotations

import os

from larkshead.app.errors import CannotRun
from larkshead.host.registry import PluginFailure, Provided, Registry, describe
from larkshead.host.specs import DocumentSpec
from larkshead.reading import Notice

# What every kind of document begins with that is known so far; texts seldom do, and no plugin is asked about them.
_BEGINNINGS = (b"PK", b"<", b"\xef\xbb\xbf<", b"{")


def document_text(registry: Registry, data: bytes, name: str, most: int) -> tuple[str, Notice] | None:
    """The text in a document and the notice that says so; None for what is no document that a plugin knows.

    ``most`` is how many bytes it may unpack to. Raises CannotRun for one that is damaged, that holds no text, or that
    needs a library which is not installed.
    """
    suffix = os.path.splitext(name)[1].lower()
    if not data.lstrip()[:4].startswith(_BEGINNINGS):
        return None
    for provided in sorted(registry.documents.values(), key=lambda known: suffix not in known.spec.suffixes):
        try:
            known = bool(provided.load(provided.spec.recogniser)(data))
        except Exception:
            # One that fails knows nothing; the file is then read as the text it may be.
            known = False
        if known:
            return _extracted(provided, data, name, most)
    return None


def _extracted(provided: Provided[DocumentSpec], data: bytes, name: str, most: int) -> tuple[str, Notice]:
    spec = provided.spec
    try:
        extract = provided.load(spec.extractor)
    except PluginFailure as failure:
        if isinstance(failure.__cause__, ImportError) and spec.extra:
            needed = f"{provided.plugin.distribution}[{spec.extra}]"
            message = f"this is a {spec.summary}; to read it, install {needed}, or save it as plain text"
            raise CannotRun(message, name, "not-text") from None
        raise CannotRun(str(failure), name, "plugin-failed") from failure
    try:
        text = str(extract(data, most))
    except ValueError as fault:
        raise CannotRun(f"this is a {spec.summary}, but {fault}", name, "not-text") from None
    except RecursionError:
        raise CannotRun(f"this {spec.summary} is nested too deep to be followed", name, "too-deep") from None
    except Exception as fault:
        raise CannotRun(
            f"{provided.plugin}: the {spec.summary} could not be read ({describe(fault)})", name, "plugin-failed"
        ) from fault
    if not text.strip():
        raise CannotRun(f"this {spec.summary} holds no text", name, "empty-file")
    told = f"the text of a {spec.summary} is read; lines and columns count in its text (--show-reading shows it)"
    return text, Notice("document-read", "note", told)
