"""Passages in running words: sums, changes, what follows each, parts like earlier parts."""

from __future__ import annotations

from larkshead.model import (
    StatedTotal,
)
from larkshead.reading.grammar.changes import clause_end, read_changes
from larkshead.reading.grammar.core import CLAUSE_ENDS
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.places import ELEMENTS, PARTS, PICOTS
from larkshead.reading.grammar.prose.likened import NAMED
from larkshead.reading.grammar.prose.lots import LotsTold
from larkshead.reading.grammar.prose.words import JOINS, SELECTORS
from larkshead.reading.grammar.said import (
    SaidAlikePart,
    SaidChange,
    SaidElement,
    SaidHeading,
    SaidNote,
    SaidRepeat,
    SaidTotal,
)
from larkshead.reading.grammar.tokens import Token
from larkshead.reading.grammar.totals import COUNTED, read_counted, read_of_each

# Words that choose the elements and picots that a change is told of, before its join, at most.
_REACH = 60
# Parts told like one before in one sentence, at most.
_MOST_PARTS = 99


class Passages(LotsTold):
    """Passages in running words: sums, changes, what follows each, parts like earlier parts."""

    def total(self) -> bool:
        """``that is 96 stitches in all``, ``the leaf ring has 22 ds``, ``four beads, then, and eight picots``: sums told, not worked."""
        c = self.c
        start = c.at
        if PARTS.keys() & {c.kind(), c.kind(1)} and self._totals_of_parts():
            return True
        if (each := read_of_each(c)) is not None:
            self.said.append(SaidTotal(each, c.span(start)))
            self.open = None
            return True
        # A list of totals under its name may be long; sums in running speech are not.
        most = min(start + (60 if c.kind() == "total" else 16), c.limit)
        kinds = [t.kind for t in c.tokens[start:most]]
        stop = next(
            (i for i, k in enumerate(kinds) if k in CLAUSE_ENDS or (k in ("COLON", "COMMA") and i > 8)), len(kinds)
        )
        number = next((i for i, k in enumerate(kinds[:stop]) if k == "NUM"), None)
        if number is None or any(
            k in ("reverse_work", "join", "lock_join", "leave", "of", "each", *PICOTS) for k in kinds[:number]
        ):
            return False
        cued = any(k in ("restating", "total", "in_all", "used") for k in kinds[:stop]) or (
            number >= 2 and kinds[number - 1] in ("has", "have", "restating")
        )
        cued = cued or self._only_counts(kinds[:stop])
        if not cued:
            return False
        probe = Cursor(c.tokens, start + number, most)
        counts, end = read_counted(probe)
        if not counts or (set(counts) & {"rings", "chains"} and "restating" not in kinds and "total" not in kinds):
            return False
        if c.tokens[end].kind in ("COLON", "NUM") if end < c.limit else False:
            return False
        if (
            end < c.limit
            and c.tokens[end].kind == "COMMA"
            and end + 1 < c.limit
            and c.tokens[end + 1].kind in ("NUM", *PICOTS)
        ):
            return False
        spread = Cursor(c.tokens, end, c.limit)
        spread.skip({"glue", "COMMA", "with"})
        if spread.take("NUM"):
            spread.skip({"double_stitch"})
            if spread.kind() in ("between", "ends"):
                # "five picots and three between": how they lie is told, no sum.
                return False
        scope = "pattern" if any(k in ("in_all", "total", "used") for k in kinds[:stop]) else "element"
        if scope == "element" and not any(isinstance(s, SaidElement) for s in self.lately()):
            return False
        c.at = end
        while c.kind() in ("in_all", "glue", "COMMA", "WORD") and c.at < start + stop:
            c.next()
        self.said.append(SaidTotal(StatedTotal(counts, scope, words=""), c.span(start)))  # type: ignore[arg-type]
        self.open = None
        return True

    def _only_counts(self, kinds: list[str]) -> bool:
        """``Four beads, then, and eight picots.``: a sentence of things counted, with no stitches between them."""
        start = self.c.at
        return (
            (not start or self.c.tokens[start - 1].kind in ("STOP", "PARA"))
            and kinds[:1] == ["NUM"]
            and kinds.count("NUM") > 1
            and "bead" in kinds
            and all(k in ("NUM", "bead", "glue", "COMMA", "with", *PICOTS) for k in kinds)
        )

    def _totals_of_parts(self) -> bool:
        """``the rounds have 24, 240 and 192 ds``: a sum for each part, in order."""
        c = self.c
        start = c.at
        c.skip(("glue",))
        named = c.take(*PARTS)
        if named is None:
            c.at = start
            return False
        part = PARTS[named.kind]
        c.skip(("glue", "has", "have", "of", "COLON"))
        numbers: list[int] = []
        while c.kind() == "NUM":
            numbers.append(int(c.next().value))
            if c.kind(1) in ("NUM", "glue") or c.kind() == "glue":
                c.skip(("COMMA", "glue"))
        counted = COUNTED.get(c.kind())
        if len(numbers) < 2 or counted is None:
            c.at = start
            return False
        c.next()
        span = c.span(start)
        for number, count in enumerate(numbers, 1):
            self.said.append(SaidTotal(StatedTotal({counted: count}, "part", of=f"{part} {number}"), span))
        self.open = None
        return True

    def change(self) -> bool:
        """A change told apart: ``the last ring joins to the first as well``, ``joining each ring by its first picot to ...``."""
        c = self.c
        start = c.at
        if c.kind() not in SELECTORS and c.kind() not in ELEMENTS and c.kind() != "joining":
            return False
        end = clause_end(c, JOINS, _REACH)
        join = end - start if end < c.limit and c.tokens[end].kind in JOINS else None
        end = clause_end(c) if join is not None else end
        kinds = [t.kind for t in c.tokens[start:end]]
        if self._speaks_of_one(start) and c.peek(2).value == "goes":
            join = 2
        if join is None or not self._is_change(kinds, join):
            return False
        if (
            kinds[0] in ELEMENTS
            and kinds[1:2] == ["NUM"]
            and kinds[2:3] == ["COMMA"]
            and kinds[3:4][0:1]
            and kinds[3] in JOINS
        ):
            # "chain six, lock to the first picot, six": the number counts stitches.
            return False
        # An element spoken of by its number ends nothing.
        c.at += 1 if self._speaks_of_one(start) else 0
        if kinds[:1] == ["from"] and kinds[1:2] and kinds[1] in ELEMENTS and kinds[2:3] == ["NUM"]:
            c.at += 3
        end = min(end, self._change_end())
        c.at = start
        changes = read_changes(c, end)
        if not changes:
            return False
        for change in changes:
            self.said.append(SaidChange(change, c.span(start)))
        self.open = None
        return True

    def _speaks_of_one(self, start: int) -> bool:
        """``ring 4 also joins ring 1``, ``ring eight goes on to ring one as well``: the number is a name and counts no stitches."""
        c = self.c
        if c.kind() not in ELEMENTS or c.kind(1) not in ("NUM", "label"):
            return False
        behind = c.peek(2)
        if behind.kind in JOINS or (behind.value == "goes" and c.kind(3) == "to"):
            reach = 3 if behind.kind in JOINS else 4
            if behind.kind in JOINS and c.kind(3) == "to" and c.tokens[c.at + 3].value == "back":
                # "ring eight joined back to ring one"
                reach = 4
            return c.kind(reach) in ELEMENTS and c.kind(reach + 1) in ("NUM", "label")
        return behind.value in ("too", "is") or (behind.kind == "WORD" and c.kind(3) in ("glue", "to", *JOINS))

    def _is_change(self, kinds: list[str], join: int) -> bool:
        """Before the join stand only words that choose elements and picots, and no work."""
        before = kinds[:join]
        if any(
            k
            in (
                "COLON",
                "double_stitch",
                "reverse_work",
                "close",
                "bead",
                "leave",
                "cut",
                "OPEN",
                "like",
                "same",
                "attach",
                "split_ring",
                "mock_ring",
            )
            for k in before
        ):
            return False
        if sum(k == "WORD" for k in before) > (1 if "COMMA" in before else 3) and not any(k in PICOTS for k in before):
            return False
        for i, kind in enumerate(before):
            if kind != "NUM":
                continue
            if i > 0 and before[i - 1] in ELEMENTS:
                if "ORD" in before[:i] and kinds[i + 1 : i + 2] == ["COMMA"]:
                    # "second ring four, join, ...": the number counts stitches.
                    return False
                continue
            if i > 1 and before[i - 1] in ("to", "glue", "COMMA") and before[i - 2] == "NUM":
                continue
            if kinds[0] == "from" and before[i - 1] == "with":
                # "from the second on the ring begins with four and a join"
                continue
            return False
        if kinds[0] == "joining":
            # "joining each ring by its first picot to ...": gerunds and orders that choose elements, told after the steps
            head = kinds[1:5]
            return (
                any(k in ("each", "last") for k in head)
                and any(k in ELEMENTS for k in kinds[1:7])
                and "NUM" not in head
            )
        if kinds[0] in ELEMENTS and (len(before) > 6 or before[1:2] not in (["NUM"], ["label"], ["each"])):
            return False
        if kinds[0] == "all" and "but" not in before[:3]:
            return False
        if (
            kinds[0] in ("from", "after")
            and not any(k in ("ORD", "each") for k in before)
            and not (before[1:2] and before[1] in ELEMENTS and before[2:3] == ["NUM"])
        ):
            return False
        if kinds[0] == "this" and not any(k == "each" for k in before[:3]):
            return False
        # "a second one beside it, joined: 6, ..." tells an element.
        return kinds[join + 1 : join + 2] not in (["NUM"], ["COLON"])

    def follow(self) -> bool:
        """``each followed by its chain as before``: what came after the first of them comes after every one."""
        c = self.c
        start = c.at
        starts = c.peek(1) if c.kind() == "glue" else c.peek()
        if starts.kind not in ("each", "all", "this", "followed", "with", "after", "same") or (
            starts.kind != "same" and c.kind() == "glue"
        ):
            return False
        end = clause_end(c)
        kinds = [t.kind for t in c.tokens[c.at : min(end, c.at + 14)]]
        chain = next((i for i, k in enumerate(kinds) if k == "chain"), None)
        if (chain is None and "followed" not in kinds) or any(k in ("NUM", "join", "lock_join") for k in kinds):
            return False
        chain = chain or 0
        told = (
            "followed" in kinds
            or ({"after", "each"} <= set(kinds) and kinds[0] in ("after", "with"))
            or ("same" in kinds[:chain] and ("after" in kinds or "each" in kinds or kinds[0] == "with"))
        )
        if not told:
            return False
        c.at = end
        self.said.append(SaidRepeat("follow", c.span(start)))
        self.open = None
        return True

    def heading(self) -> bool:
        """Headings of the shared grammar, ``First half:``, and the centre on a line of its own."""
        c = self.c
        start = c.at
        if c.kind() in ("first_half", "second_half") and c.kind(1) in ("COLON", "STOP"):
            number = 1 if c.next().kind == "first_half" else 2
            c.next()
            self.said.append(SaidHeading("half", c.span(start), number))
            self.fresh = True
            return True
        if c.kind() == "centre" and c.kind(1) in ("NL", "PARA") and (not c.at or c.kind(-1) in ("NL", "PARA")):
            c.next()
            self.said.append(SaidHeading("centre", c.span(start)))
            self.fresh = True
            return True
        if c.kind() in PARTS and c.kind(1) in ("NUM", "ORD") and c.find({"like", "same"}, CLAUSE_ENDS, 12) is not None:
            number = last = int(c.peek(1).value)
            kind = PARTS[c.next().kind]
            c.next()
            if c.kind() in ("to", "glue", "COMMA") and c.kind(1) == "NUM" and c.peek(1).value > number:
                # "motifs two to four are made as motif one"
                last = int(c.peek(1).value)
                c.at += 2
            name = _in_the_singular(c.tokens, start)
            self.said.append(SaidHeading(kind, c.span(start), number, name))
            if self.alike_part():
                for other in range(number + 1, min(last, number + _MOST_PARTS) + 1):
                    self.said.append(SaidHeading(kind, c.span(start), other, name))
                    self.said.append(SaidAlikePart(c.span(start), kind, number))
            return True
        name = c.peek().text if c.peek().value == NAMED else ""
        if not super().heading():
            return False
        said = self.said[-1]
        if name and isinstance(said, SaidHeading):
            said.name = name
        return True

    def alike_part(self) -> bool:
        """``As the first half, but ...``; ``The same, but ...``; ``worked like motif one``: a whole part like an earlier one."""
        c = self.c
        start = c.at
        if not self.said or not isinstance(self.said[-1], SaidHeading):
            return False
        while c.kind() in ("glue", "WORD", "COMMA", "to", "with") and c.at - start < 5:
            c.next()
        # "motif three hangs on motif two in just the same way"
        hung = (
            c.kind() in PARTS and c.kind(1) in ("NUM", "ORD") and c.find({"same", "like"}, CLAUSE_ENDS, 8) is not None
        )
        if c.kind() not in ("like", "same") and not (hung and c.at > start):
            c.at = start
            return False
        while c.kind() in ("like", "same", "glue"):
            c.next()
        said = SaidAlikePart(c.span(start))
        if c.kind() in ("first_half", "second_half"):
            said.kind, said.number = "half", 1 if c.next().kind == "first_half" else 2
        elif c.kind() in PARTS and c.kind(1) in ("NUM", "ORD"):
            said.kind, said.number = PARTS[c.next().kind], int(c.next().value)
        elif c.kind() == "ORD" and c.kind(1) in PARTS:
            said.number = int(c.next().value)
            said.kind = PARTS[c.next().kind]
        elif c.kind() in ELEMENTS or c.kind() in ("NUM", "ORD", "label"):
            c.at = start
            return False
        end = clause_end(c)
        said.changes = read_changes(c, end)
        c.at = end
        said.span = c.span(start)
        self.said.append(said)
        return True

    def open_group(self) -> bool:
        """Brackets with no number behind them hold a remark."""
        c = self.c
        start = c.at
        shut = c.find({"SHUT"}, ("PARA",), 80)
        if shut is None:
            return super().open_group()
        probe = Cursor(c.tokens, c.at + shut + 1, c.limit)
        told = (
            probe.kind() in ("times", "twice")
            or (probe.kind() == "NUM" and probe.kind(1) == "times")
            or (probe.kind() == "COMMA" and probe.kind(2) == "times")
        )
        if told:
            return super().open_group()
        c.at += shut + 1
        words = " ".join(t.text for t in c.tokens[start : c.at])
        self.said.append(SaidNote(words, c.span(start)))
        return True


def _in_the_singular(tokens: list[Token], at: int) -> str:
    """The name that the passages told like one before share, as it was first told."""
    if tokens[at].value != NAMED:
        return ""
    return next((token.text for token in tokens[:at] if token.value == NAMED), tokens[at].text)
