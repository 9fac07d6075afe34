"""What has been worked so far, kept so that any element can be found without looking through the whole of it."""

from __future__ import annotations

from bisect import bisect_left
from operator import attrgetter

from larkshead.model import Element
from larkshead.records import dataclass, field
from larkshead.working.names import label_key
from larkshead.working.plans import Plan
from larkshead.working.worked import WorkedAction, WorkedElement, WorkedPicot
from larkshead.working.written import Written

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

    def __init__(self, written: Written) -> None:
        self.written = written
        self.lists: dict[str, list[WorkedElement]] = {"element": [], "ring": [], "chain": []}
        # By label and family; the family is empty for all that have the label: R1 and C1 may both be called 1.
        self.labelled: dict[tuple[str, str], list[WorkedElement]] = {}
        self.sorts: dict[object, list[WorkedElement]] = {}
        self.bare: list[WorkedAction] = []
        self.mocks: list[WorkedPicot] = []
        # The lists that each written element is entered in.
        self._lists_of: dict[int, tuple[list[WorkedElement], ...]] = {}
        # Those of elements without label, by their plan and sort.
        self._lists_alike: dict[tuple[Plan, object], tuple[list[WorkedElement], ...]] = {}

    def plan(self, step: Element, thrown: bool = False) -> Plan:
        """The fixed facts of a written element."""
        return self.written.plans.of(step, thrown)

    def add(self, element: WorkedElement) -> None:
        """Enter an element as it is begun."""
        step = element.step
        lists = self._lists_of.get(id(step))
        if lists is None:
            lists = self._lists_of[id(step)] = self._lists_for(step, element.plan)
        for into in lists:
            into.append(element)

    def _lists_for(self, step: Element, plan: Plan) -> tuple[list[WorkedElement], ...]:
        sort = self.written.sorts.get(id(step), plan.sort)
        if step.label:
            return self._new_lists(plan, sort, step.label)
        lists = self._lists_alike.get((plan, sort))
        if lists is None:
            lists = self._lists_alike[plan, sort] = self._new_lists(plan, sort)
        return lists

    def _new_lists(self, plan: Plan, sort: object, label: str = "") -> tuple[list[WorkedElement], ...]:
        keys = ["element", plan.family]
        if plan.kind != plan.family:
            keys.append(plan.kind)
        if self.written.sizes_named:
            size = self.written.size_of(plan)
            keys += [f"{key} {size}" for key in keys]
        lists = [self.lists.setdefault(key, []) for key in keys]
        if label:
            key = label_key(label)
            lists.append(self.labelled.setdefault((key, ""), []))
            lists.append(self.labelled.setdefault((key, plan.family), []))
        lists.append(self.sorts.setdefault(sort, []))
        return tuple(lists)

    def sort(self, element: WorkedElement) -> object:
        """Equal for elements that stand for each other on other passes, or have the same kind, size and groups."""
        return self.written.sorts.get(id(element.step)) or element.plan.sort

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
