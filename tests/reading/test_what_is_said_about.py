"""What a text says about its steps: totals of every element, long lists of totals, a tail that is worked with."""

from __future__ import annotations

import pytest

from larkshead.app.workbench import Workbench
from larkshead.model import Pattern, StatedTotal
from larkshead.reading import Source

BENCH = Workbench()
RING = {"prose": "Ring: 5 ds, p, 5 ds, close.", "shorthand": "R 5-5 cl"}
STYLES = ["prose", "shorthand"]


def _read(text: str, style: str) -> Pattern:
    return BENCH.read(Source(text, "said"), style, "en").pattern


def _totals(text: str, style: str) -> list[StatedTotal]:
    steps = [step for part in _read(text, style).parts for step in part.steps]
    return [step for step in steps if isinstance(step, StatedTotal)]


@pytest.mark.parametrize("style", STYLES)
def test_a_total_of_each_is_no_work(style: str) -> None:
    totals = _totals(f"Wheel\n\n{RING[style]}\nEach ring has 10 double stitches. All chains have 12 ds.", style)
    assert [(t.counts, t.each, t.of) for t in totals] == [({"ds": 10}, True, "ring"), ({"ds": 12}, True, "chain")]


@pytest.mark.parametrize("style", STYLES)
def test_a_long_list_of_totals_is_read_whole(style: str) -> None:
    said = "Total: 12 rings, 1 split ring, 264 double stitches, 34 picots, 6 joins, 12 lock joins."
    (total,) = _totals(f"Wheel\n\n{RING[style]}\n{said}", style)
    assert total.counts == {"rings": 12, "split_rings": 1, "ds": 264, "picots": 34, "joins": 6, "lock_joins": 12}


@pytest.mark.parametrize("style", STYLES)
def test_a_tail_that_is_worked_with_is_a_thread(style: str) -> None:
    before = "Wheel\n\nMaterials: one shuttle, cotton size 20.\n"
    worked = _read(
        f"{before}Leave a tail of 40 cm thread: it works the second side of the split ring.\n{RING[style]}", style
    )
    assert [(t.role, t.joined_to) for t in worked.threads] == [("shuttle", None), ("tail", "shuttle 1")]
    assert worked.threads[1].length is not None and worked.threads[1].length.mm == 400
    hidden = _read(f"{before}Leave a tail of 10 cm of thread to hide.\n{RING[style]}", style)
    assert [t.role for t in hidden.threads] == ["shuttle"]


def test_what_stands_before_the_first_heading_makes_no_part() -> None:
    before = "Squares\n\nFurther squares are worked as motif 2, each joined to the one before.\n\n"
    pattern = _read(f"{before}Motif 1\nR 5-5 cl\n\nMotif 2\nR 5-5 cl\n", "shorthand")
    assert [(part.kind, part.number) for part in pattern.parts] == [("motif", 1), ("motif", 2)]
    assert pattern.notes
