"""What a look through the steps as written tells before any of them is worked."""

from __future__ import annotations

from collections.abc import Sequence

from larkshead.model import ByPass, Element, NoTurn, Pattern, Place, Repeat, Step, Switch, Turn
from larkshead.working.names import label_key
from larkshead.working.plans import JOIN, Plan, Plans, thrown_off


class Written:
    """Labels, sorts and sizes of a pattern as written, and the plan of each element."""

    def __init__(self, pattern: Pattern, plans: Plans) -> None:
        self.plans = plans
        self.labels: set[str] = set()
        # What letters before a number stand for in labels: R in R1 for a ring; nothing where they stand for both.
        self.stems: dict[str, str] = {}
        # The sorts of elements that stand for another on some pass.
        self.sorts: dict[int, object] = {}
        self.sizes_named = False
        self.passes_named = False
        # Whether the steps change shuttles or name a second one.
        self.two_shuttles = False
        self._kinds = {"", "part", "round", "row", *(part.kind for part in pattern.parts)}
        self.instead: set[int] = set()
        # The fewest and most stitches of rings and of chains, and of those the text calls large or small.
        self._ds: dict[str, tuple[int, int]] = {}
        self._said_ds: dict[tuple[str, str], tuple[int, int]] = {}
        self._measured: set[Plan] = set()
        self._look_through(pattern)

    def _look_through(self, pattern: Pattern) -> None:
        waiting: list[Step] = [step for part in pattern.parts for step in part.steps]
        seen: set[int] = set()
        while waiting:
            step = waiting.pop()
            kind = type(step)
            if kind is Turn or kind is NoTurn or id(step) in seen:
                continue
            seen.add(id(step))
            if isinstance(step, Element):
                plan = self.plans.of(step)
                self._see(step, plan)
                if plan.throws:
                    for element in thrown_off(step):
                        self._see(element, self.plans.of(element, True))
            elif isinstance(step, Repeat):
                waiting.extend(step.steps)
            elif isinstance(step, ByPass):
                self._see_by_pass(step)
                waiting.append(step.step)
                for steps in step.passes.values():
                    waiting.extend(steps)
                    self.instead.update(map(id, steps))
            elif isinstance(step, Switch):
                self.two_shuttles = True
            else:
                self._see_places(getattr(step, "places", ()))

    def _see(self, step: Element, plan: Plan) -> None:
        if plan not in self._measured:
            self._measured.add(plan)
            self._measure(plan)
        if step.label:
            self._see_label(step.label, plan.family)
        if step.thread and "shuttle 2" in step.thread:
            self.two_shuttles = True
        if plan.joins:
            work = step.work
            for what, index in plan.makes:
                if what == JOIN and work[index].places:  # type: ignore[union-attr]
                    self._see_places(work[index].places)  # type: ignore[union-attr]

    def _measure(self, plan: Plan) -> None:
        low, high = self._ds.get(plan.family, (plan.ds, plan.ds))
        self._ds[plan.family] = (min(low, plan.ds), max(high, plan.ds))
        if plan.size:
            low, high = self._said_ds.get((plan.family, plan.size), (plan.ds, plan.ds))
            self._said_ds[plan.family, plan.size] = (min(low, plan.ds), max(high, plan.ds))

    def _see_label(self, called: str, family: str) -> None:
        label = label_key(called)
        self.labels.add(label)
        stem = label.rstrip("0123456789")
        if stem and stem != label:
            self.stems[stem.rstrip()] = family if self.stems.get(stem.rstrip(), family) == family else ""

    def _see_places(self, places: Sequence[Place]) -> None:
        if places:
            self.sizes_named |= any(place.element is not None and place.element.size for place in places)
            self.passes_named |= any(place.part is not None and place.part.kind not in self._kinds for place in places)

    def _see_by_pass(self, step: ByPass) -> None:
        """An element worked instead on some pass stands for the one it replaces."""
        if not isinstance(step.step, Element):
            return
        sort = self.sorts.setdefault(id(step.step), self.plans.of(step.step).sort)
        for steps in step.passes.values():
            for other in steps:
                if isinstance(other, Element) and other.kind == step.step.kind:
                    self.sorts[id(other)] = sort

    def size_of(self, plan: Plan) -> str:
        """``large`` or ``small``: as the text says; where it says so of others only, by their stitches; where it
        says it of none, by the middle of the stitch counts.
        """
        if plan.size in ("large", "small"):
            return plan.size
        large, small = (self._said_ds.get((plan.family, size)) for size in ("large", "small"))
        if small is not None and large is None and plan.ds > small[1]:
            return "large"
        if large is not None and small is None and plan.ds < large[0]:
            return "small"
        if large is not None or small is not None:
            return ""
        low, high = self._ds.get(plan.family, (0, 0))
        return "large" if 2 * plan.ds > low + high else "small"
