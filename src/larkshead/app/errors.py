"""What stops a whole run or a whole file."""

from __future__ import annotations


class CannotRun(Exception):
    """Something that leaves nothing to work with: said in one message, in the user's terms.

    ``file`` is the input concerned, where there is one; ``kind`` a slug for machines.
    """

    def __init__(self, message: str, file: str | None = None, kind: str = "cannot-run") -> None:
        super().__init__(message)
        self.message = message
        self.file = file
        self.kind = kind


def choice(what: str, asked: str, known: list[str]) -> str:
    """The message for a name that is not known, with the ones that are and the likeliest slip."""
    from difflib import get_close_matches

    close = get_close_matches(asked.lower(), known, 1, 0.6)
    meant = f"; did you mean {close[0]}?" if close else "."
    return f"there is no {what} {asked!r} (known: {', '.join(known) or 'none'}){meant}"
