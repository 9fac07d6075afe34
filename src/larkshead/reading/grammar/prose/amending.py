"""Elements told over again because something was left out or wrong: the later telling stands for the earlier one.

``Oh, and the ring has a picot in the middle, so six, picot, six``; ``forget the picot, it's seven, bead, seven every time``.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from larkshead.model import Beads, Picot, Stitches
from larkshead.reading.grammar.places import ELEMENTS, PICOTS
from larkshead.reading.grammar.prose.naming import Naming
from larkshead.reading.grammar.said import Piece, SaidElement

# Which picot of so many a word names, by its place; None where there is none.
_WHICH: dict[str, Callable[[object, int], int | None]] = {
    "middle": lambda _, count: count // 2 if count % 2 else None,
    "last": lambda _, count: count - 1,
    "ORD": lambda number, count: number - 1 if isinstance(number, int) and 0 < number <= count else None,
}
_SIZE_WORDS = {"small": "small", "long": "long", "large": "long", "small_picot": "small", "long_picot": "long"}
# How far before the work the words that announce an amendment may stand.
_REACH = 24
_SENTENCE = 30


class Amending(Naming):
    """Elements told over again because something was left out or wrong."""

    def tell(self, element: SaidElement) -> None:
        """An element told; one announced as an amendment takes the place of the one it is like in its stitches."""
        if element.alike is None and self._announced(element) and self._put_in_place(element):
            self.open = None
            return
        super().tell(element)

    def _announced(self, element: SaidElement) -> bool:
        """Whether the sentence said before that something is to be put right."""
        tokens = self.c.tokens
        at = self.c.at - 1
        while at > 0 and tokens[at].start > element.span.start:
            at -= 1
        for token in reversed(tokens[max(0, at - _REACH) : at + 1]):
            if token.kind == "amends" or token.value == "said_late":
                return True
            if token.kind in ("STOP", "PARA", "reverse_work", "cut") or (
                token.kind in ELEMENTS and token.start < element.span.start and self._told(ELEMENTS[token.kind]) is None
            ):
                return False
        return False

    def _told(self, kind: str) -> SaidElement | None:
        return next((s for s in self.lately() if isinstance(s, SaidElement) and s.kind == kind), None)

    def _put_in_place(self, element: SaidElement) -> bool:
        """Put the work in the place of that told before with the same stitches, wherever it was told."""
        counts = _counts(element)
        if len(element.pieces) < 2:
            return False
        told = [s for s in self.lately() if isinstance(s, SaidElement) and s.pieces and _alike_kind(s, element)]
        like = next((s for s in told if _counts(s) == counts), None) or next(
            (s for s in told if sum(_counts(s)) == sum(counts)), None
        )
        if like is None or [item for item, _ in like.pieces] == [item for item, _ in element.pieces]:
            return False
        before = _counts(like)
        for said in told:
            if said.kind == like.kind and _counts(said) == before and not _joined(said):
                said.pieces = list(element.pieces)
        return True

    def sized(self) -> bool:
        """``Make the middle one long``; ``the first and the last picot are small``: sizes of picots of the element told last."""
        c = self.c
        start = c.at
        if c.kind() not in _WHICH:
            return False
        last = next((s for s in self.lately() if isinstance(s, SaidElement)), None)
        picots = [i for i, (item, _) in enumerate(last.pieces) if isinstance(item, Picot)] if last is not None else []
        chosen: list[int] = []
        at = start
        size = ""
        while at < c.limit and at - start < 14 and len(picots) > 1:
            token = c.tokens[at]
            if token.kind in _WHICH:
                spot = _WHICH[token.kind](token.value, len(picots))
                if spot is None:
                    return False
                chosen.append(picots[spot])
            elif token.kind in _SIZE_WORDS:
                size = _SIZE_WORDS[token.kind]
            elif token.kind not in ("glue", "pronoun", "this", "picot", "COMMA", "WORD", "of") and token.value != 1:
                break
            at += 1
        if not size or not chosen or last is None or c.kind(at - start) in (*ELEMENTS, "NUM", "join"):
            return False
        for i in chosen:
            picot, span = last.pieces[i]
            if isinstance(picot, Picot):
                last.pieces[i] = (replace(picot, size=size), span)  # type: ignore[arg-type]
        c.at = at
        return True

    def amend(self) -> bool:
        """``forget the picot on the chain``; ``it's supposed to be a bead instead of the picot``: one item for another, or none."""
        c = self.c
        start = c.at
        if c.kind() != "amends":
            return False
        end = start + (c.find({"STOP", "PARA", "END"}, (), _SENTENCE) or _SENTENCE)
        near = c.tokens[max(self.sentence, start - 6) : min(end, c.limit)]
        if any(t.kind == "NUM" for t in c.tokens[start : min(end + 1, c.limit)]):
            # The work is told anew.
            c.next()
            return True
        kind = next((ELEMENTS[t.kind] for t in near if t.kind in ELEMENTS), "")
        told = [s for s in self.lately() if isinstance(s, SaidElement) and s.pieces and kind in ("", s.kind)]
        beads = any(t.kind == "bead" for t in near)
        named = next((t.kind for t in near if t.kind in PICOTS), None)
        with_picot = next((s for s in told if any(isinstance(item, Picot) for item, _ in s.pieces)), None)
        if named is None or with_picot is None:
            c.next()
            return True
        for said in told:
            if said.kind == with_picot.kind and _counts(said) == _counts(with_picot):
                said.pieces = _without_picots(said.pieces, beads)
        c.at = min(end, c.limit)
        return True


def _counts(element: SaidElement) -> list[int]:
    return [item.count for item, _ in element.pieces if isinstance(item, Stitches)]


def _joined(element: SaidElement) -> bool:
    return any(not isinstance(item, Stitches | Picot | Beads) for item, _ in element.pieces)


def _alike_kind(said: SaidElement, element: SaidElement) -> bool:
    return element.unnamed or said.kind == element.kind


def _without_picots(pieces: list[Piece], beads: bool) -> list[Piece]:
    """The work with a bead for each picot, or with none and the stitches run together."""
    out: list[Piece] = []
    for item, span in pieces:
        if isinstance(item, Picot):
            if beads:
                out.append((Beads(1), span))
            continue
        last = out[-1] if out else None
        if isinstance(item, Stitches) and last is not None and isinstance(last[0], Stitches):
            out[-1] = (Stitches(last[0].count + item.count), last[1].join(span))
        else:
            out.append((item, span))
    return out
