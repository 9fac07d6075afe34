"""Reading an old book: what stands aside set apart, the rest walked through statement by statement."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable

from larkshead.conventions import Convention
from larkshead.model import Element, Note, Part, Pattern, Picot, Repeat, Step, Turn
from larkshead.reading.grammar.account import MOST_WORDS, tell_lost, tell_too_long
from larkshead.reading.grammar.books.asides import Aside, asides, flowing, tidy
from larkshead.reading.grammar.books.counts import counts_ahead, read_item
from larkshead.reading.grammar.books.rows import Rows
from larkshead.reading.grammar.lexer import tokenize
from larkshead.reading.grammar.places import PICOTS
from larkshead.reading.grammar.tokens import Token
from larkshead.reading.reading import Reading
from larkshead.reading.source import Source, Span


def read_book(source: Source, convention: Convention, style: str) -> Reading:
    """The reading of a page of an old book."""
    plain = tokenize(source.text, convention, most=MOST_WORDS)
    tokens = tidy(tokenize(flowing(source.text), convention, most=MOST_WORDS), convention)
    book = _Book(source, tokens, asides(tokens))
    pattern = book.run()
    reading = Reading(source, pattern, book.origins, book.notices, style, convention.name)
    tell_too_long(reading, plain)
    tell_lost(reading, plain, convention)
    return reading


# What says nothing when it stands alone.
_SILENT = frozenset({"glue", "STOP", "COMMA", "COLON", "DASH", "MARK", "OPEN", "SHUT", "QUOTE", "NL"})


class _Book(Rows):
    """The whole walk."""

    def __init__(self, source: Source, tokens: list[Token], apart: list[Aside]) -> None:
        super().__init__(source, tokens)
        self.apart = {aside.start: aside for aside in apart}
        self.apart_at = sorted(self.apart)
        self.actions: dict[str, Callable[[], bool]] = {
            "ring": self.noun,
            "chain": self.noun,
            "josephine_ring": self.noun,
            "motif": self.figure,
            **dict.fromkeys(PICOTS, self.picot),
            "row": self.row,
            "round": self.row,
            "ORD": self.ordinal,
            "NUM": self.number,
            "OPEN": self.counts,
            "glue": self.article,
            "another": self.article,
            "other": self.so_many_more,
            "close": self.close,
            "fasten": self.fasten,
            "join": self.fasten,
            "draw": self.fasten,
            "lock_join": self.fasten,
            "instead": self.instead,
            "reverse_work": self.turn,
            "leave": self.leave,
            "space": self.distance,
            "thread": self.thread,
            "after": self.after,
            "each": self.each,
            "cut": self.cut,
            "attach": self.fasten,
            "knot": self.knot,
            "over": self.worked_over,
            "core": self.core,
            "shuttle": self.shuttle,
            "alone": self.alone,
            "without": self.without,
            "to": self.onto,
            "MARK": self.mark,
            "repeat": self.repeat,
            "go_on": self.go_on,
            "in_all": self.in_all,
            "in_number": self.in_number,
            "alternately": self.alternately,
            "with": self.with_thread,
            "pronoun": self.those,
            "following": self.following,
        }

    goes_on = False
    # Where the clause at hand begins, and how things stood there.
    kept_from = 0
    before: tuple[object, ...] = ()

    def run(self) -> Pattern:
        c = self.c
        self.before = self._state()
        while c.kind() != "END":
            start = c.at
            aside = self.apart.get(start)
            if aside is not None:
                self._aside(aside)
                continue
            kind = c.kind()
            if kind in ("STOP", "PARA", "SEMI", "EQUALS"):
                self._break(kind)
                c.next()
                continue
            if (start == self.sentence_start or start == 0) and self._heading():
                self.origins.heard.append(c.span(start))
                continue
            handler = self.actions.get(kind)
            if handler is None or not handler():
                c.at = max(c.at, start)
            if c.at == start:
                c.next()
            if kind in ("but", "besides"):
                self.clause_start = c.at
            self.origins.heard.append(c.span(start))
        self._keep(c.at)
        self._end_part()
        return self.pattern

    def _state(self) -> tuple[object, ...]:
        """What changes when something is understood."""
        told = self.told
        return (
            len(self.steps),
            len(self.pattern.parts),
            id(told) if told is not None else 0,
            len(told.pieces) if told is not None else 0,
            id(self.named),
            id(self.repeated),
            len(self.notices),
            self.over,
            self.understood,
        )

    def _keep(self, end: int) -> None:
        """A clause that did nothing is kept as a note."""
        start, before = self.kept_from, self.before
        self.kept_from, self.before = end, self._state()
        tokens = self.c.tokens[start:end]
        if before != self.before or not any(t.kind not in _SILENT for t in tokens):
            return
        if bisect_left(self.apart_at, start) < bisect_left(self.apart_at, end):
            return
        span = self.c.span(start, end)
        self.pattern.notes.append(" ".join(self.source.quote(span).split()).strip(" -–—"))
        self.origins.noted.append(span)

    def _break(self, kind: str) -> None:
        if kind != "STOP" or self.c.kind(1) != "DASH":
            self._keep(self.c.at)
            self.kept_from = self.c.at + 1
        if kind in ("STOP", "PARA"):
            if not (kind == "STOP" and self.c.kind(1) == "DASH"):
                self.flush()
            self.sentence_start = self.c.at + 1
        elif kind == "EQUALS" and self.told is not None and self.told.pieces:
            pass
        self.new_clause()

    def _aside(self, aside: Aside) -> None:
        c = self.c
        span = c.span(aside.start, aside.end)
        text = " ".join(self.source.quote(span).split())
        self.origins.noted.append(span)
        if aside.what == "title":
            self.pattern.title = text.strip(" .-–—")
            self._figure(aside)
        elif aside.what == "heading":
            self._end_part()
            self.part = Part(name=text.strip(" .-–—"))
            self.steps = self.part.steps
            self.origins.record(self.part, span)
            self._figure(aside)
        elif aside.what == "materials":
            head = c.tokens[aside.start + 1] if c.kind(1) == "COLON" else c.tokens[aside.start]
            self.pattern.materials.append(" ".join(self.source.quote(Span(head.end, span.end)).split()).strip(" :."))
        elif aside.what == "crochet":
            self.flush()
            self.steps.append(Note(text))
            self.origins.record(self.steps[-1], span)
        else:
            self.pattern.notes.append(text)
        c.at = aside.end
        if aside.what != "note":
            self.kept_from, self.before = aside.end, self._state()
            self.clause_start = self.sentence_start = c.at

    def _figure(self, aside: Aside) -> None:
        """The number of the picture that a title names: ``(fig. 499)``, ``21.--``."""
        tokens = self.c.tokens[aside.start : aside.end]
        for before, token in zip([None, *tokens], tokens, strict=False):
            if token.kind == "NUM" and (before is None or before.kind in ("caption", "deny", "numero")):
                self.figures[int(token.value)] = self.part

    def _heading(self) -> bool:
        """``2nd row:``, ``4th round.--``, ``For the 2nd row ...``."""
        c = self.c
        start = c.at
        led = c.kind() == "glue" or c.kind() == "DASH"
        c.skip({"glue", "DASH"})
        number = None
        if c.kind() == "ORD" and c.kind(1) in ("round", "row"):
            number = int(c.peek().value)
        elif not (led and c.kind() in ("last", "next") and c.kind(1) in ("round", "row")):
            c.at = start
            return False
        kind = c.peek(1).kind
        after = c.kind(2)
        if not led and after not in ("COLON", "STOP", "DASH"):
            c.at = start
            return False
        if after not in ("COLON", "STOP", "DASH", "COMMA", "work", "WORD", "fasten", "glue"):
            c.at = start
            return False
        c.at += 2
        while c.kind() in ("COLON", "STOP", "DASH"):
            c.next()
        self._end_part()
        self.part = Part(kind, number)
        self.steps = self.part.steps
        self.origins.record(self.part, c.span(start))
        self.clause_start = self.sentence_start = c.at
        return True

    def _end_part(self) -> None:
        self.flush()
        for mark, at in self.marks.items():
            if at < len(self.steps) and self.goes_on:
                repeat = Repeat(self.steps[at:], None, "length wanted")
                self.origins.record(repeat, self._mark_span(at))
                self.steps[at:] = [repeat]
            elif at < len(self.steps):
                self.notice("unmatched-repeat", "warning", f"nothing is repeated from this {mark}", self._mark_span(at))
        if self.by_turns is not None and self.by_turns < len(self.steps):
            repeat = Repeat(self.steps[self.by_turns :], None, "length wanted")
            self.wrap(self.by_turns, repeat, self._mark_span(self.by_turns))
        self.by_turns = None
        self.marks.clear()
        self.inner_marks.clear()
        self.named = None
        self.repeated = None
        self.over = False
        self.row_start = 0
        self.unit_at = 0
        if self.turned_each:
            self._turn_each(self.steps)
            self.turned_each = False
        if self.part.steps or self.part.kind or self.part.name:
            self.pattern.parts.append(self.part)

    def _mark_span(self, at: int) -> Span:
        return self.origins.of(self.steps[at]) or Span(0, 1)

    def _turn_each(self, steps: list[Step]) -> None:
        """``turn the work after each ring is made``."""
        at = 0
        while at < len(steps):
            step = steps[at]
            if isinstance(step, Repeat):
                self._turn_each(step.steps)
            elif isinstance(step, Element) and not (at + 1 < len(steps) and isinstance(steps[at + 1], Turn)):
                steps.insert(at + 1, Turn())
            at += 1

    def following(self) -> bool:
        """``in this as well as in the following ones``: what stands behind a mark goes on."""
        if self.c.next().value == "ones":
            self.goes_on = True
        return True

    def those(self) -> bool:
        """``each of the eight small ones``"""
        c = self.c
        if c.at and c.tokens[c.at - 1].kind in ("large", "small"):
            c.tokens[c.at] = c.peek()._replace(kind="ring", value="several")
            return self.noun()
        c.next()
        return True

    def number(self) -> bool:
        c = self.c
        if counts_ahead(c):
            return self.counts()
        if (
            c.peek().value == 1
            and not c.peek().text.isdigit()
            and c.at
            and c.tokens[c.at - 1].kind in ("large", "small")
        ):
            return self.noun()
        c.next()
        return True

    def article(self) -> bool:
        c = self.c
        if counts_ahead(c) and (self.told is not None or self.named is not None):
            return self.counts()
        if c.kind() == "another":
            return self.so_many_more()
        c.next()
        return True

    def counts(self) -> bool:
        """Counts: of the element at hand, or of a new one."""
        c = self.c
        start = c.at
        if not counts_ahead(c):
            c.next()
            return True
        told = self.told if self.told is not None else self.begin(start)
        if told.name.kind == "josephine ring" and told.pieces and c.kind(1) in ("double_stitch", *PICOTS):
            self.flush()
            told = self.begin(start)
        if not read_item(c, told.pieces):
            if not told.pieces:
                self.told, self.named = None, told.name
            c.at = start + 1
        told.span = told.span.join(c.span(start))
        return True

    def picot(self) -> bool:
        """A picot among the counts, with no number before it: ``4 double, purl, 4 double``."""
        c = self.c
        start = c.at
        token = c.next()
        before = c.tokens[start - 1].kind if start else ""
        if self.told is not None and self.told.pieces and before == "COMMA" and c.kind() in ("COMMA", "SEMI", "glue"):
            self.told.pieces.append((Picot(PICOTS[token.kind]), c.span(start)))  # type: ignore[arg-type]
        return True
