"""Round upon round: the joins of a round go to the places that the round before offers, as published figures say."""

from __future__ import annotations

import re
from typing import Any

import pytest
from outside import bench, by_id, read

from larkshead.working.tally import tally
from larkshead.working.worked import Worked, WorkedPicot

ROUNDS = by_id("rounds")
# Those whose round takes every place of the class, in order and by one repeat: one pass more must find no place left.
FULL = [name for name, entry in ROUNDS.items() if "REP" in entry["steps"] and "next" in entry["steps"]]


def _work(steps: str) -> Worked:
    return bench().work(read(steps, "steplist").pattern)


def _taken(worked: Worked, use: dict[str, Any]) -> list[WorkedPicot]:
    """The picots of part ``into`` that part ``by`` is joined to, one for each join."""
    found: list[WorkedPicot] = []
    for one in worked.sequence:
        if one.part + 1 == use["by"]:
            found += [j.picot for j in one.joins if j.picot and j.picot.element.part + 1 == use["into"]]
    return found


@pytest.mark.parametrize("name", ROUNDS)
def test_every_join_finds_its_place(name: str) -> None:
    worked = _work(ROUNDS[name]["steps"])
    assert not worked.problems
    assert [j.reason for j in worked.joins if not j.resolved] == []


@pytest.mark.parametrize("name", ROUNDS)
def test_each_place_is_taken_once(name: str) -> None:
    entry = ROUNDS[name]
    worked = _work(entry["steps"])
    for use in entry["uses"]:
        taken = _taken(worked, use)
        assert len(taken) == use["places"]
        assert len({id(picot) for picot in taken}) == use["places"]
        if "size" in use:
            assert {picot.made.size for picot in taken if picot.made} == {use["size"]}


@pytest.mark.parametrize("name", ROUNDS)
def test_the_figures_of_each_round(name: str) -> None:
    entry = ROUNDS[name]
    parts = tally(_work(entry["steps"])).parts
    for wanted in entry["parts"]:
        found = parts[wanted["part"] - 1]
        assert {w: getattr(found, w) for w in wanted if w != "part"} == {w: n for w, n in wanted.items() if w != "part"}


@pytest.mark.parametrize("name", FULL)
def test_one_pass_more_finds_no_free_place(name: str) -> None:
    """The last round's repeat worked once more takes a place twice or finds none: the figures leave none over."""
    steps = ROUNDS[name]["steps"]
    at = list(re.finditer(r"REP (\d+)", steps))[-1]
    worked = _work(steps[: at.start()] + f"REP {int(at.group(1)) + 1}" + steps[at.end() :])
    use = [use for use in ROUNDS[name]["uses"] if use["into"] < use["by"]][-1]
    taken = _taken(worked, use)
    unresolved = [j for j in worked.joins if not j.resolved]
    assert unresolved or len({id(p) for p in taken}) < len(taken)
