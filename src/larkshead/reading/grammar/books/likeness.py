"""Elements and figures told by likeness: similar to those told before, the rest of them, the ones of another picture."""

from __future__ import annotations

from larkshead.model import BareThread, Element, Repeat, Step, Turn
from larkshead.reading.grammar.books.counts import counts_ahead
from larkshead.reading.grammar.books.told import MANY, NOUNS, Modifiers
from larkshead.reading.grammar.books.walk import CLAUSE_ENDS, Walk
from larkshead.reading.grammar.going_on import sizes_of

# What ends the words that a name gathers.
ACTS = frozenset({"repeat", "close", "reverse_work", "cut", "knot", "fasten", "instead", "draw", "leave", "go_on"})


class Likeness(Walk):
    """Elements and figures told by likeness."""

    # Where the first of several figures begins.
    unit_at = 0
    # Whether the element named heads what is told of it.
    heads = False

    def as_in_figure(self, said: Modifiers, start: int) -> bool:
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
        self.again(model, said, start)
        return True

    def is_copied(self, kind: str, said: Modifiers) -> bool:
        """Whether the name here tells to work once more what was worked."""
        if said.within and not said.one_of:
            return False
        c = self.c
        self.heads = c.kind(1) in ("COLON", "DASH") and said.numbers == 1
        ahead = c.find({"like"}, CLAUSE_ENDS | {"COMMA", "work", "fasten"}, 7)
        if ahead is None and (said.number or 1) > 1:
            # ``The second circle follows at a distance ..., and is worked in the same manner``
            ahead = self._likeness_later()
        headed = c.kind(1) in ("COMMA", "STOP") and (said.number or 1) > 1 and c.at - self.sentence_start < 3
        if headed and {"same", "like"} & {c.kind(2), c.kind(3)} and not counts_ahead(c, 2):
            # ``2nd circle, the same``
            return True
        likened = said.alike or ahead is not None
        if kind == "josephine ring":
            return False
        if kind == "chain" and c.peek().value is None:
            # ``a double thread is required`` tells to work nothing.
            return likened and c.at - self.sentence_start < 2
        told = said.article or said.count is not None or said.again or c.kind(1) == "again"
        if said.rest and said.worked and not said.within and c.peek().value not in MANY:
            # ``work the next circle``
            return True
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
            if kind in CLAUSE_ENDS or kind in NOUNS or kind in ACTS or counts_ahead(self.c, ahead):
                return None
        return None

    def the_rest(self, start: int) -> bool:
        """``All the other circles are worked like the second``: the pass told last goes on."""
        c = self.c
        ahead = c.find({"like"}, CLAUSE_ENDS | ACTS | {"join"}, 9)
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

    def model(self, kind: str, said: Modifiers) -> Element | None:
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

    def skip_likeness(self) -> None:
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

    def again(self, model: Element, said: Modifiers, start: int) -> None:
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
        said = self.modifiers(start)
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
        self.skip_likeness()
        self.flush()
        copy = self.copied(group)
        self.steps.append(copy)
        self.placed = self.group = copy
        self.repeated = copy if isinstance(copy, Repeat) else None
        return True

    def _the_rest_of_figures(self, said: Modifiers, start: int) -> bool:
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
                self.skip_likeness()
            self.again(last, Modifiers(count=number), start)
        return True

    def _last_group(self) -> Step | None:
        return next((s for s in reversed(self.steps) if isinstance(s, Repeat) and s.times), None)

    def modifiers(self, at: int) -> Modifiers:
        tokens = self.c.tokens
        said = Modifiers()
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
                # ``before beginning the next ring`` works none.
                said.worked = i == 0 or tokens[i - 1].kind not in ("previous", "after", "until", "to")
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
