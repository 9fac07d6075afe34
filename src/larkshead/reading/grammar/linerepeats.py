"""Repeats in lines of shorthand: brackets, marks, numbers of times, names for groups of steps, copies of labelled lines."""

from __future__ import annotations

from copy import deepcopy
from typing import TYPE_CHECKING

from larkshead.model import NoTurn
from larkshead.reading.grammar.countstring import ITEM_KINDS, read_counts, read_times
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.lineelements import KINDS
from larkshead.reading.grammar.openjoins import OpenJoins
from larkshead.reading.grammar.said import (
    Said,
    SaidCopy,
    SaidCover,
    SaidElement,
    SaidHeading,
    SaidLine,
    SaidMark,
    SaidNote,
    SaidOpen,
    SaidPlain,
    SaidRepeat,
    SaidShut,
    SaidStep,
    SaidStepLabel,
)
from larkshead.reading.grammar.totals import read_counted
from larkshead.reading.notices import Notice
from larkshead.reading.source import Span

if TYPE_CHECKING:
    from larkshead.reading.grammar.tokens import Token

_STEPS = frozenset(
    {*KINDS, "label", "NAME", "reverse_work", "no_turn", "lock_join", "switch", "shuttle", "mock_picot", "cut"}
)
_ENDS = frozenset({"STOP", "SEMI", "NL", "PARA", "END", "ELLIPSIS"})
_COUNTED_ALL = frozenset({"WORD", "all", "this", "glue", "both", "of"})
_MOST = 10**12
_DEEPEST = 100


