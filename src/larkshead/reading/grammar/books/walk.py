"""The walk over an old book: one statement after the other, the steps laid as they are told."""

from __future__ import annotations

from copy import deepcopy
from typing import Literal

from larkshead.model import (
    Attach,
    BareThread,
    ByPass,
    Cut,
    Element,
    Join,
    Length,
    LockJoin,
    Note,
    Part,
    Pattern,
    Repeat,
    Step,
    Stitches,
)
from larkshead.reading.grammar.books.counts import only_a_spread, work_of
from larkshead.reading.grammar.books.told import Announced, Told
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.tokens import Token
from larkshead.reading.notices import Notice
from larkshead.reading.origins import Origins
from larkshead.reading.source import Source, Span

CLAUSE_ENDS = frozenset({"STOP", "SEMI", "PARA", "EQUALS", "END"})
# Repeats inside repeats that are followed, and how much is written out of what is told by likeness alone.
_DEEPEST = 40
_MOST_COPIES = 50_000
_TOO_MUCH = "more of the same"
BREAKS = frozenset({*CLAUSE_ENDS, "COMMA", "COLON", "DASH", "MARK", "OPEN"})

# Verbs of old books, behind which something new is told.
VERBS = frozenset(
    {
        "repeat",
        "work",
        "reverse_work",
        "cut",
        "knot",
        "fasten",
        "join",
        "draw",
        "leave",
        "instead",
        "consisting",
        "go_on",
    }
)


