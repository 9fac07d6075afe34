"""The several wordings that published sources give for one ring read to that one ring."""

from __future__ import annotations

import pytest
from outside import by_id, elements, facts, in_marks, read

FORMS = [
    pytest.param(name, number, id=f"{name}-{number + 1}")
    for name, entry in by_id("wordings").items()
    for number in range(len(entry["forms"]))
]


@pytest.mark.parametrize(("name", "number"), FORMS)
def test_a_wording_reads_to_its_element(name: str, number: int) -> None:
    entry = by_id("wordings")[name]
    form = entry["forms"][number]
    reading = read(form["text"], form["style"], form.get("convention", "en"))
    found = [in_marks(e) for part in reading.pattern.parts for e in elements(part.steps)]
    assert found == [entry["element"]], (entry["source"], form["text"], reading.notices)
    assert not [n for n in reading.notices if n.kind == "unread-text"], form["text"]


@pytest.mark.parametrize("style", ["prose", "shorthand"])
@pytest.mark.parametrize("fact", facts()["separated"], ids=lambda fact: str(fact["source"]))
def test_picots_separated_stand_round_one_group_fewer(fact: dict[str, object], style: str) -> None:
    first, last = fact["ends"]  # type: ignore[misc]
    opening = "R" if style == "shorthand" else "Ring:"
    reading = read(f"{opening} {first} ds, {fact['picots']} p separated by {fact['by']} ds, {last} ds, close.", style)
    (ring,) = [e for part in reading.pattern.parts for e in elements(part.steps)]
    marks = in_marks(ring).split()[1:]
    counts = [int(mark) for mark in marks if mark.isdigit()]
    assert marks.count("p") == fact["picots"]
    assert counts == [first, *[fact["by"]] * fact["inner"], last]  # type: ignore[operator]
    assert sum(counts) == fact["ds"]


@pytest.mark.parametrize("fact", facts()["unsaid_ends"], ids=lambda fact: str(fact["source"]))
def test_ends_left_unsaid_are_told(fact: dict[str, object]) -> None:
    """Only that book's key says what stands at the ends, so a reader without it has to say that they are not said."""
    reading = read(str(fact["text"]), "shorthand")
    (ring,) = [e for part in reading.pattern.parts for e in elements(part.steps)]
    inner = in_marks(ring).split()
    inner = inner[inner.index("p") : len(inner) - inner[::-1].index("p")]
    assert inner == str(fact["inner"]).split()
    assert [n for n in reading.notices if n.kind in ("assumed", "unclear-count")], (
        "what is taken for the ends is not told"
    )
