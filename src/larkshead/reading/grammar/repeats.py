"""Repeats told: marks, brackets, numbers of times, steps named."""

from __future__ import annotations

from larkshead.reading.grammar.actions import Actions
from larkshead.reading.grammar.core import CLAUSE_ENDS
from larkshead.reading.grammar.items import read_times
from larkshead.reading.grammar.places import ELEMENTS
from larkshead.reading.grammar.said import (
    SaidMark,
    SaidOpen,
    SaidRepeat,
    SaidShut,
)
from larkshead.reading.source import Span

# What before an element says that the elements just worked are meant.
_LAST = frozenset({"last", "previous"})


class Repeats(Actions):
    """Repeats told: marks, brackets, numbers of times, steps named."""

    def mark(self) -> bool:
        c = self.c
        start = c.at
        token = c.next()
        span = c.span(start)
        back = c.at
        c.take("COMMA")
        times = read_times(c)
        how = ""
        if times is not None:
            if c.take("more"):
                how = "more"
            self.said.append(SaidMark(token.text, span))
            self.said.append(SaidRepeat("mark", c.span(start), token.text, times, how or "all"))
            return True
        c.at = back
        self.said.append(SaidMark(token.text, span))
        self.fresh = True
        return True

    def open_group(self) -> bool:
        c = self.c
        start = c.at
        bracket = c.next().text
        ahead = c.find({"SHUT"}, (), 400)
        inside = c.find(set(ELEMENTS) | {"label", "reverse_work", "switch", "shuttle"}, ("SHUT",), 60)
        if inside is None and ahead is not None:
            c.at = start
            return False
        self.open_groups.append(bracket)
        self.said.append(SaidOpen(bracket, c.span(start)))
        self.fresh = True
        return True

    def shut_group(self) -> bool:
        c = self.c
        start = c.at
        token = c.next()
        times = read_times(c)
        if self.open_groups:
            self.open_groups.pop()
        self.said.append(SaidShut(token.text, c.span(start), times))
        return True

    def times(self) -> bool:
        """``x 5`` behind a passage."""
        c = self.c
        start = c.at
        times = read_times(c)
        if times is None:
            return False
        self.said.append(SaidRepeat("last", c.span(start), times=times, how="all"))
        return True

    def number(self) -> bool:
        """``two rings of ...``, ``6 x: [...]``, ``4 x`` behind a group."""
        c = self.c
        start = c.at
        times = read_times(c)
        if times is not None:
            if c.take("COLON") or c.kind() == "OPEN":
                self.said.append(SaidOpen("line", c.span(start), times))
                return True
            self.said.append(SaidRepeat("last", c.span(start), times=times, how="all"))
            return True
        count = int(c.next().value)
        c.skip({"more", "glue"})
        if c.kind() in ELEMENTS or c.kind() in ("small", "large"):
            return self.element(count, start=start)
        c.at = start
        return False

    def repeat(self) -> bool:
        """``repeat from * 5 more times``, ``rep steps 2 and 3 four times``, ``repeat from * for the length wanted``."""
        c = self.c
        start = c.at
        c.next()
        said = SaidRepeat("all", Span(0, 0), how="all" if c.tokens[start].kind == "work_over" else "")
        passed = 0
        while c.kind() not in CLAUSE_ENDS and c.kind() != "COMMA" and passed < 30:
            kind = c.kind()
            passed += 1
            if kind == "MARK":
                said.what, said.mark = "mark", c.next().text
            elif kind in ("step", "row", "round") and c.kind(1) in ("NUM", "label", "WORD"):
                c.next()
                said.what, said.first = "steps", c.next().text
                if c.kind() in ("to", "DASH", "glue", "WORD") and c.kind(1) in ("NUM", "label"):
                    c.next()
                    said.last = c.next().text
            elif kind == "label":
                said.what = "labels"
                said.labels.append(c.next().text)
            elif kind in ELEMENTS and c.kind(1) == "NUM" and c.kind(2) not in ("times", "more", "twice"):
                # repeat rings 3 and 4 until ...
                said.what = "labels"
                c.next()
                said.labels.append(str(c.next().value))
                while (
                    c.kind() in ("glue", "COMMA", "to", "DASH")
                    and c.kind(1) == "NUM"
                    and c.kind(2) not in ("times", "more")
                ):
                    c.next()
                    said.labels.append(str(c.next().value))
            elif (
                kind in ELEMENTS and said.what in ("all", "named") and (c.tokens[c.at - 1].kind in _LAST or said.labels)
            ):
                # repeat the last ring and chain
                said.what = "named"
                said.labels.append(ELEMENTS[c.next().kind])
            elif kind == "NUM" and c.kind(1) in ("to", "DASH") and c.kind(2) == "NUM" and said.what == "all":
                said.what, said.first, said.last = "steps", c.peek().text, c.peek(2).text
                c.at += 3
            elif kind in ("NUM", "twice", "once", "times"):
                times = read_times(c)
                if times is None and kind == "NUM" and c.kind(1) == "more":
                    times = int(c.next().value)
                if times is None:
                    c.next()
                    continue
                said.times = times
            elif kind in ("more", "another"):
                said.how = "more"
                c.next()
            elif kind == "in_all":
                said.how = "all"
                c.next()
            elif kind == "around":
                said.around = True
                c.next()
            elif kind in ("length_wanted", "until"):
                break
            else:
                c.next()
        if c.kind() == "length_wanted":
            said.open_ended = True
            c.at += c.find(CLAUSE_ENDS, (), 60) or 0
        elif c.kind() == "until":
            self._counts(said)
            said.open_ended = said.what == "labels" and not said.counts
        if c.kind() == "OPEN" and c.find({"in_all"}, ("SHUT",), 8) is not None:
            c.at += (c.find({"SHUT"}, (), 12) or 0) + 1
        said.span = c.span(start)
        self.said.append(said)
        return True

    def until(self) -> bool:
        """``until there are 7 rings and 7 chains``."""
        start = self.c.at
        said = SaidRepeat("all", Span(0, 0), how="all")
        self._counts(said)
        if not said.counts:
            self.c.at = start
            return False
        said.span = self.c.span(start)
        self.said.append(said)
        return True

    def _counts(self, said: SaidRepeat) -> None:
        c = self.c
        c.next()
        while c.kind() not in CLAUSE_ENDS and c.kind() != "COMMA":
            if c.kind() == "NUM":
                count = int(c.next().value)
                c.skip({"small", "large", "glue", "of", "WORD"})
                if c.kind() in ELEMENTS:
                    said.counts[ELEMENTS[c.next().kind]] = count
                elif c.kind() == "each":
                    said.counts["each"] = count
                continue
            c.next()
