"""Bundled patterns, named in place of a file: ``sample:NAME`` or ``sample:NAME.STYLE``."""

from __future__ import annotations

import importlib
import os

from larkshead.app.errors import CannotRun, choice
from larkshead.host.registry import Registry


def find_sample(registry: Registry, name: str) -> tuple[str, str]:
    """The file that holds a sample, and its style; CannotRun for one that is not there."""
    asked, _, style = name.removeprefix("sample:").partition(".")
    found = registry.samples.get(asked)
    if found is None:
        raise CannotRun(choice("sample", asked, sorted(registry.samples)), name, "unknown-sample")
    files = dict(found.spec.files)
    if style and style not in files:
        raise CannotRun(choice(f"style of the sample {asked}", style, list(files)), name, "unknown-sample")
    package = importlib.import_module(found.spec.package)
    style = style or next(iter(files))
    return os.path.join(os.path.dirname(package.__file__ or ""), files[style]), style
