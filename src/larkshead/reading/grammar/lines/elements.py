"""Elements in lines of shorthand: name, label, counts, likeness to others, and what is thrown off them."""

from __future__ import annotations

from copy import deepcopy
from dataclasses import replace

from larkshead.model import (
    Element,
    Join,
    NoTurn,
    SideChange,
    Switch,
    Thrown,
)
from larkshead.reading.grammar.counts.work import ITEM_KINDS, MARKS, CountSyntax, read_counts
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.items import items_of
from larkshead.reading.grammar.lines.likeness import LineLikeness
from larkshead.reading.grammar.lines.state import KINDS
from larkshead.reading.grammar.meanings import Meaning, Varying
from larkshead.reading.grammar.places import PICOTS
from larkshead.reading.grammar.said import (
    Piece,
    Said,
    SaidElement,
    SaidPlain,
    SaidStep,
)
from larkshead.reading.grammar.shapes import counted_out, counts_below
from larkshead.reading.grammar.tokens import Token
from larkshead.reading.notices import Notice

_SIZES = {"large_ring": "large", "small_ring": "small"}
_MOST_TOLD_APART = 50
_DESCRIBING = frozenset({"WORD", "round", "around", "glue"})
_OPENERS = frozenset({"COLON", "EQUALS", "of"})


