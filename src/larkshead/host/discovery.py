"""Finding plugins: the entry points of every installed distribution in the group ``larkshead``.

The packages installed beside Python describe themselves in ``*.dist-info`` (or ``*.egg-info``) folders. Reading only
the one file that names entry points, and only where it speaks of this group, costs a fraction of what the general
machinery of the standard library does; a test holds the two answers together.
"""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Iterable, Iterator
from typing import NamedTuple

GROUP = "larkshead"
_HEADING = b"[larkshead]"
_FOLDER = re.compile(r"(?P<name>.+?)(?:-(?P<version>\d[^-]*))?(?:-py[\d.]+)?\.(?:dist|egg)-info", re.IGNORECASE)


class EntryPoint(NamedTuple):
    """One plugin as its distribution names it: ``target`` is the module to import."""

    name: str
    target: str
    distribution: str
    version: str


def discover(paths: Iterable[str] | None = None) -> list[EntryPoint]:
    """Every entry point of the group on ``paths`` (``sys.path`` when None), larkshead's own first, then by name.

    A distribution found twice counts where it stands first, as it does for Python's own import.
    """
    seen: set[str] = set()
    found: list[EntryPoint] = []
    for folder in dict.fromkeys(sys.path if paths is None else paths):
        for directory in _metadata_folders(folder or "."):
            described = _describe(directory)
            if described is None:
                continue
            name, version = described
            key = re.sub(r"[-_.]+", "-", name).lower()
            if key in seen:
                continue
            seen.add(key)
            content = _entry_points(directory)
            found += [EntryPoint(entry, target, name, version) for entry, target in content]
    return sorted(found, key=lambda e: (e.distribution != GROUP, e.distribution.lower(), e.name))


def _metadata_folders(folder: str) -> list[str]:
    """Folders of metadata in one entry of the path, in a stable order."""
    try:
        names = os.listdir(folder)
    except OSError:
        return []
    return [os.path.join(folder, n) for n in sorted(names) if n.lower().endswith((".dist-info", ".egg-info"))]


def _describe(directory: str) -> tuple[str, str] | None:
    """Name and version of a distribution, from the folder's name or else from its metadata."""
    parts = _FOLDER.fullmatch(os.path.basename(directory))
    if parts is None:
        return None
    name, version = parts["name"], parts["version"]
    if version is None:
        version = _header(directory, "Version") or "?"
    return name.replace("_", "-"), version


def _header(directory: str, key: str) -> str | None:
    """One header of a distribution's metadata."""
    for name in ("METADATA", "PKG-INFO"):
        try:
            with open(os.path.join(directory, name), encoding="utf-8", errors="replace") as file:
                for line in file:
                    if not line.strip():
                        break
                    if line.startswith(key + ":"):
                        return line.partition(":")[2].strip()
        except OSError:
            continue
    return None


def _entry_points(directory: str) -> Iterator[tuple[str, str]]:
    """Names and targets in the group, from one ``entry_points.txt``."""
    try:
        with open(os.path.join(directory, "entry_points.txt"), "rb") as file:
            content = file.read()
    except OSError:
        return
    if _HEADING not in content:
        return
    inside = False
    for line in content.decode("utf-8", "replace").splitlines():
        line = line.strip()
        if line.startswith("["):
            inside = line == f"[{GROUP}]"
        elif inside and "=" in line and not line.startswith(("#", ";")):
            name, _, target = line.partition("=")
            # An entry point may ask for extras in brackets; they are of no use at run time.
            yield name.strip(), target.partition("[")[0].strip()
