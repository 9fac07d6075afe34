"""Conventions in the form that runs: JSON made from the YAML that people edit, kept true to it by a content hash."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

# The layout of the compiled form; a change of layout makes every compiled file stale.
LAYOUT = 3


def content_hash(data: bytes) -> str:
    """The hash that ties a compiled form to the YAML it was made from."""
    from hashlib import sha256

    return f"{LAYOUT}:{sha256(data).hexdigest()}"


def load_document(path: Path) -> dict[str, Any]:
    """The convention document at ``path``, from its compiled form where that is still true.

    Raises ConventionError with the place for YAML that is malformed or breaks the contract.
    """
    data = path.read_bytes()
    compiled = path.with_suffix(".json")
    try:
        stored = json.loads(compiled.read_bytes())
        if stored["hash"] == content_hash(data):
            document: dict[str, Any] = stored["convention"]
            return document
    except (OSError, ValueError, KeyError, TypeError):
        pass
    from larkshead.conventions.source import parse_convention

    return parse_convention(data, path)


def compile_convention(path: Path) -> Path:
    """Write the compiled form beside the YAML and return its path."""
    from larkshead.conventions.source import parse_convention

    data = path.read_bytes()
    compiled = path.with_suffix(".json")
    body = {"hash": content_hash(data), "convention": parse_convention(data, path)}
    compiled.write_text(json.dumps(body, ensure_ascii=False, separators=(",", ":")) + "\n", "utf-8")
    return compiled
