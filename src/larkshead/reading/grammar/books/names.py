"""Elements by the names old books give them: announced with their counts, like others, or only spoken of."""

from __future__ import annotations

from larkshead.model import BareThread, Element, Note, Turn
from larkshead.reading.grammar.books.counts import counts_ahead
from larkshead.reading.grammar.books.likeness import ACTS, Likeness
from larkshead.reading.grammar.books.told import MANY, NOUNS, Announced, Modifiers
from larkshead.reading.grammar.books.walk import CLAUSE_ENDS
from larkshead.reading.grammar.tokens import Token

_LEAD_IN = frozenset({"COLON", "DASH", "WORD", "glue", "work", "ORD", "which", "again", "STOP", "each"})
# How many tokens a number told of a kind of element is kept in mind.
_NEAR = 60


class Names(Likeness):
    """Elements by the names old books give them."""

    # Behind which token the counts of the element announced begin; names before it only describe.
    lead_at = 0
    # Where a name with its number behind it heads what is told.
    titled = -1

    def noun(self) -> bool:
        """``a circle consisting of ...``, ``1st oval:``, ``a second similar circle``, ``the circle``."""
        c = self.c
        start = c.at
        token = c.peek()
        kind = NOUNS.get(token.kind, "ring")
        said = self.modifiers(start)
        if start < self.lead_at:
            c.next()
            return True
        plural = token.value in MANY
        if said.count is not None and plural:
            self.counted[kind] = (said.count, start)
        if self.as_in_figure(said, start):
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
        if plural and said.rest and self.the_rest(start):
            return True
        if self.is_copied(kind, said):
            self.flush()
            model = self.model(kind, said)
            c.next()
            if c.kind() == "STOP" and {"same", "like"} & {c.kind(1), c.kind(2)}:
                # ``2nd circle. The same as the first``
                c.next()
            self.skip_likeness()
            if model is not None:
                self.again(model, said, start)
            else:
                self.notice("unread-text", "warning", "this refers to an element that is not told", c.span(start))
            return True
        c.next()
        return True

    def _lead(self, kind: str, said: Modifiers) -> int | None:
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
                # ``1st circle. 4 double``
                heads = ahead == 1 and said.number is not None and c.at - self.sentence_start < 3
                if not heads or self._counts_behind(2) is None:
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
            if here in CLAUSE_ENDS or here in ACTS or (here == "join" and not described):
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
                if before in ("of", "glue") and c.kind(ahead - 2) == "each":
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

    def _announce(self, kind: str, token: Token, said: Modifiers, plural: bool, lead: int) -> None:
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
            self.again(last, Modifiers(), start)
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
            self.again(self.known[-1], Modifiers(), start)
            return True
        return False
