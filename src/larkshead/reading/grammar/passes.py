"""Changes laid on elements and passes: a join for a picot on the later passes, another join on the last, a count for a count."""

from __future__ import annotations

from copy import deepcopy
from dataclasses import replace

from larkshead.model import ByPass, Element, Join, LockJoin, Picot, Repeat, Step, Stitches, WorkItem
from larkshead.reading.grammar.going_on import sizes_of
from larkshead.reading.grammar.said import Change
from larkshead.reading.origins import Origins

# Passes at most that keep what they are before a change told of the later ones.
_EARLY = 12


def apply_change(work: list[WorkItem], change: Change) -> bool:
    """Make the named item of the work into what the change says; False where there is no such item."""
    if change.what == "stitches":
        swapped = False
        for i, item in enumerate(work):
            if isinstance(item, Stitches) and item.count == change.item:
                work[i], swapped = Stitches(int(change.into)), True
        return swapped
    if change.into == "lock":
        work.append(Join([replace(p) for p in change.places], "lock"))
        return True
    spots = [i for i, item in enumerate(work) if isinstance(item, Picot | Join)]
    if not spots:
        return False
    picots = [i for i in spots if isinstance(work[i], Picot)]
    if change.into == "join" and not change.item_told and isinstance(work[spots[0]], Join) and change.item == "first":
        told = work[spots[0]]
        if change.passes == "" and isinstance(told, Join) and told.places:
            # What is said of all gives way to what the element says of itself.
            return True
        work[spots[0]] = Join([replace(p) for p in change.places])
        return True
    pool = picots or spots
    if change.item in ("first", "only"):
        at = pool[0]
    elif change.item == "last":
        at = pool[-1]
    elif change.item == "middle":
        at = spots[len(spots) // 2]
    elif isinstance(change.item, int) and 0 < change.item <= len(spots):
        at = spots[change.item - 1]
    else:
        return False
    if change.into == "join":
        work[at] = Join([replace(p) for p in change.places])
    elif change.into == "picot":
        work[at] = Picot()
    else:
        del work[at]
    return True


def _places(steps: list[Step], passes: int, out: list[tuple[list[Step], int, int]]) -> None:
    """Every element among the steps: the list it stands in, its index, and how many passes it is worked."""
    for i, step in enumerate(steps):
        if isinstance(step, Repeat):
            _places(step.steps, (step.times or 0) * passes if passes else 0, out)
        elif isinstance(step, Element) or (isinstance(step, ByPass) and isinstance(step.step, Element)):
            out.append((steps, i, passes))


def lay_change(steps: list[Step], change: Change, origins: Origins, final: bool = False) -> bool:
    """Lay a change on the elements among ``steps`` that it speaks of; False where there are none.

    Said of later passes, the join becomes the step and the first pass keeps its picot; said of the last or a numbered
    pass, only that pass is another.
    """
    found: list[tuple[list[Step], int, int]] = []
    _places(steps, 1, found)
    if not change.element_kind:
        change.element_kind = _usual_kind(found, change)
    wanted = [f for f in found if _is_kind(f[0][f[1]], change)]
    if change.size:
        sizes = sizes_of([_element(where[at]) for where, at, _ in wanted])
        wanted = [f for f, size in zip(wanted, sizes, strict=True) if size in (change.size, "")]
    if change.by_passage and not final and any(f[2] == 1 for f in wanted):
        return False
    if change.which:
        wanted = _of_that_number(wanted, change.which)
    if not wanted:
        return False
    if change.passes == "first":
        if _relative(change):
            return True
        change.passes = 1
    if change.passes in ("last",) or isinstance(change.passes, int):
        if not final and len(wanted) == 1 and wanted[0][2] == 1 and change.passes != 1:
            return False
        return _on_pass(wanted, change, origins)
    done = False
    for number, (where, at, passes) in enumerate(wanted):
        step = where[at]
        plain = step.step if isinstance(step, ByPass) else step
        assert isinstance(plain, Element)
        first = (number == 0 or (change.by_passage and passes != 1)) and (
            change.elements == "later" or (change.elements in ("all", "") and _relative(change))
        )
        if first and passes == 1:
            if len(wanted) == 1 and not final:
                return False
            if len(wanted) > 1:
                continue
        if change.elements == "later" and passes == 1 and number < change.start - 1:
            continue
        changed = deepcopy(plain)
        if not apply_change(changed.work, change):
            continue
        done = True
        origins.record(changed, origins.of(plain) or change.span)
        if first and passes != 1:
            kept = step.passes if isinstance(step, ByPass) else {}
            before: dict[str | int, list[Step]] = {"first": [plain]}
            for early in range(2, min(change.start, passes, _EARLY) if change.elements == "later" else 2):
                before[early] = [deepcopy(plain)]
                origins.record(before[early][0], origins.of(plain) or change.span)
            where[at] = ByPass(changed, {**before, **kept})
        elif isinstance(step, ByPass):
            step.step = changed
        else:
            where[at] = changed
    return done


def _usual_kind(found: list[tuple[list[Step], int, int]], change: Change) -> str:
    """Where the text does not say, rings are joined to each other, and a chain ends at a base."""
    kinds = [_element(where[at]).kind for where, at, _ in found]
    if change.into == "lock":
        return "chain" if "chain" in kinds else kinds[-1] if kinds else ""
    return "ring" if "ring" in kinds else ""


def _element(step: Step) -> Element:
    element = step.step if isinstance(step, ByPass) else step
    assert isinstance(element, Element)
    return element


def _on_pass(wanted: list[tuple[list[Step], int, int]], change: Change, origins: Origins) -> bool:
    where, at, passes = wanted[-1]
    number = change.passes
    if isinstance(number, int):
        found = _by_number(wanted, number)
        if found is None:
            return False
        where, at, passes, number = found
    step = where[at]
    plain = step.step if isinstance(step, ByPass) else step
    assert isinstance(plain, Element)
    if change.into == "lock" and at + 1 < len(where) and isinstance(where[at + 1], LockJoin):
        locked = LockJoin([replace(p) for p in change.places])
        origins.record(locked, change.span)
        where[at + 1] = ByPass(where[at + 1], {"last": [locked]}) if passes != 1 else locked
        return True
    changed = deepcopy(plain)
    ending = changed.work[-1] if changed.work else None
    if change.into == "lock" and isinstance(ending, Join):
        ending.places = [replace(p) for p in change.places]
    elif not apply_change(changed.work, change):
        return False
    origins.record(changed, origins.of(plain) or change.span)
    if passes == 1:
        where[at] = changed
        return True
    which: str | int = "last" if number in ("last", passes) else number
    kept = step.passes if isinstance(step, ByPass) else {}
    where[at] = ByPass(plain, {**kept, which: [changed]})
    return True


def _of_that_number(wanted: list[tuple[list[Step], int, int]], number: int) -> list[tuple[list[Step], int, int]]:
    """Of the elements of each repeat the one of that number."""
    seen: dict[int, int] = {}
    out = []
    for found in wanted:
        seen[id(found[0])] = seen.get(id(found[0]), 0) + 1
        if seen[id(found[0])] == number:
            out.append(found)
    return out


def _by_number(wanted: list[tuple[list[Step], int, int]], number: int) -> tuple[list[Step], int, int, int] | None:
    """The element of that number among those worked, and on which pass of its repeat it falls.

    Where several elements of one repeat are wanted, the number is that of the pass.
    """
    alone = [sum(1 for other in wanted if other[0] is where) == 1 or passes == 1 for where, _, passes in wanted]
    before = 0
    for (where, at, passes), single in zip(wanted, alone, strict=True):
        if not single or passes == 0:
            where, at, passes = wanted[-1]
            return where, at, passes, number
        if number <= before + passes:
            return where, at, passes, number - before
        before += passes
    return None


def _relative(change: Change) -> bool:
    """The join goes to an element before: the first one has none."""
    return any(p.element is not None and p.element.which == "previous" for p in change.places) or not change.places


def _is_kind(step: Step, change: Change) -> bool:
    element = step.step if isinstance(step, ByPass) else step
    if not isinstance(element, Element):
        return False
    if change.element_kind and element.kind != change.element_kind:
        return False
    return (
        bool(change.into == "lock" and not change.element_kind and element.kind == "chain")
        or any(isinstance(x, Picot | Join) for x in element.work)
        or change.into == "lock"
    )
