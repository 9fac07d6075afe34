"""Statements in running words: what full sentences and speech have beyond the shared grammar.

Work goes on over clauses, elements are named by ordinals and pronouns, numbers and changes are told apart from the steps they go
for. Everything else is the shared grammar's.
"""

from __future__ import annotations

from larkshead.model import (
    BareThread,
    Beads,
    Cut,
    Halves,
    Join,
    Length,
    LockJoin,
    Picot,
    SideChange,
    StatedTotal,
    Step,
    Stitches,
    Turn,
)
from larkshead.reading.grammar.changes import clause_end, read_changes
from larkshead.reading.grammar.counts import Counts
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.items import FILLER, ITEM_STARTS, WorkSyntax, read_work
from larkshead.reading.grammar.lengths import read_length
from larkshead.reading.grammar.places import ELEMENTS, PARTS, PICOTS
from larkshead.reading.grammar.said import (
    Alike,
    Change,
    Piece,
    SaidAlikePart,
    SaidChange,
    SaidCover,
    SaidElement,
    SaidHeading,
    SaidNote,
    SaidRepeat,
    SaidShut,
    SaidStep,
    SaidTotal,
    SaidUnit,
)
from larkshead.reading.grammar.statements import CLAUSE_ENDS, Statements
from larkshead.reading.grammar.tokens import Token
from larkshead.reading.grammar.totals import COUNTED, read_counted, read_of_each
from larkshead.reading.source import Span

SELECTORS = frozenset({"each", "last", "ORD", "from", "after", "previous", "this", "only"})
JOINS = frozenset({"join", "joining", "folded_join", "lock_join", "fasten"})
_TRADE = frozenset({*ELEMENTS, *PICOTS, *JOINS, "NUM", "double_stitch", "reverse_work", "close", "leave", "cut", "attach", "MARK"})
_INTRO = frozenset({*FILLER, "with", "COMMA", "denied", "by", "to", "from", "restating", "COLON", "large", "small", "shuttle", "ORD", "after", "each", "times", "only"})


