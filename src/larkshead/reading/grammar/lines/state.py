"""What the readers of lines share: the tokens, what is said so far, and the looks ahead."""

from __future__ import annotations

from copy import deepcopy

from larkshead.model import (
    Join,
    Length,
    Place,
    Step,
)
from larkshead.reading.grammar.counts.work import CountSyntax
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.lines.heads import bare_elements, letter_lines, number_lines, numbers_first
from larkshead.reading.grammar.lines.openjoins import OpenJoins
from larkshead.reading.grammar.places import ELEMENTS, short_places
from larkshead.reading.grammar.said import (
    Said,
    SaidElement,
    SaidPlain,
    SaidStep,
)
from larkshead.reading.grammar.shapes import (
    NOUNS,
    bullet_marks,
    element_ahead,
    gaps_part,
    label_lines,
    numbered,
    single_dashes,
    slash_parts,
)
from larkshead.reading.grammar.tokens import Token
from larkshead.reading.notices import Notice
from larkshead.reading.source import Span

CLOSERS = {"(": ")", "[": "]", "{": "}", "<": ">"}
KINDS = {**ELEMENTS, "large_ring": "ring", "small_ring": "ring"}
ENDS = frozenset({"STOP", "SEMI", "NL", "PARA", "END", "ELLIPSIS"})
_DEEPEST = 6
# Looks ahead go no further than this, so that a text without an end to its clauses is read in linear time.
_LONGEST_CLAUSE = 400
_STEPS = frozenset(
    {*KINDS, "label", "NAME", "reverse_work", "no_turn", "lock_join", "switch", "shuttle", "mock_picot", "cut"}
)


class LineState:
    """A position in the tokens of a shorthand text, with what was said before it."""

    def __init__(
        self,
        tokens: list[Token],
        names: dict[str, list[Token]] | None = None,
        depth: int = 0,
        shared: LineState | None = None,
    ) -> None:
        # What the looks at the whole text need not see: lines read by themselves say nothing of the others.
        told = any(t.kind not in ("PLAIN", "NL") for t in tokens)
        if told:
            tokens = letter_lines(number_lines(numbers_first(tokens)))
            tokens = label_lines([_in_lines(token) for token in tokens])
        looked = tokens if told else []
        self.tokens = tokens
        self.c = Cursor(tokens)
        self.names = names or {}
        self.depth = depth
        self.said: list[Said] = []
        # What statements took in, whether it made a step or not.
        self.heard: list[Span] = []
        self.notices: list[Notice] = shared.notices if shared else []
        self.match = matching(tokens) if told else [-1] * len(tokens)
        self.fresh = True
        # Whether another name may stand behind the number of a step: "2. Side: ...".
        self.head_goes_on = False
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
        # The length of bare thread where none is told.
        self.space: Length | None = shared.space if shared is not None else None
        # How many shuttles the materials tell; 0 where they tell nothing.
        self.shuttles: int = shared.shuttles if shared is not None else 0
        # What a passage is called: "... = 1 scallop".
        self.units: set[str] = set()
        self.bullets = bullet_marks(looked)
        self.bare = bare_elements(looked)
        self.slash_parts = slash_parts(looked)
        self.numbered = numbered(looked)
        self.stars = sum(t.kind == "MARK" and t.text == "*" for t in looked)
        self.closes: bool = any(t.kind == "close" for t in looked) if shared is None else shared.closes
        self.sizes_told: bool = any(t.kind == "large_ring" for t in looked) if shared is None else shared.sizes_told
        self.gaps: bool = gaps_part(looked) if shared is None else shared.gaps
        self.dashes: bool = single_dashes(looked) if shared is None else shared.dashes

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
        return CountSyntax(self.match, split, halves, self.dashes, chain, self.notices, self.element_labels, self.gaps)

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
        if kind in ("NAME", "MARK", "PLAIN"):
            return kind != "MARK" or at not in self.bullets
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

    def is_group(self, at: int) -> bool:
        """Whether the bracket at ``at`` holds steps: an element with its work, a name, an action; left open, what
        follows it.
        """
        end = self.match[at]
        closed = end >= 0
        if not closed:
            end = min(at + 60, len(self.tokens))
        i = at + 1
        kind = self.kind_at(i)
        if kind in ("to", "PLUS", "join", "last", "previous", "ORD", "each", "all", "with"):
            return False
        if closed and short_places(self.tokens, i, end):
            return False
        while i < end:
            kind = self.tokens[i].kind
            if kind in KINDS or kind in ("label", "NAME"):
                if kind == "NAME" or self.strong_start(i):
                    return True
            elif kind in ("NL", "PARA") and not closed:
                return False
            i += 1
            if i - at > 400:
                return closed
        if closed:
            times = self.kind_at(end + 1) == "times" or (
                self.kind_at(end + 1) in ("NUM", "twice") and self.kind_at(end + 2) == "times"
            )
            first = self.kind_at(at + 1)
            return times and first in _STEPS
        return False

    def _fresh_line(self, at: int) -> bool:
        return at == 0 or self.kind_at(at - 1) in ("NL", "PARA")

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
        from larkshead.reading.grammar.lines.lines import Lines

        return Lines(tokens, self.names, self.depth + 1, self).run()

    def place_all(self, places: list[Place], joins: list[Join]) -> None:
        """Places laid on joins in order; the last one stands for those left over when there is only one."""
        for at, join in enumerate(joins):
            if at < len(places):
                join.places = [places[at]]
            elif len(places) == 1:
                join.places = [deepcopy(places[0])]


def _in_lines(token: Token) -> Token:
    """A token as lines use it: a gerund says no more than the word itself, and a word for a passage may be any name."""
    if token.kind == "joining":
        return token._replace(kind="join")
    if token.kind == "passage":
        return token._replace(kind="repeat" if " " in token.text else "WORD")
    return token


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