class LineElements(LineLikeness):
    """A layer of Lines."""

    def element(self, count: int = 1, start: int | None = None, number: int | None = None, size: str = "") -> bool:
        """An element with its work at the position; False, and nothing stepped over, where its work does not follow."""
        c = self.c
        back = c.at
        start = back if start is None else start
        said = SaidElement("ring", c.span(start), count=count, size=size)
        split = False
        while c.kind() in ("small", "large", "split", "thrown"):
            if c.kind() == "split":
                split = True
            elif c.kind() == "thrown":
                said.technique = "thrown"
            else:
                said.size = c.kind()
            c.next()
        token = c.next()
        if token.kind == "label":
            said.label = token.text
        elif token.kind in KINDS:
            said.kind = KINDS[token.kind]
            said.size = _SIZES.get(token.kind, said.size)
            if token.kind == "thrown_ring":
                said.technique = "thrown"
            meaning = token.value
            if isinstance(meaning, Meaning):
                said.size = meaning.size or said.size
                said.label = meaning.label
        else:
            c.at = back
            return False
        if split and not said.kind.startswith("split"):
            said.kind = f"split {said.kind}"
        if number is not None:
            said.first, said.label = number, str(number)
        if c.kind() == "COLON" and counted_out(self.tokens, c.at - 1, c.at + 1):
            c.at = back
            return False
        below = counts_below(self.tokens, c.at - 1)
        self._label(said)
        self._aside(said)
        if below:
            c.take("COLON")
            c.next()
            self.line += 1
        if c.kind() in _OPENERS or (
            c.kind() in ("COMMA", "STOP", "DASH")
            and c.kind(1) in ITEM_KINDS | {"OPEN"}
            and (
                c.kind() != "DASH"
                or (c.peek(1).spaced and c.peek().spaced and len(c.peek().text) == 1)
                or (not c.peek().spaced and not c.peek(1).spaced)
            )
        ):
            c.next()
        self._with_thread(said)
        if self._alike(said):
            self._tell(said, start)
            return True
        if said.count > 1 and said.last is None and self._one_by_one(said, token, start):
            return True
        if not self._work(said, token, back):
            c.at = back
            return False
        return True

    def _one_by_one(self, said: SaidElement, token: Token, start: int) -> bool:
        """``3 R: 6-6-4, 4+6-6-4, 4+6-6``: as many counts as there are elements, one for each."""
        c = self.c
        back, end = c.at, self.clause_end(c.at)
        if said.count > _MOST_TOLD_APART or self.kind_at(back) != "NUM":
            return False
        syntax = self.syntax(self._may_split(said, token), said.kind == "josephine ring", "chain" in said.kind)
        works: list[list[Piece]] = []
        at = back
        while len(works) < said.count:
            comma = next((i for i in range(at, end) if self.tokens[i].kind == "COMMA"), end)
            inner = Cursor(self.tokens, at, comma)
            pieces = read_counts(inner, syntax)
            last = len(works) == said.count - 1
            inner.take("close")
            if len(pieces) < 3 or (inner.at < comma and not last):
                return False
            works.append(pieces)
            at = inner.at if last else comma + 1
            at += not last and self.kind_at(at) == "glue"
        for number, pieces in enumerate(works, 1):
            one = SaidElement(said.kind, said.span, pieces, size=said.size, thread=said.thread)
            c.at = at
            self._tell(one, start, tail=number == len(works))
            one.span = pieces[0][1].join(pieces[-1][1])
        return True

    def _work(self, said: SaidElement, token: Token, start: int) -> bool:
        c = self.c
        split = self._may_split(said, token)
        syntax = self.syntax(split, said.kind == "josephine ring", "chain" in said.kind)
        if said.kind == "josephine ring" and True:
            syntax.halves = True
        said.pieces = read_counts(c, syntax)
        if not said.pieces and not self._behind_words(said, syntax):
            return False
        self._settle_kind(said, token)
        if self._thrown_ahead(said):
            return self._about_thrown(said, syntax, start, token)
        self._tell(said, start)
        return True

    def _may_split(self, said: SaidElement, token: Token) -> bool:
        """Whether a slash may change sides here: in split elements, and where slashes do not part the steps."""
        return said.kind.startswith("split") or (not self.slash_parts and said.kind in ("ring", "chain"))

    def _settle_kind(self, said: SaidElement, token: Token) -> None:
        """A split element by its two sides; a small ring where SR is written without sides beside a large ring."""
        sides = any(isinstance(item, SideChange) for item, _ in said.pieces)
        if sides and said.kind in ("ring", "chain") and said.pieces:
            said.kind = f"split {said.kind}"
        elif (
            not sides
            and said.kind == "split ring"
            and self.sizes_told
            and len(token.text) <= 2
            and not isinstance(token.value, Meaning)
        ):
            said.kind, said.size = "ring", "small"
            self.notices.append(
                Notice(
                    "assumed",
                    "warning",
                    f"{token.text} read as a small ring, since large rings are told apart here",
                    self.c.span(self.c.at - 1),
                )
            )

    def _behind_words(self, said: SaidElement, syntax: CountSyntax) -> bool:
        """Work behind words that describe the element: ``five rings touching all round, each 5 + 6 - 6 + 5``."""
        c = self.c
        back = c.at
        told = self._told_behind_colon(c.at) if said.label is not None and c.kind() in _DESCRIBING else 0
        if told:
            said.remark = said.remark or self.words_between(back, told - 1)
            c.at = told
            said.pieces = read_counts(c, syntax)
            return bool(said.pieces)
        end = min(self.clause_end(c.at), c.at + 30)
        for at in range(c.at, end):
            kind = self.tokens[at].kind
            if kind in KINDS or kind in ("reverse_work", "MARK", "repeat", "cut"):
                break
            led = at > back and self.tokens[at - 1].kind in ("each", "of", "COLON", "COMMA", "with")
            after = self.kind_at(at + 1)
            if after == "COMMA":
                after = self.kind_at(at + 2)
            if kind == "NUM" and led and (after in MARKS or after in PICOTS or after in ("double_stitch", "join")):
                c.at = at
                said.pieces = read_counts(c, syntax)
                if len(said.pieces) > 1:
                    return True
        c.at = back
        return False

    def _label(self, said: SaidElement) -> None:
        """A number or letter right behind the element's name, or a range or list of them."""
        c = self.c
        token = c.peek()
        if token.kind == "NUM" and self._numbers(said.kind):
            c.next()
            said.first = int(token.value)
            said.label = str(token.value)
            c.take("SHUT")
            self._range(said)
        elif len(token.text) == 1 and token.text.isalpha() and token.text.isupper() and token.kind not in PICOTS:
            if token.kind not in ("label", "WORD", "NAME") and c.kind(1) not in (
                "COLON",
                "OPEN",
                "EQUALS",
                "NUM",
                "STOP",
                "NL",
                "like",
                "same",
            ):
                return
            c.next()
            said.label = token.text
            self._lettered_range(said)

    def _numbers(self, kind: str) -> bool:
        """Whether the figure at the position is the element's number and not its first count."""
        c = self.c
        glued = not c.peek().spaced
        after = c.peek(1)
        if (
            after.kind == "NUM"
            and not glued
            and (self.gaps or c.kind(2) == "NUM" or (c.kind(2) == "UNIT" and c.kind(3) in PICOTS))
        ):
            # "R 4 4 4": marks are lost, and no figure is a label; "R 4 3mm p 4".
            return False
        if after.kind in ("COLON", "EQUALS", "NUM") or counts_below(c.tokens, c.at - 1):
            return True
        if glued and after.kind in _DESCRIBING and self._told_behind_colon(c.at + 1):
            # "R2 lies round R1: 9+9"
            return True
        if glued and after.kind == "join" and len(after.text) > 2 and c.kind(2) == "to":
            return True
        if after.kind == "SHUT" and self.match[c.at + 1] < 0 and c.kind(2) == "NUM":
            return True
        if (
            not glued
            and after.kind in ("DASH", "to")
            and c.kind(2) == "NUM"
            and c.kind(3) == "COLON"
            and c.peek(2).value > c.peek().value
        ):
            return True
        if not glued:
            return (
                (after.kind == "STOP" and c.kind(2) == "NUM" and not after.spaced and c.peek(2).spaced)
                or after.kind in ("like", "same")
                or (
                    after.kind == "OPEN"
                    and (
                        self.kind_at(c.at + 2) not in ITEM_KINDS
                        and self.kind_at(c.at + 2) not in KINDS
                        and self.kind_at(c.at + 2) not in ("switch", "shuttle", "small", "large", "thrown", "split")
                    )
                    and self.match[c.at + 1] >= 0
                    and self.kind_at(self.match[c.at + 1] + 1) in ("COLON", "NUM")
                )
            )
        if (after.kind in ("DASH", "to", "ELLIPSIS") and c.kind(2) in KINDS and c.kind(3) == "NUM") or (
            after.kind == "COMMA" and c.kind(2) in KINDS and c.kind(3) == "NUM" and not c.peek(3).spaced
        ):
            return True
        if (
            after.kind in ("DASH", "to")
            and c.kind(2) == "NUM"
            and c.kind(3) in ("COLON", "OPEN", "like", "same", "COMMA" if c.kind(4) in ("like", "same") else "COLON")
            and c.peek(2).value > c.peek().value
        ):
            return True
        if after.kind == "glue" and c.kind(2) in KINDS and c.kind(3) == "NUM":
            return True
        if after.kind == "OPEN":
            return self._labelled_before_bracket(c.at + 1)
        if after.kind in ("STOP", "COMMA") and c.kind(2) == "NUM" and after.spaced is False and c.peek(2).spaced:
            return self.numbered or after.kind == "STOP"
        if after.kind in ("DASH",) and self.numbered and after.spaced and c.kind(2) == "NUM":
            return True
        return (
            after.kind in ("like", "same", "with", "shuttle", "bead")
            or (after.kind in PICOTS and self.numbered and after.spaced)
            or (self.numbered and after.kind in ("split", "half_closed", "WORD"))
        )

    def _labelled_before_bracket(self, opened: int) -> bool:
        """Whether the figure before a bracket is a label: counts stand in the bracket, or behind it. ``C8 (RW after
        each)`` is a count.
        """
        shut = self.match[opened]
        if shut < 0 or self.kind_at(opened + 1) in ITEM_KINDS or self.kind_at(opened + 1) in ("shuttle", "split"):
            return True
        turned = {"reverse_work", "no_turn"} & {t.kind for t in self.tokens[opened + 1 : shut]}
        return not (turned and self.kind_at(shut + 1) in ("NL", "PARA", "END", "STOP", "SEMI"))

    def _told_behind_colon(self, at: int) -> int:
        """Where counts stand behind a colon and the words from ``at`` on; 0 where none do."""
        end = min(self.clause_end(at, ("COLON",)), at + 12)
        counts = self.kind_at(end) == "COLON" and self.kind_at(end + 1) == "NUM"
        return end + 1 if counts and self.kind_at(end + 2) in MARKS | set(PICOTS) | {"double_stitch"} else 0

    def _range(self, said: SaidElement) -> None:
        """``R2-R5``, ``R2-5``, ``R3, R4, R5``."""
        c = self.c
        numbers = [said.first or 0]
        while True:
            listed = c.kind() in ("COMMA", "glue")
            if (
                c.kind() in ("DASH", "to", "COMMA", "glue", "ELLIPSIS")
                and c.kind(1) in KINDS
                and c.kind(2) == "NUM"
                and c.kind(3) not in ("DASH", "PLUS")
            ):
                said.last = int(c.peek(2).value)
                c.at += 3
            elif (
                c.kind() in ("DASH", "to", "glue", "COMMA")
                and c.kind(1) == "NUM"
                and c.kind(2) in ("COLON", "NUM", "OPEN", "like", "same", "COMMA")
            ):
                if c.kind(2) == "COMMA" and c.kind(3) not in ("like", "same", "NUM"):
                    break
                said.last = int(c.peek(1).value)
                c.at += 2
            else:
                break
            numbers.extend([said.last] if listed else range(numbers[-1] + 1, min(said.last, numbers[-1] + 1000) + 1))
        if said.last is not None and said.first is not None and said.last > said.first:
            said.count = min(said.last - said.first + 1, 10**9)
            if len(numbers) < min(said.count, 1000) and numbers == sorted(set(numbers)):
                # "R1, R3, R5": not those between.
                said.count, said.numbers = len(numbers), numbers

    def _lettered_range(self, said: SaidElement) -> None:
        c = self.c
        last = said.label or "A"
        while c.kind() in ("DASH", "to", "COMMA", "glue") or (
            c.kind() in KINDS and not c.peek(1).spaced and self.tokens[c.at - 1].end < c.peek().start
        ):
            if c.kind() in KINDS and c.peek().spaced:
                break
            # The hyphen of "RB-RE" is no token of its own.
            ahead = 1 if c.kind() in KINDS else 2 if c.kind(1) in KINDS else 1
            token = c.peek(ahead)
            if (
                len(token.text) != 1
                or not token.text.isupper()
                or c.kind(ahead + 1) not in ("COLON", "COMMA", "DASH", "glue", "like", "same", "NUM")
                or (c.kind(ahead + 1) == "NUM" and (c.kind(ahead - 1) not in KINDS or token.spaced))
            ):
                break
            last = token.text
            c.at += ahead + 1
        count = ord(last) - ord(said.label or "A") + 1
        if 1 < count <= 26:
            said.count = count

    def _aside(self, said: SaidElement) -> None:
        """A remark in brackets between the name and the counts: ``(inner)``, ``(split)``, ``(sh 1)``."""
        c = self.c
        if c.kind() != "OPEN" or self.match[c.at] < 0 or (c.kind(1) in ITEM_KINDS and self.match[c.at] != c.at + 2):
            return
        end = self.match[c.at]
        kinds = [t.kind for t in self.tokens[c.at + 1 : end]]
        if end == c.at + 2 and said.label is None and self.kind_at(end + 1) in ("COLON", "EQUALS"):
            said.label = self.tokens[c.at + 1].text
            c.at = end + 1
            return
        if any(kind in KINDS and i + 1 < len(kinds) and kinds[i + 1] == "NUM" for i, kind in enumerate(kinds)):
            return
        if self.kind_at(end + 1) not in ITEM_KINDS and self.kind_at(end + 1) not in (
            "COLON",
            "EQUALS",
            "OPEN",
            "COMMA",
            "DASH",
            "like",
            "same",
        ):
            return
        if "split" in kinds and not said.kind.startswith("split"):
            said.kind = f"split {said.kind}"
        if "shuttle" in kinds:
            self._thread_at(said, c.at + 1 + kinds.index("shuttle"))
        said.size = next((k for k in kinds if k in ("small", "large")), said.size)
        if not {"split", "shuttle", "small", "large"} & set(kinds):
            said.remark = self.words_between(c.at + 1, end)
        c.at = end + 1

    def _with_thread(self, said: SaidElement) -> None:
        """``with SH1`` between the name and the counts."""
        c = self.c
        if (c.kind() in ("with", "glue", "from") and c.kind(1) == "shuttle") or c.kind() == "shuttle":
            at = c.at if c.kind() == "shuttle" else c.at + 1
            if self.kind_at(at + 1) in ("NUM", "ORD"):
                self._thread_at(said, at)
                c.at = at + 2
                c.take("COLON", "COMMA")

    def _thread_at(self, said: SaidElement, at: int) -> None:
        if self.kind_at(at + 1) in ("NUM", "ORD"):
            said.thread = f"shuttle {self.tokens[at + 1].value}"
        elif self.kind_at(at - 1) == "ORD":
            said.thread = f"shuttle {self.tokens[at - 1].value}"

    def _thrown_ahead(self, said: SaidElement) -> bool:
        """Whether a bracket with an element in it stands inside this one's work: a ring thrown off it."""
        c = self.c
        if c.kind() != "OPEN" or said.kind not in ("chain", "mock ring", "split chain"):
            return False
        end = self.match[c.at]
        if end < 0:
            return False
        inside = {t.kind for t in self.tokens[c.at + 1 : end]}
        after = self.kind_at(end + 1)
        if after == "times" or (after == "NUM" and self.kind_at(end + 2) == "times"):
            return False
        return bool(inside & set(KINDS)) and any(self.strong_start(i) for i in range(c.at + 1, end))

    def _about_thrown(self, said: SaidElement, syntax: CountSyntax, start: int, token: Token) -> bool:
        """The pieces of an element about what is thrown off it: a mock ring holds it, a chain stands in pieces."""
        c = self.c
        whole = said.kind == "mock ring"
        pieces: list[Piece] = said.pieces
        while self._thrown_ahead(said):
            end = self.match[c.at]
            inner = self._inside(c.at + 1, end)
            begin = c.at
            c.at = end + 1
            while (
                c.kind() == "OPEN"
                and self.match[c.at] >= 0
                and self.kind_at(c.at + 1) == "shuttle"
                and not ({t.kind for t in self.tokens[c.at : self.match[c.at]]} & set(KINDS))
            ):
                c.at = self.match[c.at] + 1
            if whole:
                for thing in inner:
                    if isinstance(thing, SaidElement):
                        thrown = Element(thing.kind, items_of(thing.pieces), thing.label, technique="thrown")  # type: ignore[arg-type]
                        pieces.append((Thrown(thrown), thing.span))
            else:
                piece = SaidElement(
                    said.kind, c.span(start, begin), pieces, label=said.label, thread=said.thread, size=said.size
                )
                self._tell(piece, start, tail=False)
                piece.span = c.span(start, begin)
                self._lay_thrown(inner, begin, end)
            start = c.at
            more = read_counts(c, syntax)
            if whole:
                pieces.extend(more)
            else:
                pieces = more
                if not more:
                    return True
        said.pieces = pieces
        self._tell(said, start)
        return True

    def _inside(self, start: int, end: int) -> list[Said]:
        """What is said between two brackets."""
        from larkshead.reading.grammar.lines.lines import Lines

        if self.depth > 5:
            return []
        assert isinstance(self, Lines)
        inner = Lines(self.tokens[start:end], self.names, self.depth + 1, self)
        return [thing for thing in inner.run() if isinstance(thing, SaidElement | SaidStep)]

    def _lay_thrown(self, inner: list[Said], begin: int, end: int) -> None:
        """A thrown element between two changes of shuttle, told or not."""
        span = self.c.span(begin, end)
        unturned = any(isinstance(t.value, Meaning) and t.value.unturned for t in self.tokens[begin:end])
        told = any(isinstance(thing, SaidStep) and isinstance(thing.step, Switch) for thing in inner)
        around: list[Said] = [SaidStep(NoTurn(), span)] if unturned else []
        if not told:
            around.append(SaidStep(Switch(), span))
        for thing in inner:
            if isinstance(thing, SaidElement):
                thing.technique = thing.technique or "thrown"
        self.said.extend([*around, *inner, *deepcopy(around)])
        if told and sum(isinstance(thing, SaidStep) and isinstance(thing.step, Switch) for thing in inner) == 1:
            named = any(
                isinstance(thing, SaidStep) and isinstance(thing.step, Switch) and thing.step.to for thing in inner
            )
            if named:
                self.said.append(SaidStep(Switch("shuttle 1"), span))

    def _tell(self, said: SaidElement, start: int, tail: bool = True) -> None:
        """Add the element to what is said, with all that stands behind its work."""
        thrown = said.technique == "thrown" and said.kind == "ring" and self.depth == 0 and self._off_a_chain()
        # With a ball and one shuttle there is no other to change to.
        thrown = thrown and self.shuttles != 1
        if thrown:
            self.said.append(SaidStep(Switch(), self.c.span(start)))
        self.said.append(said)
        self.last = said
        if self.step:
            self.step_of[id(said)] = self.step
            self.step = ""
        if said.label is not None:
            self.element_labels.add(said.label)
        here = len(self.said)
        for item, _ in said.pieces:
            for one in (item, *(item.passes.values() if isinstance(item, Varying) else ())):
                plain = one.item if isinstance(one, Varying) else one
                if isinstance(plain, Join):
                    if self.same_size and said.size:
                        for place in plain.places:
                            if (
                                place.element is not None
                                and place.element.which == "previous"
                                and not place.element.size
                            ):
                                place.element = replace(place.element, size=said.size)
                    self.joins.add(plain, self.line, said)
        for change in said.changes:
            change.element_kind = said.kind
        if tail:
            self._tail(said, here)
        said.span = self.c.span(start)
        if tail and not thrown and self._from_second_shuttle(said):
            said.technique, thrown = "thrown", True
            self.said.insert(here - 1, SaidStep(Switch(), said.span))
        if thrown:
            self.said.append(SaidStep(Switch(), said.span))

    def _off_a_chain(self) -> bool:
        """Whether the last thing worked is a chain, with no shuttle named since."""
        for thing in reversed(self.said):
            if isinstance(thing, SaidElement | SaidPlain):
                return thing.kind == "chain"
            if isinstance(thing, SaidStep) and not isinstance(thing.step, NoTurn):
                return False
        return False

    def _from_second_shuttle(self, said: SaidElement) -> bool:
        """``a ring of 3-3 from sh 2`` between chains: thrown off them."""
        c = self.c
        if c.kind() not in ("from", "with") or said.kind not in ("ring", "josephine ring"):
            return False
        ordinal = c.kind(1) == "ORD" and c.kind(2) == "shuttle"
        if not ordinal and not (c.kind(1) == "shuttle" and c.kind(2) == "NUM"):
            return False
        number = c.peek(1 if ordinal else 2).value
        before = next((thing for thing in reversed(self.said[:-1]) if isinstance(thing, SaidElement | SaidPlain)), None)
        if number != 2 or before is None or before.kind != "chain":
            return False
        c.at += 3
        return True
