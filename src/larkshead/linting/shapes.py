"""The shape of an element: its stitch counts and what stands between them, ready to be compared with its sisters'."""

from __future__ import annotations

from larkshead.model import Beads, Element, Halves, Join, Picot, SideChange, Stitches, Thrown
from larkshead.records import dataclass


@dataclass(slots=True)
class Shape:
    """An element's work as counts and marks.

    ``counts`` are the double stitches between the marks, one more than there are marks. A mark is one or more letters:
    ``p`` picot, ``j`` join, ``b`` bead, ``/`` side change, ``t`` thrown element; marks with no stitch between them are
    one mark. ``items`` are the places of the marks in the work. A join or lock join that only fastens the end of a
    chain (no stitch after it) is no mark; ``fastened`` is its index in the work, else -1. ``alike`` are the marks with
    picots and joins taken as the same.
    """

    counts: tuple[int, ...]
    marks: tuple[str, ...]
    items: tuple[int, ...]
    fastened: int = -1
    halves: int = 0
    beads: tuple[int, ...] = ()
    alike: tuple[str, ...] = ()

    @property
    def ds(self) -> int:
        """Whole double stitches."""
        return sum(self.counts)

    @property
    def pattern(self) -> tuple[tuple[int, ...], tuple[str, ...]]:
        """Counts and marks with picots and joins alike: equal for elements that are the same but for their joins."""
        return self.counts, self.alike

    @property
    def mirrors(self) -> bool:
        """True when the counts read the same from both ends."""
        return self.counts == self.counts[::-1]

    def sides(self) -> list[int]:
        """Double stitches on each side of a split element; one number for any other."""
        totals = [self.counts[0]]
        for mark, count in zip(self.marks, self.counts[1:], strict=True):
            if "/" in mark:
                totals.append(count)
            else:
                totals[-1] += count
        return totals

    def __str__(self) -> str:
        parts = [str(self.counts[0])]
        for mark, count in zip(self.marks, self.counts[1:], strict=True):
            parts.append(_WRITTEN.get(mark, f" {mark} "))
            parts.append(str(count))
        return "".join(parts)


_WRITTEN = {"p": "-", "j": "+", "/": " / "}


def shape_of(element: Element) -> Shape:
    """The shape of a written element."""
    counts = [0]
    marks: list[str] = []
    items: list[int] = []
    beads: list[int] = []
    halves = 0
    work = element.work
    last = len(work) - 1
    chain = element.kind in ("chain", "split chain")
    fastened = -1
    for at, item in enumerate(work):
        sort = type(item)
        if sort is Stitches:
            counts[-1] += item.count  # type: ignore[union-attr]
            continue
        if sort is Halves:
            halves += item.count  # type: ignore[union-attr]
            continue
        if sort is Join and at == last and chain:
            fastened = at
            continue
        mark = _LETTERS[sort]
        carried = item.count if sort is Beads else item.beads if sort is Picot else 0  # type: ignore[union-attr]
        if counts[-1] == 0 and marks and mark != "/" and marks[-1] != "/":
            marks[-1] += mark
            beads[-1] += carried
        else:
            marks.append(mark)
            items.append(at)
            beads.append(carried)
            counts.append(0)
    alike = tuple([_ALIKE.get(mark) or mark.replace("j", "p") for mark in marks])
    return Shape(tuple(counts), tuple(marks), tuple(items), fastened, halves, tuple(beads), alike)


_LETTERS: dict[type, str] = {Picot: "p", Join: "j", Beads: "b", SideChange: "/", Thrown: "t"}
_ALIKE = {"p": "p", "j": "p"}
