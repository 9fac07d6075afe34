"""Totals."""

from __future__ import annotations

from by_hand import element, steps, worked_of

from larkshead.model import BareThread, Beads, Element, Halves, Join, Length, Picot, Repeat, Stitches, Thrown
from larkshead.working import tally, work


def test_rings_chains_and_their_sorts() -> None:
    worked = worked_of("R 5\nSR 4 / 4\nMR 6\nJR h1:12\nC 5\nSC 3 / 3\nC 2")
    counts = tally(worked)
    assert (counts.rings, counts.chains) == (4, 3)
    assert (counts.split_rings, counts.mock_rings, counts.josephine_rings, counts.split_chains) == (1, 1, 1, 1)
    assert (counts.ds, counts.halves) == (5 + 8 + 6 + 5 + 6 + 2, 12)


def test_picots_joins_and_beads() -> None:
    chain = Element(
        "chain", [Stitches(3), Picot("small", beads=2), Beads(3), Join([], "lock", 1), Picot("long"), Stitches(1)]
    )
    counts = tally(work(steps([Repeat([chain, element("ring", "4 p 4 j 4", "?")], 3)])))
    assert (counts.picots, counts.joins, counts.lock_joins, counts.beads) == (9, 6, 3, 18)


def test_a_join_into_two_places_is_one_join() -> None:
    pattern = steps([element("ring", "4 p 4 p 4"), element("ring", "5 j 5", "ring 1, picot 1 + ring 1, picot 2")])
    worked = work(pattern)
    assert (tally(worked).joins, len(worked.joins)) == (1, 2)


def test_a_chain_with_rings_thrown_off_counts_in_pieces_and_a_mock_ring_once() -> None:
    ring = Element("ring", [Stitches(4), Picot(), Stitches(4)])
    work_of_it = [Stitches(6), Thrown(ring), Stitches(6), Picot(), Stitches(6), Thrown(ring), Stitches(6)]
    chain = tally(work(steps([Element("chain", list(work_of_it))])))
    assert (chain.rings, chain.chains, chain.ds, chain.picots) == (2, 3, 40, 3)
    mock = tally(work(steps([Element("mock ring", list(work_of_it))])))
    assert (mock.rings, mock.mock_rings, mock.chains, mock.ds) == (3, 1, 0, 40)


def test_a_ring_thrown_at_the_end_of_a_chain_adds_no_piece() -> None:
    chain = Element("chain", [Stitches(6), Thrown(element("ring", "4"))])
    assert tally(work(steps([chain]))).chains == 1
    halves = Element("chain", [Halves(1, 6), Thrown(element("ring", "4")), Halves(2, 6)])
    assert tally(work(steps([halves]))).chains == 2


def test_bare_thread_in_millimetres_and_what_is_not_measured() -> None:
    thread = [
        BareThread(Length("1/4", "in")),
        BareThread(Length("0.5", "cm")),
        BareThread(),
        BareThread(Length("3", "")),
    ]
    counts = tally(work(steps([Repeat([element("ring", "5"), *thread], 2)])))
    assert counts.bare_thread is not None
    assert abs(counts.bare_thread - 2 * (6.35 + 5)) < 1e-9
    assert counts.unmeasured == 4


def test_only_what_hangs_on_an_open_repeat_is_unknown() -> None:
    worked = worked_of("# Round 1\nR 5 p 5\nC 6\n# Round 2\nREP ? {\nC 4\nLJ -> next picot of round 1\n}")
    counts = tally(worked)
    assert (counts.rings, counts.picots, counts.chains, counts.joins) == (1, 1, None, None)
    first, second = counts.parts
    assert (first.chains, first.ds, second.rings, second.ds) == (1, 16, 0, None)
    assert (first.kind, first.number) == ("round", 1)


def test_as_a_table_of_names() -> None:
    counts = tally(worked_of("R 5 p 5")).as_dict()
    assert (counts["rings"], counts["ds"], counts["picots"]) == (1, 10, 1)
    assert "parts" not in counts
