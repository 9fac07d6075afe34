"""Work told lot by lot, as in a diary: ``Did four. Tuesday, another five. Only half as many as on Monday. Just the one.``"""

from __future__ import annotations

from fractions import Fraction

from larkshead.reading.grammar.core import CLAUSE_ENDS
from larkshead.reading.grammar.prose.series import SeriesTold
from larkshead.reading.grammar.said import SaidNote, SaidRepeat, SaidUnit

_LEAD = frozenset({"glue", "another", "more", "only", "restating", "again"})
# What may stand behind the number of a lot: how many more there are, and when they were made.
_BEHIND = frozenset({"more", "again", "previous", "after", "glue", "like", "same", "to", "from", "where", "while"})
_BREAKS = frozenset({*CLAUSE_ENDS, "COMMA"})
_REACH = 14
# How far back a day may have been named.
_DAYS_BACK = 600


class LotsTold(SeriesTold):
    """Lots of a passage, one after the other."""

    def lot(self) -> bool:
        """A number of passages at the head of a clause, with nothing of the trade beside it."""
        c = self.c
        start = c.at
        running = c.kind() == "NUM" and c.kind(1) == "again"
        if start and c.tokens[start - 1].kind not in (*_BREAKS, "COLON") and not running:
            return False
        # "Tuesday, six more", "On Wednesday just the one"
        ahead = 0
        while c.kind(ahead) in ("WORD", "to") and ahead < 2:
            ahead += 1
        ahead += c.kind(ahead) == "COMMA" and ahead > 0
        named = ahead
        while c.kind(ahead) in _LEAD and ahead < named + 4:
            ahead += 1
        c.at += ahead
        end = c.find(_BREAKS, (), _REACH)
        c.at = start
        if not end:
            return False
        end += ahead
        before = next((s for s in self.lately() if isinstance(s, SaidRepeat) and s.times), None)
        times = self._share(ahead, before) if before is not None else None
        if times is None and before is not None and c.kind(ahead) == "pronoun" and ahead + 1 == end and ahead > named:
            # "just the one"
            times = 1
        if times is None and c.kind(ahead) == "NUM" and self._is_number_of_lots(ahead, end, before is not None):
            times = int(c.peek(ahead).value)
        if times is None:
            return False
        c.at += end
        if before is None:
            self.said.append(SaidRepeat("unit", c.span(start), times=times, how="all"))
        else:
            self.said.append(SaidRepeat("lot", c.span(start), times=times))
        self.open = None
        return True

    def _is_number_of_lots(self, at: int, end: int, begun: bool) -> bool:
        c = self.c
        lead = [c.peek(i) for i in range(at)]
        did = any(token.value == "did" for token in lead)
        if begun and c.kind(at + 1) == "again":
            return True
        if not (did or begun) or not any(isinstance(said, SaidUnit) for said in self.lately()):
            return False
        if at + 1 < end and c.kind(at + 1) not in _BEHIND:
            return False
        more = any(token.kind in ("another", "more", "only") for token in lead) or c.kind(at + 1) == "more"
        return (did or more) and all(c.kind(i) in (*_BEHIND, "WORD") for i in range(at + 1, end))

    def _share(self, at: int, before: SaidRepeat | None) -> int | None:
        """``half as many as on Monday``, ``as many again``, ``twice as many``: of the lot made then, else of the last."""
        c = self.c
        share = Fraction(1)
        if c.kind(at) in ("FRACTION", "twice"):
            share = Fraction(2) if c.kind(at) == "twice" else Fraction(str(c.peek(at).value))
            at += 1
        if c.kind(at) != "as_many" or before is None or not before.times:
            return None
        named = self._lot_of(at)
        times = share * ((named or before).times or 0)
        return int(times) if times.denominator == 1 and times > 0 else None

    def _lot_of(self, at: int) -> SaidRepeat | None:
        """The lot told behind the day that is named in this clause."""
        c = self.c
        words = [
            c.peek(i).text[:3]
            for i in range(at, at + 7)
            if c.kind(i) == "WORD" and len(c.peek(i).text) > 2 and c.peek(i).text[0].isupper()
        ]
        for word in words:
            for i in range(c.at - 1, max(c.at - _DAYS_BACK, -1), -1):
                token = c.tokens[i]
                if token.kind == "WORD" and token.text[:3] == word:
                    lots = [s for s in self.lately() if isinstance(s, SaidRepeat) and s.span.start >= token.start]
                    return lots[-1] if lots else None
        lots = [s for s in self.lately() if isinstance(s, SaidRepeat) and s.times]
        return lots[-1] if words and lots else None

    def unit_named(self) -> bool:
        """``that is one repeat``, ``and that's your one tooth``: what was told is a passage, named or not."""
        c = self.c
        start = c.at
        told = (
            c.kind() in ("restating", "this")
            or c.peek().value == "restating"
            or (c.kind() == "glue" and (not start or c.tokens[start - 1].kind in CLAUSE_ENDS) and not self.open_groups)
        )
        if not told:
            return False
        ahead = 1
        while c.kind(ahead) == "glue" and c.peek(ahead).value != "is" and ahead < 3:
            ahead += 1
        if c.kind(ahead) != "pronoun" and not (c.kind(ahead) == "NUM" and c.peek(ahead).value == 1):
            return False
        ahead += 1
        name = c.peek(ahead)
        if name.kind in ("glue", "COMMA", "STOP", "SEMI"):
            return self._units_done(start, ahead)
        if name.kind not in ("WORD", "passage", "motif"):
            return False
        self.names.add(name.text.lower())
        c.at += ahead + 1
        self.said.append(SaidNote(" ".join(t.text for t in c.tokens[start : c.at]), c.span(start)))
        self.said.append(SaidUnit(name.text.lower(), c.span(start), told=True))
        return True

    def _units_done(self, start: int, ahead: int) -> bool:
        """``and that's one and you do nine``: how many there are of what was told, straight behind."""
        c = self.c
        at = ahead
        while c.kind(at) in ("glue", "this", "COMMA", "STOP", "SEMI", "want", "work_over") and at < ahead + 5:
            at += 1
        number = c.peek(at)
        behind = c.kind(at + 1)
        if (
            number.kind != "NUM"
            or number.value < 2
            or at == ahead
            or behind not in (*_BREAKS, "glue", "of", "like", "in_all", "such")
        ):
            return False
        c.at += at + 1
        c.skip({"in_all"})
        if c.kind() in ("of", "like", "such"):
            c.next()
            c.skip({"this"})
        self.said.append(SaidRepeat("unit", c.span(start), times=int(number.value), how="all"))
        self.open = None
        return True