class LineRepeats:
    """Mixed into Lines."""

    if TYPE_CHECKING:
        c: Cursor
        tokens: list[Token]
        match: list[int]
        said: list[Said]
        notices: list[Notice]
        fresh: bool
        last: SaidElement | SaidPlain | None
        bullets: frozenset[int]
        open_marks: list[str]
        open_brackets: set[int]
        step_labels: dict[str, int]
        joins: OpenJoins
        names: dict[str, list[Token]]
        told: dict[str, list[Said]]
        line: int

        def clause_end(self, at: int, stops: tuple[str, ...] = ()) -> int: ...
        def kind_at(self, at: int) -> str: ...
        def strong_start(self, at: int) -> bool: ...
        def words_between(self, start: int, end: int) -> str: ...
        def sub(self, tokens: list[Token]) -> list[Said]: ...
        def aside(self, said: SaidElement | SaidPlain | None) -> bool: ...
        def element(
            self, count: int = 1, start: int | None = None, number: int | None = None, size: str = ""
        ) -> bool: ...
        def total_in(self, start: int, end: int, scope: str) -> bool: ...
        def _bare_length_first(self) -> bool: ...

    # --- brackets ----------------------------------------------------------------------------------------------

    def is_group(self, at: int) -> bool:
        """Whether the bracket at ``at`` holds steps: an element with its work, a name, an action; left open, what follows it."""
        end = self.match[at]
        closed = end >= 0
        if not closed:
            end = min(at + 60, len(self.tokens))
        i = at + 1
        kind = self.kind_at(i)
        if kind in ("to", "PLUS", "join", "last", "previous", "ORD", "each", "all", "with"):
            return False
        while i < end:
            kind = self.tokens[i].kind
            if kind in KINDS or kind in ("label", "NAME"):
                if kind == "NAME" or self.strong_start(i):
                    return True
            elif kind in ("NL", "PARA") and not closed:
                return False
            i += 1
            if i - at > 400:
                return closed
        if closed:
            times = self.kind_at(end + 1) == "times" or (
                self.kind_at(end + 1) in ("NUM", "twice") and self.kind_at(end + 2) == "times"
            )
            first = self.kind_at(at + 1)
            return times and first in _STEPS
        return False

    def _on_OPEN(self) -> bool:
        c = self.c
        start = c.at
        if self.is_group(start):
            c.next()
            if len(self.open_brackets) >= _DEEPEST:
                if len(self.open_brackets) == _DEEPEST:
                    message = f"repeats nested more than {_DEEPEST} deep; this bracket and those within it are not read"
                    self.notices.append(Notice("nesting", "error", message, c.span(start)))
                return True
            self.said.append(SaidOpen(self.tokens[start].text, c.span(start), closed=self.match[start] >= 0))
            self.open_brackets.add(self.match[start])
            self.fresh = True
            return True
        if self.kind_at(start + 1) == "shuttle" and self.match[start] >= 0:
            # "[Sh 1]" and "(Sh2: r 3-3 cl)".
            c.next()
            return True
        if self.match[start] < 0:
            return False
        return self.aside(self.last)

    def _on_SHUT(self) -> bool:
        """The end of a group, with how often it is worked."""
        c = self.c
        start = c.at
        token = c.next()
        opened = self.match[start]
        if start not in self.open_brackets:
            return opened >= 0 or self._stray(start)
        self.open_brackets.remove(start)
        if c.kind() == "NL" and (
            (c.kind(1) == "times" and c.kind(2) == "NUM") or (c.kind(1) == "NUM" and c.kind(2) in ("times", "more"))
        ):
            c.next()
        times, how = self._times_told()
        shut = SaidShut(token.text, c.span(start), times)
        shut.how = how
        self.said.append(shut)
        if c.kind() == "repeat" and times is None:
            # "[...] repeat twice more"
            c.next()
            times, how = self._times_told()
            shut.times, shut.how = times, how or "more"
        return True

    def _stray(self, start: int) -> bool:
        times, how = self._times_told()
        shut = SaidShut(self.tokens[start].text, self.c.span(start), times)
        shut.how = how
        self.said.append(shut)
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

    # --- marks -------------------------------------------------------------------------------------------------

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

    def _on_MARK(self) -> bool:
        """``*`` opens a passage, closes it with its times, or is a bullet; ``* to * six times`` works it."""
        c = self.c
        start = c.at
        token = c.next()
        if start in self.bullets:
            self.fresh = True
            return True
        mark = token.text
        if mark == "*" and c.kind() == "NUM" and not c.peek().spaced and c.kind(1) in (*_ENDS, "COMMA"):
            # "*6" behind a passage
            figure = min(int(c.next().value), _MOST)
            if mark in self.open_marks:
                self.open_marks.remove(mark)
                self.said.append(SaidRepeat("mark", c.span(start), mark, figure, "all"))
            else:
                self.said.append(SaidRepeat("line", c.span(start), times=figure, how="all"))
            return True
        if c.kind() in ("to", "DASH") and c.kind(1) == "MARK":
            c.at += 2
            return self._mark_again(mark, start, "all")
        back = c.at
        c.take("COMMA", "STOP") if c.kind(1) in ("NUM", "times", "twice") and self.kind_at(c.at + 2) in (
            "times",
            "NUM",
            "more",
            "COMMA",
            "STOP",
            "NL",
        ) else None
        times, how = self._times_told()
        if times is not None or how:
            if mark in self.open_marks:
                del self.open_marks[self.open_marks.index(mark) :]
            repeat = SaidRepeat("mark", c.span(start), mark, times, how or "all")
            repeat.open_ended, repeat.around = how == "length_wanted", how == "around"
            self.said.append(repeat)
            return True
        c.at = back
        closing = mark in self.open_marks and (
            c.kind() in _ENDS or c.kind() in ("COMMA", "repeat") or (not token.spaced and c.peek().spaced)
        )
        said = SaidMark(mark, c.span(start))
        said.closing = closing
        self.said.append(said)
        if not closing:
            if mark in self.open_marks:
                del self.open_marks[self.open_marks.index(mark) :]
            self.open_marks.append(mark)
            self.fresh = True
        return True

    def _mark_again(self, mark: str, start: int, usual: str) -> bool:
        c = self.c
        times, how = self._times_told()
        if mark in self.open_marks:
            del self.open_marks[self.open_marks.index(mark) :]
        repeat = SaidRepeat("mark", c.span(start), mark, times, how or usual)
        repeat.open_ended = how == "length_wanted"
        self.said.append(repeat)
        return True

    # --- told repeats ------------------------------------------------------------------------------------------

    def _on_repeat(self) -> bool:
        """``rep from * 5 more times``, ``Repeat steps 2 and 3 five times``, ``rep ABCD 5 more times``, ``rep from * to 14 rings``."""
        c = self.c
        start = c.at
        c.next()
        said = SaidRepeat("all", Span(0, 0))
        end = self.clause_end(start)
        told = False
        total: tuple[int, int] | None = None
        while c.at < end:
            kind = c.kind()
            if kind == "MARK":
                said.what, said.mark = "mark", c.next().text
                if c.kind() in ("to", "DASH") and c.kind(1) == "MARK":
                    c.at += 2
                told = True
            elif kind in ("step", "row", "round") and c.kind(1) in ("NUM", "label", "WORD"):
                c.next()
                said.part = kind if kind != "step" else ""
                self._labels_named(said)
                told = True
            elif kind in KINDS and c.kind(1) in ("NUM", "label") and c.kind(2) not in ("times", "more") and not told:
                said.element_kind = KINDS[c.next().kind]
                self._labels_named(said)
                told = True
            elif (
                kind == "NUM"
                and not told
                and ((c.kind(1) in ("to", "DASH", "glue") and c.kind(2) == "NUM") or c.kind(1) == "SHUT")
            ):
                self._labels_named(said)
                told = True
            elif kind in ("label", "WORD", "NAME", "ITEM") and self._lettered(said):
                told = True
            elif kind == "OPEN" and self.match[c.at] >= 0:
                if read_counted(Cursor(self.tokens, c.at + 1, self.match[c.at]))[0]:
                    total = (c.at + 1, self.match[c.at])
                elif self.match[c.at] <= c.at + 2:
                    said.what = "bracket"
                c.at = self.match[c.at] + 1
            elif kind in ("NUM", "twice", "once", "times"):
                times, how = self._times_told()
                if times is None:
                    if self._counted(said, end):
                        break
                    c.next()
                    continue
                said.times, said.how = times, how
                if c.kind() not in ("more", "in_all", "OPEN", "glue"):
                    break
            elif kind == "more":
                said.how = "more"
                c.next()
            elif kind == "in_all":
                said.how = "all"
                c.next()
            elif kind in ("around", "length_wanted"):
                said.around, said.open_ended = kind == "around", kind == "length_wanted"
                c.next()
                break
            elif (kind in ("until", "to") and self._counted(said, end)) or kind in ("COMMA", "COLON"):
                break
            elif kind == "until" or (
                kind == "to" and told and c.kind(1) in ("WORD", "ends", "glue") and said.times is None
            ):
                said.open_ended = True
                c.at = end
            else:
                c.next()
        if said.mark in self.open_marks:
            del self.open_marks[self.open_marks.index(said.mark) :]
        said.span = c.span(start)
        self.said.append(said)
        if total is not None:
            self.total_in(*total, "sofar")
        if c.kind() == "OPEN" and self.match[c.at] >= 0 and not self.is_group(c.at):
            self.aside(None)
        elif c.kind() == "COLON":
            inner_end = self.clause_end(c.at)
            if self.total_in(c.at + 1, inner_end, "sofar"):
                c.at = inner_end
        return True

    def _labels_named(self, said: SaidRepeat) -> None:
        """``2 and 3``, ``2 to 5``, ``A-D`` at the position: the labels of the first and last step named."""
        c = self.c
        said.what, said.first = "steps", c.next().text
        c.take("SHUT")
        while (
            c.kind() in ("to", "DASH", "glue", "COMMA")
            and c.kind(1) in ("NUM", "label", "WORD", "NAME")
            and (c.kind(1) == "NUM" or len(c.peek(1).text) == 1)
            and c.kind(2) != "times"
        ):
            c.next()
            said.last = c.next().text
            c.take("SHUT")
        if c.kind() in ("to", "DASH", "glue") and c.kind(1) in KINDS and c.kind(2) in ("NUM", "label"):
            said.last = c.peek(2).text
            c.at += 3

    def _lettered(self, said: SaidRepeat) -> bool:
        """``ABCD``, ``A to D``, ``A and B``: labels of steps told before."""
        c = self.c
        text = c.peek().text
        if (
            len(text) > 1
            and text.isupper()
            and all(letter in self.step_labels or self._labelled(letter) for letter in text)
        ):
            c.next()
            said.what, said.labels = "labels", list(text)
            return True
        if text in self.step_labels or (len(text) == 1 and self._labelled(text)):
            self._labels_named(said)
            said.what = "steps" if said.first in self.step_labels else "labels"
            said.labels = [said.first or "", said.last or said.first or ""]
            return True
        return False

    def _labelled(self, label: str) -> bool:
        return any(isinstance(thing, SaidElement) and thing.label == label for thing in self.said[-200:])

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

    def _on_until(self) -> bool:
        c = self.c
        start = c.at
        said = SaidRepeat("all", Span(0, 0), how="all")
        if not self._counted(said, self.clause_end(start)):
            return False
        said.span = c.span(start)
        self.said.append(said)
        return True

    def _on_deny(self) -> bool:
        """``no joins between the big rings``: what is denied is not worked."""
        c = self.c
        start = c.at
        c.at = self.clause_end(start, ("COMMA",))
        self.said.append(SaidNote(self.words_between(start, c.at), c.span(start)))
        return True

    def _on_ditto(self) -> bool:
        """``ditto`` for a line like the one before, ``same again`` behind an element."""
        c = self.c
        start = c.at
        c.next()
        self.said.append(SaidRepeat("ditto", c.span(start)))
        return True

    def _on_length_wanted(self) -> bool:
        c = self.c
        start = c.at
        c.next()
        self.said.append(SaidRepeat("all", c.span(start), open_ended=True))
        return True

    def _on_end_with(self) -> bool:
        """``end with one more ring the same``: another element like the last of its kind."""
        c = self.c
        start = c.at
        c.next()
        c.skip(("glue", "NUM", "more", "this", "WORD"))
        open_ended = any(isinstance(thing, SaidRepeat) and thing.open_ended for thing in self.said[-2:])
        if c.kind() in KINDS and not self.strong_start(c.at) and not open_ended:
            from larkshead.reading.grammar.said import Alike

            kind = KINDS[c.next().kind]
            c.at = self.clause_end(c.at, ("COMMA", "close", "reverse_work", "cut"))
            element = SaidElement(kind, c.span(start), alike=Alike(kind=kind, which="bare"))
            self.said.append(element)
            self.last = element
            return True
        if open_ended:
            c.at = self.clause_end(c.at)
            self.said.append(SaidNote(self.words_between(start, c.at), c.span(start)))
            return True
        return True

    # --- numbers -----------------------------------------------------------------------------------------------

    def _on_times(self) -> bool:
        return self._repeat_line()

    def _on_twice(self) -> bool:
        return self._repeat_line()

    def _repeat_line(self) -> bool:
        """``x 5`` behind a passage with no bracket or mark: the line is worked so often."""
        c = self.c
        start = c.at
        alone = self._fresh_line(start)
        times, how = self._times_told()
        if times is None:
            return False
        self.said.append(SaidRepeat("block" if alone else "line", c.span(start), times=times, how=how or "all"))
        return True

    def _on_NUM(self) -> bool:
        """``6 x: R ...``, ``4 times`` behind a line, ``five rings ..., each 5 + 6``, ``7 more``, ``12 p.`` a total."""
        c = self.c
        start = c.at
        if c.kind(1) in ("UNIT", "FRACTION", "DASH") and self._bare_length_first():
            return True
        if c.kind(1) in ("times", "more", "in_all") or c.kind(1) == "times":
            times, how = self._times_told()
            if times is not None:
                if c.kind() in ("COLON", "OPEN") and how != "more":
                    c.take("COLON")
                    if c.kind() == "OPEN" and self.is_group(c.at):
                        c.next()
                        self.open_brackets.add(self.match[c.at - 1])
                        self.said.append(
                            SaidOpen(c.tokens[c.at - 1].text, c.span(start), times, closed=self.match[c.at - 1] >= 0)
                        )
                    else:
                        self.said.append(SaidOpen("line", c.span(start), times))
                    self.fresh = True
                    return True
                self.said.append(
                    SaidRepeat(
                        "block" if self._fresh_line(start) else "line", c.span(start), times=times, how=how or "all"
                    )
                )
                return True
        ahead = 1
        while self.kind_at(start + ahead) in ("more", "small", "large", "split"):
            ahead += 1
        if self.kind_at(start + ahead) in KINDS:
            count = int(c.next().value)
            more = c.take("more") is not None
            if self.element(count=min(max(count, 1), _MOST), start=start):
                return True
            c.at = start
            if more:
                return self._more_alike()
            return False
        if (
            c.kind(1) in ("DASH", "PLUS", "DOT", "PLUSMINUS", "ITEM")
            and self.last is not None
            and not self._fresh_line(start)
        ):
            return False
        return False

    def _fresh_line(self, at: int) -> bool:
        return at == 0 or self.kind_at(at - 1) in ("NL", "PARA")

    def _more_alike(self) -> bool:
        """``two more rings the same``."""
        from larkshead.reading.grammar.said import Alike

        c = self.c
        start = c.at
        count = int(c.next().value)
        c.skip(("more", "small", "large"))
        kind = KINDS[c.next().kind]
        c.at = self.clause_end(c.at, ("COMMA", "reverse_work", "cut"))
        element = SaidElement(kind, c.span(start), alike=Alike(kind=kind, which="bare"), count=min(count, _MOST))
        self.said.append(element)
        self.last = element
        return True

    # --- names and copies --------------------------------------------------------------------------------------

    def _on_NAME(self) -> bool:
        """A name for steps told in the pattern's own list: they are said here."""
        c = self.c
        start = c.at
        token = c.next()
        if token.text not in self.told:
            self.told[token.text] = self._defined(token.text)
        span = c.span(start)
        said = deepcopy(self.told[token.text])
        if not said:
            return True
        times = None
        if c.kind() == "times" and c.kind(1) == "NUM":
            times = read_times(c)
        if times:
            self.said.append(SaidOpen("name", span, times, closed=True))
        for thing in said:
            if isinstance(thing, SaidElement):
                self.last = thing
                for item, _ in thing.pieces:
                    from larkshead.model import Join

                    if isinstance(item, Join):
                        self.joins.add(item, self.line, thing)
        self.said.extend(said)
        if times:
            self.said.append(SaidShut("name", span, times))
        return True

    def _defined(self, name: str) -> list[Said]:
        """What the steps behind a name say; counts alone are a ring's, or a chain's where the name ends in its letter."""
        tokens = self.names.get(name, [])
        if not tokens:
            return []
        if tokens[0].kind in ITEM_KINDS:
            kind = next((t.kind for t in tokens if t.kind == "KIND"), "ring")
            c = Cursor(tokens)
            from larkshead.reading.grammar.countstring import CountSyntax
            from larkshead.reading.grammar.lines import matching

            pieces = read_counts(c, CountSyntax(matching(tokens)))
            kind = tokens[-1].value if tokens[-1].kind == "KIND" else kind
            said = [SaidElement(kind, c.span(0), pieces)]
            rest = self.sub([t for t in tokens[c.at :] if t.kind != "KIND"])
            return [*said, *(thing for thing in rest if not isinstance(thing, SaidLine))]
        found: list[Said] = [
            thing for thing in self.sub([t for t in tokens if t.kind != "KIND"]) if not isinstance(thing, SaidLine)
        ]
        cover = next((thing for thing in found if isinstance(thing, SaidCover)), None)
        if cover is not None and cover.what == "noturn":
            out: list[Said] = []
            for thing in found:
                if isinstance(thing, SaidElement) and any(isinstance(before, SaidElement) for before in out):
                    out.append(SaidStep(NoTurn(), cover.span))
                if thing is not cover:
                    out.append(thing)
            found = out
        return found

    def copied(self) -> bool:
        """``B as A`` with labels of lines; none here."""
        return False

    def _on_EQUALS(self) -> bool:
        """``[4] = [2]``: behind a step label, another step told again."""
        c = self.c
        c.next()
        return self._copy_of(c.at - 1)

    def _copy_of(self, start: int) -> bool:
        c = self.c
        bracket = c.take("OPEN")
        if c.kind() in ("step",):
            c.next()
        if (
            c.kind() in ("NUM", "label", "WORD", "NAME")
            and len(c.peek().text) <= 3
            and (bracket is None or c.kind(1) == "SHUT")
        ):
            label = c.next().text
            c.take("SHUT")
            self.said.append(SaidCopy(label, c.span(start)))
            return True
        c.at = start + 1
        return True

    def _on_like(self) -> bool:
        """``as step 2``, ``same as [1]`` for a whole line."""
        c = self.c
        start = c.at
        if not (self.said and isinstance(self.said[-1], SaidStepLabel)):
            return False
        while c.kind() in ("like", "same", "glue"):
            c.next()
        return self._copy_of(c.at - 1) and c.at > start

    _on_same = _on_like

    def copied_parts(self, part: str, number: int | None, start: int) -> bool:
        """``Rows 3 to 9 the same as Row 2``, ``Rnd 4: as Rnd 2``: parts worked as one told before."""
        c = self.c
        last = number
        if c.kind() in ("DASH", "to", "glue", "COMMA") and c.kind(1) == "NUM":
            last = int(c.peek(1).value)
            c.at += 2
        c.skip(("COLON", "glue"))
        if c.kind() not in ("like", "same"):
            c.at = start
            return False
        while c.kind() in ("like", "same", "glue", "row", "round", "motif"):
            c.next()
        like = int(c.next().value) if c.kind() in ("NUM", "ORD") else None
        c.take("row", "round", "motif")
        heading = SaidHeading(part, c.span(start), number, "", max((last or 0) - (number or 0) + 1, 1), last)
        heading.like = like if like is not None else -1
        self.said.append(heading)
        return True
