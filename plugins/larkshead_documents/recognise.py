"""Knowing documents by what is in them, whatever the file is called. Sources: ECMA-376 part 2 (office documents are ZIP
archives with a ``word/document.xml``), OASIS OpenDocument 1.3 part 2 (the first entry, ``mimetype``, says what it is), the
HTML standard of the WHATWG.
"""

from __future__ import annotations

import re
import zipfile
from io import BytesIO

_ZIP = b"PK\x03\x04"
# A page begins with its doctype or an element; patterns put counts in such brackets, never the name of an element.
_PAGE = re.compile(
    rb"\A(?:\xef\xbb\xbf)?\s*(?:<!--.*?-->\s*)?<(?:!doctype\s+html|\?xml[^>]*>\s*<!doctype\s+html|html|head|body|article|main|section"
    rb"|div|table|h[1-6]|p|ul|ol)\b",
    re.IGNORECASE | re.DOTALL,
)
_CLOSED = re.compile(rb"</(?:html|body|article|main|section|div|table|h[1-6]|p|ul|ol)\s*>", re.IGNORECASE)
_BEGINNING = 4096


def is_web_page(data: bytes) -> bool:
    """True when the bytes begin as a web page does and close an element."""
    return _PAGE.match(data[:_BEGINNING]) is not None and _CLOSED.search(data) is not None


def is_word(data: bytes) -> bool:
    """True for the archive of a Word document."""
    return "word/document.xml" in _names(data)


def is_opendocument(data: bytes) -> bool:
    """True for the archive of an OpenDocument text."""
    return data[:4] == _ZIP and b"mimetypeapplication/vnd.oasis.opendocument.text" in data[:120]


def _names(data: bytes) -> list[str]:
    if data[:4] != _ZIP:
        return []
    try:
        with zipfile.ZipFile(BytesIO(data)) as archive:
            return archive.namelist()
    except (zipfile.BadZipFile, ValueError, OSError):
        return []
