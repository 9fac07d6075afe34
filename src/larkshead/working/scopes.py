"""Which stretch of the work a place speaks of: a round, a motif, a pass of the repeat, what was worked before a cut."""

from __future__ import annotations

from larkshead.model import Part, PartRef, Pattern
from larkshead.records import dataclass, field
from larkshead.working.names import label_key, name_of_part, ordinal
from larkshead.working.record import Scope

# Parts whose numbers belong to this pattern; a motif, leaf or square that is not in it lies outside, already worked.
_OWN = frozenset(("", "part", "round", "row"))
_CENTRES = frozenset(("centre", "center"))


@dataclass(slots=True, eq=False)
class Frame:
    """A repeat (or a part) as it is being worked: ``number`` its pass of ``last``, ``start`` where that began in the
    sequence, ``first`` where its first pass did; ``starts`` all of these, where places name passes."""

    number: int
    last: int
    known: bool
    start: int = 0
    before: Scope | None = None
    starts: list[int] = field(default_factory=list)
    first: int = 0


class Scopes:
    """The parts, stretches between cuts, and passes worked so far; finds the one a place names."""

    def __init__(self, pattern: Pattern) -> None:
        self._pattern = pattern
        self._kinds = {part.kind for part in pattern.parts}
        self._parts: list[tuple[Part, Scope, int]] = []
        self._by_kind: dict[str, list[int]] = {}
        self._by_name: dict[str, list[int]] = {}
        self._numbers: dict[int, list[int]] = {}
        self._first: Scope | None = None
        self.stretches: list[Scope] = []
        self.frames: list[Frame] = []
        self.current = Scope(0, 0)

    def begin_part(self, part: Part, index: int, at: int) -> None:
        """A part (or a part once more) begins at this place in the sequence."""
        if self._parts:
            self._parts[-1][1].end = at
        self.current = Scope(at, index, name_of_part(part, index))
        found = self._by_kind.setdefault(part.kind, [])
        number = part.number if part.number is not None and part.times == 1 else len(found) + 1
        found.append(len(self._parts))
        if part.number is not None:
            self._numbers.setdefault(part.number, []).append(len(self._parts))
        if part.name:
            self._by_name.setdefault(label_key(part.name), []).append(len(self._parts))
        self._parts.append((part, self.current, number))
        self.begin_stretch(at)

    def begin_stretch(self, at: int) -> None:
        """All threads are cut, or a part begins."""
        if self.stretches:
            last = self.stretches[-1]
            last.end = at
            if last.start == at:
                self.stretches.pop()
        self.stretches.append(Scope(at, self.current.part, "the work before the cut", of_cut=True))

    def has_kind(self, kind: str) -> bool:
        """Whether the pattern has parts of this kind."""
        return kind in self._kinds

    def before_this(self) -> Scope | None:
        """The part before this one; in a part that has been cut, what was worked before the cut."""
        stretch = self.stretches[-1]
        if stretch.start > self.current.start and len(self.stretches) > 1:
            return self.stretches[-2]
        return self._parts[-2][1] if len(self._parts) > 1 else None

    def find(self, ref: PartRef) -> Scope | str:
        """The scope a place names; empty text for one outside this pattern; else the reason why there is none."""
        if ref.label is not None:
            return self._labelled(ref)
        if isinstance(ref.which, int):
            return self._numbered(ref)
        return self._relative(ref)

    def _labelled(self, ref: PartRef) -> Scope | str:
        label = label_key(ref.label or "")
        for name in (label, f"{ref.kind} {label}"):
            if name in self._by_name:
                return self._parts[self._by_name[name][-1]][1]
        if any(label_key(part.name) in (label, f"{ref.kind} {label}") for part in self._pattern.parts):
            return f"{ref.kind} {ref.label} is not worked yet"
        if len(label) == 1 and label.isalpha() and ref.kind in self._kinds:
            return self._numbered(PartRef(ref.kind, ord(label) - ord("a") + 1))
        return self._outside(ref.kind, f"there is no {ref.kind or 'part'} {ref.label} in this pattern")

    def _outside(self, kind: str, reason: str) -> str:
        return reason if kind in _OWN or kind in self._kinds else ""

    def _numbered(self, ref: PartRef) -> Scope | str:
        number, kind = int(ref.which or 0), ref.kind
        found: list[int] = []
        if kind and kind in self._kinds:
            found = self._of_kind(kind, number)
        elif kind in _OWN and self._numbers:
            found = self._numbers.get(number, [])
        elif kind in _OWN and len(self._pattern.parts) > 1:
            found = [number - 1] if 0 < number <= len(self._parts) else []
        else:
            return self._unheaded(kind, number)
        if found:
            return self._parts[found[-1]][1]
        if (unheaded := self._before_heading(kind, number)) is not None:
            return unheaded
        if any(part.number == number and kind in (part.kind, *_OWN) for part in self._pattern.parts):
            return f"{kind or 'part'} {number} is not worked yet"
        return self._outside(kind, f"there is no {kind or 'part'} {number} in this pattern")

    def _before_heading(self, kind: str, number: int) -> Scope | None:
        """The part under no heading right before the one numbered next: round 1, where only round 2 has a heading."""
        for at in self._numbers.get(number + 1, [])[:1]:
            part = self._parts[at][0]
            if at and not self._parts[at - 1][0].kind and (kind in _OWN or part.kind == kind):
                return self._parts[at - 1][1]
        return None

    def _unheaded(self, kind: str, number: int) -> Scope | str:
        """Work under no headings is told apart by its cuts, or by the passes of a repeat."""
        if 1 <= number < len(self.stretches):
            return self.stretches[number - 1]
        if kind not in _OWN and (scope := self._pass(number)) is not None:
            return scope
        if number == len(self.stretches) and (kind in _OWN or number > 1):
            return self.current
        return self._outside(kind, f"there is no {kind or 'part'} {number} in this pattern")

    def _of_kind(self, kind: str, number: int) -> list[int]:
        found = self._by_kind.get(kind, [])
        # Numbers mostly follow the order: look there first.
        if 0 < number <= len(found) and self._parts[found[number - 1]][2] == number:
            return [found[number - 1]]
        return [at for at in found[:1000] if self._parts[at][2] == number]

    def _relative(self, ref: PartRef) -> Scope | str:
        which, kind = ref.which or "same", ref.kind
        same_kind = self._by_kind.get(kind, [])
        if kind not in self._kinds and kind in _CENTRES:
            return self._centre()
        if which == "same":
            inside = kind not in self._kinds and kind not in _OWN
            return self._this_pass() or self.current if inside else self.current
        if which == "first":
            if same_kind:
                return self._parts[same_kind[0]][1]
            if kind in _OWN:
                return self.stretches[0] if len(self._parts) == 1 and len(self.stretches) > 1 else self._parts[0][1]
            return self._pass(1) or ""
        if which == "next":
            return self._outside(kind, f"the next {kind or 'part'} is not worked yet")
        back = 2 if which == "second previous" else 1
        if same_kind:
            earlier = [at for at in same_kind[-3:] if self._parts[at][1] is not self.current]
            if len(earlier) >= back:
                return self._parts[earlier[-back]][1]
            if kind not in _OWN:
                return f"no {kind} is worked before this one"
        if kind in _OWN or kind in self._kinds:
            scope = self.before_this() if back == 1 else self._parts[-3][1] if len(self._parts) > 2 else None
            return scope or f"no {kind or 'part'} is worked before this one"
        return self._this_pass_before() or (self.stretches[-2] if len(self.stretches) > 1 else "")

    def _centre(self) -> Scope | str:
        """The centre, where no part is called so: what was worked first, in one part the first element of all."""
        if len(self._parts) > 1:
            return self._parts[0][1]
        if len(self.stretches) > 1:
            return self.stretches[0]
        if self.frames and self.frames[0].first == 0:
            return ""
        if self._first is None:
            self._first = Scope(0, 0, "the centre", 1)
        return self._first

    # Passes of a repeat as scopes

    def _this_pass(self) -> Scope | None:
        frame = self.frames[-1] if self.frames else None
        return Scope(frame.start, self.current.part, "this pass") if frame is not None else None

    def _this_pass_before(self) -> Scope | None:
        """The pass before this one, of the outermost repeat that is past its first."""
        for frame in self.frames:
            if frame.number > 1 and frame.starts:
                return self._pass_of(frame, frame.number - 1)
        return None

    def _pass(self, number: int) -> Scope | None:
        for frame in self.frames:
            if 0 < number < frame.number and frame.starts:
                return self._pass_of(frame, number)
        return None

    def _pass_of(self, frame: Frame, number: int) -> Scope:
        start, end = frame.starts[number - 1], frame.starts[number]
        if frame.before is None or frame.before.start != start or frame.before.end != end:
            frame.before = Scope(start, self.current.part, f"the {ordinal(number)} pass", end)
        return frame.before
