"""Numbers told in lines of shorthand: totals, so many times, so many elements in the end."""

from __future__ import annotations

from larkshead.model import (
    StatedTotal,
)
from larkshead.reading.grammar.counts.work import read_times
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.lines.state import KINDS, LineState
from larkshead.reading.grammar.said import (
    SaidRepeat,
    SaidTotal,
)
from larkshead.reading.grammar.shapes import counted_out
from larkshead.reading.grammar.totals import read_counted

_MOST = 10**12
_SCOPES = {"total": "pattern", "in_all": "pattern"}


class LineTotals(LineState):
    """A layer of Lines."""

    def total_in(self, start: int, end: int, scope: str) -> bool:
        """A total told between two tokens, and nothing else but words about it; said where there is one."""
        c = Cursor(self.tokens, start, end)
        words = 0
        told = scope
        while c.at < end and c.kind() != "NUM" and not counted_out(self.tokens, c.at, c.at + 2):
            kind = c.kind()
            if kind in _SCOPES:
                told = _SCOPES[kind]
            if kind in (
                "to",
                "repeat",
                "MARK",
                "PLUS",
                "reverse_work",
                "cut",
                "attach",
                "until",
                "each",
                "DASH",
                "like",
            ):
                return False
            c.next()
            words += 1
        if c.at >= end or words > 12:
            return False
        first = c.at
        counts, after = read_counted(c)
        if not counts:
            return False
        before = {t.kind for t in self.tokens[start:first]}
        if told == "element" and (words > 4 or before & set(KINDS) or "all" in before):
            return False
        rest = [t.kind for t in self.tokens[after:end]]
        more = any(kind in ("NUM", "PLUS", "repeat", "MARK", "DASH", "like") for kind in rest) or len(rest) > 8
        if more and (told != "pattern" or "with" in rest):
            return False
        if "in_all" in rest:
            told = told if told == "sofar" else "pattern"
        spoken = [t for t in self.tokens[start:first] if t.kind not in ("COLON",)]
        if not told:
            whole = counted_out(self.tokens, first, first + 2)
            if (not spoken and len(rest) == 0 and self.last is not None and not whole) or (
                any(t.kind in KINDS for t in self.tokens[start:first])
                and len(counts) == 1
                and not any(t.kind in ("each", "all") for t in self.tokens[start:first])
            ):
                told = "element"
            elif words <= 8 and (words or "rings" in counts or "chains" in counts):
                told = "pattern"
            else:
                return False
        if told == "element" and self.last is None:
            return False
        total = StatedTotal(counts, told, words=self.words_between(start, end))  # type: ignore[arg-type]
        self.said.append(SaidTotal(total, self.c.span(start, end)))
        return True

    def _on_total(self) -> bool:
        """``Total: 1 ring, 8 chains, 96 double stitches``."""
        c = self.c
        end = self.clause_end(c.at)
        if not self.total_in(c.at, end, "pattern"):
            return False
        c.at = end
        return True

    def _times_told(self) -> tuple[int | None, str]:
        """``x 5``, ``5 more times``, ``five times in all``, ``for the length wanted`` at the position."""
        c = self.c
        start = c.at
        if c.kind() in ("COMMA", "COLON", "DASH", "glue") and c.kind(1) in ("NUM", "twice", "times", "repeat"):
            c.next()
        if c.kind() == "repeat":
            c.next()
            c.skip(("glue", "this"))
        how = ""
        times: int | None = None
        if c.kind() == "NUM" and c.kind(1) == "more" and c.kind(2) == "times":
            times, how = int(c.next().value), "more"
            c.at += 2
        elif c.kind() == "NUM" and c.kind(1) in ("in_all", "total"):
            times, how = int(c.next().value), "all"
            c.next()
        else:
            times = read_times(c)
        if times is None:
            if c.kind() in ("length_wanted", "around"):
                how = c.next().kind
                return None, how
            c.at = start
            return None, ""
        if c.kind() in ("more", "again"):
            how = "more"
            c.next()
        c.take("glue") if c.kind(1) in ("in_all", "total") else None
        if c.kind() in ("in_all", "total"):
            how = "all"
            c.next()
        return min(times, _MOST), how

    def repeat_in(self, start: int, end: int) -> bool:
        """``R 6-6 (rep 5x)``: a repeat told in brackets is of the line."""
        inner = Cursor(self.tokens, start + 1, end)
        while inner.at < end and inner.kind() not in ("NUM", "times", "twice"):
            inner.next()
        more = inner.kind() == "NUM" and inner.kind(1) == "more"
        times = int(inner.peek().value) if more else read_times(inner)
        if times is None:
            return False
        self.said.append(
            SaidRepeat("line", self.c.span(start, end), times=min(times, _MOST), how="more" if more else "")
        )
        return True

    def _counted(self, said: SaidRepeat, end: int) -> bool:
        """``until there are 9 rings and 9 chains``, ``to 14 rings``, with sizes ``15 (17, 19) rings``."""
        c = self.c
        counts: dict[str, int] = {}
        at = c.at
        last = at
        while at < end:
            kind = self.kind_at(at)
            if kind == "NUM":
                number = int(self.tokens[at].value)
                at += 1
                if self.kind_at(at) == "OPEN" and self.match[at] >= 0:
                    at = self.match[at] + 1
                while self.kind_at(at) in ("small", "large", "glue", "of", "more"):
                    at += 1
                if self.kind_at(at) in KINDS:
                    counts[KINDS[self.kind_at(at)]] = number
                elif self.kind_at(at) in ("each", "all"):
                    counts["each"] = number
                else:
                    break
                last = at + 1
            elif kind in ("COMMA", "STOP", "SEMI") and counts:
                break
            at += 1
        if not counts:
            return False
        c.at = last
        c.take("in_all")
        said.counts = counts
        return True
