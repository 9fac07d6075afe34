"""The entries of a pattern's own list: which stretches of text are entries, and what they lay over the convention."""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right, insort
from dataclasses import replace
from itertools import islice
from typing import Any

from larkshead.model import Abbreviation, Join, Picot
from larkshead.reading.grammar.entryforms import (
    COUNT_MARKS,
    MARK_KINDS,
    NOUNS,
    TWO_MEANINGS,
    Entry,
    EntryForms,
    Front,
)
from larkshead.reading.grammar.meanings import Meaning, interpret
from larkshead.reading.grammar.places import ELEMENTS, PICOTS
from larkshead.reading.grammar.tokens import Token
from larkshead.reading.source import Span

__all__ = ["Entry", "EntryReader", "Front"]


class EntryReader(EntryForms):
    """The entries of a pattern's own list."""

    def _list_head(self, tokens: list[Token]) -> int:
        """How many tokens the heading of a list takes: ``Abbreviations:``, ``What my letters mean``; 0 for no
        heading.
        """
        at = next((i for i, t in enumerate(tokens[:6]) if t.kind == "list_head"), None)
        if at is None or any(t.kind in ("NUM", *COUNT_MARKS) for t in tokens[:at]):
            return 0
        i = at + 1
        while (
            i < len(tokens)
            and tokens[i].kind in ("STOP", "WORD", "means", "glue", "list_head", "this", "DASH")
            and i - at < 5
        ):
            if (
                tokens[i].kind in ("glue", "DASH")
                and i + 1 < len(tokens)
                and not (tokens[i].kind == "glue" and tokens[i + 1].kind in ("WORD", "list_head", "COLON"))
            ):
                break
            if tokens[i].kind == "WORD" and len(tokens[i].text) <= 4 and i > at + 1:
                break
            i += 1
        if i < len(tokens) and tokens[i].kind == "COLON":
            return i + 1
        if i == len(tokens) and at < 4:
            return i
        return (
            at + 2
            if at + 1 < len(tokens) and tokens[at + 1].kind in ("COLON", "STOP", "DASH", "EQUALS") and at == 0
            else 0
        )

    def _entries_after_head(self, start: int, end: int) -> None:
        """``tw turn work, p picot, j join``: entries behind a heading, parted by commas or semicolons."""
        if start >= end:
            return
        pending: list[Entry] = []
        for first, last in self._split(start, end, ("COMMA", "SEMI")):
            while last > first and self.tokens[last - 1].kind == "STOP":
                last -= 1
            for entry in self._entry_of(first, last, loose=True):
                if not entry.meaning:
                    pending.append(entry)
                    continue
                for other in pending:
                    other.meaning = entry.meaning
                    self._take(other)
                pending.clear()
                self._take(entry)

    def _take(self, entry: Entry) -> None:
        """Lay an entry over the convention."""
        form = entry.form
        meaning = entry.meaning
        said = self.text[meaning[0].start : meaning[-1].end] if meaning else ""
        front = self.front
        front.defined.add(form)
        if self._works(meaning) and (form[0].isalpha() or " " in form):
            self._name(form, entry)
            return
        found = None if self._names_a_place(meaning) else self._template(form, meaning) or interpret(meaning, form)
        usual = self._usual(form)
        kind, value = found if found is not None else ("", None)
        concept = kind
        if kind.isupper() and len(meaning) == 1:
            # A mark is read by its shape, and stands for what the one word behind it says.
            concept = meaning[0].kind
        front.abbreviations.append(Abbreviation(form, said, concept if concept.islower() else None))
        front.entries.append(Span(entry.span.start, meaning[-1].end) if meaning else entry.span)
        if found is None:
            if usual == "times":
                # "X = cross over": no sign of times here.
                front.own[form] = ("WORD", None)
            return
        self.before = found
        if (form[0].isalpha() and value is None and usual == kind) or (form == "+" and _plain_join(value)):
            return
        if (
            not form[0].isalnum()
            and kind == "DASH"
            and isinstance(value, Meaning)
            and value.items
            and getattr(value.items[0], "size", "") == ""
            and form in "-–—−‐‑‒"
            and not getattr(value.items[0], "beads", False)
        ):
            # The usual meaning of a dash.
            return
        if (
            kind == "ring"
            and form[0].isalpha()
            and len(form) == 2
            and usual in (None, "WORD")
            and form[0].upper() == "R"
            and isinstance(value, Meaning) is False
        ):
            value = Meaning(label=form[1:])
        front.own[form] = (kind, value)

    def _names_a_place(self, meaning: list[Token]) -> bool:
        """``A3 = ring A, third picot``: how places are written in this pattern, and no abbreviation."""
        kinds = [t.kind for t in meaning]
        if len(kinds) < 3 or kinds[0] not in ELEMENTS or kinds[1] not in ("NUM", "label", "glue", "WORD"):
            return False
        return any(kind in PICOTS and kinds[i - 1] in ("ORD", "last") for i, kind in enumerate(kinds) if i)

    def _template(self, form: str, meaning: list[Token]) -> tuple[str, Any] | None:
        """``3b = picot carrying three`` beside ``b = picot carrying one bead``."""
        if (
            not form[0].isdigit()
            or self.before is None
            or not isinstance(self.before[1], Meaning)
            or any(t.kind == "bead" for t in meaning)
        ):
            return None
        items = self.before[1].items
        number = next((int(t.value) for t in meaning if t.kind == "NUM"), None)
        if len(items) == 1 and number is not None and isinstance(items[0], Picot) and items[0].beads:
            return "ITEM", Meaning(items=(replace(items[0], beads=min(number, 99)),))
        return None

    def _usual(self, form: str) -> str | None:
        """The kind the convention alone reads a form as (``SH2`` as ``SH`` with its number), None where it is no one
        token.
        """
        letters = form.rstrip("0123456789") or form
        places = self._places()
        found = [places[text][0] for text in (form, letters) if text in places]
        return self.tokens[min(found)].kind if found else None

    def _places(self) -> dict[str, list[int]]:
        """Where each text stands among the tokens."""
        if self.places is None:
            self.places = {}
            for at, token in enumerate(self.tokens):
                if token.kind != "PLAIN":
                    self.places.setdefault(token.text, []).append(at)
        return self.places

    def _name(self, form: str, entry: Entry) -> None:
        """A name for steps: ``A = R 4-4-4, rw``, ``CL = cloverleaf: r 5-3-3-5, ...``."""
        tokens = entry.meaning
        colon = next((i for i, t in enumerate(tokens) if t.kind == "COLON"), None)
        if colon and not self._has_counts(tokens[:colon]) and tokens[colon - 1].kind not in NOUNS:
            tokens = tokens[colon + 1 :]
        if not tokens:
            return
        self.front.names[form] = Span(tokens[0].start, tokens[-1].end)
        usual = self._usual(form)
        self.front.name_kinds[form] = ELEMENTS.get(usual or "", self._kind_by_letter(form))
        self.front.own[form] = ("NAME", form)

    def _kind_by_letter(self, form: str) -> str:
        """The element whose abbreviation a name ends in: ``SmR`` a ring, ``BigC`` a chain."""
        for size in (2, 1):
            tail = form[-size:]
            kind = self._usual(tail) or ""
            if kind in ELEMENTS:
                return ELEMENTS[kind]
        return "chain" if form[-1:] in ("C", "c") else "ring"

    def _unused_names(self) -> None:
        """A name that is used nowhere was no definition: its steps stand where they are told."""
        front = self.front
        if not front.names:
            return
        skip = sorted(front.skip)
        places = self._places()
        unused: list[int] = []
        for form in list(front.names):
            span = front.names[form]
            starts = [self.tokens[at].start for at in places.get(form, ())]
            if " " in form:
                starts = [found.start() for found in islice(re.finditer(re.escape(form), self.text), 100)]
            if not any(not (span.start <= start < span.end) and not _inside(start, skip) for start in starts):
                del front.names[form]
                del front.own[form]
                insort(unused, span.start)
        if unused:
            front.skip = [s for s in skip if bisect_left(unused, s.start) == bisect_left(unused, s.end)]

    def _gapped(self, start: int, end: int) -> bool:
        """A line of forms and explanations set in columns: ``B   bead slid up``, ``. picot     : longer picot``."""
        gaps = [gap for at in range(start + 1, end) if (gap := self._gap(at)) > 0]
        if len(gaps) > 2 and sum(gap >= 2 for gap in gaps) * 5 > len(gaps) * 4:
            # Two blanks between all words make no columns.
            return False
        cells = self._cells(start, end)
        if len(cells) < 2 and not any(self._gap(at) >= 2 for at in range(start + 1, end)):
            return False
        entries: list[Entry] = []
        at = 0
        while at < len(cells):
            first, last = cells[at]
            if self._form_end(first, last) == last and at + 1 < len(cells) and (self._mark_or_short(first, last)):
                # A form alone in its column: the rest of the line explains it.
                stop = cells[-1][1]
                nxt = at + 1
                meaning = self.tokens[cells[nxt][0] : stop]
                entry = Entry(self._spelt(first, last), self._span(first, last), meaning)
                if not self._explains(entry.form, self.tokens[first], meaning):
                    return False
                entries.append(entry)
                break
            found = self._entry_of(first, last)
            if (
                len(found) != 1
                or not self._mark_or_short(first, self._form_end(first, last))
                or not self._explains(found[0].form, self.tokens[first], found[0].meaning)
            ):
                return False
            entries += found
            at += 1
        if not entries:
            return False
        for entry in entries:
            self._take(entry)
        self._skip(start, end)
        return True

    def _listed(self, start: int, end: int) -> bool:
        """A line under the heading of a list: ``SR  small ring``, or several parted by commas."""
        found = self._entry_of(start, end, loose=True)
        if len(found) == 1 and self._explains(found[0].form, self.tokens[start], found[0].meaning):
            several = self._all_entries(start, end)
            for entry in several or found:
                self._take(entry)
            self._skip(start, end)
            return True
        self.in_list = False
        return False

    def _bracketed(self, start: int, end: int) -> bool:
        """``(sp small picot, lp long picot)``: a whole line in brackets."""
        if self.tokens[start].kind != "OPEN" or self.tokens[end - 1].kind != "SHUT":
            return False
        entries = self._all_entries(start + 1, end - 1)
        if not entries:
            return False
        for entry in entries:
            self._take(entry)
        self._skip(start, end)
        return True

    def _all_entries(self, start: int, end: int) -> list[Entry]:
        """The entries of a stretch parted by commas, semicolons or stops; none unless every part is one."""
        entries: list[Entry] = []
        parts = self._split(start, end, ("COMMA", "SEMI", "STOP"))
        for first, last in parts:
            found = self._entry_of(first, last)
            if len(found) != 1:
                return []
            entry = found[0]
            if not entry.sure and not self._may_stand_for(first, entry):
                return []
            bare = not entry.sure
            if not self._explains(entry.form, self.tokens[first], entry.meaning):
                return []
            if bare and (self.tokens[first].kind == "NUM" or len(entry.form) > 4):
                return []
            entries.append(entry)
        kind = self.tokens[start].kind
        if len(entries) == 1 and not entries[0].sure and kind not in MARK_KINDS and kind != "OPEN":
            return entries if kind in {t.kind for t in entries[0].meaning[:3]} else []
        return entries

    def _may_stand_for(self, first: int, entry: Entry) -> bool:
        """Whether a form could be explained so with no sign of equality: it is unknown, a mark, means that anyway, or
        has two meanings.
        """
        usual = self.tokens[first].kind
        if usual == "WORD" or not entry.form[0].isalpha():
            return True
        found = interpret(entry.meaning, entry.form)
        return found is not None and (found[0] == usual or (usual in TWO_MEANINGS and len(entry.form) <= 3))

    def _equal_entries(self, start: int, end: int) -> int | None:
        """Entries with ``=`` between form and explanation; where the first begins, None where there is none."""
        equals = [at for at in range(start, end) if self.tokens[at].kind == "EQUALS" and at > start]
        if not equals:
            return None
        begins: list[int] = []
        for at in equals:
            begin = self._form_before(at, begins[-1] if begins else start, start)
            if begin is None:
                if not begins:
                    return None
                continue
            begins.append(begin)
        if not begins:
            return None
        entries: list[Entry] = []
        for i, begin in enumerate(begins):
            equal = next(at for at in equals if at > begin)
            last = begins[i + 1] if i + 1 < len(begins) else end
            while last > equal and self.tokens[last - 1].kind in (
                "COMMA",
                "SEMI",
                "STOP",
                "glue",
                "SHUT" if self.tokens[begin - 1].kind == "OPEN" else "COMMA",
            ):
                last -= 1
            if last <= equal + 1:
                return None
            form = self._mark_named(begin, last) or self._spelt(begin, equal)
            meaning = self.tokens[equal + 1 : last]
            if not self._definition(begin, equal, meaning):
                if not entries:
                    return None
                continue
            entries.append(Entry(form, self._span(begin, equal), meaning, True))
        if not entries:
            return None
        for entry in entries:
            self._take(entry)
        return begins[0] - 1 if begins[0] > start and self.tokens[begins[0] - 1].kind == "OPEN" else begins[0]

    def _form_before(self, equal: int, floor: int, start: int) -> int | None:
        """Where the form before a sign of equality begins."""
        at = equal - 1
        while (
            at > start
            and equal - at < 5
            and (self.tokens[at - 1].kind not in ("COMMA", "SEMI", "STOP", "COLON") or not self.tokens[at].spaced)
            and not (self.tokens[at].spaced and self._gap(at) >= 3)
        ):
            if self.tokens[at].kind == "OPEN" or (
                self.tokens[at - 1].kind == "OPEN"
                and self.tokens[at].kind != "PLUS"
                and self.tokens[equal - 1].kind != "SHUT"
            ):
                break
            at -= 1
        text = self._spelt(at, equal)
        if len(text) > 16 or at < floor:
            return None
        return at

    def _definition(self, begin: int, equal: int, meaning: list[Token]) -> bool:
        """Whether ``form = meaning`` defines: not ``[4] = [2]`` nor ``R1 = 5-5-5``, which are steps."""
        first = self.tokens[begin]
        if first.kind == "OPEN" and self.tokens[begin + 1].kind in ("NUM", "label"):
            return False
        if any(t.kind in ("reverse_work", "no_turn", "close") for t in self.tokens[begin + 1 : equal]):
            # "R 5-5 RW Ch 4 RW = 1 scallop" is work.
            return False
        if first.kind in ("NUM", "step") and equal - begin <= 2 and meaning[0].kind in ("NUM", "OPEN"):
            return False
        if first.kind in NOUNS and equal - begin > 1 and (meaning[0].kind == "NUM" or self._has_counts(meaning)):
            return False
        if first.kind in NOUNS and meaning[0].kind == "NUM" and not self._named_alone(first):
            return False
        return first.kind not in ("round", "row", "motif")

    def _named_alone(self, name: Token) -> bool:
        """Whether the name stands somewhere with no work of its own behind it: a step named before and called up."""
        if self.alone is None:
            behind = ("COMMA", "SEMI", "STOP", "reverse_work", "NL", "PARA")
            following = zip(self.tokens, self.tokens[1:], strict=False)
            self.alone = {token.text for token, after in following if token.kind in NOUNS and after.kind in behind}
        return name.text in self.alone

    def _after_colon(self, start: int, end: int) -> int | None:
        """Behind ``NB my signs are not everyone's:`` entries may follow."""
        colon = next((at for at in range(start, end) if self.tokens[at].kind == "COLON"), None)
        if (
            colon is None
            or colon + 1 >= end
            or colon - start < 2
            or any(t.kind in ("NUM", *NOUNS) for t in self.tokens[start:colon])
        ):
            return None
        if self._mark_named(colon + 1, end):
            return colon + 1
        return colon + 1 if self.tokens[colon + 1].kind in MARK_KINDS or self._short_form(colon + 1) else None

    def _after_words(self, start: int, end: int) -> int | None:
        """``NB + is a small picot``: a mark explained behind a word or two."""
        at = start
        while at < min(end, start + 3) and self.tokens[at].kind == "WORD":
            at += 1
        if at == start or at + 2 >= end or self.tokens[at].kind not in MARK_KINDS - {"COLON", "STOP"}:
            return None
        return at if self.tokens[at + 1].kind in ("glue", "means") else None

    def _means(self, start: int, end: int) -> bool:
        """``3 x 7 means seven threes with a picot between each two``: explains what is read so anyway."""
        at = next((i for i in range(start, min(end, start + 6)) if self.tokens[i].kind == "means"), None)
        return at is not None and at > start and not any(t.kind in NOUNS for t in self.tokens[start:at])

    def _spoken_of(self, start: int, end: int) -> bool:
        """``R 5/5 is a split ring with five on each side``: an element with its counts said to be one."""
        at = start + 1
        while at < end and self.tokens[at].kind in ("NUM", "SLASH", *COUNT_MARKS):
            at += 1
        behind = [t.kind for t in self.tokens[at:end]]
        return (
            self.tokens[start].kind in NOUNS
            and at > start + 1
            and behind[:1] == ["glue"]
            and next((k for k in behind if k != "glue"), "") in (*NOUNS, "split", "small", "large")
            and not self._works(self.tokens[at:end])
        )


def _inside(start: int, spans: list[Span]) -> bool:
    """Whether a place lies in one of the spans, which are in order."""
    at = bisect_right(spans, (start, 1 << 62)) - 1
    return at >= 0 and spans[at].start <= start < spans[at].end


def _plain_join(value: Any) -> bool:
    """Whether a mark stands for a join and nothing besides."""
    if not isinstance(value, Meaning) or value.place is not None or value.passes or len(value.items) != 1:
        return False
    item = value.items[0]
    return isinstance(item, Join) and item.kind == "picot" and not item.beads and not item.places
