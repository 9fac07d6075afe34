"""Repeats told in cells: ``repeat rows 2 and 3 four more times``, ``1-2 x 8``, ``6, with the chain``."""

from __future__ import annotations

from collections.abc import Collection

from larkshead.conventions import Convention
from larkshead.reading import Span
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.places import ELEMENTS, PARTS
from larkshead.reading.grammar.tokens import Token
from larkshead_table.plans import Again

_TO = frozenset({"DASH", "to"})
_AND = frozenset({"glue", "COMMA", "SLASH", "PLUS"})
_VERBS = frozenset({"repeat", "work_over"})
_BARE = frozenset({"NUM", "times", "more", "in_all", "twice", "once", "glue", "COMMA", "OPEN", "SHUT"})
_ACTIONS = frozenset({"reverse_work", "no_turn", "close", "cut"})
_MOST = 10**12
_NEAR = ("beside", "above", "all_rows", "alone", "both")


def label_key(text: str) -> str:
    """A label without case, white space and closing marks."""
    return "".join(text.lower().split()).strip(".:)(*#")


class AgainReader:
    """Reads one clause for a repeat. ``labels`` are the keys of the rows of the table."""

    def __init__(
        self, tokens: list[Token], labels: Collection[str], convention: Convention, times_column: bool = False
    ) -> None:
        self.c = Cursor(tokens)
        self.labels = labels
        self.columns = convention.columns
        self.times_column = times_column
        self.again = Again(Span(tokens[0].start, tokens[-1].end), near=_near(tokens, convention))
        if self.again.near == "both":
            self.again.near, self.again.last_rows = "", 2
        self.numbers: list[int] = []
        self.part_named = False

    def read(self) -> Again | None:
        """The repeat told; None where the clause tells none."""
        c, again = self.c, self.again
        while c.kind() != "END":
            start = c.at
            if not (self._times() or self._refs()):
                self._word()
            if c.at == start:
                c.next()
        if again.times is None and self.numbers and (self.times_column or again.verb or again.how):
            again.times = self.numbers[-1]
        return again if self._tells() else None

    def _tells(self) -> bool:
        """Whether enough is said for a repeat: how often, and what or by which word."""
        again = self.again
        counted = again.times is not None or again.total is not None or again.open or bool(again.until)
        if self.times_column:
            return counted or bool(again.refs or again.near or again.last_rows)
        if again.until and not again.refs:
            return True
        if not counted:
            return again.verb and bool(again.refs or again.last_rows)
        if again.last_rows or again.near == "all_rows":
            return True
        spoken = again.how or any(token.kind in ("times", "twice") for token in self.c.tokens)
        if spoken and {token.kind for token in self.c.tokens} <= _BARE:
            return True
        return (
            again.verb
            or self.part_named
            or bool(again.refs and (again.how or again.open or (len(self.numbers) == 0 and again.times)))
        )

    def _times(self) -> bool:
        """How often: ``5 times``, ``x 5``, ``5 more``, ``twice``, ``(6 in all)``."""
        c, again = self.c, self.again
        kind = c.kind()
        if kind == "NUM":
            value = min(int(c.peek().value), _MOST)
            after = c.kind(1)
            if after == "in_all" or (after == "times" and c.kind(2) == "in_all"):
                c.at += 2 if after == "in_all" else 3
                if again.times is not None:
                    again.total = value
                else:
                    again.times, again.how = value, "all"
                return True
            if self._so_many(value):
                return True
            if after == "of" and c.kind(2) == "each":
                # "Make 8 of each"
                again.times, again.how, again.near = value, "all", again.near or "all_rows"
                c.at += 3
                return True
            if after in ("times", "more") and self._is_count():
                c.at += 2
                again.times = value
                again.how = "more" if after == "more" else again.how
                return True
            return False
        if kind == "times" and c.kind(1) == "NUM":
            again.times = min(int(c.peek(1).value), _MOST)
            c.at += 2
            return True
        if kind in ("twice", "once"):
            again.times = 2 if kind == "twice" else 1
            c.next()
            return True
        return False

    def _so_many(self, value: int) -> bool:
        """``8 petals in all``: so many elements there shall be."""
        c = self.c
        ahead = 1
        size = ""
        while c.kind(ahead) in ("small", "large", "of", "glue"):
            size = c.kind(ahead) if c.kind(ahead) in ("small", "large") else size
            ahead += 1
        if c.kind(ahead) not in ELEMENTS or c.kind(ahead + 1) != "in_all":
            return False
        self.again.until[ELEMENTS[c.kind(ahead)], size] = value
        c.at += ahead + 2
        return True

    def _refs(self) -> bool:
        """The rows named: ``rows 3-4``, ``2 and 3``, ``a-e``, ``r1 to c2``, ``row 4``."""
        c = self.c
        back = c.at
        so_many = c.kind() in ("last", "this") and c.kind(1) == "NUM" and not self._is_count(1)
        if so_many and (self._is_row_word(2) or c.kind() == "this"):
            # "the last two rows", "these two"
            self.again.last_rows = int(c.peek(1).value)
            c.at += 3 if self._is_row_word(2) else 2
            return True
        if c.kind() == "NUM" and self._is_row_word(1) and (c.kind(2) in ("NUM", "twice") or c.kind(2) in _TO):
            # "the four lines 5 times"
            self.again.last_rows = int(c.peek().value)
            c.at += 2
            return True
        if self._is_row_word(0) and c.at > 0 and c.tokens[c.at - 1].kind in ("previous", "after"):
            # "before row 5" says where, and not what.
            c.next()
            self._label(True)
            return True
        onward = c.at > 0 and c.tokens[c.at - 1].kind == "from"
        named = self._is_row_word(0)
        if named:
            c.next()
        joined = c.at > 0 and c.tokens[c.at - 1].kind == "with"
        first = self._label(named or joined)
        if first is None:
            c.at = back
            if c.kind() == "NUM" and not named:
                self.numbers.append(min(int(c.next().value), _MOST))
                return True
            return False
        last = first
        if c.kind() in _TO:
            spot = c.at
            c.next()
            while self._is_row_word(0):
                c.next()
            upto = self._label(True)
            if upto is None:
                c.at = spot
            else:
                last = upto
        self.part_named = self.part_named or named
        self.again.refs.append((first, "" if onward and last == first else last))
        while c.kind() in _AND:
            spot = c.at
            c.next()
            c.skip({"glue", *PARTS})
            more = self._label(True) if c.kind() != "NUM" or not self._is_count() else None
            if more is None:
                c.at = spot
                break
            self.again.refs.append((more, more))
        return True

    def _is_row_word(self, ahead: int) -> bool:
        """A word for a row: one of the convention's, or what heads the column of labels in tables."""
        token = self.c.peek(ahead)
        return token.kind in PARTS or (token.text.isalpha() and "label" in self.columns.get(token.text.lower(), ()))

    def _is_count(self, ahead: int = 0) -> bool:
        """A number here says how often."""
        c = self.c
        if c.kind(ahead) != "NUM" or c.kind(ahead + 1) not in ("times", "more", "in_all"):
            return False
        # In "2 x 6" the first number is a row.
        return not (c.kind(ahead + 1) == "times" and c.kind(ahead + 2) == "NUM" and len(c.peek(ahead + 1).text) == 1)

    def _label(self, named: bool) -> str | None:
        """The key of a row at the position, stepped over. Behind a word for row any number or letter is one."""
        c = self.c
        token = c.peek()
        if token.kind == "END" or self._is_count():
            return None
        glued = token.text
        if c.kind(1) == "NUM" and not c.peek(1).spaced and token.text.isalpha():
            glued += c.peek(1).text
            if label_key(glued) in self.labels:
                c.at += 2
                return label_key(glued)
        if token.kind in ELEMENTS and c.kind(1) in ("NUM", "WORD", "label"):
            key = f"{token.kind}:{c.peek(1).text.lower()}"
            if key in self.labels:
                c.at += 2
                return key
        key = label_key(token.text)
        digits = token.kind == "NUM" and token.text.isdigit()
        listed = c.kind(1) in _TO or (c.kind(1) in _AND and c.kind(2) == "NUM") or c.kind(1) == "times"
        alone = self.times_column and digits and not listed and not named
        if digits and (named or (key in self.labels and not alone)):
            c.next()
            return key
        if (
            not digits
            and key in self.labels
            and (
                named
                or len(key) > 1
                or c.kind(1) in (*_TO, *_AND)
                or (c.at and c.tokens[c.at - 1].kind in (*_TO, *_AND))
            )
        ):
            c.next()
            return key
        return None

    def _word(self) -> None:
        c, again = self.c, self.again
        kind = c.kind()
        if kind in _VERBS:
            again.verb = True
        elif kind == "again":
            again.how = again.how or "more"
        elif kind == "more":
            again.how = "more"
        elif kind == "in_all":
            again.how = again.how or "all"
        elif kind in ELEMENTS:
            again.kinds.append(ELEMENTS[kind])
        elif kind in ("length_wanted", "around"):
            again.open = True
        elif kind == "until":
            self._until()
            return
        c.next()

    def _until(self) -> None:
        """``until there are 6 rings``."""
        c = self.c
        c.next()
        while c.kind() != "END":
            if c.kind() == "NUM":
                value = int(c.next().value)
                size = next((c.kind(n) for n in range(3) if c.kind(n) in ("small", "large")), "")
                c.skip({"glue", "small", "large", "of", "WORD"})
                if c.kind() in ELEMENTS:
                    self.again.until[ELEMENTS[c.kind()], size] = value
            c.next()
        if not self.again.until:
            self.again.open = True


