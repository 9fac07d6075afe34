"""What stands about the steps: the pattern's own list of abbreviations, title, materials, sizes, remarks.

The own list rules the reading before the convention does. An entry is recognised by its shape, under a heading or not::

    p = picot · lj: lock join · SR  small ring · Abbrev.: tw turn work, p picot · (sp small picot, lp long picot)
    . picot     : longer picot     / new element · - is an ordinary picot, -- is a long one · A = R 4-4-4, rw

Everything before the first step that is no entry is the title (the first), materials, or a note.
"""

from __future__ import annotations

from itertools import pairwise

from larkshead.model import Thread
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.entries import EntryReader
from larkshead.reading.grammar.entryforms import MARK_KINDS, NOUNS, Entry, Front
from larkshead.reading.grammar.lengths import read_length
from larkshead.reading.grammar.meanings import JOINS
from larkshead.reading.grammar.shapes import counts_below, element_ahead
from larkshead.reading.grammar.threads import THREAD_KINDS, read_threads
from larkshead.reading.grammar.tokens import Token

_BREAKS = frozenset({"NL", "PARA"})
# What stands behind the name of steps that are worked there.
_BEHIND_NAME = frozenset({"COMMA", "STOP", "SEMI", "NL", "PARA", "times", "reverse_work", "no_turn", "OPEN"})
# What stands between the names of steps in a line that is made of them.
_BETWEEN_NAMES = frozenset(
    {"COMMA", "reverse_work", "no_turn", "STOP", "DASH", "SEMI", "OPEN", "SHUT", "MARK", "NUM", "times", "cut"}
)
# What a tail that is left at the start is worked in.
_TAIL_WORKS = frozenset({"split_ring", "split_chain", "mock_picot", "chain"})


