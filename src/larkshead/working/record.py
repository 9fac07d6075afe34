"""What has been worked so far, kept so that any element can be found without looking through the whole of it."""

from __future__ import annotations

from bisect import bisect_left
from operator import attrgetter

from larkshead.model import ByPass, Element, Join, NoTurn, Pattern, Repeat, Step, Turn
from larkshead.records import dataclass, field
from larkshead.working.plans import Plan, plan_of, thrown_off
from larkshead.working.worked import WorkedAction, WorkedElement, WorkedPicot

_index = attrgetter("index")


@dataclass(slots=True, eq=False)
class Scope:
    """A stretch of the worked sequence that a place may speak of: a part, what lies between two cuts, a pass of a
    repeat.

    ``end`` is None while it is being worked; ``of_cut`` where only a cut bounds it. ``part`` is the part's index
    in the pattern, ``name`` what a reader calls it.
    """

    start: int
    part: int
    name: str = ""
    end: int | None = None
    of_cut: bool = False
    offsets: dict[str, int] = field(default_factory=dict)
    walks: dict[tuple[str, str], Walk] = field(default_factory=dict)

    def holds(self, element: WorkedElement) -> bool:
        """Whether an element was worked in this stretch."""
        return self.start <= element.index and (self.end is None or element.index < self.end)


class Walk:
    """The picots of a finished scope in working order, for going from one to the next; ``elements`` they belong to."""

    __slots__ = ("_at", "elements", "picots")

    def __init__(self, picots: list[WorkedPicot]) -> None:
        self.picots = picots
        self.elements = len({picot.element.index for picot in picots})
        self._at = {id(picot): at for at, picot in enumerate(picots)}

    def after(self, picot: WorkedPicot | None) -> WorkedPicot:
        """The picot after this one, round again at the end; the first after nothing."""
        if picot is None:
            return self.picots[0]
        at = self._at.get(id(picot))
        if at is None:
            key = (picot.element.index, picot.number)
            at = bisect_left(self.picots, key, key=lambda one: (one.element.index, one.number)) - 1
        return self.picots[(at + 1) % len(self.picots)]


class Record:
    """Elements as worked, by family, kind, size, label and sort, each list in working order."""

    def __init__(self, pattern: Pattern) -> None:
        self.lists: dict[str, list[WorkedElement]] = {"element": [], "ring": [], "chain": []}
        # By label and family; the family is empty for all that have the label: R1 and C1 may both be called 1.
        self.labelled: dict[tuple[str, str], list[WorkedElement]] = {}
        self.sorts: dict[object, list[WorkedElement]] = {}
        self.bare: list[WorkedAction] = []
        self.mocks: list[WorkedPicot] = []
        self.written = _Written(pattern)
        self._plans: dict[int, Plan] = {}
        # The lists that elements of one kind and sort stand in, where neither label nor size sets them apart.
        self._lists_alike: dict[tuple[str, object], tuple[list[WorkedElement], ...]] = {}

    def plan(self, step: Element, thrown: bool = False) -> Plan:
        """The fixed facts of a written element."""
        plan = self._plans.get(id(step))
        if plan is None:
            plan = self.written.plans.pop(id(step), None)
            if plan is None or thrown:
                plan = plan_of(step, thrown)
            self._plans[id(step)] = plan
            plan.sort = self.written.sorts.get(id(step), plan.sort)
            plan.lists = self._lists_for(plan)
        return plan

    @staticmethod
    def add(element: WorkedElement, plan: Plan) -> None:
        """Enter an element as it is begun."""
        for into in plan.lists:
            into.append(element)

    def _lists_for(self, plan: Plan) -> tuple[list[WorkedElement], ...]:
        if plan.step.label or self.written.sizes_named:
            return self._new_lists(plan)
        alike = plan.step.kind, plan.sort
        lists = self._lists_alike.get(alike)
        if lists is None:
            lists = self._lists_alike[alike] = self._new_lists(plan)
        return lists

    def _new_lists(self, plan: Plan) -> tuple[list[WorkedElement], ...]:
        step = plan.step
        keys = ["element", plan.family]
        if step.kind != plan.family:
            keys.append(step.kind)
        if self.written.sizes_named:
            size = self.written.size_of(plan)
            keys += [f"{key} {size}" for key in keys]
        lists = [self.lists.setdefault(key, []) for key in keys]
        if step.label:
            label = label_key(step.label)
            lists.append(self.labelled.setdefault((label, ""), []))
            lists.append(self.labelled.setdefault((label, plan.family), []))
        lists.append(self.sorts.setdefault(plan.sort, []))
        return tuple(lists)

    def sort(self, element: WorkedElement) -> object:
        """Equal for elements that stand for each other on other passes, or have the same kind, size and groups."""
        return self._plans[id(element.step)].sort

    def like(self, element: WorkedElement) -> list[WorkedElement]:
        """The elements worked so far that stand for the same as this one, itself included."""
        return self.sorts[self.sort(element)]

    def within(self, scope: Scope, key: str) -> tuple[list[WorkedElement], int, int]:
        """The elements of a scope: the list they stand in, and where they begin and end in it."""
        found = self.lists.get(key)
        if not found:
            return [], 0, 0
        low = scope.offsets.get(key)
        if low is None:
            low = scope.offsets[key] = bisect_left(found, scope.start, key=_index)
        if scope.end is None:
            return found, low, len(found)
        return found, low, bisect_left(found, scope.end, low, key=_index)

    def walk(self, scope: Scope, key: str, size: str) -> Walk | None:
        """The picots of a finished scope that a later part may take one after the other: those that the scope's own
        elements have not joined to, or all where none is left; None where there are none."""
        walk = scope.walks.get((key, size))
        if walk is None:
            found, low, high = self.within(scope, key)
            every = [p for e in found[low:high] for p in e.picots if not size or (p.made and p.made.size == size)]
            if not every and size:
                return self.walk(scope, key, "")
            free = [p for p in every if not p.uses or p.uses[0].part != scope.part]
            walk = Walk(free or every)
            scope.walks[key, size] = walk
        return walk if walk.picots else None

    def bare_within(self, scope: Scope) -> bool:
        """Whether bare thread has been left in a scope."""
        at = bisect_left(self.bare, scope.start, key=_index)
        return at < len(self.bare) and (scope.end is None or self.bare[at].index < scope.end)


