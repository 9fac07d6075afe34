"""What differs between a pattern and the same pattern read back from what was written."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, fields, is_dataclass, replace
from typing import Any

from larkshead.model import ByPass, Element, Part, Pattern, Place, Repeat, Step
from larkshead.writing.losses import Loss

_SKELETON = ("parts",)


@dataclass(slots=True)
class Difference:
    """One difference: ``step`` is the object of the first pattern it concerns (a step, a part, or the pattern)."""

    message: str
    step: object


def differences(before: Pattern, after: Pattern, losses: Sequence[Loss] = (), limit: int = 20) -> list[Difference]:
    """What the second pattern says otherwise than the first, but for what the losses explain; at most ``limit``.

    A loss explains what differs in the step (or part, or work item of the step) it names; one that names the pattern or
    nothing explains what differs in the words around the steps. The words a place was given in are not compared: two
    notations say one place in different words.
    """
    found: list[Difference] = []
    if before == after:
        return found
    for difference in _pattern(before, after, _Explained(losses)):
        found.append(difference)
        if len(found) >= limit:
            break
    return found


class _Explained:
    """The objects that losses speak of."""

    __slots__ = ("ids", "whole")

    def __init__(self, losses: Sequence[Loss]) -> None:
        self.ids = {id(loss.step) for loss in losses if loss.step is not None}
        self.whole = any(loss.step is None or isinstance(loss.step, Pattern) for loss in losses)

    def __contains__(self, thing: object) -> bool:
        return id(thing) in self.ids

    def inside(self, thing: object) -> bool:
        """True when a loss names this or anything in it (steps of a repeat are looked at by themselves)."""
        if not self.ids:
            return False
        if id(thing) in self.ids:
            return True
        if isinstance(thing, (list, tuple)):
            return any(self.inside(item) for item in thing)
        if is_dataclass(thing) and not isinstance(thing, (Repeat, ByPass)):
            return any(self.inside(getattr(thing, f.name)) for f in fields(thing))
        return False


def _pattern(before: Pattern, after: Pattern, explained: _Explained) -> Iterator[Difference]:
    if not explained.whole:
        yield from _fields(before, after, before, "the pattern", _SKELETON, explained)
    for number, part in enumerate(before.parts):
        name = part.name or " ".join(str(x) for x in (part.kind or "part", part.number) if x is not None)
        if number >= len(after.parts):
            if part not in explained:
                yield Difference(f"{name} is missing", part)
            continue
        other = after.parts[number]
        if part not in explained:
            yield from _fields(part, other, part, name, ("steps",), explained)
        yield from _steps(part.steps, other.steps, part, explained)
    for other in after.parts[len(before.parts) :]:
        yield Difference(f"there is a further part ({other.kind or 'without a heading'})", before)


def _fields(
    before: Any, after: Any, step: object, name: str, skipped: tuple[str, ...], explained: _Explained
) -> Iterator[Difference]:
    """Differences in the plain fields of two objects of one class."""
    for f in fields(before):
        mine, other = getattr(before, f.name), getattr(after, f.name)
        if f.name not in skipped and mine != other and _bare(mine) != _bare(other) and not explained.inside(mine):
            what = f.name.replace("_", " ")
            yield Difference(f"{name}: {what} {_short(mine)} became {_short(other)}", step)


def _steps(before: list[Step], after: list[Step], owner: object, explained: _Explained) -> Iterator[Difference]:
    """Differences between two runs of steps; a step that a loss names may be missing from the second."""
    at = 0
    for number, step in enumerate(before):
        other = after[at] if at < len(after) else None
        if other is not None and (step == other or _bare(step) == _bare(other)):
            at += 1
            continue
        if explained.inside(step):
            following = before[number + 1] if number + 1 < len(before) else None
            stands = other is not None and not (
                following is not None and (following == other or _bare(following) == _bare(other))
            )
            same_sort = type(other) is type(step)
            if stands and (same_sort or len(after) - at >= len(before) - number):
                at += 1
            if not (same_sort and stands):
                continue
        elif other is None:
            yield Difference(f"{_name(step)} is missing", step)
            continue
        else:
            at += 1
        yield from _step(step, other, explained)
    for other in after[at:]:
        yield Difference(f"there is a further step: {_name(other)}", owner)


def _step(step: Step, other: Any, explained: _Explained) -> Iterator[Difference]:
    if type(step) is not type(other):
        yield Difference(f"{_name(step)} became {_name(other)}", step)
    elif isinstance(step, Repeat):
        if step not in explained:
            yield from _fields(step, other, step, "a repeat", ("steps",), explained)
        yield from _steps(step.steps, other.steps, step, explained)
    elif isinstance(step, ByPass):
        yield from _steps([step.step], [other.step], step, explained)
        if step not in explained:
            if set(step.passes) != set(other.passes):
                yield Difference("what changes on some passes became something else", step)
            for which in step.passes:
                yield from _steps(step.passes[which], other.passes.get(which, []), step, explained)
    elif not explained.inside(step):
        yield from _fields(step, other, step, _name(step), (), explained)


def _bare(thing: Any) -> Any:
    """The same without the words that places were given in."""
    if isinstance(thing, Place):
        return replace(thing, words="") if thing.words else thing
    if isinstance(thing, list):
        return [_bare(item) for item in thing]
    if isinstance(thing, dict):
        return {key: _bare(value) for key, value in thing.items()}
    if is_dataclass(thing) and not isinstance(thing, (Part, type)):
        return replace(thing, **{f.name: _bare(getattr(thing, f.name)) for f in fields(thing)})
    return thing


def _name(step: Any) -> str:
    if isinstance(step, Element):
        return f"{step.kind} {step.label}" if step.label else f"a {step.kind}"
    return {"BareThread": "bare thread", "NoTurn": "do not turn", "HideEnds": "hiding ends"}.get(
        type(step).__name__, type(step).__name__.lower()
    )


def _short(thing: Any) -> str:
    if thing in ("", None, []):
        return "(nothing)"
    text = repr(thing)
    return text if len(text) <= 120 else text[:117] + "..."