class _Reader(EntryReader):
    """Reads what stands about the steps, line by line."""

    def read(self) -> Front:
        lines = self._lines()
        named = self._lettered(lines)
        for start, end in lines:
            if start in named:
                for form in named[start]:
                    self._take(Entry(form, self._span(start, start + 1), self.tokens[start + 2 : end], True))
                self._skip(start, end)
                continue
            self._line(start, end)
        self._unused_names()
        return self.front

    def _lines(self) -> list[tuple[int, int]]:
        lines: list[tuple[int, int]] = []
        start = 0
        for at, token in enumerate(self.tokens):
            if token.kind in _BREAKS:
                lines.append((start, at))
                if token.kind == "PARA":
                    lines.append((at, at))
                start = at + 1
            elif token.kind == "list_head" and at > start and self.tokens[at - 1].kind == "STOP":
                # ``Materials: one shuttle, size 20. Abbreviations: R ring, ...`` on one line.
                lines.append((start, at))
                start = at
        lines.append((start, len(self.tokens)))
        return lines

    def _lettered(self, lines: list[tuple[int, int]]) -> dict[int, set[str]]:
        """Lines ``A: R 5-5, RW`` or ``Leaf: R 5-5, RW`` that name steps, where another line is a run of such names, ``A
        B A B``: where they begin, with the names as the runs spell them.
        """
        heads: dict[str, int] = {}
        for start, end in lines:
            if end - start > 3 and self.tokens[start + 1].kind == "COLON":
                first = self.tokens[start]
                letter = len(first.text) == 1 and first.text.isupper() and first.kind not in NOUNS
                word = len(first.text) > 1 and (
                    first.kind == "WORD" or (first.kind in NOUNS and self.tokens[start + 2].kind in NOUNS)
                )
                if (letter or word) and self._works(self.tokens[start + 2 : end]):
                    heads[first.text if letter else first.text.lower()] = start
        if len(heads) == 1:
            return self._passage_named(*next(iter(heads.items())), lines)
        if not heads:
            return {}
        for start, end in lines:
            colon = next((at + 1 for at in range(start, min(end, start + 3)) if self.tokens[at].kind == "COLON"), start)
            spelt: dict[int, set[str]] = {}
            run = 0
            times = False
            for token in self.tokens[colon : min(end, colon + 60)]:
                head = heads.get(token.text, heads.get(token.text.lower()) if len(token.text) > 1 else None)
                if head is not None and head != start:
                    run += 1
                    spelt.setdefault(head, set()).add(token.text)
                elif token.kind not in _BETWEEN_NAMES:
                    break
                times = times or token.kind == "times"
            words = all(len(form) > 1 for forms in spelt.values() for form in forms)
            if run >= 3 or (run == 2 and (words or times)):
                return {head: spelt.get(head, {self.tokens[head].text}) for head in heads.values()}
        return {}

    def _passage_named(self, name: str, head: int, lines: list[tuple[int, int]]) -> dict[int, set[str]]:
        """``Clover: R 6-4, R 4+6`` where the next line begins with the name: it is what the name means, and worked
        where it is named.
        """
        after = next(((start, end) for start, end in lines if start > head and end > start), None)
        if after is None or len(name) < 2 or self.tokens[after[0]].text.lower() != name:
            return {}
        second = self.tokens[after[0] + 1].kind if after[1] > after[0] + 1 else "NL"
        if second not in _BEHIND_NAME:
            return {}
        spelt = {token.text for start, end in lines if start > head for token in self.tokens[start:end]}
        return {head: {form for form in spelt if form.lower() == name}}

    def _line(self, start: int, end: int) -> None:
        if start >= end:
            if start < len(self.tokens) and self.tokens[start].kind == "PARA":
                self.in_list = False
            return
        if self.tokens[start].kind == "PLAIN":
            self.begun = True
            self.in_list = False
            return
        tokens = self.tokens[start:end]
        if (
            self.begun
            and tokens[0].kind in NOUNS
            and element_ahead(tokens, 0)
            and not any(t.kind == "EQUALS" for t in tokens)
        ):
            self.in_list = False
            return
        head = self._list_head(tokens)
        if head:
            self.in_list = start + head >= end
            self._entries_after_head(start + head, end)
            self._skip(start, end)
            return
        if self._gapped(start, end):
            return
        if self.in_list and self._listed(start, end):
            return
        if self._bracketed(start, end):
            return
        self._sentences(start, end)

    def _sentences(self, start: int, end: int) -> None:
        """A line that is no list as a whole: each sentence an entry, part of the title or materials, or left to the
        steps.
        """
        first = start
        while first < end:
            last = first
            while last < end and not self._sentence_ends(last, end):
                last += 1
            stop = min(last + 1, end)
            self._sentence(first, last, stop)
            first = stop

    def _sentence_ends(self, at: int, end: int) -> bool:
        token = self.tokens[at]
        if token.kind != "STOP":
            return False
        if at + 1 >= end:
            return True
        after = self.tokens[at + 1]
        return after.spaced

    def _sentence(self, start: int, end: int, stop: int) -> None:
        if end <= start:
            return
        taken = self._equal_entries(start, end)
        if taken is not None:
            self._skip(taken, stop)
            if taken > start:
                self._sentence(start, taken, taken)
            return
        if (
            self.tokens[start].kind in MARK_KINDS | {"OPEN", "QUOTE"}
            or self._short_form(start)
            or self._mark_named(start, end)
            or self._after_colon(start, end)
            or self._after_words(start, end)
        ):
            begin = self._after_colon(start, end) or self._after_words(start, end) or start
            entries = self._all_entries(begin, end)
            if entries and not (self.begun and self.tokens[begin].kind == "MARK"):
                for entry in entries:
                    self._take(entry)
                self._skip(start, stop)
                return
        where = next((at for at in range(start + 1, end - 3) if self.tokens[at].kind == "where"), None)
        if (
            where is not None
            and self.tokens[where + 1].kind in MARK_KINDS
            and self.tokens[where + 2].kind in ("glue", "means")
        ):
            # "R 2+2+2 where + is a tiny picot"
            entries = self._all_entries(where + 1, self._before_bracket(where, end))
            for entry in entries:
                self._take(entry)
            if entries:
                self._skip(where, stop)
                self._sentence(start, where, where)
                return
        if self._means(start, end) or self._spoken_of(start, end):
            self._skip(start, stop)
            return
        if not self.begun:
            if self._all_spaces(self.tokens[start:end]):
                self.front.notes.append(self._spelt(start, end))
                self._skip(start, stop)
                return
            if self._all_picots(self.tokens[start:end]) and not self._thread_sentence(self.tokens[start:end]):
                self.front.notes.append(self._spelt(start, end))
                self._skip(start, stop)
                return
            if self._is_step(start, end):
                self.begun = True
                return
            self._before_steps(start, end, stop)

    def _before_bracket(self, start: int, end: int) -> int:
        return next((at for at in range(start, end) if self.tokens[at].kind == "OPEN"), end)

    def _is_step(self, start: int, end: int) -> bool:
        """Whether a sentence works something: an element with counts, a repeat mark, an action, a heading of a part."""
        tokens = self.tokens[start:end]
        if self._has_counts(tokens) or (tokens[0].kind in NOUNS and counts_below(self.tokens, start)):
            return True
        for i, token in enumerate(tokens):
            after = tokens[i + 1].kind if i + 1 < len(tokens) else "END"
            later = tokens[i + 2].kind if i + 2 < len(tokens) else "END"
            if (token.kind in NOUNS and element_ahead(tokens, i)) or token.text in self.front.names:
                return True
            if token.kind == "MARK" and i == 0 and len(tokens) > 1:
                return True
            if (
                token.kind == "NUM"
                and after in ("picot", "small_picot", "long_picot", "join", "double_stitch")
                and later in ("NUM", "picot", "COMMA")
                and (i or any(t.kind == "close" for t in tokens))
            ):
                return True
            if token.kind == "OPEN" and after in NOUNS and later in ("NUM", "COLON"):
                return True
        kinds = {t.kind for t in tokens}
        if tokens[0].kind == "WORD" and len(tokens) > 2 and tokens[1].kind == "COLON" and self._is_step(start + 2, end):
            # "Directions: Rnd 1 ..."
            return True
        if tokens[-1].kind == "COLON" and kinds & {"next", "this"} and kinds & {"times", "twice"}:
            return True
        if len(tokens) == 2 and tokens[0].kind == "NUM" and tokens[1].kind == "repeat":
            return True
        if tokens[0].kind == "NUM" and tokens[-1].kind == "COLON" and kinds <= {"NUM", "times", "COLON", "in_all"}:
            return True
        colon = next((i for i, t in enumerate(tokens[:4]) if t.kind == "COLON"), None)
        if (
            colon is not None
            and colon + 1 < len(tokens)
            and tokens[colon + 1].kind in ("cut", "attach", "mock_picot", "lock_join")
        ):
            return True
        first = tokens[0].kind
        second = tokens[1].kind if len(tokens) > 1 else "END"
        if (
            first in ("round", "row", "motif")
            and (
                second in ("NUM", "label")
                or (len(tokens) > 1 and len(tokens[1].text) == 1 and tokens[1].text.isupper())
            )
        ) or (first == "ORD" and second in ("round", "row", "motif")):
            return True
        if (first == "motif" and len(tokens) == 1) or (first == "centre" and second in ("COLON", "END")):
            return True
        if first in ("attach", "repeat", "leave", "cut", "fasten") and not any(
            t.kind in THREAD_KINDS or (t.kind == "UNIT" and first != "leave") for t in tokens[1:]
        ):
            return True
        if first in ("reverse_work", "lock_join", "all", "each") and len(tokens) <= 14:
            return True
        if first in NOUNS and second == "COLON":
            return True
        return bool(first == "shuttle" and second == "NUM" and len(tokens) > 2 and tokens[2].kind in ("COLON", *NOUNS))

    def _before_steps(self, start: int, end: int, stop: int) -> None:
        """A sentence before the first step: title, materials, sizes, a note."""
        front = self.front
        tokens = self.tokens[start:end]
        words = self._spelt(start, end)
        kinds = {t.kind for t in tokens}
        counted = any(t.kind == "NUM" and after.kind in ("ring", "chain") for t, after in pairwise(tokens))
        if "total" in kinds or (counted and {"ring", "chain"} <= kinds and "until" not in kinds):
            # A total told before the work stays with the steps.
            return
        if len(tokens) == 1 and (tokens[0].kind == "NUM" or len(words) <= 2):
            # The number of a step.
            return
        if len(tokens) > 5 and any(k in JOINS for k in kinds) and self._covering(tokens):
            # A sentence that covers joins is read with the steps.
            return
        if (
            not front.title
            and not front.materials
            and "materials_head" not in kinds
            and not self._thread_sentence(tokens)
        ):
            front.title = _unquoted(words.strip(" ~*#=-:"))
            self._skip(start, stop)
            threads = read_threads(tokens)
            if threads:
                front.threads = front.threads or threads
                front.threads_at = front.threads_at or self._span(start, end)
            return
        if self._tail_left(tokens):
            front.notes.append(words)
        elif "size" in kinds and tokens[0].kind == "size" and len(tokens) > 1 and tokens[1].kind == "COLON":
            front.sizes.append(self._spelt(start + 2, end) if end > start + 2 else words)
        elif self._thread_sentence(tokens) or "materials_head" in kinds:
            if tokens[0].kind == "materials_head" and len(tokens) > 1 and tokens[1].kind == "COLON":
                words = self._spelt(start + 2, end) if end > start + 2 else ""
            if words:
                front.materials.append(words)
            self._all_picots(tokens)
            more = read_threads(tokens)
            if more and not front.threads:
                front.threads = more
                front.threads_at = self._span(start, end)
            elif more:
                self._add_to_threads(more)
        elif "picot" in kinds and self._picot_length(tokens):
            front.notes.append(words)
        elif (
            {"UNIT"} & kinds
            and not {"picot"} & kinds
            and len(tokens) < 14
            and not front.finished_size
            and "NUM" in kinds
        ):
            front.finished_size = words
        elif self._covering(tokens):
            # A sentence that covers turns or joins is read with the steps.
            return
        else:
            front.notes.append(words)
        self._skip(start, stop)

    def _covering(self, tokens: list[Token]) -> bool:
        kinds = [t.kind for t in tokens]
        return any(k in ("PLUS", "reverse_work", *JOINS) for k in kinds) and any(
            k in ("each", "all", "to", "between", "after") for k in kinds
        )

    def _thread_sentence(self, tokens: list[Token]) -> bool:
        kinds = [t.kind for t in tokens]
        return any(k in THREAD_KINDS for k in kinds) or kinds[:1] == ["materials_head"]

    def _add_to_threads(self, more: list[Thread]) -> None:
        for thread in more:
            for known in self.front.threads:
                if known.role == thread.role and (known.name == thread.name or len(more) == 1):
                    known.beads = known.beads if thread.beads is None else thread.beads
                    known.color = known.color or thread.color
                    known.size = known.size or thread.size
                    known.joined_to = known.joined_to or thread.joined_to
                    known.tied = known.tied or thread.tied

    def _tail_left(self, tokens: list[Token]) -> bool:
        """``Leave a tail of 40 cm: it is the second thread of the split ring``: a tail that is worked with, and not one
        that is only to be hidden.
        """
        at = next((i for i, token in enumerate(tokens) if token.kind == "tail"), None)
        kinds = [token.kind for token in tokens]
        second = any(kind == "ORD" and after == "thread" for kind, after in pairwise(kinds))
        if at is None or "leave" not in kinds or not (second or _TAIL_WORKS & set(kinds)):
            return False
        length = None
        for c in (Cursor(tokens[at + 1 :]), Cursor(tokens[:at])):
            while c.at < c.limit and length is None:
                length = read_length(c)
                c.at += length is None
            if length is not None:
                break
        known = next((thread for thread in self.front.threads if thread.role == "tail"), None)
        if known is None:
            shuttle = next((thread.name for thread in self.front.threads if thread.role == "shuttle"), "shuttle 1")
            known = Thread("tail", "tail", joined_to=shuttle)
            self.front.threads = [*(self.front.threads or [Thread("shuttle", shuttle)]), known]
        known.length = known.length or length
        return True

    def _all_spaces(self, tokens: list[Token]) -> bool:
        """``All spaces 6 mm.``: the length of bare thread where none is told."""
        kinds = [t.kind for t in tokens]
        if kinds[:1] not in (["all"], ["each"]) or not {"space", "bare_thread"} & set(kinds[:4]) or len(kinds) > 10:
            return False
        at = next((i for i, kind in enumerate(kinds) if kind in ("NUM", "FRACTION", "about")), None)
        self.front.space_length = read_length(Cursor(tokens, at, len(tokens))) if at is not None else None
        return self.front.space_length is not None

    def _all_picots(self, tokens: list[Token]) -> bool:
        """``All picots are 3 mm high`` among the words before the steps."""
        kinds = {t.kind for t in tokens}
        return "picot" in kinds and "UNIT" in kinds and not self._works(tokens) and self._picot_length(tokens)

    def _picot_length(self, tokens: list[Token]) -> bool:
        """``All picots are 3 mm high``."""
        if not any(t.kind in ("all",) for t in tokens):
            return False
        c = Cursor(tokens)
        while c.at < c.limit:
            if c.kind() in ("NUM", "FRACTION"):
                length = read_length(c)
                if length is not None:
                    self.front.picot_length = self.front.picot_length or length
                    return True
            c.next()
        return False


def _unquoted(title: str) -> str:
    """A title without the quotation marks round the whole of it."""
    inside = title.strip("\"'“”‘’ ")
    return inside if not any(mark in inside for mark in '"“”') else title


def read_front(text: str, tokens: list[Token], begun: bool = False) -> Front:
    """The front matter of a text, from its tokens as the convention alone reads them.

    ``begun`` when steps stand before it: its sentences are then no title, materials or notes of their own.
    """
    reader = _Reader(text, tokens)
    reader.begun = begun
    return reader.read()


__all__ = ["Front", "read_front"]
