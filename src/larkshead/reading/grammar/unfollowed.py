"""Words that were understood and could not be followed, kept in the pattern as notes in their place."""

from __future__ import annotations

from bisect import bisect_left, bisect_right, insort

from larkshead.model import Note, Part
from larkshead.reading.origins import Origins
from larkshead.reading.reading import Reading
from larkshead.reading.source import Span

_UNFOLLOWED = frozenset({"unmatched-repeat", "unread-text"})
_NOWHERE = 1 << 60


def keep_unfollowed(reading: Reading) -> None:
    """Words that were understood and could not be followed (a repeat of what is not told, a likeness to it) stay in the
    pattern as notes in their place.
    """
    lost = [n for n in reading.notices if n.severity == "warning" and n.kind in _UNFOLLOWED and n.span is not None]
    if not lost:
        return
    held = _Held([span for thing, span in reading.origins if isinstance(thing, Note)])
    places: _Places | None = None
    for notice in lost:
        span = notice.span
        assert span is not None
        words = " ".join(reading.source.quote(span).split())
        if held.meets(span) or len(words.split()) < 2:
            continue
        held.add(span)
        places = places or _Places(reading.pattern.parts, reading.origins)
        note = Note(words)
        reading.origins.record(note, span)
        if not places.put(note, span.start):
            reading.pattern.notes.append(words)
    if places is not None:
        places.lay()


class _Held:
    """Stretches of the text, joined where they meet."""

    def __init__(self, spans: list[Span]) -> None:
        self.joined: list[Span] = []
        for span in sorted(spans):
            if self.joined and span.start < self.joined[-1].end:
                self.joined[-1] = self.joined[-1].join(span)
            else:
                self.joined.append(span)

    def meets(self, span: Span) -> bool:
        """Whether any of the stretches shares a character with this one."""
        at = bisect_left(self.joined, (span.end, span.end))
        return at > 0 and self.joined[at - 1].end > span.start

    def add(self, span: Span) -> None:
        """One more stretch, that meets none."""
        insort(self.joined, span)


class _Places:
    """Where notes go: behind the last step told before them, or at the head of the part they stand in."""

    def __init__(self, parts: list[Part], origins: Origins) -> None:
        self.parts = parts
        self.heads = _least_from([_start(origins, part) for part in parts])
        self.steps = [(part, at) for part in range(len(parts)) for at in range(len(parts[part].steps))]
        starts = [_start(origins, step) for part in parts for step in part.steps]
        self.starts = _least_from(starts)
        self.first = [min((_start(origins, step) for step in part.steps), default=_NOWHERE) for part in parts]
        self.notes: dict[tuple[int, int], list[tuple[int, Note]]] = {}

    def put(self, note: Note, start: int) -> bool:
        """Find the place of a note that begins at ``start``; False where nothing is told before it."""
        behind = bisect_right(self.starts, start) - 1
        head = bisect_right(self.heads, start) - 1
        if head >= 0 and (behind < 0 or self.first[head] > start):
            place = head, -1
        elif behind >= 0:
            place = self.steps[behind]
        else:
            return False
        self.notes.setdefault(place, []).append((start, note))
        return True

    def lay(self) -> None:
        """Put the notes in, those of one place in the order of the text."""
        for (part, at), notes in sorted(self.notes.items(), key=lambda entry: entry[0], reverse=True):
            self.parts[part].steps[at + 1 : at + 1] = [note for _, note in sorted(notes, key=lambda entry: entry[0])]


def _start(origins: Origins, thing: object) -> int:
    span = origins.of(thing)
    return span.start if span is not None else _NOWHERE


def _least_from(starts: list[int]) -> list[int]:
    """The least of the numbers from each place on; the last number up to a bound stands where the last of these does."""
    least = list(starts)
    for at in range(len(least) - 2, -1, -1):
        least[at] = min(least[at], least[at + 1])
    return least