def read_again(
    tokens: list[Token], labels: Collection[str], convention: Convention, times_column: bool = False
) -> tuple[Again | None, list[Token]]:
    """The repeat a clause tells and what else it says; (None, all of it) where it tells none."""
    clauses = _clauses(tokens)
    ahead: list[Token] = []
    while len(clauses) > 1 and clauses[0][0].kind in _ACTIONS and len(clauses[0]) == 1:
        # "RW, then 3-4 again": what is done before is no part of the repeat.
        ahead += clauses.pop(0)
    for count in range(len(clauses), 0, -1):
        told = [token for clause in clauses[:count] for token in clause]
        if count > 1 and not _goes_on(clauses[count - 1]):
            continue
        again = AgainReader(told, labels, convention, times_column).read()
        if again is not None:
            if not times_column and again.how == "" and again.verb:
                # "Repeat rows 2 and 3 five times" comes on top of the first working.
                again.how = "more"
            return again, ahead + [token for clause in clauses[count:] for token in clause]
        break
    return None, tokens


def _clauses(tokens: list[Token]) -> list[list[Token]]:
    """Parted at commas, which stay at the head of the clause they open."""
    out: list[list[Token]] = [[]]
    for token in tokens:
        if token.kind == "COMMA":
            out.append([])
        out[-1].append(token)
    return [clause for clause in out if clause]


def _goes_on(clause: list[Token]) -> bool:
    """Whether a clause behind a comma still speaks of how often and what."""
    kinds = {token.kind for token in clause}
    if kinds & {"join", "lock_join", "joining", "but", "picot", "cut", "reverse_work", "instead", "PLUS"}:
        return False
    return bool(kinds & {"times", "more", "in_all", "with", "twice", "once", "until"}) or kinds <= {
        "COMMA",
        "NUM",
        "glue",
        "WORD",
    }


def _near(tokens: list[Token], convention: Convention) -> str:
    """Whether the rows beside, above, or all of them are meant, by the convention's phrases."""
    text = " " + " ".join(token.text.lower() for token in tokens if token.kind not in ("COMMA", "OPEN", "SHUT")) + " "
    best = ""
    found = ""
    for phrase, meanings in convention.cells.items():
        for meaning in meanings:
            if meaning in _NEAR and len(phrase) > len(best) and f" {phrase} " in text:
                best, found = phrase, meaning
    return found
