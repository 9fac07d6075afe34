"""Numbers before elements, names for groups of steps, and copies of labelled lines in lines of shorthand."""

from __future__ import annotations

from copy import deepcopy

from larkshead.model import (
    Join,
    NoTurn,
    Picot,
    SideChange,
    Stitches,
    Switch,
)
from larkshead.reading.grammar.counts.work import ITEM_KINDS, read_counts, read_times
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.lines.sequences import LineSequences
from larkshead.reading.grammar.lines.state import KINDS
from larkshead.reading.grammar.places import PARTS
from larkshead.reading.grammar.said import (
    Alike,
    Change,
    Said,
    SaidCopy,
    SaidCover,
    SaidElement,
    SaidHeading,
    SaidLine,
    SaidOpen,
    SaidPlain,
    SaidRepeat,
    SaidShut,
    SaidStep,
    SaidStepLabel,
)

_MOST = 10**12
_ENDS = frozenset({"STOP", "SEMI", "COMMA", "NL", "PARA", "END"})
_AFTER_DEFINED = frozenset({"DASH", "COMMA", "STOP", "SEMI", "NL", "PARA", "END", "picot", "double_stitch"})


class LineNames(LineSequences):
    """A layer of Lines."""

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
                    if c.take("COLON") and c.kind() in ("NL", "PARA") and self._fresh_line(start):
                        self._open_ahead(start, times)
                        return True
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
        if self._like_these(start):
            return True
        if c.peek().value == 1 and c.kind(1) in ("WORD", "repeat", "motif") and c.kind(2) in ("EQUALS", "COLON"):
            # "1 repeat = R ..., Ch ..."
            self.units.add(c.peek(1).text.lower())
            c.at += 3
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
        return self._counts_alone(start)

    def _counts_alone(self, start: int) -> bool:
        """``4-4-4 cl RW``: counts at the head of a line with no name are a ring's where they are closed; where rings
        are closed so, others are a chain's.
        """
        c = self.c
        if not self.fresh and not (self.said and isinstance(self.said[-1], SaidStepLabel | SaidStep)):
            return False
        if self._second_side(start) or self._goes_on_behind_ring(start):
            return True
        pieces = read_counts(c, self.syntax())
        behind = c.kind(1) if c.kind() == "COMMA" else c.kind()
        ring = behind in ("close", "half_closed")
        if (
            len(pieces) < 3
            or not isinstance(pieces[0][0], Stitches)
            or not isinstance(pieces[1][0], Picot | Join)
            or not (ring or (self.closes and behind in ("reverse_work", "no_turn", "NL", "END", "lock_join", "cut")))
        ):
            c.at = start
            return False
        self._tell(SaidElement("ring" if ring else "chain", c.span(start), pieces), start)
        return True

    def _goes_on_behind_ring(self, start: int) -> bool:
        """``(sh1) Ch 5 (sh2) R 3-3 (sh1) 5``: the chain goes on behind a ring thrown off it."""
        switch = self.said[-1] if self.said else None
        if not (isinstance(switch, SaidStep) and isinstance(switch.step, Switch)):
            return False
        told = [thing for thing in self.said[-7:-1] if isinstance(thing, SaidElement | SaidPlain)]
        if [thing.kind for thing in told[-2:]] != ["chain", "ring"]:
            return False
        pieces = read_counts(self.c, self.syntax(chain=True))
        if not pieces or not isinstance(pieces[0][0], Stitches):
            self.c.at = start
            return False
        self._tell(SaidElement("chain", self.c.span(start), pieces), start)
        return True

    def _second_side(self, start: int) -> bool:
        """``Sh1: SR 4-4`` and on the next line ``Sh2: 4-4 cl``: the other side of a split element."""
        c = self.c
        last = self.last
        if (
            not isinstance(last, SaidElement)
            or not last.kind.startswith("split")
            or any(isinstance(item, SideChange) for item, _ in last.pieces)
            or not (isinstance(self.said[-1], SaidStep) and isinstance(self.said[-1].step, Switch))
        ):
            return False
        pieces = read_counts(c, self.syntax())
        if not pieces:
            return False
        last.pieces += [(SideChange(), self.said.pop().span), *pieces]  # type: ignore[union-attr]
        for item, _ in pieces:
            if isinstance(item, Join):
                self.joins.add(item, self.line, last)
        self._tail(last, len(self.said))
        return True

    def _more_alike(self) -> bool:
        """``two more rings the same``."""

        c = self.c
        start = c.at
        count = int(c.next().value)
        c.skip(("more", "small", "large"))
        if c.kind(1) in ("glue", "PLUS") and c.kind(2) in KINDS and KINDS[c.kind(2)] != KINDS[c.kind()]:
            # "7 more rings and chains"
            c.at += 3
            self.said.append(SaidRepeat("all", c.span(start), times=min(count, _MOST), how="more"))
            return True
        kind = KINDS[c.next().kind]
        c.at = self.clause_end(c.at, ("COMMA", "reverse_work", "cut"))
        element = SaidElement(kind, c.span(start), alike=Alike(kind=kind, which="bare"), count=min(count, _MOST))
        self.said.append(element)
        self.last = element
        return True

    def _on_all(self) -> bool:
        """``All rings 4-4-4-4, all chains 7``, where lines name them afterwards."""
        c = self.c
        if not self.bare or c.kind(1) not in KINDS or c.kind(2) != "NUM" or c.kind(3) not in _AFTER_DEFINED:
            return False
        c.next()
        if self.element():
            return True
        c.at -= 1
        return False

    _on_each = _on_all

    def named_times(self) -> bool:
        """``Petal x5: R ...``: a name with how often, before what it is made of."""
        c = self.c
        if not (
            c.kind() in KINDS and c.kind(1) == "times" and c.kind(2) == "NUM" and c.kind(3) == "COLON"
        ) or not self.strong_start(c.at + 4):
            return False
        start = c.at
        times = min(max(int(c.peek(2).value), 1), _MOST)
        c.at += 4
        self.said.append(SaidOpen("line", c.span(start), times))
        self.fresh = True
        return True

    def named_only(self) -> bool:
        """``R RW Ch RW``: an element that is told before and only named here."""
        c = self.c
        start = c.at
        size = c.kind() if c.kind() in ("small", "large") else ""
        if (start + 1 if size else start) not in self.bare:
            return False
        if size:
            c.next()
        noun = c.next().kind
        if noun == "split_ring" and self.sizes_told and len(self.tokens[c.at - 1].text) < 3:
            noun = "small_ring"
        turned = any(t.kind == "reverse_work" for t in self.tokens[start : self.clause_end(start)])
        kind = KINDS[noun]
        size = size or {"large_ring": "large", "small_ring": "small"}.get(noun, "")
        alike = Alike(kind=kind, which="bare" if turned else "named", size=size)
        if c.kind() == "PLUS" and not c.peek().spaced:
            # "R+": its first picot is a join.
            alike.changes.append(Change("first", span=c.span(start)))
            c.next()
        self.said.append(SaidElement(kind, c.span(start), alike=alike, size=size))
        self.last = None
        return True

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
                    if isinstance(item, Join):
                        self.joins.add(item, self.line, thing)
        self.said.extend(said)
        if times:
            self.said.append(SaidShut("name", span, times))
        return True

    def _defined(self, name: str) -> list[Said]:
        """What the steps behind a name say; counts alone are a ring's, or a chain's where the name ends in its
        letter.
        """
        tokens = self.names.get(name, [])
        if not tokens:
            return []
        if tokens[0].kind in ITEM_KINDS and not (len(tokens) > 2 and tokens[1].kind in KINDS):
            kind = next((t.kind for t in tokens if t.kind == "KIND"), "ring")
            c = Cursor(tokens)
            from larkshead.reading.grammar.counts.work import CountSyntax
            from larkshead.reading.grammar.lines.state import matching

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

    def _on_EQUALS(self) -> bool:
        """``[4] = [2]``: behind a step label, another step told again."""
        c = self.c
        if not (self.said and isinstance(self.said[-1], SaidStepLabel | SaidElement)):
            if c.kind(1) == "NUM" and c.peek(1).value == 1 and c.kind(2) in ("WORD", "repeat", "motif"):
                # "... = 1 scallop"
                self.units.add(c.peek(2).text.lower())
                self.c.at += 3
                return True
            return False
        c.next()
        return self._copy_of(c.at - 1)

    def _copy_of(self, start: int) -> bool:
        c = self.c
        for size in (3, 2, 1):
            name = self.words_between(c.at, c.at + size).lower()
            if len(name) > 3 and name in self.step_labels and self.kind_at(c.at + size) in _ENDS:
                c.at += size
                self.said.append(SaidCopy(name, c.span(start)))
                return True
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
        if self._part_again(start):
            return True
        if not (self.said and isinstance(self.said[-1], SaidStepLabel)):
            return False
        while c.kind() in ("like", "same", "glue"):
            c.next()
        return self._copy_of(c.at - 1) and c.at > start

    _on_same = _on_like

    def _part_again(self, start: int) -> bool:
        """``As first motif`` on the line below a heading: the part is worked as one told before."""
        c = self.c
        heading = next((thing for thing in reversed(self.said[-3:]) if not isinstance(thing, SaidLine)), None)
        if not isinstance(heading, SaidHeading) or heading.like is not None:
            return False
        while c.kind() in ("like", "same", "glue"):
            c.next()
        if c.kind() == "ORD" and c.kind(1) in PARTS:
            heading.like = int(c.next().value)
        elif c.kind() in PARTS and c.kind(1) == "NUM":
            heading.like = int(c.peek(1).value)
            c.next()
        else:
            c.at = start
            return False
        c.next()
        return True

    def copied_parts(self, part: str, number: int | None, start: int) -> bool:
        """``Rows 3 to 9 the same as Row 2``, ``Rnd 4: as Rnd 2``: parts worked as one told before."""
        c = self.c
        last = number
        if c.kind() in ("DASH", "to", "glue", "COMMA") and c.kind(1) == "NUM":
            last = int(c.peek(1).value)
            c.at += 2
        c.skip(("COLON", "glue"))
        equal = c.take("EQUALS") is not None and c.kind() in PARTS
        if c.kind() not in ("like", "same") and not equal:
            c.at = start
            return False
        while c.kind() in ("like", "same", "glue", "row", "round", "motif"):
            c.next()
        like = int(c.next().value) if c.kind() in ("NUM", "ORD") else None
        c.take("row", "round", "motif")
        heading = SaidHeading(part, c.span(start), number, "", max((last or 0) - (number or 0) + 1, 1))
        heading.like = like if like is not None else -1
        self.said.append(heading)
        self._but_other(heading)
        return True

    def _but_other(self, heading: SaidHeading) -> None:
        """``as Rnd 1 but x 12``, ``as Rnd 1 with Ch 7``: what is other in a part worked as one before."""
        c = self.c
        start = c.at
        while c.kind() in ("but", "COMMA", "with", "glue") and c.at - start < 3:
            c.next()
        times, how = self._times_told()
        if times is None and c.kind() == "NUM" and c.kind(1) == "repeat":
            times = int(c.next().value)
            c.next()
        if times is not None and how != "more" and c.at > start:
            heading.again = min(times, _MOST)
            return
        if self.kind_at(start) in ("with", "but") and self.strong_start(c.at) and self.c.kind() in KINDS:
            length = len(self.said)
            if self.element() and isinstance(self.said[length], SaidElement):
                heading.instead.append(self.said.pop(length))  # type: ignore[arg-type]
                return
        c.at = start
