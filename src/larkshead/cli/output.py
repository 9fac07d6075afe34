"""Writing results: whole or not at all, never over what is there unless told to, never outside the place asked for."""

from __future__ import annotations

import os
import re
from contextlib import suppress

from larkshead.app.errors import CannotRun

# The bytes of a file written over that are looked through for comments to keep.
_MOST_KEPT = 2_000_000
_RESERVED = re.compile(r"(con|prn|aux|nul|com\d|lpt\d)(\..*)?", re.IGNORECASE)
_UNSAFE = re.compile(r'[\x00-\x1f\x7f-\x9f/\\:*?"<>|\u200e\u200f\u202a-\u202e\u2066-\u2069]')


def safe_name(stem: str, suffix: str) -> str:
    """A file name made from a stem that cannot lead out of its folder."""
    stem = _UNSAFE.sub("_", stem).strip(" .") or "pattern"
    if _RESERVED.fullmatch(stem):
        stem += "_"
    while len((stem + suffix).encode("utf-8", "surrogateescape")) > 250:
        stem = stem[:-1]
    return stem + suffix


def standing_text(path: str) -> str | None:
    """The text of the file that is to be written over; None where there is none that can be read."""
    try:
        if not os.path.isfile(path) or os.path.getsize(path) > _MOST_KEPT:
            return None
        with open(path, encoding="utf-8") as file:
            return file.read()
    except (OSError, ValueError):
        return None


def write_file(path: str, text: str, force: bool) -> None:
    """Write a file in one go; CannotRun where it is there already (without ``force``) or cannot be written."""
    if os.path.isdir(path):
        raise CannotRun("this is a folder; name a file, or use --into for a folder", path, "cannot-write")
    if os.path.lexists(path) and not force:
        raise CannotRun("the file is there already; --force writes over it", path, "file-exists")
    folder = os.path.dirname(path) or "."
    temporary = None
    try:
        temporary = os.path.join(folder, f".larkshead-{os.getpid()}.tmp")
        with open(temporary, "x", encoding="utf-8", newline="\n") as file:
            file.write(text)
        if os.path.exists(path):
            os.chmod(temporary, os.stat(path).st_mode & 0o777)
        if force:
            os.replace(temporary, path)
        else:
            _place_new(temporary, path)
        temporary = None
    except FileExistsError:
        raise CannotRun("the file is there already; --force writes over it", path, "file-exists") from None
    except (OSError, ValueError) as fault:
        said = getattr(fault, "strerror", None) or str(fault)
        raise CannotRun(f"the file cannot be written: {said}", path, "cannot-write") from None
    finally:
        if temporary is not None:
            with suppress(OSError):
                os.unlink(temporary)


def _place_new(temporary: str, path: str) -> None:
    """Give a finished file its name, unless one has appeared there meanwhile."""
    try:
        os.link(temporary, path)
    except FileExistsError:
        raise
    except OSError:
        # No links on this file system.
        if os.path.lexists(path):
            raise FileExistsError(path) from None
        os.replace(temporary, path)
    else:
        os.unlink(temporary)


def make_folder(path: str) -> None:
    """The folder that results go into, made where it is not there."""
    try:
        os.makedirs(path, exist_ok=True)
    except OSError as fault:
        raise CannotRun(f"the folder cannot be made: {fault.strerror}", path, "cannot-write") from None
