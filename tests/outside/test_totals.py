"""Element lists of published pieces come to the totals that their figures come to."""

from __future__ import annotations

from typing import Any

import pytest
from outside import bench, by_id, read

from larkshead.working.tally import tally


def _steps(entry: dict[str, Any]) -> str:
    lines: list[str] = []
    for times, element in entry["elements"]:
        lines += [f"REP {times} {{", element, "}"]
    return "\n".join(lines) + "\n"


@pytest.mark.parametrize("name", by_id("totals"))
def test_the_elements_come_to_the_total(name: str) -> None:
    entry = by_id("totals")[name]
    counts = tally(bench().work(read(_steps(entry), "steplist").pattern))
    assert {what: getattr(counts, what) for what in entry["total"]} == entry["total"]


@pytest.mark.parametrize("name", by_id("totals"))
def test_the_total_is_the_sum_over_the_passes(name: str) -> None:
    """The same by expanding: what is counted from the text is what is worked."""
    entry = by_id("totals")[name]
    worked = bench().work(read(_steps(entry), "steplist").pattern)
    assert not worked.problems
    assert len(worked.elements) == sum(times for times, _ in entry["elements"])
    assert sum(e.ds for e in worked.elements) == entry["total"]["ds"]
    assert sum(len(e.picots) for e in worked.elements) == entry["total"]["picots"]
    assert len(worked.joins) == entry["total"]["joins"]
