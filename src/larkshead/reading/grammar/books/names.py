"""Elements by the names old books give them: announced with their counts, like others, or only spoken of."""

from __future__ import annotations

from larkshead.model import BareThread, Element, Note, Repeat, Step, Turn
from larkshead.reading.grammar.books.counts import counts_ahead
from larkshead.reading.grammar.books.told import Announced
from larkshead.reading.grammar.books.walk import CLAUSE_ENDS, Walk
from larkshead.reading.grammar.going_on import sizes_of
from larkshead.reading.grammar.tokens import Token
from larkshead.records import dataclass

NOUNS = {"ring": "ring", "chain": "chain", "josephine_ring": "josephine ring"}
_ACTS = frozenset({"repeat", "close", "reverse_work", "cut", "knot", "fasten", "instead", "draw", "leave", "go_on"})
_LEAD_IN = frozenset({"COLON", "DASH", "WORD", "glue", "work", "ORD", "which", "again", "STOP", "each"})
# Shades of names for more than one.
MANY = ("several", "either or several")
_NEAR = 60


@dataclass(slots=True)
class _Modifiers:
    """What stands before a name: its size, number, ordinal, likeness."""

    size: str = ""
    count: int | None = None
    number: int | None = None
    numbers: int = 0
    alike: bool = False
    again: bool = False
    each: bool = False
    article: bool = False
    one_of: bool = False
    rest: bool = False
    worked: bool = False
    within: bool = False


