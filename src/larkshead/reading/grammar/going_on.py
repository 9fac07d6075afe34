"""Going on with what was told until a number is reached: which steps are the pass, how many passes, and where the last one stops."""

from __future__ import annotations

from larkshead.model import ByPass, Element, Note, Repeat, Step, Stitches

_LIMIT = 10**7


def go_on_until(steps: list[Step], counts: dict[str, int]) -> tuple[int, int, int] | None:
    """How the steps told go on until there are ``counts`` elements of each kind (``ring``, ``large ring``, ``each``).

    (where the pass begins, passes of it in all, how many of its steps are worked once more); None where the numbers do not
    come out.
    """
    elements = [(i, s) for i, s in ((i, _plain(s)) for i, s in enumerate(steps)) if s is not None]
    if not elements:
        return None
    sizes = sizes_of([e for _, e in elements])
    wanted = {k: n for k, n in counts.items() if k != "each"}
    if "each" in counts:
        for (_, e), size in zip(elements, sizes, strict=True):
            key = f"{size} {e.kind}" if size and len({s for s in sizes if s}) > 1 else e.kind
            wanted[key] = counts["each"]
    period = period_of([e for _, e in elements], wanted)
    if period == 0:
        return None
    last_at = elements[-1][0]
    trailing = sum(1 for step in steps[last_at + 1 :] if not isinstance(step, Note))
    count = len(elements)
    before = elements[count - period - 1][0] + 1 if count > period else 0
    behind = before
    for _ in range(trailing):
        while behind < last_at and isinstance(steps[behind], Note):
            behind += 1
        behind += 1
    begin = (
        min(behind, elements[count - period][0]) if count > period else _lead(steps, elements[0][0], elements, wanted)
    )
    if count > period and trailing == 0:
        begin = before
    have: dict[str, int] = {}
    for (_, e), size in zip(elements, sizes, strict=True):
        for key in (e.kind, f"{size} {e.kind}"):
            have[key] = have.get(key, 0) + 1
    unit = list(zip(elements, sizes, strict=True))[count - period :]
    gain = {key: sum(1 for (_, e), size in unit if key in (e.kind, f"{size} {e.kind}")) for key in wanted}
    lacking = {key: n - have.get(key, 0) for key, n in wanted.items()}
    if any(n < 0 for n in lacking.values()) or any(n > 0 and not gain[k] for k, n in lacking.items()):
        return None
    whole = min((n // gain[k] for k, n in lacking.items() if gain[k]), default=0)
    if whole > _LIMIT:
        return begin, whole + 1, 0
    rest = {k: n - whole * gain[k] for k, n in lacking.items()}
    over = 0
    if any(rest.values()):
        for (at, e), size in unit:
            keys = (e.kind, f"{size} {e.kind}")
            if not any(rest.get(k, 0) > 0 for k in rest):
                break
            for k in keys:
                if k in rest:
                    rest[k] -= 1
            over = at + 1 - begin
        if any(rest.values()):
            return None
    return begin, whole + 1, over


def _plain(step: Step) -> Element | None:
    if isinstance(step, ByPass):
        return _plain(step.step)
    if isinstance(step, Repeat) and len(step.steps) == 1 and step.times is not None and step.times < 2:
        return _plain(step.steps[0])
    return step if isinstance(step, Element) else None


def _stitches(element: Element) -> int:
    return sum(item.count for item in element.work if isinstance(item, Stitches))


def sizes_of(elements: list[Element]) -> list[str]:
    """Large and small among like elements that differ in stitches, where they come in two sizes."""
    totals: dict[str, set[int]] = {}
    for e in elements:
        totals.setdefault(e.kind, set()).add(_stitches(e))
    out = []
    for e in elements:
        group = totals[e.kind]
        out.append(e.size or (("large" if _stitches(e) == max(group) else "small") if len(group) == 2 else ""))
    return out


def _shape(element: Element) -> tuple[str, tuple[int, ...]]:
    return element.kind, tuple(item.count for item in element.work if isinstance(item, Stitches))


def period_of(elements: list[Element], wanted: dict[str, int] | None = None) -> int:
    """How many elements make one pass.

    Where an element of the shape of the last one was told before, the distance between them; where the elements not counted
    stand only at the beginning, those behind them; else all.
    """
    last = _shape(elements[-1])
    for back in range(1, len(elements)):
        if _shape(elements[-1 - back]) == last:
            return back
    kinds = {key.split(" ", 1)[1] if key.startswith(("large ", "small ")) else key for key in wanted or {}}
    run = len(elements)
    for i, e in enumerate(elements):
        if e.kind in kinds or any(later.kind == e.kind for later in elements[i + 1 :]):
            run = len(elements) - i
            break
    return run if len(kinds) and run < len(elements) and len(kinds) == 1 else len(elements)


def _lead(steps: list[Step], first: int, elements: list[tuple[int, Element]], wanted: dict[str, int]) -> int:
    """A pass that is everything told begins with its first element, or with the turn or thread before it."""
    return 0 if first <= 2 and not any(isinstance(s, Element) for s in steps[:first]) else first