class ProseStatements(Counts, Statements):
    """Reads running words."""

    stops = frozenset({"MARK", "around", "want", "until", "go_on", "length_wanted", "twice", "work_over", "followed", "bead", "with", "COMMA", "each", "another"})

    def __init__(self, tokens: list[Token], syntax: WorkSyntax, labels: dict[str, str] | None = None) -> None:
        super().__init__(tokens, syntax, labels)
        # Names given to passages, and beads told before the element they stand on.
        self.names: set[str] = _unit_names(tokens)
        self.waiting: list[Piece] = []
        # Beads that every join carries.
        self.join_beads = 0

    def statement(self) -> bool:
        c = self.c
        kind = c.kind()
        if self.fresh:
            if kind == "DASH" and c.peek(1).spaced:
                c.next()
                return True
            if self.heading() or self.step_label() or self.alike_part():
                return True
        if kind == "glue" and not self._leads():
            c.next()
            return True
        if self.fresh and (self.alike_part() or self.head()):
            return True
        if kind == "each" and c.kind(1) == "join" and c.find({"bead"}, CLAUSE_ENDS | {"COLON"}, 10) is not None:
            self.join_beads = 1
            c.at = clause_end(c)
            return True
        if kind == "vague":
            self.said.append(SaidNote(c.peek().text, c.span(c.at, c.at + 1), vague=True))
            c.next()
            return True
        if kind in ("step", "row", "round") and c.kind(1) == "NUM" and c.at and c.find({"times", "twice"}, CLAUSE_ENDS | set(ELEMENTS), 9) is not None:
            # "work steps 2 and 3 four more times"
            c.at -= 1
            return self.repeat()
        if kind == "each" and self.each_of_them():
            return True
        if self.follow() or self.beads() or self.units() or self.with_gap():
            return True
        if self.total() or self.count() or self.change() or self.go_on() or self.implied() or self.gap():
            return True
        return super().statement()

    def _leads(self) -> bool:
        """Filler that may lead into a statement of number or a change; other filler is passed over."""
        return self.c.find({"NUM", "each", "last", "ORD", "twice", "until", "go_on", "around", "repeat", "want"}, CLAUSE_ENDS, 4) is not None

    # The element named last without its work, and where the sentence at the position begins.
    named = ""
    named_count = 1
    from_name = ""
    sentence = 0

    def words(self, start: int) -> None:
        """Words no statement takes; an element named among them is what work told next makes."""
        super().words(start)
        said = self.said[-1] if self.said else None
        if isinstance(said, SaidNote) and not said.unread and said.span.start == self.c.tokens[start].start:
            # Words that lead to places, in a clause that was being read as work, were to be read.
            said.unread = self.open is not None and any(t.kind in ("between", "base", "opposite", "corresponding") for t in self.c.tokens[start : self.c.at])
        tokens = self.c.tokens
        for i in range(start, self.c.at):
            if tokens[i].kind in ELEMENTS and not (self.named and i and tokens[i - 1].kind in ("this", "of", "ORD", "previous", "last", "glue")):
                self.named = ELEMENTS[tokens[i].kind]
                number = tokens[i - 2] if i > 1 and tokens[i - 1].kind in ("small", "large", "glue", "more") else tokens[i - 1] if i else None
                self.named_count = int(number.value) if number is not None and number.kind == "NUM" else 1

    def tell(self, element: SaidElement) -> None:
        self.named = ""
        self.from_name = ""
        _drop_restated(element)
        for item, _ in element.pieces if self.join_beads else ():
            if isinstance(item, Join) and item.kind == "picot":
                item.beads = item.beads or self.join_beads
        if element.kind.startswith("split"):
            _one_side_change(element)
        if self.waiting:
            element.pieces[:0] = self.waiting
            self.waiting = []
        super().tell(element)

    def say(self, step: Step, start: int) -> bool:
        if not isinstance(step, Turn):
            self.named = ""
        return super().say(step, start)

    def run_on(self) -> None:
        """What a full stop or blank line ends: a passage told to be worked so many times."""
        self.sentence = self.c.at + 1
        if self.open_groups and self.open_groups[-1] == "ahead":
            self.open_groups.pop()
            self.said.append(SaidShut("line", self.c.span(self.c.at)))

    # --- elements ----------------------------------------------------------------------------------------------

    def element(self, count: int = 1, size: str = "", number: int | None = None, start: int | None = None) -> bool:
        c = self.c
        back = c.at
        if start is None and back and c.tokens[back - 1].kind in ("this", "other"):
            return False
        if self._more_of_it() or self._sized_one(start):
            return True
        if super().element(count, size, number, start):
            return True
        c.at = back
        return self._named_only(count, number, start)

    def _sized_one(self, start: int | None) -> bool:
        """``a small one three picot three``, ``little one same as the other little one``."""
        c = self.c
        begin = c.at if start is None else start
        if not (c.kind() in ("small", "large") and c.kind(1) == "pronoun"):
            return False
        last = next((s for s in reversed(self.said) if isinstance(s, SaidElement)), None)
        if last is None:
            return False
        element = SaidElement(last.kind, c.span(begin), size=c.kind())
        back = c.at
        c.at += 2
        if not self._alike(element):
            self._body(element)
        if not element.pieces and element.alike is None:
            c.at = back
            return False
        while c.kind() in ("small", "large", "pronoun", "more") and element.alike is not None:
            c.next()
        self._after_element(element)
        element.span = c.span(begin)
        self.tell(element)
        return True

    def _more_of_it(self) -> bool:
        """``chain twenty more on the same chain``: the chain told last goes on."""
        c = self.c
        if not (c.kind() in ELEMENTS and c.kind(1) == "NUM"):
            return False
        last = self.said[-1] if self.said else None
        if not isinstance(last, SaidElement) or last.kind != ELEMENTS[c.kind()] or not last.pieces:
            return False
        if c.kind(2) != "more" and not (last is self.open and last.kind == "chain" and isinstance(last.pieces[-1][0], Picot)):
            return False
        start = c.at
        number = c.peek(1)
        c.at += 2
        c.take("more")
        last.pieces.append((Stitches(int(number.value)), Span(number.start, number.end)))
        while c.kind() in ("to", "same", "glue", "of", "with", "WORD", "denied", "this") and c.at - start < 8:
            c.next()
        if c.kind() in ELEMENTS and c.tokens[c.at - 1].kind in ("same", "this"):
            c.next()
        last.span = last.span.join(c.span(start))
        self.open = last
        return True

    def _named_only(self, count: int, number: int | None, start: int | None) -> bool:
        """``Next ring. Three double stitches, ...``: the work comes in the next sentence."""
        c = self.c
        begin = c.at if start is None else start
        back = c.at
        token = c.next()
        if token.kind in ELEMENTS and c.kind() in ("STOP", "COLON", "PARA", "NL") and c.kind(1) == "NUM" and c.kind(2) in (
            "double_stitch",
            "COMMA",
            *PICOTS,
        ):
            c.next()
            element = SaidElement(ELEMENTS[token.kind], c.span(begin), count=count, first=number)
            self._body(element)
            if element.pieces:
                self._after_element(element)
                element.span = c.span(begin)
                self.tell(element)
                return True
        if token.kind in ELEMENTS and back and c.tokens[back - 1].kind in ("another", "like", "same") and any(
            isinstance(s, SaidElement) and s.kind == ELEMENTS[token.kind] for s in self.said
        ):
            element = SaidElement(ELEMENTS[token.kind], c.span(begin), alike=Alike(), count=count)
            self._after_element(element)
            self.tell(element)
            return True
        c.at = back
        return False

    def _label(self, element: SaidElement) -> None:
        """Also lists: ``Rings B, C and D``, ``Rings 1, 3 and 5``."""
        c = self.c
        kind = c.kind()
        if kind in ("NUM", "label") and c.kind(1) in ("COMMA", "glue") and (c.kind(2) == kind or (c.kind(2) == "glue" and c.kind(3) == kind)):
            at, found = c.at, [c.peek()]
            c.next()
            while c.kind() in ("COMMA", "glue") and (c.kind(1) == kind or (c.kind(1) == "glue" and c.kind(2) == kind)):
                c.skip({"COMMA", "glue"})
                found.append(c.next())
            if c.kind() in ("COLON", "like", "same", "glue", "each", "OPEN") and len(found) > 1:
                element.label = found[0].text
                element.count = len(found)
                if kind == "NUM":
                    element.numbers = [int(t.value) for t in found]
                return
            c.at = at
        super()._label(element)

    def _is_label_number(self) -> bool:
        if super()._is_label_number():
            return True
        c = self.c
        after = c.kind(1)
        if after == "COMMA" and c.kind(2) not in ("NUM", "join", "lock_join", "close", *PICOTS) and not c.tokens[c.at].text.isdigit():
            return c.find({"COLON"}, CLAUSE_ENDS, 16) is not None
        return after in ("like", "same") or (after in ("glue", "restating") and c.kind(2) in ("like", "same", "NUM", "glue", "ORD", *PICOTS) and c.kind(2) != "glue") or (
            after == "glue" and c.kind(2) == "glue" and c.kind(3) in ("like", "same")
        )

    def _body(self, element: SaidElement) -> None:
        """The work, after the words that introduce it (``is``, ``of``, ``that's``, ``with shuttle one``)."""
        c = self.c
        back = c.at
        introduced = False
        colon = c.find({"COLON"}, CLAUSE_ENDS | {"NUM", *PICOTS, *ELEMENTS, "OPEN"}, 16)
        if colon and c.kind(colon + 1) in ("NUM", "OPEN"):
            c.at += colon + 1
            introduced = True
        while c.kind() in _INTRO and c.at - back < 8:
            if c.kind() == "ORD" and c.kind(1) in ("restating", "glue", "NUM", "COMMA"):
                c.next()
                continue
            if c.kind() == "shuttle" or (c.kind() == "ORD" and c.kind(1) != "shuttle"):
                if c.kind() == "ORD":
                    break
                c.next()
                if c.kind() in ("NUM", "ORD") and c.kind(1) not in PICOTS and c.kind(1) not in ("double_stitch", "COMMA"):
                    c.next()
                continue
            introduced = introduced or c.kind() in ("of", "with", "COLON", "COMMA")
            if c.kind() == "COMMA" and c.kind(1) == "NUM" and c.kind(2) == "of" and c.kind(3) == "this":
                element.count = int(c.peek(1).value)
                c.at += 4
                continue
            if c.kind() == "COLON":
                back = c.at
            c.next()
        self._stated(element)
        if c.kind() not in ITEM_STARTS or (c.kind() == "NUM" and not self._counts_stitches(c.at == back or introduced)):
            c.at = back
            return
        if c.kind() not in ("NUM", "OPEN", "first_half", "second_half") and not introduced and c.at - back > 1:
            c.at = back
            return
        if c.kind() in PICOTS and c.at > 0 and c.tokens[c.at - 1].kind in ("ORD", "this", "last") and not introduced:
            c.at = back
            return
        element.pieces = read_work(c, self._syntax(element))
        if not any(isinstance(item, Stitches | Halves) for item, _ in element.pieces) or (len(element.pieces) == 1 and c.kind() in ELEMENTS):
            element.pieces = []
            c.at = back

    def _stated(self, element: SaidElement) -> None:
        """``of 20 double stitches in all: 4 ...``: the sum told before the work."""
        c = self.c
        if c.kind() != "NUM":
            return
        ahead = 2 if c.kind(1) == "double_stitch" else 1
        ahead += c.kind(ahead) == "in_all"
        if c.kind(ahead) != "COLON" or c.kind(ahead + 1) not in ("NUM", *PICOTS):
            return
        number = c.peek()
        element.stated = int(number.value)
        c.at += ahead + 1

    def total(self) -> bool:
        """``that is 96 stitches in all``, ``the leaf ring has 22 ds``, ``four beads, then, and eight picots``: sums told, not worked."""
        c = self.c
        start = c.at
        if PARTS.keys() & {c.kind(), c.kind(1)} and self._totals_of_parts():
            return True
        if (each := read_of_each(c)) is not None:
            self.said.append(SaidTotal(each, c.span(start)))
            self.open = None
            return True
        # A list of totals under its name may be long; sums in running speech are not.
        most = min(start + (60 if c.kind() == "total" else 16), c.limit)
        kinds = [t.kind for t in c.tokens[start:most]]
        stop = next((i for i, k in enumerate(kinds) if k in CLAUSE_ENDS or k in ("COLON", "COMMA") and i > 8), len(kinds))
        number = next((i for i, k in enumerate(kinds[:stop]) if k == "NUM"), None)
        if number is None or any(k in ("reverse_work", "join", "lock_join", "leave", "of", "each", *PICOTS) for k in kinds[:number]):
            return False
        cued = any(k in ("restating", "total", "in_all", "used") for k in kinds[:stop]) or (
            number >= 2 and kinds[number - 1] in ("has", "have", "restating")
        )
        if not cued:
            return False
        probe = Cursor(c.tokens, start + number, most)
        counts, end = read_counted(probe)
        if not counts or (set(counts) & {"rings", "chains"} and "restating" not in kinds and "total" not in kinds):
            return False
        if c.tokens[end].kind in ("COLON", "NUM") if end < c.limit else False:
            return False
        if end < c.limit and c.tokens[end].kind == "COMMA" and end + 1 < c.limit and c.tokens[end + 1].kind in ("NUM", *PICOTS):
            return False
        scope = "pattern" if any(k in ("in_all", "total", "used") for k in kinds[:stop]) else "element"
        if scope == "element" and not any(isinstance(s, SaidElement) for s in self.said):
            return False
        c.at = end
        while c.kind() in ("in_all", "glue", "COMMA", "WORD") and c.at < start + stop:
            c.next()
        self.said.append(SaidTotal(StatedTotal(counts, scope, words=""), c.span(start)))  # type: ignore[arg-type]
        self.open = None
        return True

    def _totals_of_parts(self) -> bool:
        """``the rounds have 24, 240 and 192 ds``: a sum for each part, in order."""
        c = self.c
        start = c.at
        c.skip(("glue",))
        named = c.take(*PARTS)
        if named is None:
            c.at = start
            return False
        part = PARTS[named.kind]
        c.skip(("glue", "has", "have", "of", "COLON"))
        numbers: list[int] = []
        while c.kind() == "NUM":
            numbers.append(int(c.next().value))
            if c.kind(1) in ("NUM", "glue") or c.kind() == "glue":
                c.skip(("COMMA", "glue"))
        counted = COUNTED.get(c.kind())
        if len(numbers) < 2 or counted is None:
            c.at = start
            return False
        c.next()
        span = c.span(start)
        for number, count in enumerate(numbers, 1):
            self.said.append(SaidTotal(StatedTotal({counted: count}, "part", of=f"{part} {number}"), span))
        self.open = None
        return True

    def _counts_stitches(self, introduced: bool) -> bool:
        """Whether the number at the position can count stitches: not elements, times, lengths or things."""
        c = self.c
        after = c.kind(1)
        if after in ELEMENTS or after in ("UNIT", "times", "large", "small", "ORD", "step", "row", "round", "motif", "of"):
            return False
        if after == "more" and (c.kind(2) in ELEMENTS or c.kind(2) in ("WORD", "like")):
            return False
        return introduced or after != "WORD"

    def _alike(self, element: SaidElement) -> bool:
        c = self.c
        back = c.at
        while c.kind() in ("glue", "COMMA", "COLON", "WORD") and c.at - back < 4:
            c.next()
        if c.kind() not in ("like", "same"):
            c.at = back
            return False
        if not super()._alike(element):
            c.at = back
            return False
        end = self._change_end()
        kinds = [t.kind for t in c.tokens[c.at : end]]
        self._swap(element, kinds)
        if JOINS & set(kinds):
            element.changes = read_changes(c, end, element.kind)
        elif c.kind() in ("glue", "COMMA", "but", "WORD", "previous") and c.kind(1) not in ELEMENTS:
            while c.kind() in ("WORD", "previous", "but") and c.at < end:
                c.next()
        return True

    def _swap(self, element: SaidElement, kinds: list[str]) -> None:
        """``with seven wherever that has five``: one count for another all through."""
        c = self.c
        for i, kind in enumerate(kinds[:12]):
            if kind == "NUM" and "where" in kinds[i + 1 : i + 3] and "NUM" in kinds[i + 2 : i + 7]:
                j = kinds.index("NUM", i + 2)
                change = Change(item=int(c.tokens[c.at + j].value), what="stitches", into=str(c.tokens[c.at + i].value))
                if element.alike is not None:
                    element.alike.changes.append(change)
                return

    def _change_end(self) -> int:
        """How far a change told of the element just named reaches: to the end of the clause, or to the next step."""
        c = self.c
        end = clause_end(c)
        for i in range(c.at, end):
            kind = c.tokens[i].kind
            if kind in ("reverse_work", "close", "cut", "no_turn", "leave", "until", "repeat", "want", "go_on", "work_over", "length_wanted") or (
                kind in ELEMENTS and i + 1 < end and c.tokens[i + 1].kind in ("NUM", "of", "COLON") and c.tokens[i - 1].kind not in ("previous", "of", "last", "ORD", "glue", "to")
            ):
                return i
        return end

    def head(self) -> bool:
        """``Middle one: 5 ds, ...``, ``The heart: six``: a few words and a colon before work stand for an element."""
        c = self.c
        start = c.at
        colon = c.find({"COLON"}, CLAUSE_ENDS | {"COMMA", "NUM", *ELEMENTS, *PARTS, "step", "shuttle", "MARK", "OPEN", "repeat"}, 5)
        if colon and c.kind(colon + 1) in (*ELEMENTS, "glue", "reverse_work", "leave", "with"):
            for token in c.tokens[start : start + colon]:
                if token.kind == "WORD" and len(token.text) > 2:
                    self.names.add(token.text.lower())
                    self.said.append(SaidUnit(token.text.lower(), c.span(start)))
            c.at += colon + 1
            return True
        if not colon or c.kind(colon + 1) != "NUM" or c.kind(colon + 2) not in ("double_stitch", "COMMA", *PICOTS):
            return False
        last = next((s for s in reversed(self.said) if isinstance(s, SaidElement)), None)
        if last is None and not self.named:
            return False
        size = next((c.kind(i) for i in range(colon) if c.kind(i) in ("large", "small")), "")
        c.at += colon + 1
        element = SaidElement(self.named or (last.kind if last else "ring"), c.span(start), size=size)
        element.pieces = read_work(c, self._syntax(element))
        if not element.pieces:
            c.at = start
            return False
        self._after_element(element)
        element.span = c.span(start)
        self.tell(element)
        return True

    def ordinal(self) -> bool:
        c = self.c
        start = c.at
        if super().ordinal():
            return True
        c.at = start
        number = int(c.next().value)
        if self._noun_ordinal(number, start):
            return True
        c.at = start
        return False

    def _noun_ordinal(self, number: int | None, start: int) -> bool:
        """``The third: five, picot, five``; ``the sixth is a split ring``: an ordinal that stands for the element."""
        c = self.c
        if self.open is not None and self.open.kind.startswith("split") and number == 2:
            c.take("COMMA")
            return self.go_on()
        if c.kind() == "glue":
            named = c.find(set(ELEMENTS), CLAUSE_ENDS | {"COMMA", "NUM", *JOINS}, 6)
            if named is not None and c.kind(named) not in ("ring", "chain"):
                c.at += named
                return self.element(number=number, start=start)
        last = next((s for s in reversed(self.said) if isinstance(s, SaidElement)), None)
        if last is None:
            return False
        colon = c.find({"COLON"}, CLAUSE_ENDS | {"COMMA", "NUM"}, 7)
        if colon is not None:
            c.at += colon + 1
        elif c.kind() == "COMMA" and c.kind(1) == "NUM" or c.kind() == "NUM" and c.kind(1) in ("COMMA", "double_stitch"):
            c.take("COMMA")
        elif c.kind() in ("glue", "pronoun") and c.find({"NUM"}, CLAUSE_ENDS | {"COMMA", *JOINS}, 4) is not None:
            c.at += c.find({"NUM"}, (), 4) or 0
            if c.kind(1) not in ("COMMA", "double_stitch", "glue", *PICOTS):
                return False
        else:
            return False
        element = SaidElement(self.named or last.kind, c.span(start), label=str(number) if number else None, first=number)
        self._body(element)
        if not element.pieces:
            return False
        self._after_element(element)
        element.span = c.span(start)
        self.tell(element)
        return True

    def go_on(self) -> bool:
        """More work for the element told last: ``..., 6; and join to the first picot; finish with 4``."""
        c = self.c
        start = c.at
        if self.open is None or c.kind() not in ITEM_STARTS or c.kind() in ("OPEN", "DASH"):
            return False
        if c.kind() in JOINS and (self.open.kind.endswith("chain") or c.tokens[start - 1].kind == "STOP"):
            return False
        if self.c.tokens[self.sentence : self.sentence + 1] and self.open.span.end < c.tokens[self.sentence].start and any(
            t.kind not in ("glue", "COMMA", "NUM", "DASH", "another", *ITEM_STARTS)
            and not (self.open.kind.startswith("split") and t.kind in ("with", "ORD", "shuttle", "to", "WORD", "COLON", "SEMI"))
            for t in c.tokens[self.sentence : start]
        ):
            return False
        if c.kind() == "NUM" and isinstance(self.open.pieces[-1][0], Stitches) and not self.open.kind.startswith("split") and c.tokens[start - 1].kind == "SEMI":
            return False
        if c.kind() == "NUM":
            if not self._counts_stitches(False) or c.kind(1) not in (
                "double_stitch", "COMMA", "STOP", "SEMI", "close", "glue", "join", "again", "END", "first_half", "second_half", "bead", *PICOTS,
            ):
                return False
            if c.kind(1) == "glue" and c.kind(2) in ELEMENTS:
                return False
            if c.tokens[start - 1].kind in ("WORD", "each", "go_on", "to", "restating", "this", "from", "until", "other") and not (
                self.open.kind.startswith("split") and c.tokens[start - 1].kind in ("WORD", "this")
            ):
                return False
        elif c.kind() in PICOTS and not (isinstance(self.open.pieces[-1][0].__class__, type) and c.kind(1) in ("COMMA", "NUM", "glue")):
            return False
        pieces = read_work(c, self._syntax(self.open))
        if not pieces:
            c.at = start
            return False
        element = self.open
        element.pieces.extend(pieces)
        self._after_element(element)
        element.span = element.span.join(c.span(start))
        if c.tokens[c.at - 1].kind in ("close", "half_closed"):
            self.open = None
        return True

    def implied(self) -> bool:
        """Work told with no word for the element: a ring."""
        c = self.c
        start = c.at
        if c.kind() not in ("NUM", "join", *PICOTS) or (c.kind() in PICOTS and (not self.fresh or c.kind(1) != "COMMA")):
            return False
        if start and c.tokens[start - 1].kind in (*PARTS, "step", "shuttle"):
            return False
        probe = Cursor(c.tokens, c.at, c.limit)
        pieces = read_work(probe, self.syntax)
        between = [t.kind for t in c.tokens[start : probe.at]]
        if len(pieces) == 1 and isinstance(pieces[0][0], Halves):
            c.at = probe.at
            kind = self.named or ("josephine ring" if c.find({"close"}, CLAUSE_ENDS, 3) is not None else "chain")
            element = SaidElement(kind, c.span(start), pieces)
            self._after_element(element)
            element.span = c.span(start)
            self.tell(element)
            return True
        if pieces and probe.kind() == "of" and probe.kind(1) in ELEMENTS and all(k not in PICOTS for k in between[:1]):
            element = SaidElement(ELEMENTS[probe.kind(1)], c.span(start), pieces)
            c.at = probe.at + 2
            element.span = c.span(start)
            self.tell(element)
            return True
        least = 2 if self.fresh and "double_stitch" in between else 3
        if len(pieces) < least or not any(k in PICOTS or k in JOINS or k == "bead" for k in between) or between[0] in JOINS:
            return False
        last = next((s for s in reversed(self.said) if isinstance(s, SaidElement)), None)
        named = self.named
        kind = self.named or ("chain" if between[0] in PICOTS and last is not None and last.kind == "chain" else "ring")
        element = SaidElement(kind, c.span(start), pieces)
        c.at = probe.at
        self._after_element(element)
        element.span = c.span(start)
        self.tell(element)
        self.from_name = named
        return True

    # --- actions -----------------------------------------------------------------------------------------------

    def gap(self) -> bool:
        """``quarter inch``, ``another millimetre``: a length alone, between elements, is thread left bare."""
        c = self.c
        start = c.at
        if c.kind() == "another" and c.kind(1) in ("UNIT", "FRACTION"):
            c.next()
        if c.kind() not in ("FRACTION", "UNIT") or not self.said:
            c.at = start
            return False
        if c.kind() == "UNIT":
            if c.tokens[c.at - 1].kind != "another":
                c.at = start
                return False
            token = c.next()
            length: Length | None = Length("1", str(token.value))
        else:
            length = read_length(c)
        if length is None:
            c.at = start
            return False
        while c.kind() in ("of", "glue", "thread", "bare_thread", "space") and c.kind(1) in ("thread", "bare_thread", "space", "of", *CLAUSE_ENDS):
            c.next()
        return self.say(BareThread(length), start)

    def leave(self) -> bool:
        """``leave 1/4 inch of thread``, ``leave a tiny bit of thread, no more than 2 mm``: the length may come later in the clause."""
        c = self.c
        start = c.at
        first = c.next().kind
        if first == "small_picot":
            c.at = start
            return False
        if self._is_tail(start):
            c.at += c.find(CLAUSE_ENDS | {"COMMA"}, (), 30) or 0
            return True
        at = c.at
        length = None
        for ahead in range(14):
            kind = c.kind(ahead)
            if kind in CLAUSE_ENDS or kind in ELEMENTS or kind in ("reverse_work", "close", "join", "cut"):
                break
            if kind == "UNIT" and ahead and c.kind(ahead - 1) in ("glue", "another"):
                length = Length("1", str(c.peek(ahead).value))
                c.at += ahead + 1
                break
            if kind == "between" and c.kind(ahead + 1) == "NUM" and c.kind(ahead + 3) == "NUM" and c.kind(ahead + 4) == "UNIT":
                length = Length(str(c.peek(ahead + 1).value), str(c.peek(ahead + 4).value), str(c.peek(ahead + 3).value))
                c.at += ahead + 5
                break
            if kind in ("NUM", "FRACTION", "ORD"):
                probe = Cursor(c.tokens, c.at + ahead, c.limit)
                length = read_length(probe)
                if length is not None:
                    c.at = probe.at
                    break
        if length is None and c.find({"same"}, CLAUSE_ENDS | {"COMMA", *ELEMENTS}, 4) is not None:
            length = next((s.step.length for s in reversed(self.said) if isinstance(s, SaidStep) and isinstance(s.step, BareThread)), None)
            if length is not None:
                c.at += (c.find({"same"}, (), 4) or 0) + 1
        if length is None:
            near = [c.tokens[i].kind for i in range(at, min(at + 8, c.limit))]
            end = next((i for i, k in enumerate(near) if k in CLAUSE_ENDS or k == "COMMA" or k in ELEMENTS), len(near))
            if first == "leave" and not {"space", "bare_thread", "thread"} & set(near[:end]):
                c.at = start
                return False
            if first != "leave":
                c.at = start
                return False
            c.at = at + next((i + 1 for i in range(end - 1, -1, -1) if near[i] in ("space", "bare_thread", "thread")), 0)
        if length is not None and c.kind() in ("between", "thread", "of") and self._between_each(start, length):
            return True
        if length is not None and self._with_each(start, length):
            return True
        while c.kind() in ("of", "glue", "thread", "bare_thread", "space", "SHUT", "WORD", "this") and c.kind(1) not in (*ELEMENTS, "NUM", "ORD"):
            if c.kind() in ("glue", "WORD", "this") and c.kind(1) not in ("thread", "bare_thread", "space", "WORD", *CLAUSE_ENDS):
                break
            c.next()
        return self.say(BareThread(length), start)

    def _between_each(self, start: int, length: Length) -> bool:
        """``5 mm between each ring and the next``: thread left between all elements of the passage."""
        c = self.c
        back = c.at
        while c.kind() in ("of", "thread", "glue", "bare_thread", "WORD") and c.at - back < 4:
            c.next()
        if c.kind() != "between":
            c.at = back
            return False
        c.at = clause_end(c)
        turned = isinstance(self.said[-1], SaidStep) and isinstance(self.said[-1].step, Turn) if self.said else False
        if turned:
            self.said.pop()
            self.said.append(SaidCover("turn", c.span(start), True))
        self.said.append(SaidCover("thread", c.span(start), True, BareThread(length)))
        return True

    def _with_each(self, start: int, length: Length) -> bool:
        """``after every ring leave 2 mm``, ``leave 3 mm before every one of them``: thread with each element of the passage."""
        c = self.c
        ahead = c.find({"each"}, CLAUSE_ENDS | {"COMMA"}, 7)
        if ahead is not None and ahead and c.kind(ahead - 1) in ("previous", "after"):
            what = "before" if c.kind(ahead - 1) == "previous" else "thread"
            c.at = clause_end(c)
        else:
            behind = [t.kind for t in c.tokens[max(self.sentence, start - 6) : start]]
            if "each" not in behind or behind[behind.index("each") - 1] != "after":
                return False
            what = "thread"
        self.said.append(SaidCover(what, c.span(start), False, BareThread(length)))
        return True

    def with_gap(self) -> bool:
        """``with 1 mm between them``."""
        c = self.c
        start = c.at
        if c.kind() != "with":
            return False
        c.next()
        length = read_length(c)
        if length is None or not self._between_each(start, length):
            c.at = start
            return False
        return True

    def lock_join(self) -> bool:
        c = self.c
        start = c.at
        if (c.kind() == "join" and self._nothing_joined(start)) or (c.kind() in ("join", "lock_join") and self._named_join(start)):
            c.next()
            return True
        if self._last_one_closes(start):
            return True
        if not super().lock_join():
            return False
        said = self.said[-1]
        before = self.said[-2] if len(self.said) > 1 else None
        if isinstance(said, SaidStep) and isinstance(said.step, LockJoin) and not said.step.places and (
            c.tokens[start].kind == "join" or isinstance(before, SaidRepeat | SaidChange)
        ):
            self.said.pop()
        return True

    def _nothing_joined(self, start: int) -> bool:
        return start > 0 and self.c.tokens[start - 1].kind in ("denied", "deny", "nothing")

    def _last_one_closes(self, start: int) -> bool:
        """``the last one is lock joined to the p where the round began``: no join more than the last of a repeat has."""
        c = self.c
        at = start - 1
        while at >= 0 and (c.tokens[at].kind in ("glue", "pronoun") or c.tokens[at].kind == "NUM" and c.tokens[at].value == 1):
            at -= 1
        if at < 0 or c.tokens[at].kind != "last" or not any(isinstance(said, SaidRepeat) for said in self.said[-3:]):
            return False
        end = clause_end(c)
        if not {"where", "again", "start"} & {token.kind for token in c.tokens[start:end]}:
            return False
        c.at = end
        span = c.span(start)
        self.said.append(SaidNote(" ".join(token.text for token in c.tokens[start:end]), span))
        return True

    def _named_join(self, start: int) -> bool:
        """``the last lock join falls in ...``, ``the joined ring``: a join spoken of and not made."""
        if self.c.kind(1) in ELEMENTS and start > 0 and self.c.tokens[start - 1].kind == "glue":
            return True
        return start > 0 and self.c.tokens[start - 1].kind in ("last", "this", "each", "ORD")

    def attach(self) -> bool:
        """``tie on``; where the thread was tied on is only a place."""
        c = self.c
        if any(t.kind == "where" for t in c.tokens[max(0, c.at - 4) : c.at]):
            c.next()
            return True
        return super().attach()

    def cut(self) -> bool:
        """Cutting, tying and hiding told in one breath are one cut; where the ends are tied is no join."""
        c = self.c
        start = c.at
        if c.kind(1) == "to" and c.find(set(PICOTS), CLAUSE_ENDS | {"cut", "COMMA"}, 6) is not None:
            return self.attach()
        token = c.next()
        while c.kind() not in CLAUSE_ENDS:
            if c.kind() in ("cut", "COMMA") and c.find({"cut"}, CLAUSE_ENDS | set(ELEMENTS) | {"NUM"}, 12) is None and c.kind() == "COMMA":
                break
            if c.kind() in ("reverse_work", "attach", "leave", "mock_picot", "NUM", "hide_ends", "MARK", "until"):
                break
            if c.kind() in ELEMENTS and c.tokens[c.at - 1].kind not in ("of", "ORD", "previous", "last", "this", "glue"):
                break
            c.next()
        return self.say(Cut(tie=len(token.text.split()) > 1 or token.text.lower() == "ct"), start)

    def turn(self) -> bool:
        """A turn; ``turning each time``, ``a turn before and after`` only say again what the passage does."""
        c = self.c
        start = c.at
        token = c.peek()
        before = c.tokens[start - 1] if start else None
        if before is not None and before.kind in ("with", "after", "previous") and token.text.lower().startswith("turn"):
            c.next()
            return True
        if not super().turn():
            return False
        said = self.said[-1]
        if isinstance(said, SaidStep) and isinstance(said.step, Turn) and token.text.lower() in ("turning", "turned") and c.kind() in ("each", "WORD"):
            self.said.pop()
        return True

    # --- changes -----------------------------------------------------------------------------------------------

    def change(self) -> bool:
        """A change told apart: ``the last ring joins to the first as well``, ``joining each ring by its first picot to ...``."""
        c = self.c
        start = c.at
        if c.kind() not in SELECTORS and c.kind() not in ELEMENTS and c.kind() != "joining":
            return False
        end = clause_end(c)
        kinds = [t.kind for t in c.tokens[start:end]]
        join = next((i for i, k in enumerate(kinds) if k in JOINS), None)
        if join is None or not self._is_change(kinds, join):
            return False
        end = min(end, self._change_end())
        changes = read_changes(c, end)
        if not changes:
            return False
        for change in changes:
            self.said.append(SaidChange(change, c.span(start)))
        self.open = None
        return True

    def beads(self) -> bool:
        """``slide up a bead``: on the chain just told when nothing was done since, else on the one told next."""
        c = self.c
        start = c.at
        count = int(c.peek().value) if c.kind() == "NUM" and c.kind(1) == "bead" else 1
        if c.kind() == "NUM" and c.kind(1) == "bead":
            c.next()
        if c.kind() != "bead" or not self.moved(start):
            c.at = start
            return False
        c.next()
        piece = (Beads(count), c.span(start))
        if self.open is not None:
            self.open.pieces.append(piece)
        else:
            self.waiting.append(piece)
        return True

    def moved(self, start: int) -> bool:
        """Whether beads are slid along here, and not listed, strung or counted."""
        return any(t.kind == "slide" for t in self.c.tokens[max(0, start - 5) : start])

    def units(self) -> bool:
        """``that is one bobble``, ``make six arms``: what was told has a name, and is worked so many times by that name."""
        c = self.c
        start = c.at
        if c.kind() in ("restating", "this") and (c.kind(1) == "pronoun" or (c.kind(1) == "NUM" and c.peek(1).value == 1)) and c.kind(2) == "WORD":
            self.names.add(c.peek(2).text.lower())
            c.at += 3
            return True
        c.skip({"glue", "this", "work_over", "WORD"} if c.kind() != "NUM" else ())
        if c.kind() == "NUM" and c.at - start < 4:
            ahead = 1
            more = c.kind(1) == "more"
            while c.kind(ahead) in ("more", "glue", "of", "this") and ahead < 4:
                ahead += 1
            word = c.peek(ahead)
            name = self._named_unit(word.text) if word.kind in ("WORD", "label") and len(word.text) > 2 else None
            if name is not None:
                times = int(c.peek().value)
                if c.find({"COLON"}, CLAUSE_ENDS, 12) is not None or times < 2:
                    c.at = start
                    return False
                c.at += ahead + 1
                self.said.append(SaidRepeat("unit", c.span(start), times=times, how="more" if more else "all", labels=[name]))
                self.open = None
                return True
        c.at = start
        return False

    def _named_unit(self, word: str) -> str | None:
        word = word.lower()
        return next((n for n in self.names if len(n) > 2 and (word.startswith(n) or n.startswith(word)) and abs(len(n) - len(word)) < 3), None)

    def heading(self) -> bool:
        """Headings of the shared grammar, and ``First half:``."""
        c = self.c
        start = c.at
        if c.kind() in ("first_half", "second_half") and c.kind(1) in ("COLON", "STOP"):
            number = 1 if c.next().kind == "first_half" else 2
            c.next()
            self.said.append(SaidHeading("half", c.span(start), number))
            self.fresh = True
            return True
        if c.kind() in PARTS and c.kind(1) in ("NUM", "ORD") and c.find({"like", "same"}, CLAUSE_ENDS, 7) is not None:
            number = int(c.peek(1).value)
            kind = PARTS[c.next().kind]
            c.next()
            self.said.append(SaidHeading(kind, c.span(start), number))
            self.alike_part()
            return True
        return super().heading()

    def alike_part(self) -> bool:
        """``As the first half, but ...``; ``The same, but ...``; ``worked like motif one``: a whole part like an earlier one."""
        c = self.c
        start = c.at
        if not self.said or not isinstance(self.said[-1], SaidHeading):
            return False
        while c.kind() in ("glue", "WORD", "COMMA") and c.at - start < 5:
            c.next()
        if c.kind() not in ("like", "same"):
            c.at = start
            return False
        while c.kind() in ("like", "same", "glue"):
            c.next()
        said = SaidAlikePart(c.span(start))
        if c.kind() in ("first_half", "second_half"):
            said.kind, said.number = "half", 1 if c.next().kind == "first_half" else 2
        elif c.kind() in PARTS and c.kind(1) in ("NUM", "ORD"):
            said.kind, said.number = PARTS[c.next().kind], int(c.next().value)
        elif c.kind() == "ORD" and c.kind(1) in PARTS:
            said.number = int(c.next().value)
            said.kind = PARTS[c.next().kind]
        elif c.kind() in ELEMENTS or c.kind() in ("NUM", "ORD", "label"):
            c.at = start
            return False
        end = clause_end(c)
        said.changes = read_changes(c, end)
        c.at = end
        said.span = c.span(start)
        self.said.append(said)
        return True

    def open_group(self) -> bool:
        """Brackets with no number behind them hold a remark."""
        c = self.c
        start = c.at
        shut = c.find({"SHUT"}, ("PARA",), 80)
        if shut is None:
            return super().open_group()
        probe = Cursor(c.tokens, c.at + shut + 1, c.limit)
        told = probe.kind() in ("times", "twice") or (probe.kind() == "NUM" and probe.kind(1) == "times") or (probe.kind() == "COMMA" and probe.kind(2) == "times")
        if told:
            return super().open_group()
        c.at += shut + 1
        words = " ".join(t.text for t in c.tokens[start : c.at])
        self.said.append(SaidNote(words, c.span(start)))
        return True

    def each_of_them(self) -> bool:
        """``five rings ..., each of the rings is four, picot, four``: so many as were named."""
        c = self.c
        start = c.at
        count = self.named_count
        if count < 2 or not self.named:
            return False
        c.next()
        while c.kind() in ("of", "this", "glue", "pronoun", *ELEMENTS) and c.at - start < 7:
            c.next()
        if c.kind() != "NUM" or not self._counts_stitches(True):
            c.at = start
            return False
        element = SaidElement(self.named, c.span(start), count=min(count, 10**6))
        element.pieces = read_work(c, self._syntax(element))
        if not any(isinstance(item, Stitches) for item, _ in element.pieces):
            c.at = start
            return False
        self._after_element(element)
        element.span = c.span(start)
        self.tell(element)
        return True

    def follow(self) -> bool:
        """``each followed by its chain as before``: what came after the first of them comes after every one."""
        c = self.c
        start = c.at
        if c.kind() not in ("each", "all", "this", "followed", "with", "after"):
            return False
        end = clause_end(c)
        kinds = [t.kind for t in c.tokens[c.at : min(end, c.at + 14)]]
        chain = next((i for i, k in enumerate(kinds) if k == "chain"), None)
        if (chain is None and "followed" not in kinds) or any(k in ("NUM", "join", "lock_join") for k in kinds):
            return False
        chain = chain or 0
        told = "followed" in kinds or (kinds[0] in ("after",) and "each" in kinds) or ("same" in kinds[:chain] and ("after" in kinds or "each" in kinds or kinds[0] == "with"))
        if not told:
            return False
        c.at = end
        self.said.append(SaidRepeat("follow", c.span(start)))
        self.open = None
        return True

    def _is_change(self, kinds: list[str], join: int) -> bool:
        """Before the join stand only words that choose elements and picots, and no work."""
        before = kinds[:join]
        if any(
            k in ("COLON", "double_stitch", "reverse_work", "close", "bead", "leave", "cut", "OPEN", "like", "same", "attach", "split_ring", "mock_ring")
            for k in before
        ):
            return False
        if sum(k == "WORD" for k in before) > 3 and not any(k in PICOTS for k in before):
            return False
        for i, kind in enumerate(before):
            if kind != "NUM":
                continue
            if i > 0 and before[i - 1] in ELEMENTS:
                continue
            if i > 1 and before[i - 1] in ("to", "glue", "COMMA") and before[i - 2] == "NUM":
                continue
            return False
        if kinds[0] == "joining":
            # "joining each ring by its first picot to ...": gerunds and orders that choose elements, told after the steps
            head = kinds[1:5]
            return any(k in ("each", "last") for k in head) and any(k in ELEMENTS for k in kinds[1:7]) and "NUM" not in head
        if kinds[0] in ELEMENTS and (len(before) > 6 or before[1:2] not in (["NUM"], ["label"], ["each"])):
            return False
        if kinds[0] in ("from", "after") and not any(k in ("ORD", "each") for k in before):
            return False
        if kinds[0] == "this" and not any(k == "each" for k in before[:3]):
            return False
        return kinds[join + 1 : join + 2] != ["NUM"]


