"""What entries of a pattern's own list look like: a form, a sign, words that explain it."""

from __future__ import annotations

import re
from typing import Any

from larkshead.model import Abbreviation, Length, Thread
from larkshead.reading.grammar.meanings import JOINS
from larkshead.reading.grammar.places import ELEMENTS, PICOTS
from larkshead.reading.grammar.shapes import element_ahead
from larkshead.reading.grammar.tokens import Token
from larkshead.reading.source import Span
from larkshead.records import dataclass, field

NOUNS = frozenset({*ELEMENTS, "large_ring", "small_ring"})
MARK_KINDS = frozenset(
    {
        "DASH",
        "PLUS",
        "PLUSMINUS",
        "DOT",
        "STOP",
        "COLON",
        "SLASH",
        "CARET",
        "MARK",
        "EQUALS",
        "OTHER",
        "ITEM",
        "second_side",
    }
)
EXPLAINS = frozenset({"means", "EQUALS", "COLON", "DASH"})
_LONGEST_FORM = 12
# Words that begin sentences and are no abbreviations.
PLAIN_WORDS = frozenset(
    {"glue", "all", "each", "this", "ORD", "NUM", "last", "first", "next", "previous", "with", "total", "size"}
)
# What short abbreviations stand for that often stand for something else in a pattern's own list.
TWO_MEANINGS = frozenset(
    {
        "small_picot",
        "space",
        "split_ring",
        "mock_picot",
        "close",
        "double_stitch",
        "long_picot",
        "join",
        "lock_join",
        "switch",
        "picot",
        "bead",
        "chain",
        "thrown_ring",
        "first_half",
        "second_half",
        "half_stitch",
        "times",
        "large_ring",
        "small_ring",
        "reverse_work",
        "bare_thread",
        "shuttle",
    }
)
_BETWEEN_FIGURES = re.compile(r"(?<=\d)[ ]?([^\s\w]{1,2})[ ]?(?=\d)")
# Marks told by their names, and how they are typed.
_NAMED_MARKS = {
    "mark_dash": ("-", "–", "—", "−"),
    "mark_long_dash": ("—", "–"),
    "mark_short_dash": ("–",),
    "mark_double_dash": ("--", "––"),
    "mark_dot": (".", "·", "•"),
    "mark_plus": ("+",),
    "mark_colon": (":",),
    "mark_slash": ("/",),
}
# Words that open a sentence and are no form.
RUNNING = frozenset({"glue", "all", "each", "with", "to", "of", "from", "this", "about", "after", "but", "like"})
# A counted thing: what follows a number in the work and not in an explanation.
COUNT_MARKS = frozenset({"DASH", "PLUS", "DOT", "PLUSMINUS"})


@dataclass(slots=True)
class Front:
    """What a text says about the steps. ``skip`` are the stretches of text that hold none of them, ``entries`` the
    places of ``abbreviations``, ``threads_at`` where the threads are named."""

    own: dict[str, tuple[str, Any]] = field(default_factory=dict)
    names: dict[str, Span] = field(default_factory=dict)
    name_kinds: dict[str, str] = field(default_factory=dict)
    abbreviations: list[Abbreviation] = field(default_factory=list)
    entries: list[Span] = field(default_factory=list)
    defined: set[str] = field(default_factory=set)
    skip: list[Span] = field(default_factory=list)
    title: str = ""
    materials: list[str] = field(default_factory=list)
    threads: list[Thread] = field(default_factory=list)
    threads_at: Span | None = None
    sizes: list[str] = field(default_factory=list)
    finished_size: str = ""
    picot_length: Length | None = None
    space_length: Length | None = None
    notes: list[str] = field(default_factory=list)


@dataclass(slots=True)
class Entry:
    """One entry of a list: the form and its span, and the tokens of its explanation."""

    form: str
    span: Span
    meaning: list[Token]
    sure: bool = False


