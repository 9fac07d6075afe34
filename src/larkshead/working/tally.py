"""Totals: what is written times how often it is worked. Nothing is expanded, so no repeat is too long to be counted."""

from __future__ import annotations

from larkshead.model import Action, BareThread, Element, Join, LockJoin, MockPicot, Pattern
from larkshead.records import dataclass, field
from larkshead.working.plans import plan_of, thrown_off
from larkshead.working.weights import Weights
from larkshead.working.worked import Worked

# Beyond this a count is no longer a number of stitches, and is not said.
MOST = 10**18
_MOST_THROWN = 200_000


@dataclass(slots=True)
class Counts:
    """Totals of a pattern or a part; None for what hangs on a repeat of unknown number (or is past saying, over
    10**18).

    ``rings`` are rings of every sort, ``chains`` chains and split chains; a chain with elements thrown off it
    counts for as many pieces as they part it into. ``ds`` whole double stitches, ``halves`` half stitches.
    ``picots`` ordinary, long and small ones. ``joins`` picot joins, lock joins in elements and lock joins between
    them; ``lock_joins`` the latter two. ``bare_thread`` millimetres of the bare thread whose length is given,
    ``unmeasured`` how many stretches have none.
    """

    rings: int | None = 0
    chains: int | None = 0
    split_rings: int | None = 0
    mock_rings: int | None = 0
    josephine_rings: int | None = 0
    split_chains: int | None = 0
    ds: int | None = 0
    halves: int | None = 0
    picots: int | None = 0
    mock_picots: int | None = 0
    joins: int | None = 0
    lock_joins: int | None = 0
    beads: int | None = 0
    bare_thread: float | None = 0.0
    unmeasured: int | None = 0

    def as_dict(self) -> dict[str, int | float | None]:
        """The totals by name."""
        return {name: getattr(self, name) for name in NAMES}


# The totals there are, in the order they are told.
NAMES = tuple(Counts.__annotations__)


@dataclass(slots=True)
class PartTally(Counts):
    """Totals of one part, all the times it is worked. ``kind``, ``number`` and ``name`` are the part's own."""

    kind: str = ""
    number: int | None = None
    name: str = ""
    times: int = 1


@dataclass(slots=True)
class Tally(Counts):
    """Totals of a whole pattern, and of each of its parts."""

    parts: list[PartTally] = field(default_factory=list)


def tally(worked: Worked) -> Tally:
    """The totals of a worked pattern; also of one that is beyond the limits."""
    return tally_pattern(worked.pattern)


def tally_pattern(pattern: Pattern) -> Tally:
    """The totals of a pattern as written."""
    parts = [PartTally(kind=p.kind, number=p.number, name=p.name, times=p.times) for p in pattern.parts]
    sums: list[dict[str, int | float]] = [{} for _ in parts]
    unknown: list[set[str]] = [set() for _ in parts]
    known: dict[int, dict[str, int | float]] = {}
    weights = Weights(pattern)
    for found in weights.walk():
        own = known.get(id(found.step))
        if own is None:
            own = known[id(found.step)] = _of(found.step)
        if found.open or found.times > MOST:
            unknown[found.part].update(own)
        else:
            into = sums[found.part]
            for name, count in own.items():
                into[name] = into.get(name, 0) + count * found.times
    total = Tally(parts=parts)
    if weights.cut_short:
        for part in (total, *parts):
            for name in NAMES:
                setattr(part, name, None)
        return total
    for name in NAMES:
        for part, summed, hidden in zip(parts, sums, unknown, strict=True):
            count = summed.get(name, getattr(part, name))
            setattr(part, name, None if name in hidden or count > MOST else count)
        counts = [getattr(part, name) for part in parts]
        whole = None if None in counts else sum(counts)
        setattr(total, name, None if whole is not None and whole > MOST else whole)
    return total


def _of_element(step: Element) -> dict[str, int | float]:
    counts: dict[str, int | float] = {}
    elements = [step, *thrown_off(step, _MOST_THROWN)]
    if len(elements) > _MOST_THROWN:
        return dict.fromkeys(NAMES, MOST + 1)
    for element in elements:
        plan = plan_of(element)
        own = {
            plan.family + "s": plan.pieces if plan.family == "chain" else 1,
            "ds": plan.ds,
            "halves": plan.halves,
            "beads": plan.beads,
            "picots": plan.picots,
            "joins": plan.joins,
            "lock_joins": sum(1 for item in element.work if isinstance(item, Join) and item.kind == "lock"),
        }
        if element.kind not in ("ring", "chain"):
            own[element.kind.replace(" ", "_") + "s"] = 1
        for name, count in own.items():
            if count:
                counts[name] = counts.get(name, 0) + count
    return counts


def _of(step: Element | Action) -> dict[str, int | float]:
    if isinstance(step, Element):
        return _of_element(step)
    if isinstance(step, LockJoin):
        return {"joins": 1, "lock_joins": 1}
    if isinstance(step, MockPicot):
        return {"mock_picots": 1}
    if isinstance(step, BareThread):
        try:
            length = step.length.mm if step.length is not None else None
        except ValueError:
            length = None
        return {"unmeasured": 1} if length is None else {"bare_thread": length}
    return {}