class Names(Walk):
    """Elements by the names old books give them."""

    # Behind which token the counts of the element announced begin; names before it only describe.
    lead_at = 0
    # Where the first of several figures begins.
    unit_at = 0
    # Where a name with its number behind it heads what is told.
    titled = -1
    # Whether the element named heads what is told of it.
    heads = False

    def noun(self) -> bool:
        """``a circle consisting of ...``, ``1st oval:``, ``a second similar circle``, ``the circle``."""
        c = self.c
        start = c.at
        token = c.peek()
        kind = NOUNS.get(token.kind, "ring")
        said = self._modifiers(start)
        if start < self.lead_at:
            c.next()
            return True
        plural = token.value in MANY
        if said.count is not None and plural:
            self.counted[kind] = (said.count, start)
        if self._as_in_figure(said, start):
            return True
        number = c.peek(1)
        if number.kind == "NUM" and said.number is None and c.kind(2) in ("COLON", "like", "DASH"):
            # ``Circle 1:``, ``Circle 3 as circle 1``
            said.number, said.numbers = int(number.value), 1
            c.tokens[c.at + 1] = number._replace(kind="glue", value=None)
            self.titled = c.at
        lead = self._lead(kind, said)
        if lead is not None:
            self._announce(kind, token, said, plural, lead)
            return True
        if plural and said.rest and self._the_rest(start):
            return True
        if self._copies(kind, said):
            self.flush()
            model = self._model(kind, said)
            c.next()
            self._skip_likeness()
            if model is not None:
                self._again(model, said, start)
            else:
                self.notice("unread-text", "warning", "this refers to an element that is not told", c.span(start))
            return True
        c.next()
        return True

    def _as_in_figure(self, said: _Modifiers, start: int) -> bool:
        """``a ring like the ones in fig. 499``: the figures of a passage told before, by the number of its picture."""
        c = self.c
        ahead = c.find({"caption"}, CLAUSE_ENDS, 10)
        like = c.find({"like"}, CLAUSE_ENDS, 7)
        if (
            ahead is None
            or like is None
            or like > ahead
            or c.kind(ahead + 1) != "NUM"
            or not (said.article or said.worked)
        ):
            return False
        part = self.figures.get(int(c.peek(ahead + 1).value))
        model = next(iter(self.elements(part.steps)), None) if part is not None else None
        if model is None:
            return False
        self.flush()
        c.at += ahead + 2
        while c.kind() == "glue" and c.kind(1) == "NUM":
            c.at += 2
        self._again(model, said, start)
        return True

    def _modifiers(self, at: int) -> _Modifiers:
        tokens = self.c.tokens
        said = _Modifiers()
        words = 0
        for i in range(at - 1, max(at - 10, self.clause_start - 1, -1), -1):
            token = tokens[i]
            kind = token.kind
            if kind in ("large", "small"):
                said.size = said.size or kind
            elif kind in ("like", "same"):
                said.alike = True
            elif kind == "ORD":
                said.number = said.number or int(token.value)
                said.numbers += 1
            elif kind == "NUM":
                said.count = said.count if said.count is not None else int(token.value)
                said.one_of = said.one_of or (said.within and token.value == 1)
            elif kind in ("again", "another", "more"):
                said.again = True
            elif kind in ("all", "other", "next"):
                said.rest = True
            elif kind == "work":
                said.worked = True
                break
            elif kind == "each":
                said.each = True
            elif kind == "of":
                before = tokens[i - 1].kind if i else ""
                if before not in ("NUM", "each"):
                    said.within = True
                    break
                said.within = True
            elif kind == "glue":
                said.article = said.article or token.value == "one"
            elif kind in NOUNS and i == at - 2 and tokens[at - 1].kind == "WORD":
                # ``loops or branches``
                continue
            elif kind == "WORD":
                words += 1
                if words > 2:
                    break
            elif kind not in ("middle", "previous", "this", "DASH", "branched"):
                break
        return said

    def _lead(self, kind: str, said: _Modifiers) -> int | None:
        """How far ahead the counts of the element named here begin, where it is named to be worked."""
        c = self.c
        described = comma = False
        ahead = 1
        straight = kind == "chain" and c.peek().value is None
        if straight and c.kind(1) not in ("COLON", "DASH", "STOP", "consisting", "of", "NUM"):
            return None
        while ahead < 45:
            here = c.kind(ahead)
            if here == "STOP" and c.kind(ahead + 1) != "DASH":
                return None
            if here in ("consisting", "COLON", "STOP", "DASH"):
                if here != "consisting" and self._likeness_behind(ahead + 1):
                    return None
                counts = self._counts_behind(ahead + 1)
                if counts is not None:
                    return counts
                head = ahead == (2 if self.titled == c.at else 1) and (
                    kind == "chain" or c.at - self.sentence_start < 3
                )
                labelled = (said.number is not None or head) and not comma and not said.within and here != "consisting"
                return ahead + 1 if labelled else None
            if here == "SEMI" and ahead == 1 and not said.alike and counts_ahead(c, 2):
                return 2
            if here in CLAUSE_ENDS or here in _ACTS or (here == "join" and not described):
                return None
            if here == "MARK":
                return None
            if here == "like" and not (False):
                return None
            if here in NOUNS:
                described = True
            elif not described and here in ("NUM", "glue", "another") and counts_ahead(c, ahead):
                before = c.kind(ahead - 1)
                if self.over and kind == "ring" and comma and said.count == 1 and self.known:
                    # ``7 double, 1 circle, 7 double``: a ring told before, on the chain
                    return None
                if before == "of" and c.kind(ahead - 2) == "each":
                    return ahead
                if said.alike or (comma and before not in ("COMMA", "work")):
                    return None
                if comma and before != "work" and not (said.number or said.article or said.count or said.again):
                    return None
                return (
                    ahead if before in ("of", "with", "work", "glue", "WORD", "COMMA", "this", "each", *NOUNS) else None
                )
            comma = comma or here == "COMMA"
            ahead += 1
        return None

    def _likeness_behind(self, ahead: int) -> bool:
        """``3rd circle: like the 2nd``"""
        while self.c.kind(ahead) in ("COLON", "DASH", "glue", "WORD", "again"):
            ahead += 1
        return self.c.kind(ahead) == "like"

    def _counts_behind(self, ahead: int) -> int | None:
        for step in range(9):
            if counts_ahead(self.c, ahead + step):
                return ahead + step
            if self.c.kind(ahead + step) not in _LEAD_IN:
                return None
        return None

    def _announce(self, kind: str, token: Token, said: _Modifiers, plural: bool, lead: int) -> None:
        c = self.c
        self.flush()
        count = 1
        if said.one_of:
            count = 1
        elif said.count is not None and (plural or said.each):
            count = said.count
        elif said.each:
            number, at = self.counted.get(kind, (1, 0))
            count = number if c.at - at < _NEAR and not said.within else 1
        elif plural and said.number is None:
            count = 0
        elif plural and said.numbers > 1:
            count = said.numbers
        self.label_settles(said.number)
        heads = (
            c.kind(1) in ("COLON", "STOP", "DASH")
            or self.titled == c.at
            or (
                c.kind(1) == "of"
                and c.find({"COLON", "DASH"}, {"COMMA", "SEMI", "consisting", "NUM"}, lead) is not None
            )
        )
        label = str(said.number) if said.number is not None and said.numbers == 1 and heads else None
        either = token.value in ("either", "either or several")
        self.named = Announced(kind, c.span(c.at), said.size, label, count, either, token.value == "half")
        self.lead_at = c.at + lead
        c.next()

    def label_settles(self, number: int | None) -> None:
        """The number of an element told behind a repeat says how often that was worked."""

    def _copies(self, kind: str, said: _Modifiers) -> bool:
        """Whether the name here tells to work once more what was worked."""
        if said.within and not said.one_of:
            return False
        c = self.c
        self.heads = c.kind(1) in ("COLON", "DASH") and said.numbers == 1
        ahead = c.find({"like"}, CLAUSE_ENDS | {"COMMA", "work", "fasten"}, 7)
        if ahead is None and (said.number or 1) > 1 and not said.numbers > 1:
            # ``The second circle follows at a distance ..., and is worked in the same manner``
            ahead = self._likeness_later()
        headed = c.kind(1) == "COMMA" and (said.number or 1) > 1 and c.at - self.sentence_start < 3
        if headed and "same" in (c.kind(2), c.kind(3)):
            # ``2nd circle, the same``
            return True
        likened = said.alike or ahead is not None
        if kind == "josephine ring":
            return False
        if kind == "chain" and c.peek().value is None:
            # ``a double thread is required`` tells to work nothing.
            return likened and c.at - self.sentence_start < 2
        told = said.article or said.count is not None or said.again or c.kind(1) == "again"
        if likened:
            return told or said.number is not None or c.at - self.sentence_start < 2
        if said.again or (said.number or 1) > 1:
            return said.article or said.again or said.worked
        if said.size and said.article:
            return self.looks_like_work()
        number = self.c.tokens[c.at - 1] if c.at else None
        return bool(self.over and number is not None and number.kind == "NUM" and number.value == 1 and self.known)

    def _likeness_later(self) -> int | None:
        """How far ahead in the clause likeness is told, with no counts and no other element before it."""
        for ahead in range(1, 24):
            kind = self.c.kind(ahead)
            if kind == "like":
                return ahead
            if kind in CLAUSE_ENDS or kind in NOUNS or kind in _ACTS or counts_ahead(self.c, ahead):
                return None
        return None

    def _the_rest(self, start: int) -> bool:
        """``All the other circles are worked like the second``: the pass told last goes on."""
        c = self.c
        ahead = c.find({"like"}, CLAUSE_ENDS | _ACTS | {"join"}, 9)
        if ahead is None:
            return False
        self.flush()
        at = next((i for i in range(len(self.steps) - 1, -1, -1) if isinstance(self.steps[i], Element)), None)
        if at is None:
            return False
        while at and isinstance(self.steps[at - 1], BareThread | Turn):
            at -= 1
        c.at += ahead + 1
        while c.kind() in ("glue", "ORD", "previous", "this", *NOUNS):
            c.next()
        repeat = Repeat(self.steps[at:], None, "length wanted")
        if self.wrap(at, repeat, c.span(start)):
            self.repeated = repeat
        return True

    def looks_like_work(self) -> bool:
        """Whether the clause tells to work, or goes on with ``then``."""
        return any(t.kind in ("work", "again") for t in self.behind(14))

    def _model(self, kind: str, said: _Modifiers) -> Element | None:
        c = self.c
        same = [e for e in self.known if e.kind == kind]
        if not same:
            return None
        if said.size:
            sized = [e for e, s in zip(same, sizes_of(same), strict=True) if s == said.size]
            return (sized or same)[-1]
        ahead = c.find({"like"}, CLAUSE_ENDS | {"COMMA"}, 7)
        if ahead is not None:
            for step in range(ahead + 1, ahead + 5):
                token = c.peek(step)
                if token.kind == "ORD" or (token.kind == "NUM" and not counts_ahead(c, step)):
                    number = int(token.value)
                    labelled = next((e for e in same if e.label == str(number)), None)
                    return labelled or (same[number - 1] if number <= len(same) else same[-1])
                if token.kind in CLAUSE_ENDS or token.kind == "COMMA":
                    break
        return same[-1]

    def _skip_likeness(self) -> None:
        """Step over ``like the first``, ``similar to the preceding``."""
        c = self.c
        if c.find({"like"}, CLAUSE_ENDS | {"COMMA", "fasten", "space"}, 5) is None:
            return
        while c.kind() != "like":
            c.next()
        c.next()
        while c.kind() in ("glue", "ORD", "previous", "this", "NUM", "large", "small", "to", *NOUNS) and not (
            c.kind() == "NUM" and counts_ahead(c)
        ):
            c.next()

    def _again(self, model: Element, said: _Modifiers, start: int) -> None:
        self.flush()
        copy = self.copied(model)
        assert isinstance(copy, Element)
        copy.label = str(said.number) if said.number is not None and self.heads else None
        span = self.c.span(start)
        self.origins.record(copy, span)
        self.known.append(copy)
        count = said.count if said.count and not said.one_of else 1
        if said.numbers > 1 and self.c.tokens[start].value in MANY:
            count = said.numbers
        if count > 1:
            repeat = Repeat([copy], count)
            self.origins.record(repeat, span)
            self.steps.append(repeat)
            self.repeated = self.placed = repeat
        else:
            self.steps.append(copy)
            self.placed = copy
            self.repeated = None

    def figure(self) -> bool:
        """``a 2nd three-branched pattern like the first``: the group told last, once more."""
        c = self.c
        start = c.at
        said = self._modifiers(start)
        if said.count is not None and c.tokens[start - 1].kind == "branched":
            self.counted["ring"] = (said.count, start)
        c.next()
        if said.number == 1:
            self.flush()
            self.unit_at = len(self.steps)
        if said.rest and c.find({"like"}, CLAUSE_ENDS, 7) is not None:
            return self._the_rest_of_figures(said, start)
        if not ((said.article or said.again) and (said.again or said.alike or (said.number or 1) > 1)):
            return True
        group = self._last_group()
        if group is None:
            return True
        self._skip_likeness()
        self.flush()
        copy = self.copied(group)
        self.steps.append(copy)
        self.placed = self.group = copy
        self.repeated = copy if isinstance(copy, Repeat) else None
        return True

    def _the_rest_of_figures(self, said: _Modifiers, start: int) -> bool:
        """``The other three arms are worked in the same manner``: all that makes one of them, so many times."""
        c = self.c
        self.flush()
        at = self.unit_at
        while c.kind() not in CLAUSE_ENDS:
            c.next()
        if at < len(self.steps):
            repeat = Repeat(self.steps[at:], said.count + 1 if said.count else None)
            if self.wrap(at, repeat, c.span(start)):
                self.repeated = repeat
        return True

    def so_many_more(self) -> bool:
        """``work 3 others in the same manner``, ``at a short distance another,``: the element told last, once more or so often."""
        c = self.c
        start = c.at
        before = c.tokens[start - 1] if start else None
        number = int(before.value) if before is not None and before.kind == "NUM" else 1
        others = c.kind() == "other" and number > 1 and c.find({"like"}, CLAUSE_ENDS | {"COMMA"}, 4) is not None
        bare = c.kind() == "another" and c.kind(1) in ("COMMA", "STOP", "SEMI", "fasten", "join")
        c.next()
        if not (others or bare):
            return True
        self.flush()
        last = next((s for s in reversed(self.steps) if isinstance(s, Element)), None)
        if last is not None:
            if others:
                self._skip_likeness()
            self._again(last, _Modifiers(count=number), start)
        return True

    def _last_group(self) -> Step | None:
        return next((s for s in reversed(self.steps) if isinstance(s, Repeat) and s.times), None)

    def ordinal(self) -> bool:
        """``and a third at the same distance``: once more what was just told."""
        c = self.c
        start = c.at
        before = c.tokens[start - 1] if start else None
        if self._next_of_several(start):
            return True
        bare = c.kind(1) in ("glue", "COMMA", "STOP", "SEMI", "space", "to")
        if before is None or before.kind != "glue" or before.value != "one" or not bare or c.peek().value < 2:
            c.next()
            return True
        self.flush()
        last = next((s for s in reversed(self.steps) if not isinstance(s, Note | Turn | BareThread)), None)
        c.next()
        if isinstance(last, Element):
            self._again(last, _Modifiers(), start)
        return True

    def each(self) -> bool:
        """``... 5 in number: each consists of ...``"""
        c = self.c
        start = c.at
        c.next()
        if c.kind() == "consisting" and self.told is None and self._counts_behind(1) is not None:
            number, at = self.counted.get("ring", (1, 0))
            self.named = Announced("ring", c.span(start), count=number if c.at - at < _NEAR else 1)
        return True

    def _next_of_several(self, start: int) -> bool:
        """``for the second, 7 double ...``, ``the third like the second``: one of the elements of which the first was told by name."""
        c = self.c
        number = int(c.peek().value)
        last = self.told.name.kind if self.told is not None else self.known[-1].kind if self.known else ""
        if number < 2 or not last or c.kind(1) in NOUNS:
            return False
        ahead = 2 if c.kind(1) in ("COMMA", "COLON") else 1
        if counts_ahead(c, ahead) and c.kind(ahead) == "NUM":
            self.flush()
            c.next()
            self.named = Announced(last, c.span(start))
            return True
        before = c.tokens[start - 1] if start else None
        one = before is not None and before.kind == "glue" and before.value == "one"
        if c.kind(ahead) == "like" and (one or any(t.kind == "work" for t in self.behind(3))):
            self.flush()
            c.at = start + ahead + 1
            while c.kind() in ("glue", "ORD", "previous", *NOUNS):
                c.next()
            self._again(self.known[-1], _Modifiers(), start)
            return True
        return False
