"""What a tatter would check of the samples with the shuttle in hand: where the threads are, what lies between what."""

from __future__ import annotations

from itertools import pairwise

import pytest
from samples import FORMS, SOUND, bench, read, text

from larkshead.model import BareThread, LockJoin, MockPicot, StatedTotal
from larkshead.working.worked import Worked, WorkedElement, WorkedPicot


def _worked(name: str, form: str = "shorthand") -> Worked:
    return bench().work(read(name, form).pattern)


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("name", SOUND)
def test_every_join_of_a_sound_sample_finds_its_place(name: str, form: str) -> None:
    worked = _worked(name, form)
    assert worked.problems == []
    assert [j.reason for j in worked.joins if not j.resolved] == []


@pytest.mark.parametrize("name", SOUND)
def test_every_element_mirrors_about_its_middle(name: str) -> None:
    for element in _worked(name).elements:
        assert element.groups == element.groups[::-1], element.step


@pytest.mark.parametrize("name", SOUND)
def test_no_picot_is_joined_twice(name: str) -> None:
    for element in _worked(name).elements:
        assert all(len(picot.uses) <= 1 for picot in element.picots if not picot.mock), element.step


def _lock_targets(worked: Worked, part: int) -> list[WorkedPicot | None]:
    return [j.picot for x in worked.sequence if x.part == part and isinstance(x.step, LockJoin) for j in x.joins]


@pytest.mark.parametrize("form", FORMS)
def test_the_windflower_goes_round_the_centre_and_back(form: str) -> None:
    """Round 1 takes the five picots in the order made, then the mock picot, the sixth: six places, six lock joins."""
    worked = _worked("windflower", form)
    targets = _lock_targets(worked, 1)
    centre = worked.elements[0]
    assert all(picot is not None and picot.element is centre for picot in targets)
    assert [picot.number for picot in targets if picot] == [1, 2, 3, 4, 5, 6]
    assert [picot.mock for picot in targets if picot] == [False] * 5 + [True]


@pytest.mark.parametrize("form", FORMS)
def test_the_windflower_joins_the_small_rings_underneath(form: str) -> None:
    """Round 2 takes the picot of each small ring in turn, and last the mock picot of the split ring it began at."""
    worked = _worked("windflower", form)
    small = [e for e in worked.elements if e.part == 1]
    assert [e.kind for e in small] == ["ring"] * 5 + ["split ring"]
    targets = _lock_targets(worked, 2)
    assert [picot.element for picot in targets if picot] == small
    assert targets[-1] is not None and targets[-1].mock


@pytest.mark.parametrize("form", FORMS)
def test_the_windflower_closes_by_one_folded_join(form: str) -> None:
    worked = _worked("windflower", form)
    large = [e for e in worked.elements if e.part == 2]
    assert len(large) == 6
    for before, ring in pairwise(large):
        assert ring.joins[0].picot is before.picots[-1]
    assert [j.kind for j in large[-1].joins] == ["picot", "folded"]
    assert large[-1].joins[1].picot is large[0].picots[0]


@pytest.mark.parametrize("form", FORMS)
def test_the_bare_thread_of_the_windflower_is_alike_on_both_sides(form: str) -> None:
    worked = _worked("windflower", form)
    for part, length in ((1, 5.0), (2, 6.0)):
        stretches = [x.step for x in worked.sequence if x.part == part and isinstance(x.step, BareThread)]
        assert len(stretches) == 6 * part
        assert {s.length.mm for s in stretches if s.length} == {length}


def test_the_windflower_climbs_where_the_tail_waits() -> None:
    """The split ring is made right after the lock join to the mock picot, where both threads are; then a mock picot."""
    worked = _worked("windflower")
    sequence = [x for x in worked.sequence if not isinstance(x.step, StatedTotal)]
    at = next(i for i, x in enumerate(sequence) if isinstance(x, WorkedElement) and x.kind == "split ring")
    before = sequence[at - 1]
    assert isinstance(before.step, LockJoin) and before.joins[0].picot is not None and before.joins[0].picot.mock
    after = next(x for x in sequence[at + 1 :] if type(x.step).__name__ not in ("NoTurn", "Note"))
    assert isinstance(after.step, MockPicot)


@pytest.mark.parametrize("form", FORMS)
def test_the_squares_are_joined_face_to_face(form: str) -> None:
    """Chain 1 of the second square runs against chain 3 of the first, so the second picot is met before the first."""
    worked = _worked("hopscotch", form)
    first = [e for e in worked.elements if e.part == 0 and e.kind == "chain"]
    second = [e for e in worked.elements if e.part == 1 and e.kind == "chain"]
    assert [j.picot for j in second[0].joins] == [first[2].picots[1], first[2].picots[0]]


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("name", ["harebell", "hopscotch"])
def test_ring_and_chain_rounds_close(name: str, form: str) -> None:
    """Each large ring meets the one before, the last also the first; the last chain comes back to the first's base."""
    worked = _worked(name, form)
    for part in {e.part for e in worked.elements}:
        rings = [e for e in worked.elements if e.part == part and e.is_ring and e.ds == 16]
        assert len(rings) == 4
        for before, ring in pairwise(rings):
            assert ring.joins[0].picot is before.picots[-1]
        assert rings[-1].joins[-1].picot is rings[0].picots[0]
        (last,) = [j for x in worked.sequence if x.part == part and isinstance(x.step, LockJoin) for j in x.joins]
        assert last.spot == "base" and last.element is rings[0]


@pytest.mark.parametrize("form", FORMS)
def test_rings_and_chains_lie_on_their_two_sides(form: str) -> None:
    """A turn after every ring and chain: all rings are made on one side of the work, all chains on the other."""
    for name in ("millstream", "hopscotch", "rowan"):
        worked = _worked(name, form)
        for part in {e.part for e in worked.elements}:
            made = [e for e in worked.elements if e.part == part]
            sides = {kind: {e.side for e in made if e.kind == kind} for kind in ("ring", "chain")}
            assert len(sides["ring"]) == len(sides["chain"]) == 1 and sides["ring"] != sides["chain"], (name, sides)


@pytest.mark.parametrize("form", FORMS)
def test_the_thrown_rings_are_made_with_the_chain_and_not_turned(form: str) -> None:
    worked = _worked("harebell", form)
    made = worked.elements
    thrown = [i for i, e in enumerate(made) if e.is_ring and e.ds == 9]
    assert len(thrown) == 4
    for i in thrown:
        assert made[i - 1].kind == made[i + 1].kind == "chain"
        assert made[i - 1].side == made[i].side == made[i + 1].side
        assert made[i].side != made[i - 2].side


@pytest.mark.parametrize("form", FORMS)
def test_as_many_beads_as_are_strung(form: str) -> None:
    worked = _worked("rowan", form)
    assert sum(e.beads for e in worked.elements) == 28
    said = " ".join(text("rowan", form).split())
    assert "28 round beads" in said and "all 28 beads" in said
    assert "babies" in said and "local safety rules" in said