def _drop_restated(element: SaidElement) -> None:
    """``..., so twelve stitches, three picots``: the sum told at the end is not worked again."""
    total = 0
    for i, (item, _) in enumerate(element.pieces):
        if isinstance(item, Stitches):
            rest = [later for later, _ in element.pieces[i + 1 :]]
            before = element.pieces[i - 1][0] if i else None
            if i > 3 and item.count == total and isinstance(before, Stitches) and all(isinstance(x, Picot) for x in rest):
                del element.pieces[i:]
                return
            total += item.count


def _one_side_change(element: SaidElement) -> None:
    """The threads named beside the counts change sides once: where stitches stand on either hand."""
    changes = [i for i, (item, _) in enumerate(element.pieces) if isinstance(item, SideChange)]
    if len(changes) < 2 and not (changes and changes[-1] == len(element.pieces) - 1):
        return
    between = next((i for i in changes if any(isinstance(x, Stitches) for x, _ in element.pieces[i + 1 :])), None)
    element.pieces[:] = [piece for i, piece in enumerate(element.pieces) if i == between or not isinstance(piece[0], SideChange)]


def _unit_names(tokens: list[Token]) -> set[str]:
    """Words that name one of several like passages: ``each daisy``, ``the next acorn``, ``that is one catkin``."""
    names: set[str] = set()
    for before, token in zip(tokens, tokens[1:], strict=False):
        if token.kind == "WORD" and len(token.text) > 3 and before.kind in ("each", "next", "another", "pronoun"):
            names.add(token.text.lower())
        elif token.kind == "WORD" and len(token.text) > 3 and before.kind == "NUM" and before.value == 1 and not before.text.isdigit():
            names.add(token.text.lower())
    return names
