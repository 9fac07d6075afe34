"""Totals told in a text: ``(20 ds, 4 picots)``, ``Total: 1 ring, 8 chains``, ``6 rings and 6 chains so far``; read,
and held to the work.
"""

from __future__ import annotations

from larkshead.model import (
    Beads,
    ByPass,
    Element,
    Halves,
    Join,
    LockJoin,
    MockPicot,
    Part,
    Picot,
    Repeat,
    StatedTotal,
    Step,
    Stitches,
    Thrown,
)
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.places import ELEMENTS
from larkshead.reading.grammar.shapes import counted_out

# What is counted, by kind of token.
COUNTED = {
    "ring": "rings",
    "chain": "chains",
    "split_ring": "split_rings",
    "split_chain": "split_chains",
    "mock_ring": "mock_rings",
    "josephine_ring": "josephine_rings",
    "thrown_ring": "rings",
    "double_stitch": "ds",
    "picot": "picots",
    "small_picot": "picots",
    "long_picot": "picots",
    "join": "joins",
    "folded_join": "joins",
    "lock_join": "lock_joins",
    "bead": "beads",
}
_BETWEEN = frozenset({"COMMA", "glue", "with", "SEMI", "of", "only", "in_all", "free"})
_ENDS = frozenset({"COMMA", "STOP", "SEMI", "NL", "PARA", "END", "glue"})
_ADJECTIVES = frozenset({"small", "large", "WORD", "free", "long"})


def read_counted(c: Cursor) -> tuple[dict[str, int], int]:
    """So many of what is counted, from the position on, and where that ends; empty where the words tell anything
    else.
    """
    counts: dict[str, int] = {}
    end = c.at
    while c.at < c.limit:
        c.skip(_BETWEEN)
        if c.at + 2 < c.limit and c.tokens[c.at].kind in ELEMENTS and counted_out(c.tokens, c.at, c.at + 2):
            # "Rings: 12. Chains: 12."
            counts[COUNTED[c.kind()]] = int(c.peek(2).value)
            c.at += 3
            end = c.at
            if c.kind() == "STOP" and c.kind(1) in ELEMENTS and c.kind(2) == "COLON":
                c.next()
            continue
        if c.kind() != "NUM":
            break
        number = int(c.next().value)
        passed = 0
        while c.kind() in _ADJECTIVES and passed < 2:
            c.next()
            passed += 1
        kind = COUNTED.get(c.kind())
        if kind is None:
            break
        after = c.kind(1)
        if after in ("NUM", "COLON", "DASH", "PLUS") or (after == "OPEN" and kind in ("rings", "chains")):
            break
        c.next()
        counts[kind] = counts.get(kind, 0) + number if kind in ("picots", "joins") and kind in counts else number
        end = c.at
    return counts, end


def read_of_each(c: Cursor) -> StatedTotal | None:
    """``each ring has 18 ds``: a total of every element of a kind, stepped over; None, and nothing stepped over, where
    the words tell anything else.
    """
    start = c.at
    found: tuple[str, dict[str, int]] | None = None
    if c.take("each", "all"):
        named = c.take(*ELEMENTS)
        if named is not None and c.take("has", "have"):
            counts, end = read_counted(c)
            c.at = end
            # A list of what is in each is work told in words: only sums of stitches, or of one thing, are totals.
            if ("ds" in counts or len(counts) == 1) and c.kind() not in ("NUM", "COMMA", "OPEN", "glue"):
                found = ELEMENTS[named.kind], counts
    if found is None:
        c.at = start
        return None
    return StatedTotal(found[1], "pattern", each=True, of=found[0])


def tally(steps: list[Step]) -> dict[str, int]:
    """What the steps amount to, repeats multiplied out; a step that is another on some passes counts as it falls.

    An open repeat is counted once. Linear in the steps as written.
    """
    total: dict[str, int] = {}
    _add_steps(steps, 1, 0, total)
    return total


def _add_steps(steps: list[Step], times: int, passes: int, total: dict[str, int]) -> None:
    for step in steps:
        if isinstance(step, Element):
            add_element(step, times, total)
        elif isinstance(step, Repeat):
            inner = step.times if step.times is not None else 1
            _add_steps(step.steps, times * inner, inner, total)
        elif isinstance(step, ByPass):
            other = 0
            for which, instead in step.passes.items():
                if passes or which == "first":
                    rounds = times // passes if passes else times
                    other += rounds
                    _add_steps(instead, rounds, 0, total)
            _add_steps([step.step], max(times - other, 0), 0, total)
        elif isinstance(step, LockJoin):
            _count(total, "lock_joins", times)
        elif isinstance(step, MockPicot):
            _count(total, "mock_picots", times)


_KINDS = {
    "ring": "rings",
    "chain": "chains",
    "split ring": "split_rings",
    "split chain": "split_chains",
    "mock ring": "mock_rings",
    "josephine ring": "josephine_rings",
}


def add_element(element: Element, times: int, total: dict[str, int]) -> None:
    """Add an element, worked so many times, to a tally."""
    _count(total, _KINDS[element.kind], times)
    for item in element.work:
        if isinstance(item, Stitches):
            _count(total, "ds", item.count * times)
        elif isinstance(item, Picot):
            _count(total, "picots", times)
            _count(total, "beads", item.beads * times)
        elif isinstance(item, Join):
            _count(total, "lock_joins" if item.kind == "lock" else "joins", times)
            _count(total, "beads", item.beads * times)
        elif isinstance(item, Beads):
            _count(total, "beads", item.count * times)
        elif isinstance(item, Halves):
            _count(total, "halves", item.count * times)
        elif isinstance(item, Thrown):
            add_element(item.element, times, total)


def _count(total: dict[str, int], name: str, number: int) -> None:
    if number:
        total[name] = total.get(name, 0) + number


def disagreements(stated: StatedTotal, worked: dict[str, int]) -> list[str]:
    """Where a stated total and the work differ, in words: ``8 chains stated, 6 worked``."""
    said: list[str] = []
    for name, number in stated.counts.items():
        found = worked.get(name, 0)
        if name == "rings":
            others = sum(worked.get(kind, 0) for kind in ("split_rings", "mock_rings", "josephine_rings"))
            if found <= number <= found + others:
                continue
        if name == "chains" and found <= number <= found + worked.get("split_chains", 0):
            continue
        if name == "picots" and found <= number <= found + worked.get("mock_picots", 0):
            continue
        if name == "joins" and found <= number <= found + worked.get("lock_joins", 0):
            continue
        if found != number:
            said.append(f"{number} {name.replace('_', ' ')} stated, {found} worked")
    return said


def size_of(steps: list[Step]) -> int:
    """How many steps stand among the steps, as written."""
    number = 0
    waiting: list[Step] = list(steps)
    while waiting:
        step = waiting.pop()
        number += 1
        if isinstance(step, Repeat):
            waiting.extend(step.steps)
        elif isinstance(step, ByPass):
            waiting.append(step.step)
            for others in step.passes.values():
                waiting.extend(others)
    return number


def part_steps(parts: list[Part]) -> list[Step]:
    """The steps of all parts, each part as often as it is worked."""
    steps: list[Step] = []
    for part in parts:
        steps.append(Repeat(part.steps, part.times)) if part.times != 1 else steps.extend(part.steps)
    return steps
