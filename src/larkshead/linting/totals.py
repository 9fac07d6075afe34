"""What a stretch of worked elements and actions adds up to, in every way a designer may have counted it."""

from __future__ import annotations

from collections.abc import Iterable

from larkshead.model import MockPicot, Thrown
from larkshead.records import dataclass, field
from larkshead.working.worked import WorkedAction, WorkedElement

_KINDS = {
    "ring": "rings",
    "chain": "chains",
    "split ring": "split_rings",
    "split chain": "split_chains",
    "mock ring": "mock_rings",
    "josephine ring": "josephine_rings",
}
_ALL_RINGS = ("rings", "split_rings", "mock_rings", "josephine_rings")
_ALL_CHAINS = ("chains", "split_chains")


@dataclass(slots=True)
class Totals:
    """Counts as worked, by the names of StatedTotal: plain rings and chains apart from the other sorts, picot joins
    apart
    from lock joins, mock picots apart from picots. ``half_stitches`` are the halves; two are no double stitch."""

    counts: dict[str, int] = field(default_factory=dict)

    def __getitem__(self, name: str) -> int:
        return self.counts.get(name, 0)

    def add(self, name: str, count: int = 1) -> None:
        self.counts[name] = self.counts.get(name, 0) + count

    def ways(self, name: str, said: Iterable[str] = ()) -> list[int]:
        """The numbers a total of this name may rightly say, the likeliest first.

        Rings may or may not include split and other rings (they do not where ``said`` names those too); joins may
        include lock joins; picots may include mock picots; double stitches may be counted with a join's second half as
        one.
        """
        said = set(said)
        if name == "rings":
            return self._with(name, [kind for kind in _ALL_RINGS[1:] if kind not in said])
        if name == "chains":
            return self._with(name, [*(kind for kind in _ALL_CHAINS[1:] if kind not in said), "more_chains"])
        if name == "picots":
            return self._with(name, ["mock_picots"])[::-1]
        if name == "joins":
            return self._with(name, [kind for kind in ("lock_joins",) if kind not in said])
        return [self[name]]

    def _with(self, name: str, others: list[str]) -> list[int]:
        ways = [self[name] + sum(self[other] for other in others)]
        ways += [self[name] + self[other] for other in others] + [self[name]]
        return list(dict.fromkeys(ways))


def totals_of(sequence: Iterable[WorkedElement | WorkedAction], before: Totals | None = None) -> Totals:
    """The totals of a stretch of the worked sequence, those of what stands ``before`` it taken in."""
    totals = Totals(dict(before.counts)) if before is not None else Totals()
    for made in sequence:
        joins = {(join.item, join.kind) for join in made.joins if join.kind != "attach"}
        for _, kind in joins:
            totals.add("lock_joins" if kind == "lock" else "joins")
        if isinstance(made, WorkedAction):
            if isinstance(made.step, MockPicot):
                totals.add("mock_picots")
            continue
        totals.add(_KINDS[made.kind])
        if not made.is_ring:
            # A chain with elements thrown off it may be counted as the pieces they part it into.
            totals.add("more_chains", sum(isinstance(item, Thrown) for item in made.step.work))
        totals.add("ds", made.ds)
        totals.add("half_stitches", made.halves)
        totals.add("beads", made.beads)
        totals.add("picots", sum(1 for picot in made.picots if not picot.mock))
    return totals
