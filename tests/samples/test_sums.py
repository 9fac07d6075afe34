"""Every form of a sample comes to what was worked out by hand, and says so itself."""

from __future__ import annotations

import re

import pytest
from samples import FORMS, NAMES, bench, read, text
from sums import CLOSED, MILLSTREAM_CHAIN, MILLSTREAM_RING

from larkshead.model import Element, Repeat, StatedTotal, Stitches
from larkshead.working.tally import tally


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("name", CLOSED)
def test_a_form_comes_to_the_sum(name: str, form: str) -> None:
    counts = tally(bench().work(read(name, form).pattern)).as_dict()
    assert {what: counts[what] for what in CLOSED[name]} == CLOSED[name]


@pytest.mark.parametrize("form", FORMS)
def test_the_open_edging_has_its_ring_and_chain(form: str) -> None:
    pattern = read("millstream", form).pattern
    steps = [step for part in pattern.parts for step in part.steps]
    repeats = [step for step in steps if isinstance(step, Repeat)]
    assert len(repeats) == 1 and repeats[0].times is None and repeats[0].until
    for kind, ds in (("ring", MILLSTREAM_RING), ("chain", MILLSTREAM_CHAIN)):
        made = [s for s in [*steps, *repeats[0].steps] if isinstance(s, Element) and s.kind == kind]
        assert made
        for element in made:
            assert sum(item.count for item in element.work if isinstance(item, Stitches)) == ds
    counts = tally(bench().work(pattern))
    assert counts.rings is None and counts.ds is None


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("name", NAMES)
def test_the_totals_are_said_and_read(name: str, form: str) -> None:
    """The total at the end is in the text, and the reader took it for one."""
    steps = [step for part in read(name, form).pattern.parts for step in part.steps]
    said: dict[str, int] = {}
    for step in steps:
        if isinstance(step, StatedTotal) and not step.each:
            said |= step.counts
    if name == "millstream":
        assert any(isinstance(step, StatedTotal) and step.each for step in steps)
        return
    wanted = dict(CLOSED[name])
    if name == "turnstile":
        wanted["ds"] = 226
    wanted["rings"] -= wanted.get("split_rings", 0)
    wanted["joins"] -= wanted["lock_joins"]
    assert said, "no total was read"
    assert {what: said[what] for what in said} == {what: wanted[what] for what in said}
    assert {"rings", "ds", "picots"} <= set(said)


@pytest.mark.parametrize("name", [n for n in CLOSED if n != "turnstile"])
@pytest.mark.parametrize("form", ["prose", "shorthand", "table"])
def test_the_total_in_the_text_is_the_sum(name: str, form: str) -> None:
    """The same by looking at the words alone, without any reader."""
    line = next(line for line in text(name, form).splitlines() if line.startswith("Total:"))
    numbers = {what: int(number) for number, what in re.findall(r"(\d+) ([a-z ]+?)(?=[,.])", line)}
    sums = CLOSED[name]
    assert numbers["double stitches"] == sums["ds"]
    assert numbers["picots"] == sums["picots"]
    assert numbers["rings"] == sums["rings"] - sums.get("split_rings", 0)
    assert numbers["joins"] == sums["joins"] - sums["lock_joins"]
    assert numbers.get("beads", 0) == sums["beads"]
