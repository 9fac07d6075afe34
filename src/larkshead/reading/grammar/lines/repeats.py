"""Repeats in lines of shorthand: brackets, marks, repeats told in words."""

from __future__ import annotations

from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.lines.actions import LineActions
from larkshead.reading.grammar.lines.state import KINDS
from larkshead.reading.grammar.said import (
    SaidElement,
    SaidMark,
    SaidNote,
    SaidOpen,
    SaidRepeat,
    SaidShut,
)
from larkshead.reading.grammar.shapes import letter_at
from larkshead.reading.grammar.totals import read_counted
from larkshead.reading.notices import Notice
from larkshead.reading.source import Span

_ENDS = frozenset({"STOP", "SEMI", "NL", "PARA", "END", "ELLIPSIS"})
_MOST = 10**12
_DEEPEST = 100


class LineRepeats(LineActions):
    """A layer of Lines."""

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
        if times is None and c.kind() == "NUM" and c.kind(1) in ("COMMA", *_ENDS):
            # "[R 5-5 RW Ch 6 RW] five"
            times = min(int(c.next().value), _MOST)
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
        if c.kind() in ("to", "DASH", "glue") and c.kind(1) == "MARK":
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
            what = "line" if mark == "*" and self.stars == 1 and times is not None else "mark"
            repeat = SaidRepeat(what, c.span(start), mark, times, how or "all")
            repeat.open_ended, repeat.around = how == "length_wanted", how == "around"
            self.said.append(repeat)
            return True
        c.at = back
        closing = mark in self.open_marks and (
            c.kind() in _ENDS
            or c.kind() in ("COMMA", "repeat")
            or (not token.spaced and c.peek().spaced and not self._fresh_line(start))
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

    def _lines_back(self) -> int:
        """``last two lines``, ``these 3 rows``, ``last line``: so many lines told just before, stepped over; 0 for
        another thing.
        """
        c = self.c
        ahead = 2 if c.kind(1) == "NUM" else 1
        if c.kind(ahead) not in ("step", "row") or (c.kind(ahead + 1) in ("NUM", "label") and ahead == 1):
            return 0
        if ahead == 1 and c.kind() == "this":
            return 0
        number = int(c.peek(1).value) if ahead == 2 else 1
        c.at += ahead + 1
        return min(number, _MOST)

    def _mark_again(self, mark: str, start: int, usual: str) -> bool:
        c = self.c
        times, how = self._times_told()
        if mark in self.open_marks:
            del self.open_marks[self.open_marks.index(mark) :]
        repeat = SaidRepeat("mark", c.span(start), mark, times, how or usual)
        repeat.open_ended = how == "length_wanted"
        self.said.append(repeat)
        return True

    def _on_repeat(self) -> bool:
        """``rep from * 5 more times``, ``Repeat steps 2 and 3 five times``, ``rep ABCD 5 more times``, ``rep from *
        to 14 rings``.
        """
        c = self.c
        start = c.at
        c.next()
        said = SaidRepeat("all", Span(0, 0))
        end = self.clause_end(start)
        told = False
        following = False
        since = False
        total: tuple[int, int] | None = None
        while c.at < end:
            kind = c.kind()
            if kind == "MARK":
                said.what, said.mark = "mark", c.next().text
                if c.kind() in ("to", "DASH") and c.kind(1) == "MARK":
                    c.at += 2
                told = True
            elif (
                kind in ("step", "row", "round")
                and c.kind(1) in ("NUM", "label", "WORD")
                and c.kind(2) not in ("times", "more")
            ):
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
                and (
                    (c.kind(1) in ("to", "DASH", "glue") and c.kind(2) == "NUM")
                    or c.kind(1) == "SHUT"
                    or (since and c.peek().text in self.step_labels and c.kind(1) not in ("times", "more"))
                )
            ):
                self._labels_named(said)
                told = True
            elif (kind in ("label", "WORD", "NAME", "ITEM") or letter_at(self.tokens, c.at)) and self._lettered(said):
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
                said.times, said.how = times, how or said.how
                if c.kind() not in ("more", "in_all", "OPEN", "glue"):
                    break
            elif (
                kind in ("last", "previous")
                and c.kind(1) in KINDS
                and (c.kind(2) not in ("NUM", "label") or c.kind(3) in ("times", "more"))
                and not told
            ):
                # "Repeat the last ring 3 more times"
                said.what, said.element_kind = "last", KINDS[c.kind(1)]
                c.at += 2
                if c.kind() in ("glue", "PLUS", "COMMA", "SLASH") and c.kind(1) in KINDS:
                    # "the last ring and chain"
                    said.last_kind = KINDS[c.kind(1)]
                    c.at += 2
                told = True
            elif kind in ("last", "previous", "this") and not told and (number := self._lines_back()):
                # "Repeat the last two lines 4 more times"
                said.what, said.first = "lines", str(number)
                told = True
            elif kind == "more":
                said.how = "more"
                c.next()
            elif kind == "total":
                said.how = "all"
                c.next()
            elif kind == "until" and c.kind(1) == "NUM" and c.kind(2) == "repeat":
                said.times, said.how = int(c.peek(1).value), "all"
                c.at = end
            elif kind == "next":
                following = not told
                c.next()
            elif kind == "from":
                since = not told
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
        if since and said.first is not None and said.last is None and not said.part:
            # "Repeat from B": all from there on.
            said.what, said.labels = "since", [said.first]
        ahead = c.at + 1 if c.kind() == "COLON" else c.limit
        ahead += self.kind_at(ahead) == "NL"
        if said.times is not None and not told and self.strong_start(ahead):
            following = True
        if following and said.times is not None and c.kind() == "COLON":
            # "Repeat the following 6 times: R ..., Ch ..."
            c.next()
            self._open_ahead(start, said.times)
            return True
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
            and (c.kind(1) in ("NUM", "label", "WORD", "NAME") or letter_at(self.tokens, c.at + 1))
            and (c.kind(1) == "NUM" or len(c.peek(1).text) == 1)
            and (c.kind(1) != "NUM" or c.kind(2) != "times")
        ):
            c.next()
            said.last = c.next().text
            c.take("SHUT")
        if c.kind() in ("to", "DASH", "glue") and c.kind(1) in KINDS and c.kind(2) in ("NUM", "label"):
            said.last, said.last_kind = c.peek(2).text, KINDS[c.kind(1)]
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
        times, _ = self._times_told()
        if times is not None:
            what = "block" if self._fresh_line(start) else "clause"
            self.said.append(SaidRepeat(what, c.span(start), times=times, how="more"))
        else:
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
