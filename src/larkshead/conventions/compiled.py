"""Conventions in the form that runs: JSON made from the YAML that people edit, kept true to it by a content hash."""

from __future__ import annotations

import json
import os
import zlib
from typing import Any

# The layout of the compiled form; a change of layout makes every compiled file stale.
LAYOUT = 4


def content_hash(data: bytes) -> str:
    """The hash that ties a compiled form to the YAML it was made from.

    It tells an edited file from the one that was compiled, nothing more; a cryptographic hash would cost more to load
    than the whole convention.
    """
    return f"{LAYOUT}:{len(data)}:{zlib.crc32(data):08x}"


def compiled_path(path: str | os.PathLike[str]) -> str:
    """Where the compiled form of a convention stands: beside it."""
    return os.path.splitext(path)[0] + ".json"


def load_document(path: str | os.PathLike[str]) -> dict[str, Any]:
    """The convention document at ``path``, from its compiled form where that is still true.

    Raises ConventionError with the place for YAML that is malformed or breaks the contract.
    """
    with open(path, "rb") as file:
        data = file.read()
    try:
        with open(compiled_path(path), "rb") as file:
            stored = json.loads(file.read())
        if stored["hash"] == content_hash(data):
            document: dict[str, Any] = stored["convention"]
            return document
    except (OSError, ValueError, KeyError, TypeError):
        pass
    from larkshead.conventions.source import parse_convention

    return parse_convention(data, path)


def compile_convention(path: str | os.PathLike[str]) -> str:
    """Write the compiled form beside the YAML and return its path."""
    from larkshead.conventions.source import parse_convention

    with open(path, "rb") as file:
        data = file.read()
    body = {"hash": content_hash(data), "convention": parse_convention(data, path)}
    with open(compiled_path(path), "w", encoding="utf-8", newline="\n") as file:
        file.write(json.dumps(body, ensure_ascii=False, separators=(",", ":")) + "\n")
    return compiled_path(path)
