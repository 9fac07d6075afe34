"""Statements as shorthand writes them: lines of abbreviations and marks, read into what is said.

Grammar (kinds of tokens; every alternative is a method of the same name, here or in the modules mixed in)::

    text     = { line }
    line     = [heading] [step label] { clause (, ; .) }
    clause   = element | name | action | bracket | mark | repeat | copy | remark
    element  = [NUM | ORD] [size] KIND [label] [( remark )] [: = , of] (work | like ...) [close] { targets | total } [times]
    bracket  = ( steps ) times | NUM times ( steps ) | ( places ) | ( total ) | ( remark )
    mark     = * steps * times | * steps ... repeat from * times | * at the head of every line: a bullet
    action   = turn | no turn | bare thread | lock join place | mock picot | shuttle | switch | attach place | cut | hide ends

What is no step (a remark, a total, a sentence that covers joins or turns) is told apart by its first word: a clause that
begins with a word the trade does not know is passed over up to the next element, mark or repeat in it.
"""

from __future__ import annotations

from copy import deepcopy

from larkshead.model import Join, Place, Step
from larkshead.reading.grammar.countstring import CountSyntax
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.lineactions import LineActions
from larkshead.reading.grammar.lineelements import LineElements
from larkshead.reading.grammar.lineremarks import LineRemarks
from larkshead.reading.grammar.linerepeats import LineRepeats
from larkshead.reading.grammar.openjoins import OpenJoins
from larkshead.reading.grammar.places import PARTS
from larkshead.reading.grammar.said import (
    Said,
    SaidElement,
    SaidHeading,
    SaidLine,
    SaidMark,
    SaidPlain,
    SaidStep,
    SaidStepLabel,
)
from larkshead.reading.grammar.shapes import (
    NOUNS,
    bullet_marks,
    element_ahead,
    label_lines,
    numbered,
    single_dashes,
    slash_parts,
)
from larkshead.reading.grammar.tokens import Token
from larkshead.reading.notices import Notice

ENDS = frozenset({"STOP", "SEMI", "NL", "PARA", "END", "ELLIPSIS"})
LINE_ENDS = frozenset({"NL", "PARA", "END"})
SEPARATORS = frozenset({"NL", "PARA", "STOP", "SEMI", "COMMA", "COLON", "ELLIPSIS", "QUOTE"})
CLOSERS = {"(": ")", "[": "]", "{": "}", "<": ">"}
_DEEPEST = 6
# Looks ahead go no further than this, so that a text without an end to its clauses is read in linear time.
_LONGEST_CLAUSE = 400