def label_key(label: str) -> str:
    """A label as it is looked up."""
    return " ".join(label.split()).casefold()


class _Written:
    """What a look through the steps as written tells before working: labels, sorts and sizes."""

    def __init__(self, pattern: Pattern) -> None:
        self.labels: set[str] = set()
        # What letters before a number stand for in labels: R in R1 for a ring; nothing where they stand for both.
        self.stems: dict[str, str] = {}
        self.sorts: dict[int, object] = {}
        # The plans of elements that no element throws off.
        self.plans: dict[int, Plan] = {}
        self.sizes_named = False
        self.passes_named = False
        self._kinds = {"", "part", "round", "row", *(part.kind for part in pattern.parts)}
        self.instead: set[int] = set()
        # The fewest and most stitches of rings and of chains, and of those the text calls large or small.
        self._ds: dict[str, tuple[int, int]] = {}
        self._said_ds: dict[tuple[str, str], tuple[int, int]] = {}
        self._seen: set[int] = set()
        waiting: list[Step] = [step for part in pattern.parts for step in part.steps]
        while waiting:
            step = waiting.pop()
            kind = type(step)
            if kind is Turn or kind is NoTurn:
                continue
            if isinstance(step, Element):
                if id(step) in self.plans:
                    continue
                plan = self.plans[id(step)] = plan_of(step)
                self._see(step, plan)
                if plan.picots + plan.joins < len(plan.makes):
                    for element in thrown_off(step):
                        self._see(element, plan_of(element))
                continue
            if id(step) in self._seen:
                continue
            self._seen.add(id(step))
            if isinstance(step, Repeat):
                waiting.extend(step.steps)
            elif isinstance(step, ByPass):
                self._see_by_pass(step)
                waiting.append(step.step)
                for steps in step.passes.values():
                    waiting.extend(steps)
                    self.instead.update(map(id, steps))
            else:
                self._see_places(getattr(step, "places", ()))

    def _see(self, step: Element, plan: Plan) -> None:
        if step.label:
            label = label_key(step.label)
            self.labels.add(label)
            stem = label.rstrip("0123456789")
            family = "ring" if step.kind.endswith("ring") else "chain"
            if stem and stem != label:
                self.stems[stem.rstrip()] = family if self.stems.get(stem.rstrip(), family) == family else ""
        low, high = self._ds.get(plan.family, (plan.ds, plan.ds))
        if not low < plan.ds < high:
            self._ds[plan.family] = (min(low, plan.ds), max(high, plan.ds))
        if step.size:
            low, high = self._said_ds.get((plan.family, step.size), (plan.ds, plan.ds))
            self._said_ds[plan.family, step.size] = (min(low, plan.ds), max(high, plan.ds))
        if plan.joins:
            for _, _, item in plan.makes:
                if isinstance(item, Join) and item.places:
                    self._see_places(item.places)

    def _see_places(self, places: object) -> None:
        if isinstance(places, list):
            self.sizes_named |= any(place.element is not None and place.element.size for place in places)
            self.passes_named |= any(place.part is not None and place.part.kind not in self._kinds for place in places)

    def _see_by_pass(self, step: ByPass) -> None:
        """An element worked instead on some pass stands for the one it replaces."""
        if not isinstance(step.step, Element):
            return
        sort = self.sorts.setdefault(id(step.step), plan_of(step.step).sort)
        for steps in step.passes.values():
            for other in steps:
                if isinstance(other, Element) and other.kind == step.step.kind:
                    self.sorts[id(other)] = sort

    def size_of(self, plan: Plan) -> str:
        """``large`` or ``small``: as the text says; where it says so of others only, by their stitches; where it
        says it of none, by the middle of the stitch counts.
        """
        if plan.step.size in ("large", "small"):
            return plan.step.size
        large, small = (self._said_ds.get((plan.family, size)) for size in ("large", "small"))
        if small is not None and large is None and plan.ds > small[1]:
            return "large"
        if large is not None and small is None and plan.ds < large[0]:
            return "small"
        if large is not None or small is not None:
            return ""
        low, high = self._ds.get(plan.family, (0, 0))
        return "large" if 2 * plan.ds > low + high else "small"
