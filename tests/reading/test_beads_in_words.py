"""Beads among the stitches of running words: common practice, no source."""

from __future__ import annotations

import pytest

from larkshead.app.workbench import Workbench
from larkshead.reading import Source

BENCH = Workbench()


@pytest.mark.parametrize(
    ("text", "steps"),
    [
        ("Ring of 5, one bead, 5.", "R 5 b 5"),
        ("Ring: 5 double stitches, 1 bead, 5 double stitches.", "R 5 b 5"),
        ("Chain: 4, 3 beads, 4.", "C 4 b b b 4"),
        ("Chain: 8 b 8.", "C 8 b 8"),
    ],
)
def test_a_number_counts_beads_or_stitches(text: str, steps: str) -> None:
    reading = BENCH.read(Source(text, "beads.txt"), "prose", "en")
    assert BENCH.write(reading.pattern, "steplist").text.strip() == steps