class Lines(LineElements, LineActions, LineRepeats, LineRemarks):
    """Reads the tokens of a shorthand text. ``names`` are the tokens of the steps that own abbreviations stand for."""

    def __init__(
        self,
        tokens: list[Token],
        names: dict[str, list[Token]] | None = None,
        depth: int = 0,
        shared: Lines | None = None,
    ) -> None:
        # In lines a gerund says no more than the word itself.
        tokens = label_lines([t._replace(kind="join") if t.kind == "joining" else t for t in tokens])
        self.tokens = tokens
        self.c = Cursor(tokens)
        self.names = names or {}
        self.depth = depth
        self.said: list[Said] = []
        self.notices: list[Notice] = shared.notices if shared else []
        self.match = matching(tokens)
        self.fresh = True
        self.clause_start = 0
        self.open_marks: list[str] = []
        self.open_brackets: set[int] = set()
        self.step_labels: dict[str, int] = {}
        self.joins = OpenJoins()
        self.last: SaidElement | SaidPlain | None = None
        self.told: dict[str, list[Said]] = {}
        self.default: Place | None = None
        self.element_labels: set[str] = set()
        self.list_numbers: set[int] | None = None
        self.step_of: dict[int, str] = {}
        self.step = ""
        self.same_size = False
        self.line = 0
        self.bullets = bullet_marks(tokens)
        self.slash_parts = slash_parts(tokens)
        self.numbered = numbered(tokens)
        self.sizes_told = any(t.kind == "large_ring" for t in tokens) if shared is None else shared.sizes_told
        self.dashes: bool = single_dashes(tokens) if shared is None else shared.dashes

    def run(self) -> list[Said]:
        """Everything said, in order."""
        c = self.c
        self.said.append(SaidLine())
        while c.at < c.limit:
            kind = c.kind()
            if kind == "PLAIN":
                self._plain()
                continue
            if (
                kind in SEPARATORS
                or (kind == "DOT" and self.fresh)
                or (kind == "SLASH" and self.slash_parts)
                or (kind == "DASH" and c.peek().spaced and c.peek(1).spaced and c.kind(1) != "NUM")
            ):
                self._separate(kind)
                continue
            start = c.at
            if kind == "glue" and not self.fresh and self.begins(c.kind(1)):
                c.next()
                continue
            if not self.statement():
                c.at = start
                self.remark()
            if c.at == start:
                c.next()
            self.fresh = False
        if self.default is not None and self.depth == 0:
            self.place_all([self.default], [join for join in self.joins.every() if join.kind == "picot"])
        return self.said

    def _plain(self) -> None:
        """A line of one element and its turn, understood already."""
        c = self.c
        token = c.tokens[c.at]
        said = SaidPlain(token.value, token.start)
        self.said.append(said)
        self.last = said
        if said.line.label is not None:
            self.element_labels.add(said.line.label)
        for index in said.line.joins:
            self.joins.add(said.work[index], self.line, said)  # type: ignore[arg-type]
        c.at += 1
        if c.at < c.limit and c.tokens[c.at].kind == "NL":
            c.at += 1
            self.line += 1
            self.fresh = True
        else:
            self.fresh = False
        self.clause_start = c.at

    def _separate(self, kind: str) -> None:
        c = self.c
        c.next()
        if kind in ("NL", "PARA"):
            self.line += 1
            self.fresh = True
            self.said.append(SaidLine(kind == "PARA"))
        elif kind == "SEMI":
            self.said.append(SaidMark(";", c.span(c.at - 1)))
        elif kind in ("STOP", "COLON", "ELLIPSIS"):
            self.fresh = self.fresh or kind == "STOP"
        if kind != "COMMA":
            self.clause_start = c.at

    def statement(self) -> bool:
        """One statement at the position, stepped over; False where none stands."""
        kind = self.c.kind()
        if self.fresh and (self.heading() or self.step_label()):
            return True
        if kind in NOUNS or kind in ("label", "small", "large", "split", "thrown", "half_closed"):
            if self.element() or self.copied():
                return True
            return kind in ("half_closed",) and self.skip()
        handler = getattr(self, "_on_" + kind, None)
        return bool(handler()) if handler is not None else False

    def begins(self, kind: str) -> bool:
        """Whether a statement can begin with a token of this kind."""
        return kind in NOUNS or kind in ("label", "small", "large", "split", "thrown") or hasattr(self, "_on_" + kind)

    def say(self, step: Step, start: int) -> bool:
        self.said.append(SaidStep(step, self.c.span(start)))
        return True

    def skip(self) -> bool:
        self.c.next()
        return True

    def syntax(self, split: bool = False, halves: bool = False, chain: bool = False) -> CountSyntax:
        return CountSyntax(self.match, split, halves, self.dashes, chain, self.notices)

    # --- headings and labels -----------------------------------------------------------------------------------

    def heading(self) -> bool:
        """``Round 1``, ``2nd row:``, ``Rnd 3.``, ``Round 2, chains of SH2 over SH1``: a part and what is said of it."""
        c = self.c
        start = c.at
        number: int | None = None
        letter = ""
        times = 1
        c.skip(("glue",))
        kind = c.kind()
        if kind == "ORD" and c.kind(1) in PARTS and c.kind(1) != "step":
            number = int(c.next().value)
            part = PARTS[c.next().kind]
        elif kind in PARTS and kind != "step" and c.kind(1) in ("NUM", "ORD"):
            part = PARTS[c.next().kind]
            number = int(c.next().value)
        elif kind in ("motif", "centre") and (
            c.kind(1) in ("COLON", "NL", "PARA", "STOP")
            or (kind == "motif" and len(c.peek(1).text) == 1 and c.peek(1).text.isupper())
        ):
            part = "motif" if kind == "motif" else "centre"
            c.next()
            if len(c.peek().text) == 1 and c.peek().text.isupper():
                letter = c.next().text
        else:
            c.at = start
            return False
        if (
            c.kind() in ("DASH", "to", "glue", "COMMA")
            and c.kind(1) == "NUM"
            and c.kind(2) in ("COLON", "like", "same", "glue", "STOP")
        ):
            return self.copied_parts(part, number, start)
        after = c.kind()
        if after in ("like", "same"):
            return self.copied_parts(part, number, start)
        if after in ("COLON", "DASH", "EQUALS") and c.kind(1) in ("like", "same"):
            c.next()
            return self.copied_parts(part, number, start)
        if after not in ENDS and after not in ("COLON", "COMMA", "OPEN", "DASH", "of", "glue", "with") and after not in NOUNS and after not in (
            "MARK", "ITEM", "label", "NAME", "shuttle", "attach", "small", "large"
        ):  # fmt: skip
            c.at = start
            return False
        if after == "OPEN" and self.match[c.at] >= 0 and not self.is_group(c.at):
            numbers = [t.value for t in self.tokens[c.at : self.match[c.at]] if t.kind == "NUM"]
            if (
                len(numbers) == 1
                and self.match[c.at] - c.at <= 4
                and not any(t.kind in PARTS or t.kind == "UNIT" for t in self.tokens[c.at : self.match[c.at]])
            ):
                # "(make 3)"
                times = min(max(int(numbers[0]), 1), 10**9)
            c.at = self.match[c.at] + 1
        if c.kind() in ("of", "with", "COMMA", "glue") and not self.strong_start(c.at + 1):
            end = self.clause_end(c.at, ("COLON",))
            strong = self.next_strong(c.at, end)
            c.at = end if strong is None else strong
        name = letter or (self.words_between(start, c.at) if c.at - start > 3 and times == 1 else "")
        self.said.append(SaidHeading(part, c.span(start), number, name, times))
        c.take("COLON", "STOP", "DASH", "COMMA")
        self.fresh = True
        self.open_marks.clear()
        self.step_labels.clear()
        self.clause_start = c.at
        return True

    def step_label(self) -> bool:
        """``1.``, ``2)``, ``[3]``, ``A.``, ``Step 4:``, ``Side:`` at the head of a line."""
        c = self.c
        start = c.at
        first, second, third = c.kind(), c.kind(1), c.kind(2)
        if (first == "step" and second in ("NUM", "label", "ORD") and third in ("STOP", "COLON", "SHUT", "DASH")) or (
            first == "OPEN"
            and second in ("NUM", "label", "WORD")
            and third == "SHUT"
            and len(c.peek(1).text) <= 2
            and c.kind(3) != "times"
        ):
            label = c.peek(1).text
            c.at += 3
        elif (
            len(c.peek().text) <= 3
            and first in ("NUM", "label", "WORD", "NAME", "ITEM", "bead", "chain", "double_stitch", "glue")
            and (second == "SHUT" or (second == "STOP" and c.peek(2).spaced and third not in ("NL", "PARA", "END")))
            and (first == "NUM" or len(c.peek().text) == 1)
        ):
            if first == "NUM" and second == "STOP" and third == "NUM" and not self.listed():
                return False
            label = c.peek().text
            c.at += 2
        elif (
            (
                first == "WORD"
                or (len(c.peek().text) == 1 and c.peek().text.isupper() and (first not in NOUNS or third in NOUNS))
            )
            and second == "COLON"
            and (self.strong_start(c.at + 2) or c.kind(2) in ("OPEN", "MARK", "mock_picot", "lock_join"))
        ):
            label = c.peek().text if len(c.peek().text) == 1 else c.peek().text.lower()
            c.at += 2
        else:
            return False
        self.said.append(SaidStepLabel(label, c.span(start)))
        self.step_labels[label] = len(self.said)
        self.step = label
        self.fresh = False
        self.clause_start = c.at
        return True

    def listed(self) -> bool:
        """Whether the lines of this text are numbered: another line begins with the next number and a stop."""
        if self.list_numbers is None:
            self.list_numbers = {
                token.value
                for at, token in enumerate(self.tokens[:-1])
                if token.kind == "NUM"
                and self.tokens[at + 1].kind == "STOP"
                and (at == 0 or self.tokens[at - 1].kind in ("NL", "PARA"))
            }
        number = int(self.c.peek().value)
        return number + 1 in self.list_numbers or number - 1 in self.list_numbers

    # --- looks ahead ---------------------------------------------------------------------------------------------

    def clause_end(self, at: int, stops: tuple[str, ...] = ()) -> int:
        """Where the clause that ``at`` stands in ends: a full stop, semicolon or line's end, or one of ``stops``."""
        limit = min(self.c.limit, at + _LONGEST_CLAUSE)
        while at < limit:
            kind = self.tokens[at].kind
            if kind in ENDS or kind in stops:
                return at
            at += 1
        return at

    def next_strong(self, at: int, end: int) -> int | None:
        """The first place from ``at`` on, before ``end``, where a step surely begins."""
        for i in range(at, end):
            if self.strong_start(i):
                return i
        return None

    def strong_start(self, at: int) -> bool:
        """Whether an element with its work, a repeat mark, a repeat or a group begins at ``at``."""
        if at >= self.c.limit:
            return False
        kind = self.tokens[at].kind
        if kind in NOUNS or kind == "label":
            return self.element_ahead(at)
        if kind in ("NAME", "MARK"):
            return kind == "NAME" or at not in self.bullets
        if kind == "repeat":
            return self.kind_at(at + 1) in (
                "MARK",
                "from",
                "step",
                "NUM",
                "row",
                "round",
                "NAME",
                "label",
                "OPEN",
                "times",
                "twice",
            )
        if kind == "OPEN":
            return self.is_group(at)
        return False

    def kind_at(self, at: int) -> str:
        return self.tokens[at].kind if 0 <= at < self.c.limit else "END"

    def element_ahead(self, at: int) -> bool:
        """Whether work follows the noun at ``at``, behind a label, a remark in brackets and a colon."""
        return element_ahead(self.tokens, at, self.match)

    def words_between(self, start: int, end: int) -> str:
        """The words of a stretch of tokens, one space between each two that are spaced in the text."""
        out = ""
        for token in self.tokens[start:end]:
            if token.kind in ("NL", "PARA"):
                continue
            out += (" " if out and token.spaced else "") + token.text
        return out

    def sub(self, tokens: list[Token]) -> list[Said]:
        """What a passage of tokens apart from the text says (the steps an own name stands for)."""
        if self.depth >= _DEEPEST:
            return []
        return Lines(tokens, self.names, self.depth + 1, self).run()

    def place_all(self, places: list[Place], joins: list[Join]) -> None:
        """Places laid on joins in order; the last one stands for those left over when there is only one."""
        for at, join in enumerate(joins):
            if at < len(places):
                join.places = [places[at]]
            elif len(places) == 1:
                join.places = [deepcopy(places[0])]


def matching(tokens: list[Token]) -> list[int]:
    """For every token the index of the bracket that answers it, -1 for no bracket and for one left open."""
    found = [-1] * len(tokens)
    stack: list[int] = []
    for at, token in enumerate(tokens):
        if token.kind == "OPEN":
            stack.append(at)
        elif token.kind == "SHUT" and stack:
            for back in range(len(stack) - 1, max(-1, len(stack) - 5), -1):
                if CLOSERS[tokens[stack[back]].text] == token.text:
                    found[stack[back]] = at
                    found[at] = stack[back]
                    del stack[back:]
                    break
    return found
