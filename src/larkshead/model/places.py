"""Places: what a join goes into, said the way a designer says it.

A place names a part (or none: this one), an element of it, and a spot on that element. Every name
may be relative (``previous``, ``next``); the working resolves it to one picot of one element.
"""

from __future__ import annotations

from larkshead.records import dataclass

# Spots that are no ordinary picot of an element.
SPOTS = ("picot", "base", "top", "bare thread", "between", "mock picot", "fabric", "loop", "start", "join")
# Relative names for an element or a part; a number or a label may stand instead.
RELATIVE = (
    "previous",
    "next",
    "first",
    "last",
    "same",
    "any",
    "opposite",
    "corresponding",
    "inside",
    "second previous",
)
# Relative names for a picot; a number (from 1; a negative one counts from the end) may stand instead.
PICOTS = ("first", "last", "middle", "only", "next", "same", "free", "any", "opposite", "corresponding")


@dataclass(slots=True)
class ElementRef:
    """An element named by label, by number within its part, or relatively.

    ``kind`` is one of ring, chain, split ring, ... or empty for any; ``size`` large or small where the
    text tells sizes apart; ``which`` a relative name, a number from 1, or None when ``label`` says it.
    """

    kind: str = ""
    which: str | int | None = None
    label: str | None = None
    size: str = ""


@dataclass(slots=True)
class PartRef:
    """A round, row, motif or other part, by number, name, or relatively (previous, next, first, same)."""

    kind: str = "round"
    which: str | int | None = None
    label: str | None = None


@dataclass(slots=True)
class Place:
    """Where a join, a lock join or a new thread goes. All fields empty: the text does not say."""

    spot: str = "picot"
    picot: str | int | None = None
    element: ElementRef | None = None
    part: PartRef | None = None
    size: str = ""
    words: str = ""

    @property
    def unsaid(self) -> bool:
        """True when the text names nothing: the neighbour is meant."""
        return self.spot == "picot" and self.picot is None and self.element is None and self.part is None
