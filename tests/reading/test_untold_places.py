"""A join to what the text itself does not tell is said when the text is read."""

from __future__ import annotations

import pytest

from larkshead.app.workbench import Workbench
from larkshead.reading import Source

BENCH = Workbench()
RINGS = "Ring 1: 5, picot, 5. Ring 2: 7, picot, 7. Ring 3: 5, picot, 5. Turn. "


@pytest.mark.parametrize(
    ("text", "wrong"),
    [
        (RINGS + "Chain of 9, join to the picot of ring 3.", []),
        (RINGS + "Chain of 9, join to the picot of ring 8.", ["there is no ring 8"]),
        (RINGS + "Chain of 9, join to the third picot of ring 2.", ["ring 2 has 1 picot; there is no picot 3"]),
        ("Ring A: 4, picot, 4. Ring B: 4, join to the picot of ring A, 4. Chain: 6, join to the picot of ring D, 6.", ["there is no ring D"]),
        ("Ring: 5, join to the picot of ring 4, 5.", []),
    ],
)  # fmt: skip
def test_what_is_not_there_to_join_to(text: str, wrong: list[str]) -> None:
    reading = BENCH.read(Source(text, "rings.txt"), "prose", "en")
    assert [n.message for n in reading.notices if n.kind == "contradiction"] == wrong
