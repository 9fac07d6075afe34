"""What differs between a pattern and the same pattern read back from what was written."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import fields, is_dataclass
from typing import Any

from larkshead.model import ByPass, Part, Pattern, Repeat
from larkshead.records import dataclass
from larkshead.writing.alike import Shape, describe, key_of, part_shapes, text_key
from larkshead.writing.freetext import is_used
from larkshead.writing.losses import Loss

# Runs of steps longer than this are compared one by one in order, without looking for what was moved.
_ALIGNED = 500


@dataclass(slots=True)
class Difference:
    """One difference: ``step`` is the object of the first pattern it concerns (a step, a part, or the pattern)."""

    message: str
    step: object


def differences(before: Pattern, after: Pattern, losses: Sequence[Loss] = (), limit: int = 20) -> list[Difference]:
    """What the second pattern says otherwise than the first, but for what the losses explain; at most ``limit``.

    The patterns are compared as written: structure, counts, places, repeats, what changes on which pass. What ``alike``
    lists is no difference. A loss explains what differs in the step (or part, or work item of the step) it names; one
    that names the pattern or nothing explains what differs in the words around the steps.
    """
    found: list[Difference] = []
    try:
        if before == after:
            return found
        for difference in _Comparison(losses).patterns(before, after):
            found.append(difference)
            if len(found) >= limit:
                break
    except RecursionError:
        found.append(Difference("the steps are nested too deep to be compared", before))
    return found


class _Comparison:
    """One comparison: what losses explain, and which label stands for which."""

    def __init__(self, losses: Sequence[Loss]) -> None:
        self.ids = {id(loss.step) for loss in losses if loss.step is not None}
        self.whole = any(loss.step is None or isinstance(loss.step, Pattern) for loss in losses)
        self.renamed: dict[str, str] = {}
        self.taken: dict[str, str] = {}

    def patterns(self, before: Pattern, after: Pattern) -> Iterator[Difference]:
        if not self.whole:
            yield from self._around(before, after)
        for number, part in enumerate(before.parts):
            name = _part_name(part, number)
            if number >= len(after.parts):
                if id(part) not in self.ids:
                    yield Difference(f"{name} is missing", part)
                continue
            other = after.parts[number]
            if id(part) not in self.ids:
                yield from self._fields(part, other, name, ("kind", "number", "name", "times"), part)
            yield from self._runs(part_shapes(part), part_shapes(other), name, part)
        for number, other in enumerate(after.parts[len(before.parts) :], len(before.parts)):
            yield Difference(f"there is a part more: {_part_name(other, number)}", before)

    def _around(self, before: Pattern, after: Pattern) -> Iterator[Difference]:
        names = [f.name for f in fields(Pattern) if f.name not in ("parts", "abbreviations")]
        yield from self._fields(before, after, "", names, before)
        there = {text_key(own.form) for own in after.abbreviations}
        for own in before.abbreviations:
            if own.concept is None and text_key(own.form) not in there and is_used(own.form, before):
                yield Difference(f"the abbreviation {own.form} = {own.meaning} is missing", before)

    def _fields(self, before: Any, after: Any, name: str, names: Sequence[str], step: object) -> Iterator[Difference]:
        for field in names:
            mine, other = getattr(before, field), getattr(after, field)
            if mine != other and key_of(mine, []) != key_of(other, []) and not self._explains(mine):
                what = ", ".join(filter(None, (name, field.replace("_", " "))))
                yield Difference(f"{what}: {_short(mine)} became {_short(other)}", step)

    # Runs of steps

    def _runs(self, before: list[Shape], after: list[Shape], where: str, owner: object) -> Iterator[Difference]:
        """Differences between two runs: what is the same on both sides is set against each other first."""
        for mine, others in _pairs(before, after):
            if len(mine) == len(others):
                for one, other in zip(mine, others, strict=True):
                    yield from self._step(one, other, where)
                continue
            mine = [one for one in mine if not self._explains(one.step)] if len(mine) > len(others) else mine
            for one, other in zip(mine, others, strict=False):
                yield from self._step(one, other, where)
            for one in mine[len(others) :]:
                yield Difference(f"{where}: {describe(one.step)} is missing", one.step)
            for other in others[len(mine) :]:
                if not any(self._explains(one.step) for one in mine):
                    yield Difference(f"{where}: there is a step more: {describe(other.step)}", owner)

    def _step(self, before: Shape, after: Shape, where: str) -> Iterator[Difference]:
        explained = self._explains(before.step)
        if before.key != after.key:
            if not explained:
                yield Difference(f"{where}: {describe(before.step)} became {describe(after.step)}", before.step)
            if before.key[0] != after.key[0]:
                return
        elif not explained:
            yield from self._labels(before, after, where)
        if before.inner or after.inner:
            yield from self._runs(before.inner, after.inner, where, before.step)
        if explained:
            return
        for which in [*before.passes, *(w for w in after.passes if w not in before.passes)]:
            pass_name = f"{where}, on {f'pass {which}' if isinstance(which, int) else f'the {which} pass'}"
            if which not in after.passes:
                yield Difference(f"{pass_name}: nothing is changed any more", before.step)
            elif which not in before.passes:
                yield Difference(f"{pass_name}: something is changed that was not", before.step)
            else:
                yield from self._runs(before.passes[which], after.passes[which], pass_name, before.step)

    def _labels(self, before: Shape, after: Shape, where: str) -> Iterator[Difference]:
        for mine, other in zip(before.labels, after.labels, strict=True):
            if mine is None:
                continue
            if other is None:
                yield Difference(f"{where}: {describe(before.step)} has lost its label {mine}", before.step)
            elif self.renamed.setdefault(text_key(mine), text_key(other)) != text_key(other) or self.taken.setdefault(
                text_key(other), text_key(mine)
            ) != text_key(mine):
                yield Difference(f"{where}: in {describe(before.step)} the label {mine} became {other}", before.step)

    def _explains(self, thing: object) -> bool:
        """True when a loss names this or anything in it (steps of a repeat are looked at by themselves)."""
        if not self.ids:
            return False
        if id(thing) in self.ids:
            return True
        if isinstance(thing, list | tuple):
            return any(self._explains(item) for item in thing)
        if is_dataclass(thing) and not isinstance(thing, Repeat | ByPass | Part | Pattern):
            return any(self._explains(getattr(thing, f.name)) for f in fields(thing))
        return False


def _pairs(before: list[Shape], after: list[Shape]) -> Iterator[tuple[list[Shape], list[Shape]]]:
    """Stretches of two runs that belong together, in order."""
    if len(before) == len(after) or max(len(before), len(after)) > _ALIGNED:
        yield before, after
        return
    from difflib import SequenceMatcher

    match = SequenceMatcher(None, [one.key for one in before], [one.key for one in after], autojunk=False)
    for _, i, j, k, n in match.get_opcodes():
        yield before[i:j], after[k:n]


def _part_name(part: Part, number: int) -> str:
    named = " ".join(str(x) for x in (part.kind, part.number) if x not in (None, ""))
    return part.name or named or f"part {number + 1}"


def _short(thing: Any) -> str:
    if thing in ("", None, [], {}):
        return "(nothing)"
    text = repr(thing)
    return text if len(text) <= 120 else text[:117] + "..."
