"""What plugins register: frozen specs whose bodies load only when used.

A target is ``module:attribute``; it is imported the first time it is needed.
"""

from __future__ import annotations

import importlib
from typing import Any

from larkshead.records import dataclass

API_VERSION = 1


def load_target(target: str) -> Any:
    """The object a target names; ImportError or AttributeError where it is not there."""
    module, _, attribute = target.partition(":")
    return getattr(importlib.import_module(module), attribute)


@dataclass(frozen=True, slots=True)
class NotationSpec:
    """A notation.

    ``reader``: ``read(source, convention) -> Reading``; ``writer``: ``write(pattern, convention) -> Written``;
    ``recogniser``: ``recognise(source) -> float`` (0 no, 1 certainly); ``rewriter``: ``rewrite(text, pattern) -> str``,
    the pattern in the shape of a text of this style, which keeps its comments. ``suffixes`` are the file names it owns, the
    first one given to files it writes. ``name`` is what ``--from`` and ``--to`` take. ``worded`` is False for a
    notation that is the same in every language: it is then given a convention without vocabulary.
    """

    name: str
    summary: str
    suffixes: tuple[str, ...] = ()
    reader: str | None = None
    writer: str | None = None
    recogniser: str | None = None
    rewriter: str | None = None
    worded: bool = True


@dataclass(frozen=True, slots=True)
class ConventionSpec:
    """A convention: a YAML file ``resource`` in package ``package``, with its compiled form beside it.

    ``recogniser``: ``recognise(source) -> float`` (0 no, 1 certainly).
    """

    name: str
    summary: str
    package: str
    resource: str
    recogniser: str | None = None


@dataclass(frozen=True, slots=True)
class RuleSpec:
    """A rule: ``check(context) -> Iterator[Finding]`` whose docstring states and shows the defect."""

    name: str
    severity: str
    summary: str
    target: str


@dataclass(frozen=True, slots=True)
class ReportSpec:
    """A report of findings: ``render(readings_with_findings) -> str``. ``name`` is what ``--format`` takes."""

    name: str
    summary: str
    target: str


@dataclass(frozen=True, slots=True)
class SampleSpec:
    """A bundled pattern: ``files`` pairs each style with the file in ``package`` that holds the pattern in it.

    It may be named wherever a file may, as ``sample:NAME`` or ``sample:NAME.STYLE``; the first style is the usual one.
    """

    name: str
    summary: str
    package: str
    files: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class DocumentSpec:
    """A kind of file that holds text among other things, such as a web page; ``summary`` is what people call it.

    ``recogniser``: ``recognise(data: bytes) -> bool``; ``extractor``: ``text_of(data: bytes, most: int) -> str``, a
    paragraph a line, tables as rows of cells; ValueError for a file that is damaged or unpacks to more than ``most``
    bytes. ``extra`` is the extra of the plugin's distribution that brings what the extractor imports, if any.
    """

    name: str
    summary: str
    suffixes: tuple[str, ...]
    recogniser: str
    extractor: str
    extra: str = ""