class Walk:
    """What is kept in mind while an old book is read, and the laying of steps."""

    def __init__(self, source: Source, tokens: list[Token]) -> None:
        self.source = source
        self.c = Cursor(tokens)
        self.pattern = Pattern()
        self.part = Part()
        self.steps: list[Step] = self.part.steps
        self.origins = Origins()
        self.notices: list[Notice] = []
        self.told: Told | None = None
        self.named: Announced | None = None
        # Whether a second thread is worked over, so that what has no name is a chain.
        self.over = False
        # Marks of repeat, by the step they stand before; and those that stand inside an element already laid.
        self.marks: dict[str, int] = {}
        self.inner_marks: dict[str, tuple[int, int]] = {}
        # Passages by the number of their picture.
        self.figures: dict[int, Part] = {}
        # Elements told before, to which likeness refers; the repeat told last.
        self.known: list[Element] = []
        self.repeated: Repeat | None = None
        self.last_length: Length | None = None
        # The clause at hand: its number, where it begins, and the step told in it that a distance told later stands before.
        self.clause = 0
        self.clause_start = 0
        self.sentence_start = 0
        self.placed: Step | None = None
        # How many of a kind a passage was said to have, and by which token.
        self.counted: dict[str, tuple[int, int]] = {}
        # A repeat whose number may mean in all or more.
        self.open_count: tuple[Repeat, int, int | None] | None = None
        self.cover: BareThread | None = None
        # Thread said to be left before each pass of the repeat told last, but the first.
        self.leading: BareThread | None = None
        # A group of elements worked once more, of which one may be told apart.
        self.group: Step | None = None
        # Whether the row at hand copies one before.
        self.alike_row = False
        # How many statements were understood that laid no step.
        self.understood = 0
        # Repeats as they were laid, with how many steps they hold and how deep they go; and how much was copied of them.
        self.sizes: dict[int, tuple[Step, int, int]] = {}
        self.copies = 0
        # The last pass of a repeat, where it was told apart, with that repeat.
        self.final: tuple[Repeat, list[Step]] | None = None
        # Where the verb told last, that fastens, ended.
        self.fastened = 0

    # Telling

    def notice(self, kind: str, severity: Literal["error", "warning", "note"], message: str, span: Span) -> None:
        self.notices.append(Notice(kind, severity, message, span))

    def add(self, step: Step, span: Span) -> Step:
        """Lay a step behind what was told, an element being told ended before it."""
        self.flush()
        self.origins.record(step, span)
        self.steps.append(step)
        return step

    def new_clause(self) -> None:
        self.clause += 1
        self.clause_start = self.c.at + 1
        self.placed = None

    def begin(self, start: int) -> Told:
        """The element whose counts come here."""
        name, self.named = self.named, None
        span = self.c.span(start, start + 1)
        if name is None:
            name = Announced("chain" if self.over else "ring", span, assumed=True)
        self.told = Told(name, span, self.clause)
        return self.told

    def flush(self) -> None:
        """End the element being told and lay it."""
        told, self.told = self.told, None
        if told is None:
            return
        name = told.name
        kind = name.kind
        if name.either:
            kind = "ring" if told.closed and not self.over else "chain"
        trailing: list[tuple[Join, Span]] = []
        while told.pieces and isinstance(told.pieces[-1][0], Join) and not told.closed:
            join, span = told.pieces.pop()
            trailing.insert(0, (join, span))  # type: ignore[arg-type]
        gap = only_a_spread(told.pieces) if kind == "ring" else 0
        if gap:
            told.pieces.insert(0, (Stitches(gap), told.pieces[0][1]))
        work, spans = work_of(told.pieces)
        if kind == "ring":
            for item in work:
                if isinstance(item, Join) and item.kind == "lock":
                    item.kind = "picot"
        for step in told.before:
            self.steps.append(step)
        element = Element(kind, work, name.label, size=name.size, half_closed=name.half)  # type: ignore[arg-type]
        self.origins.record(element, told.span, spans)
        if kind != "josephine ring":
            self.known.append(element)
        for mark, at in told.marks.items():
            self.inner_marks[mark] = (
                len(self.steps),
                sum(1 for s in spans if s.end <= told.pieces[at][1].start) if at < len(told.pieces) else len(work),
            )
        if name.count == 1:
            self.steps.append(element)
        else:
            self._several(element, name, told.span)
            if told.clause != self.clause:
                self.placed = None
        for join, span in trailing:
            self.lock(LockJoin(join.places), span)
        if self.cover is not None and name.count == 1:
            self.steps.append(self.copied(self.cover))

    def _several(self, element: Element, name: Announced, span: Span) -> None:
        repeat = Repeat([element], name.count or None, "" if name.count else "length wanted")
        if self.cover is not None:
            repeat.steps.append(self.copied(self.cover))
            self.cover = None
        self.origins.record(repeat, span)
        self.steps.append(repeat)
        self.repeated = repeat
        self.placed = repeat

    def lock(self, step: LockJoin, span: Span) -> None:
        """A lock join between elements; behind so many alike it belongs to each of them."""
        self.origins.record(step, span)
        last = self.steps[-1] if self.steps else None
        if isinstance(last, Repeat) and last is self.placed:
            last.steps.append(step)
        else:
            self.steps.append(step)
            self.placed = step

    def copied(self, step: Step) -> Step:
        """A step once more, with its place in the text."""
        if isinstance(step, Repeat):
            self.copies += self.weight(step)
            if self.copies > _MOST_COPIES:
                return Note(_TOO_MUCH)
        new = deepcopy(step)
        self._same_place(step, new)
        return new

    def weight(self, step: Step) -> int:
        """How many steps a step is written with."""
        known = self.sizes.get(id(step))
        return (
            known[1] if known is not None else 1 + sum(map(self.weight, step.steps)) if isinstance(step, Repeat) else 1
        )

    def wrap(self, start: int, repeat: Repeat, span: Span) -> bool:
        """Lay a repeat round the steps from ``start`` on; False where repeats would be nested too deep to be meant."""
        inner = [self.sizes.get(id(s), (s, 1, 1)) for s in repeat.steps if isinstance(s, Repeat)]
        deep = 1 + max((known[2] for known in inner), default=0)
        if deep > _DEEPEST:
            self.notice("too-deep", "warning", f"repeats inside repeats are followed {_DEEPEST} deep", span)
            return False
        self.sizes[id(repeat)] = (repeat, 1 + sum(map(self.weight, repeat.steps)), deep)
        self.origins.record(repeat, span)
        self.steps[start:] = [repeat]
        return True

    def _same_place(self, step: Step, new: Step) -> None:
        span = self.origins.of(step)
        if span is not None:
            self.origins.record(new, span)
        if isinstance(step, Repeat) and isinstance(new, Repeat):
            for old, one in zip(step.steps, new.steps, strict=True):
                self._same_place(old, one)
        elif isinstance(step, ByPass) and isinstance(new, ByPass):
            self._same_place(step.step, new.step)

    # What stands there

    def worked(self) -> bool:
        """Whether anything was worked since the part began or the thread was cut."""
        if self.told is not None and self.told.pieces:
            return True
        for step in reversed(self.steps):
            if isinstance(step, Cut):
                return False
            if isinstance(step, Element | Repeat | LockJoin | Attach):
                return True
        return False

    def last_step(self) -> Step | None:
        """What was told last, notes and bare thread passed over."""
        return next((s for s in reversed(self.steps) if not isinstance(s, Note | BareThread)), None)

    def has_elements(self) -> bool:
        """Whether any element is told in this part."""
        return any(isinstance(s, Element) or (isinstance(s, Repeat) and self.elements(s.steps)) for s in self.steps)

    def elements(self, steps: list[Step] | None = None) -> list[Element]:
        """Elements as written, in order."""
        found: list[Element] = []
        for step in self.steps if steps is None else steps:
            if isinstance(step, Element):
                found.append(step)
            elif isinstance(step, Repeat):
                found += self.elements(step.steps)
        return found

    def looks(
        self, reach: int, kinds: frozenset[str] | set[str], stops: frozenset[str] | set[str] = CLAUSE_ENDS
    ) -> int | None:
        """How far ahead one of these kinds stands in this clause."""
        return self.c.find(kinds, stops - kinds, reach)

    def behind(self, reach: int) -> list[Token]:
        """The tokens before the position, nearest first, up to the beginning of the clause."""
        start = max(self.clause_start, self.c.at - reach, 0)
        return self.c.tokens[start : self.c.at][::-1]