class EntryForms:
    """Tells entries by their shape."""

    def __init__(self, text: str, tokens: list[Token]) -> None:
        self.text = text
        self.tokens = tokens
        self.front = Front()
        self.in_list = False
        self.begun = False
        self.before: tuple[str, Any] | None = None
        self.places: dict[str, list[int]] | None = None
        self.alone: set[str] | None = None
        # The marks that stand between figures in this text.
        self.typed: set[str] | None = None

    def _skip(self, start: int, end: int) -> None:
        if end > start:
            self.front.skip.append(Span(self.tokens[start].start, self.tokens[end - 1].end))

    def _split(self, start: int, end: int, kinds: tuple[str, ...]) -> list[tuple[int, int]]:
        """Stretches between separators that stand outside brackets."""
        out: list[tuple[int, int]] = []
        depth = 0
        first = start
        for at in range(start, end):
            kind = self.tokens[at].kind
            if kind == "OPEN":
                depth += 1
            elif kind == "SHUT":
                depth -= 1
            elif depth <= 0 and at > first and (kind in kinds or self._parting_slash(at, end)):
                out.append((first, at))
                first = at + 1
        if first < end:
            out.append((first, end))
        return out

    def _parting_slash(self, at: int, end: int) -> bool:
        """``"vsp" very small picot / "lp" long picot``: a slash with blanks about it between entries in quotes."""
        return (
            self.tokens[at].kind == "SLASH"
            and at + 1 < end
            and self.tokens[at].spaced
            and self.tokens[at + 1].kind == "QUOTE"
        )

    def _entry_of(self, start: int, end: int, loose: bool = False) -> list[Entry]:
        """The entry between two tokens, or several for ``SH1 and SH2 first and second shuttle``; none where it is no
        entry.
        """
        named = self._mark_named(start, end)
        if named:
            at = next((i for i in range(start, end) if self.tokens[i].kind in _NAMED_MARKS), start) + 1
            span = self._span(at - 1, at)
            while at < end and self.tokens[at].kind in ("glue", "all", "each", *EXPLAINS):
                at += 1
            return [Entry(named, span, self.tokens[at:end], True)]
        form_end = self._form_end(start, end)
        if form_end == start:
            return []
        form = self._spelt(start, form_end)
        if self.tokens[start].kind == "QUOTE":
            form = form[1:-1]
            if not form:
                return []
        at = form_end
        if at + 2 < end and self.tokens[at].kind == "between" and not form[0].isalnum():
            # "| between counts is a picot"
            at = next((i for i in range(at, end) if self.tokens[i].kind in ("glue", "means")), at)
        sure = False
        if (
            at < end
            and self.tokens[at].kind in EXPLAINS
            and not (self.tokens[at].kind == "DASH" and not self.tokens[at].spaced)
        ):
            sure = self.tokens[at].kind in ("EQUALS", "means")
            at += 1
        elif at < end and self.tokens[at].kind == "glue" and at + 1 < end:
            second = self._form_end(at + 1, end)
            if loose and at + 1 < second < end and len(self._spelt(at + 1, second)) <= 4:
                rest = self._entry_of(at + 1, end, loose)
                first = Entry(form, self._span(start, form_end), rest[0].meaning if rest else [])
                return [first, *rest]
            at += 1
        return [Entry(form, self._span(start, form_end), self.tokens[at:end], sure)]

    def _mark_named(self, start: int, end: int) -> str:
        """``a colon is a picot``, ``double dash = long picot``: the mark that is named, as this text types it; empty
        where none is.
        """
        at = start
        while at < end and self.tokens[at].kind in ("glue", "all", "each") and at - start < 3:
            at += 1
        marks = _NAMED_MARKS.get(self.tokens[at].kind) if at + 1 < end else None
        if marks is None or self.tokens[at + 1].kind not in ("glue", "means", "EQUALS", "COLON", "DASH"):
            return ""
        if self.typed is None:
            self.typed = {found.group(1) for found in _BETWEEN_FIGURES.finditer(self.text[:100_000])}
        return next((mark for mark in marks if mark in self.typed), marks[0])

    def _form_end(self, start: int, end: int) -> int:
        """Where the form of an entry ends: one abbreviation or mark, with a figure or bracket glued to it."""
        if start >= end:
            return start
        first = self.tokens[start]
        at = start + 1
        if first.kind == "OPEN":
            if at + 1 < end and self.tokens[at].kind in ("NUM", "label") and self.tokens[at + 1].kind == "SHUT":
                # "[2] RW": the number of a step.
                return start
            while at < end and self.tokens[at].kind != "SHUT" and at - start < 5:
                at += 1
            return at + 1 if at < end and self.tokens[at].kind == "SHUT" and at - start <= 4 else start
        if first.kind == "QUOTE":
            shut = next((i for i in range(start + 1, min(start + 5, end)) if self.tokens[i].kind == "QUOTE"), None)
            return shut + 1 if shut is not None else start
        if (
            first.kind in RUNNING
            and first.text.isalpha()
            and (start + 1 >= end or self.tokens[start + 1].kind not in EXPLAINS)
        ):
            return start
        if (
            first.kind == "MARK"
            and at < end
            and not self.tokens[at].spaced
            and (
                self.tokens[at].kind in NOUNS
                or (self.tokens[at].text.isalpha() and (at + 1 >= end or self.tokens[at + 1].kind not in EXPLAINS))
            )
        ):
            # A repeat mark before the element it stands at.
            return start
        while (
            at < end
            and not self.tokens[at].spaced
            and self.tokens[at].kind not in ("EQUALS", "COLON", "COMMA", "SEMI", "STOP")
            and at - start < 5
        ):
            at += 1
        text = self._spelt(start, at)
        if len(text) > _LONGEST_FORM or (" " in text and len(text) > 6):
            return start
        if text[0].isalpha() and len(text) > 6:
            return start
        return at

    def _spelt(self, start: int, end: int) -> str:
        return self.text[self.tokens[start].start : self.tokens[end - 1].end]

    def _span(self, start: int, end: int) -> Span:
        return Span(self.tokens[start].start, self.tokens[end - 1].end)

    def _explains(self, form: str, first: Token, meaning: list[Token]) -> bool:
        """Whether the words behind a form explain it: they begin with words of the trade written out, and count
        nothing.
        """
        words = meaning
        while words and (words[0].kind in ("glue", "means", "about", "ORD", "middle") or words[0].kind == "OPEN"):
            if words[0].kind == "OPEN":
                shut = next((i for i, t in enumerate(words) if t.kind == "SHUT"), None)
                if shut is None:
                    return False
                words = words[shut + 1 :]
            else:
                words = words[1:]
        if not words or self._has_counts(words):
            return False
        known = {
            *NOUNS,
            *PICOTS,
            *JOINS,
            "bead",
            "space",
            "bare_thread",
            "reverse_work",
            "no_turn",
            "close",
            "double_stitch",
            "half_stitch",
            "first_half",
            "second_half",
            "mock_picot",
            "switch",
            "shuttle",
            "small",
            "large",
            "long",
            "thrown",
            "split",
            "element",
            "continuous",
            "half_closed",
            "cut",
            "round",
            "row",
            "attach",
            "hide_ends",
            "separated",
            "leave",
        }
        sized = {"small", "large", "long", "split", "thrown"}
        for token in words[:4]:
            if token.kind in sized and form[0].isalnum() and not any(t.kind in known - sized for t in words):
                # "Mine curled a little" explains nothing.
                return False
            if token.kind in known:
                if form[0].isalnum():
                    return len(token.text) > 3 and token.text.lower() != form.lower()
                # "/ RW" parts two steps and explains nothing.
                return not (self.begun and len(words) == 1 and len(token.text) < 3)
            if token.kind not in ("WORD", "ordinary", "glue", "NUM", "UNIT", "FRACTION", "of"):
                return False
        return False

    def _has_counts(self, tokens: list[Token]) -> bool:
        """Whether counts of an element stand among the tokens: ``4-4``, ``R 6``."""
        for at, token in enumerate(tokens):
            after = tokens[at + 1] if at + 1 < len(tokens) else None
            later = tokens[at + 2] if at + 2 < len(tokens) else None
            if at and tokens[at - 1].kind == "size":
                continue
            if (
                token.kind == "NUM"
                and after is not None
                and after.kind in (*COUNT_MARKS, "SLASH")
                and later is not None
                and later.kind == "NUM"
            ) and not (at + 3 < len(tokens) and tokens[at + 3].kind == "UNIT"):
                return True
            if token.kind == "NUM" and self._picot_between(tokens, at + 1):
                return True
            if (
                token.kind == "NUM"
                and after is not None
                and after.kind == "double_stitch"
                and later is not None
                and later.kind in COUNT_MARKS
                and at + 3 < len(tokens)
                and tokens[at + 3].kind == "NUM"
            ):
                return True
            if (
                token.kind in NOUNS
                and len(token.text) <= 2
                and after is not None
                and after.kind == "COLON"
                and later is not None
                and later.kind == "NUM"
            ):
                return True
            if (
                token.kind in NOUNS
                and after is not None
                and after.kind == "NUM"
                and len(token.text) <= 2
                and (later is None or later.kind not in ("COMMA", "STOP", "SHUT"))
            ):
                return True
        return False

    def _picot_between(self, tokens: list[Token], at: int) -> bool:
        """Whether a picot and another count stand behind a count: ``3 p 3``, ``3 ds, p, 3``."""
        kinds = [t.kind for t in tokens[at : at + 6] if t.kind not in ("COMMA", "double_stitch")]
        return len(kinds) > 1 and kinds[0] in PICOTS and kinds[1] == "NUM" and kinds[2:3] != ["UNIT"]

    def _works(self, tokens: list[Token]) -> bool:
        """Whether the tokens work an element."""
        return self._has_counts(tokens) or any(
            t.kind in NOUNS and element_ahead(tokens, i) for i, t in enumerate(tokens)
        )

    def _gap(self, at: int) -> int:
        return self.tokens[at].start - self.tokens[at - 1].end

    def _cells(self, start: int, end: int) -> list[tuple[int, int]]:
        """Stretches of a line parted by gaps of two blanks and more."""
        out: list[tuple[int, int]] = []
        first = start
        for at in range(start + 1, end):
            if self._gap(at) >= 2:
                out.append((first, at))
                first = at
        out.append((first, end))
        return out

    def _mark_or_short(self, start: int, end: int) -> bool:
        if end <= start:
            return False
        text = self._spelt(start, end)
        return len(text) <= 5 and (not text[0].isdigit() or len(text) <= 3)

    def _short_form(self, start: int) -> bool:
        token = self.tokens[start]
        return token.text.isalpha() and len(token.text) <= 4 and token.kind not in PLAIN_WORDS
