"""Reading the user's files: encodings, sizes, and things that are no text at all."""

from __future__ import annotations

import os
import stat
import sys
from typing import BinaryIO

from larkshead.app.documents import document_text
from larkshead.app.errors import CannotRun
from larkshead.host.registry import Registry
from larkshead.reading import Notice, Source, Span
from larkshead.reports.printable import blank_codes, is_printable
from larkshead.settings import Limits

STDIN = "-"
_SIGNATURES = (
    (b"\x89PNG", "a picture (PNG)"),
    (b"\xff\xd8\xff", "a picture (JPEG)"),
    (b"GIF8", "a picture (GIF)"),
    (b"II*\0", "a picture (TIFF)"),
    (b"MM\0*", "a picture (TIFF)"),
    (b"BM", "a picture (BMP)"),
    (b"RIFF", "a picture or a sound (RIFF)"),
    (b"%PDF", "a PDF document"),
    (b"PK\x03\x04", "an archive or an office document (ZIP)"),
    (b"\x1f\x8b", "a compressed file (gzip)"),
    (b"\xd0\xcf\x11\xe0", "an old office document"),
    (b"{\\rtf", "a rich text document (RTF)"),
    (b"\x7fELF", "a program"),
)


def read_source(name: str, limits: Limits, registry: Registry) -> tuple[Source, list[Notice]]:
    """The text of a file (``-``: standard input) and what there is to say about how it was decoded.

    A document that a plugin in the registry knows gives the text it holds.

    Raises CannotRun for what is not there, cannot be read, is no text, is empty, or is larger than the limit.
    """
    data = _read_bytes(name, limits.file_bytes)
    if not data.strip():
        raise CannotRun("the file is empty", name, "empty-file")
    document = document_text(registry, data, name, limits.file_bytes)
    if document is None:
        text, notices = decode(data, name)
    else:
        text, notices = document[0], [document[1]]
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    if not is_printable(text):
        text, places = blank_codes(text)
        count = "a control character was" if len(places) == 1 else f"{len(places)} control characters were"
        notices.append(
            Notice("control-characters", "warning", f"{count} read as spaces", Span(places[0], places[0] + 1))
        )
    if not text.strip("\ufeff \t\n"):
        raise CannotRun("the file is empty", name, "empty-file")
    return Source(text, name), notices


def _read_bytes(name: str, limit: int) -> bytes:
    too_large = f"the file is larger than {limit:,} bytes, the limit that the settings give"
    try:
        if name == STDIN:
            data = _read_some(sys.stdin.buffer, limit)
        else:
            status = os.stat(name)
            if stat.S_ISDIR(status.st_mode):
                raise CannotRun("this is a folder, not a file", name, "unreadable-file")
            if not stat.S_ISREG(status.st_mode) and not stat.S_ISFIFO(status.st_mode):
                raise CannotRun("this is not an ordinary file", name, "unreadable-file")
            if status.st_size > limit:
                raise CannotRun(too_large, name, "file-too-large")
            with open(name, "rb") as file:
                data = _read_some(file, limit)
    except FileNotFoundError:
        raise CannotRun("there is no such file", name, "unreadable-file") from None
    except (OSError, ValueError) as fault:
        said = getattr(fault, "strerror", None) or str(fault)
        raise CannotRun(f"the file cannot be read: {said}", name, "unreadable-file") from None
    if len(data) > limit:
        raise CannotRun(too_large, name, "file-too-large")
    return data


def _read_some(file: BinaryIO, limit: int) -> bytes:
    """At most one byte more than the limit."""
    pieces: list[bytes] = []
    left = limit + 1
    while left > 0:
        piece = file.read(min(left, 1 << 20))
        if not piece:
            break
        pieces.append(piece)
        left -= len(piece)
    return b"".join(pieces)


def decode(data: bytes, name: str) -> tuple[str, list[Notice]]:
    """The text in bytes: UTF-8 or UTF-16 (told by its mark or by its zeros), else the usual Western encoding.

    Raises CannotRun for what is no text.
    """
    for mark, encoding in ((b"\xef\xbb\xbf", "utf-8"), (b"\xff\xfe\0\0", "utf-32"), (b"\0\0\xfe\xff", "utf-32")):
        if data.startswith(mark):
            return _strict(data, encoding, name).lstrip("\ufeff"), []
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return _strict(data, "utf-16", name), []
    for signature, what in _SIGNATURES:
        if data.startswith(signature) and (len(signature) > 2 or b"\0" in data):
            raise CannotRun(f"this is {what}, not the text of a pattern", name, "not-text")
    if b"\0" in data:
        return _with_zeros(data, name)
    try:
        return data.decode("utf-8"), []
    except UnicodeDecodeError as fault:
        first = fault.start
    try:
        text, encoding = data.decode("cp1252"), "Windows-1252"
    except UnicodeDecodeError:
        text, encoding = data.decode("latin-1"), "Latin-1"
    strange = sum(c < 9 or 13 < c < 32 for c in data[:4096])
    if strange > len(data[:4096]) // 20:
        raise CannotRun("this is not the text of a pattern but something for machines", name, "not-text")
    message = f"the file is not UTF-8; it was read as {encoding} (look at {text[first]!r} here)"
    return text, [Notice("encoding-guessed", "note", message, Span(first, first + 1))]


def _strict(data: bytes, encoding: str, name: str) -> str:
    try:
        return data.decode(encoding)
    except UnicodeDecodeError as fault:
        raise CannotRun(
            f"the file says it is {encoding.upper()} but is not (byte {fault.start + 1})", name, "not-text"
        ) from None


def _with_zeros(data: bytes, name: str) -> tuple[str, list[Notice]]:
    """Text with zero bytes: UTF-16 without its mark, or no text."""
    head = data[:4096]
    for start, encoding in ((1, "utf-16-le"), (0, "utf-16-be")):
        if head[start::2].count(0) > 0.6 * len(head) / 2 and head[1 - start :: 2].count(0) == 0:
            try:
                return data.decode(encoding), []
            except UnicodeDecodeError:
                break
    line = data.count(b"\n", 0, data.index(b"\0")) + 1
    raise CannotRun(f"this is not text: a zero byte stands in line {line}", name, "not-text")
