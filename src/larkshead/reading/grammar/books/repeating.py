"""Repeats as old books tell them: from a mark, from the beginning, of what is named, once more, until."""

from __future__ import annotations

from larkshead.model import Attach, BareThread, Cut, Element, Join, LockJoin, Note, Repeat, Step, Turn
from larkshead.reading.grammar.books.counts import counts_ahead, repeat_pair
from larkshead.reading.grammar.books.fastening import Fastening
from larkshead.reading.grammar.books.replacing import shape_of
from larkshead.reading.grammar.books.told import NOUNS
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.going_on import sizes_of
from larkshead.reading.grammar.tokens import Token
from larkshead.reading.source import Span

CLAUSE = frozenset(
    {"SEMI", "STOP", "PARA", "EQUALS", "END", "but", "instead", "fasten", "join", "lock_join", "cut", "besides", "draw"}
)
_NEAR = 60
# A passage without a mark is no longer than this.
REACH = 400
LENGTH = "length wanted"
_AROUND = "all round"


class Repeating(Fastening):
    """Repeats as old books tell them."""

    def mark(self) -> bool:
        """A mark: inside the element being told where its counts go on behind it, else before the next step."""
        c = self.c
        token = c.next()
        told = self.told
        chain = told is not None and told.name.kind == "chain" and told.pieces and isinstance(told.pieces[-1][0], Join)
        if told is not None and told.pieces and not told.closed and not chain and self.counts_soon():
            told.marks[token.text] = len(told.pieces)
            self.inner_marks.pop(token.text, None)
            self.marks.pop(token.text, None)
            return True
        self.flush()
        if self.named is not None and self.named.count == 0:
            # The mark says what is worked several times.
            self.named.count = 1
        self.marks[token.text] = len(self.steps)
        self.inner_marks.pop(token.text, None)
        return True

    def repeat(self) -> bool:
        c = self.c
        start = c.at
        end = start + 1
        while end < len(c.tokens) and c.tokens[end].kind not in CLAUSE and end - start < 60:
            end += 1
        said = c.tokens[start + 1 : end]
        times, more = self._times(said)
        mark = next((t.text for t in said if t.kind == "MARK"), "")
        if self.told is not None and not self.told.closed:
            if mark in self.told.marks and mark:
                at = self.told.marks.pop(mark)
                pieces = self.told.pieces[at:]
                for _ in range(min((times or 1) + (1 if more else 0), 500) - 1):
                    self.told.pieces += pieces
                c.at = self._behind_times(start, end)
                return True
            told = c.tokens[start].value == "told" or self._goes_on_behind(self._behind_times(start, end))
            more_than = 1 if more and c.tokens[start].value != "told" else 0
            if (
                not mark
                and times is not None
                and not self._names(said)
                and told
                and repeat_pair(self.told.pieces, times + more_than)
            ):
                c.at = self._behind_times(start, end)
                return True
        c.at = end
        span = c.span(start)
        if mark in self.inner_marks and mark:
            self._finish_next(mark, times, more, span, said)
            return True
        self.flush()
        space = self._space_in(said, start)
        if space is not None and (mark or self.marks or self._names_several(said)):
            self.steps.append(space)
            space = None
        self._lay_repeat(said, mark, times, more, span)
        if space is not None and self.repeated is not None:
            # ``repeat the circle at a short distance``: thread left before each of those to come.
            self.repeated.steps.insert(0, space)
            self.leading = space
        return True

    def _names_several(self, said: list[Token]) -> bool:
        return sum(t.kind in NOUNS for t in said) > 1

    def _goes_on_behind(self, at: int) -> bool:
        """Whether the element being told goes on behind a repeat: more counts come, or it is closed only there."""
        c = Cursor(self.c.tokens, at)
        c.skip({"COMMA", "glue", "SEMI"})
        return c.kind() in ("close", "draw") or counts_ahead(c)

    def _behind_times(self, start: int, end: int) -> int:
        """Inside an element a repeat ends with its number."""
        tokens = self.c.tokens
        for at in range(start + 1, end):
            if tokens[at].kind in ("times", "twice", "once"):
                while (at + 1 < end and tokens[at + 1].kind in ("more", "again")) or (
                    at + 2 < end and tokens[at + 1].kind == "from"
                ):
                    at += 1 if tokens[at + 1].kind != "from" else 2
                return at + 1
        return end

    def _times(self, said: list[Token]) -> tuple[int | None, bool]:
        """How often, and whether that is told to come on top."""
        for at, token in enumerate(said):
            after = [t.kind for t in said[at + 1 : at + 4]]
            if token.kind == "times" and at and said[at - 1].kind == "NUM":
                return int(said[at - 1].value), "more" in after[:2] or "again" in after[:1]
            if token.kind == "times" and at and said[at - 1].kind == "more" and at > 1 and said[at - 2].kind == "NUM":
                return int(said[at - 2].value), True
            if token.kind == "twice":
                return 2, True
            if token.kind == "once" and at + 1 < len(said):
                return 1, True
        return None, False

    def _names(self, said: list[Token]) -> bool:
        return any(t.kind in NOUNS or t.kind in ("round", "row", "motif") for t in said)

    def _space_in(self, said: list[Token], start: int) -> BareThread | None:
        """``repeat at a short distance``, ``leaving the same space between each``: thread left between the passes."""
        at = next((i for i, t in enumerate(said) if t.kind == "space"), None)
        if at is None or said[at].value in ("regular", "length"):
            return None
        self.c.at, back = start + 1 + at, self.c.at
        length = self.length_here()
        self.c.at = max(back, self.c.at)
        last = self.steps[-1] if self.steps else None
        if isinstance(last, BareThread):
            return None
        step = BareThread(length)
        self.origins.record(step, self.c.span(start))
        return step

    def _lay_repeat(self, said: list[Token], mark: str, times: int | None, more: bool, span: Span) -> None:
        start = self._start(said, mark, span)
        if start is None:
            return
        if not mark:
            start = self._fold(start)
        body = self.steps[start:]
        if len(body) == 1 and isinstance(body[0], Repeat) and body[0].times == 1:
            body = body[0].steps
        if not any(isinstance(s, Element | Repeat) for s in body):
            self.notice("unmatched-repeat", "warning", "there is nothing to repeat", span)
            return
        wanted = self._until_counts(said)
        until = ""
        total: int | None
        if wanted:
            total = self._passes(start, wanted)
            if total is None:
                self.notice("contradiction", "warning", "the numbers do not come out even with what is told", span)
        else:
            total = None if times is None else times + 1
        kinds = {t.kind for t in said}
        if total is None:
            until = _AROUND if "around" in kinds else LENGTH if kinds & {"length_wanted", "until"} else ""
            if not until:
                self.notice("open-repeat", "note", "how often to repeat is not said", span)
        self._neighbours(start)
        repeat = Repeat(body, total, until)
        if not self.wrap(start, repeat, span):
            return
        self.repeated = repeat
        self.marks.clear()
        self.placed = None
        label = next((e.label for e in reversed(self.elements(body)) if e.label), None)
        if times is not None and not more and not wanted:
            self.open_count = (
                repeat,
                times,
                int(label) if label and label.isdigit() and len(self.elements(body)) == 1 else None,
            )
            self.notice(
                "ambiguous-repeat", "note", f"read as {times + 1} times in all: {times} more than the first", span
            )
        else:
            self.open_count = (
                repeat,
                -1,
                int(label) if label and label.isdigit() and len(self.elements(body)) == 1 else None,
            )
        if len(self.elements(body)) == 1 and total != 1:
            for element in self.elements(body):
                element.label = None

    def _start(self, said: list[Token], mark: str, span: Span) -> int | None:
        """Where the passage begins: at the mark, the beginning, or the elements named."""
        if mark:
            at = self.marks.get(mark)
            if at is not None and at < len(self.steps):
                return at
            self.notice("unmatched-repeat", "warning", f"there is no {mark} to repeat from", span)
            return self._unit_start()
        if any(t.kind == "start" for t in said):
            return 0
        names: list[tuple[str, int | None, str]] = []
        count = None
        for at, token in enumerate(said):
            if token.kind in ("until", "space", "around", "by"):
                break
            if token.kind not in NOUNS and not (token.kind in ("round",) and token.value is None):
                continue
            before = said[max(0, at - 4) : at]
            number = next((int(t.value) for t in reversed(before) if t.kind == "ORD"), None)
            size = next((t.kind for t in before if t.kind in ("large", "small")), "")
            count = next((int(t.value) for t in before if t.kind == "NUM" and t.value > 1), count)
            names.append((NOUNS.get(token.kind, "ring"), number, size))
        if not names:
            return min(self.marks.values()) if self.marks else self._unit_start()
        if len(names) == 1 and count is not None:
            return self._last_elements(count)
        if (
            len(names) > 1
            and len({kind for kind, _, _ in names}) == 1
            and all(number is None for _, number, _ in names)
        ):
            # ``Repeat alternately a large and a small circle``
            since = self.since_its_like(self._unit_start(True))
            return since if since is not None else self._last_elements(len(names))
        return self._named_start(names)

    def _last_elements(self, count: int) -> int:
        for at in range(len(self.steps) - 1, -1, -1):
            count -= len(self.elements([self.steps[at]]))
            if count <= 0 and isinstance(self.steps[at], Element | Repeat):
                return at
        return 0

    def _named_start(self, names: list[tuple[str, int | None, str]]) -> int:
        starts: list[int] = []
        for kind, number, _ in names:
            if number is not None:
                found = [
                    i
                    for i, s in enumerate(self.steps)
                    if isinstance(s, Element) and s.kind == kind and s.label == str(number)
                ]
                if found:
                    starts.append(found[-1])
                    continue
            found = [i for i, s in enumerate(self.steps) if isinstance(s, Element) and s.kind == kind]
            if found:
                starts.append(found[-1])
        if not starts:
            return self._unit_start()
        if len({kind for kind, _, _ in names}) > 1:
            self._begun_anew(names[0][0])
            starts = [i for i in starts if i < len(self.steps)]
            last = len(self.steps) - 1
            if isinstance(self.steps[last], Repeat):
                return last
        return min(starts)

    def _begun_anew(self, kind: str) -> None:
        """The first element named stands at the end once more: what came between its two tellings makes the pass whole."""
        last = self.steps[-1]
        if not isinstance(last, Element) or last.kind != kind:
            return
        before = next(
            (
                i
                for i in range(len(self.steps) - 2, -1, -1)
                if (s := self.steps[i]) and isinstance(s, Element) and s.kind == kind
            ),
            None,
        )
        if before is None or not any(isinstance(s, Element) for s in self.steps[before + 1 : -1]):
            return
        body = [last, *(self.copied(s) for s in self.steps[before + 1 : -1] if not isinstance(s, Attach | Cut | Note))]
        self.steps[-1:] = [Repeat(body, 1)]

    def _unit_start(self, going_on: bool = False) -> int:
        """Without a mark: behind the last cut or repeat; of work that ends in a fastening, from the first element, else from the
        fastening before the last element."""
        begin = max(0, len(self.steps) - REACH)
        worked = False
        for at in range(len(self.steps) - 1, begin - 1, -1):
            step = self.steps[at]
            if worked and (isinstance(step, Cut) or id(step) in self.sizes):
                begin = at + 1
                break
            worked = worked or isinstance(step, Element | Repeat)
        inside = [i for i in range(begin, len(self.steps)) if isinstance(self.steps[i], Element)]
        if not inside or going_on:
            return begin
        last = next((s for s in reversed(self.steps) if not isinstance(s, BareThread | Note | Turn)), None)
        if isinstance(last, LockJoin):
            return inside[0]
        for at in range(inside[-1], begin - 1, -1):
            if isinstance(self.steps[at], LockJoin):
                return at
        while begin < len(self.steps) and isinstance(self.steps[begin], Attach):
            begin += 1
        return begin

    def _fold(self, start: int) -> int:
        """A pass begun anew at the end (its first element, told a second time) belongs to the passes to come."""
        at = [i for i in range(start, len(self.steps)) if isinstance(self.steps[i], Element)]
        if len(at) < 2 or at[-1] != len(self.steps) - 1:
            return start
        last = self.steps[at[-1]]
        assert isinstance(last, Element)
        first = self.steps[at[0]]
        assert isinstance(first, Element)
        if last.work == first.work and last.kind == first.kind and len(at) > 2:
            del self.steps[at[-1] :]
            return (
                at[0]
                if not any(isinstance(s, BareThread | Turn | LockJoin) for s in self.steps[start : at[0]])
                else start
            )
        return start

    def _until_counts(self, said: list[Token]) -> dict[tuple[str, str], int]:
        """``till you have 18 scallops``, ``nine larger and eight smaller circles``."""
        begin = next((i for i, t in enumerate(said) if t.kind == "until"), None)
        if begin is None:
            return {}
        return self._numbers_of(said[begin:])

    def _numbers_of(self, said: list[Token]) -> dict[tuple[str, str], int]:
        """So many of a kind and size: ``nine larger and eight smaller circles``, ``12 groups``."""
        found: dict[tuple[str, str], int] = {}
        number: int | None = None
        size = ""
        pending: list[tuple[int, str]] = []
        for token in said:
            if token.kind == "NUM":
                if number is not None and size:
                    pending.append((number, size))
                number, size = int(token.value), ""
            elif token.kind in ("large", "small"):
                size = token.kind
            elif token.kind == "motif" and number is not None:
                return {("", ""): number}
            elif token.kind in NOUNS and number is not None:
                kind = NOUNS[token.kind]
                for one, sized in [*pending, (number, size)]:
                    found[kind, sized] = one
                number, pending, size = None, [], ""
            elif token.kind in ("separated", "by"):
                break
        return found

    def _passes(self, start: int, wanted: dict[tuple[str, str], int]) -> int | None:
        answers: set[int] = set()
        if ("", "") in wanted:
            return wanted["", ""]
        for (kind, size), number in wanted.items():
            every = [
                e for e in self.elements(self.steps[min(start, max(0, len(self.steps) - REACH)) :]) if e.kind == kind
            ]
            sizes = sizes_of(every)
            inside = {id(e) for e in self.elements(self.steps[start:])}
            fit = [e for e, s in zip(every, sizes, strict=True) if not size or s == size]
            in_body = sum(1 for e in fit if id(e) in inside)
            shapes = {shape_of(e) for e in fit if id(e) in inside}
            before = sum(1 for e in fit if id(e) not in inside and shape_of(e) in shapes)
            if not in_body or (number - before) % in_body:
                return None
            answers.add((number - before) // in_body)
        return answers.pop() if len(answers) == 1 and min(answers or {0}) > 0 else None

    def _finish_next(self, mark: str, times: int | None, more: bool, span: Span, said: list[Token]) -> None:
        """The mark stands inside an element: what was told behind it begins the next one, which the repeat finishes."""
        index, item = self.inner_marks.pop(mark)
        told = self.told
        if told is not None:
            told.closed = True
        self.flush()
        if index >= len(self.steps):
            return
        first = self.steps[index]
        if not isinstance(first, Element):
            return
        last = self.steps[-1]
        if last is first or not isinstance(last, Element):
            self._lay_repeat(said, "", times, more, span)
            return
        rest = self.copied(first)
        assert isinstance(rest, Element)
        last.work += rest.work[item:]
        last.half_closed = first.half_closed
        body: list[Step] = self.steps[index + 1 :]
        repeat = Repeat(body, times, "" if times else LENGTH)
        if not self.wrap(index + 1, repeat, span):
            return
        self.repeated = repeat
        if not times:
            self.notice("open-repeat", "note", "how often to repeat is not said", span)

    def _neighbours(self, start: int) -> None:
        """An element repeated that is told to join the one just before it by its number joins the one before each time."""
        told = self.elements(self.steps[-_NEAR:])[-_NEAR:]
        inside = {id(e) for e in self.elements(self.steps[start:])}
        for at, element in enumerate(told):
            if id(element) not in inside:
                continue
            before = next((e for e in reversed(told[:at]) if e.kind == element.kind), None)
            number = sum(e.kind == element.kind for e in told[:at]) if len(self.steps) < _NEAR else None
            for item in element.work:
                for place in item.places if isinstance(item, Join) else ():
                    ref = place.element
                    if ref is None or place.part is not None or not isinstance(ref.which, int) or before is None:
                        continue
                    if str(ref.which) == (before.label or (number and str(number))):
                        ref.which, ref.label = "previous", None

    def label_settles(self, number: int | None) -> None:
        if self.open_count is None or number is None:
            return
        repeat, told, base = self.open_count
        self.open_count = None
        if base is None or number <= base:
            return
        passes = number - base
        if repeat.times is None:
            repeat.times, repeat.until = passes, ""
        elif passes != repeat.times:
            span = self.origins.of(repeat) or Span(0, 1)
            if told == passes:
                repeat.times = passes
                self.notice("assumed", "note", f"read as {passes} times in all, since number {number} comes next", span)
            else:
                self.notice(
                    "contradiction",
                    "warning",
                    f"{repeat.times} times in all are told, but number {number} comes next after number {base}",
                    span,
                )

    def since_its_like(self, begin: int) -> int | None:
        """Behind the element before that is shaped as the last one: what was told since makes a pass."""
        at = [i for i in range(begin, len(self.steps)) if isinstance(self.steps[i], Element)]
        shapes = [shape_of(self.steps[i]) for i in at]  # type: ignore[arg-type]
        if len(at) < 2 or at[-1] != len(self.steps) - 1 or shapes[-1] not in shapes[:-1]:
            return None
        like = at[len(shapes) - 2 - shapes[-2::-1].index(shapes[-1])]
        one, two = self.steps[like], self.steps[at[-1]]
        if isinstance(one, Element) and isinstance(two, Element) and one.work == two.work:
            return None
        like += 1
        while isinstance(self.steps[like], Attach):
            like += 1
        return like
