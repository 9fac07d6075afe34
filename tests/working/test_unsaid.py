"""Joins whose place the text does not say: the neighbour is taken, and that it was taken is said."""

from __future__ import annotations

from by_hand import targets, worked_of


def test_a_ring_goes_to_the_last_free_picot_of_the_ring_before() -> None:
    worked = worked_of("R 5 p 5 p 5 p 5\nREP 2 {\nTURN\nC 8\nTURN\nR 5 j 5 p 5 p 5\n}")
    assert targets(worked) == ["ring 1, picot 3", "ring 2, picot 2"]
    assert [join.candidates for join in worked.joins] == [1, 1]
    assert all("the last free picot of" in join.assumed for join in worked.joins)


def test_how_many_picots_of_the_near_side_would_do() -> None:
    worked = worked_of("R 5 p 2 p 2 p 2 p 2 p 5\nR 5 j 5 p 5")
    (join,) = worked.joins
    assert (join.picot and join.picot.number, join.candidates) == (5, 2)


def test_the_ring_that_ends_a_round_goes_to_the_first_too() -> None:
    worked = worked_of("R 4 p 4 p 4 p 4\nREP 2 {\nR 4 j 4 p 4 p 4\n}\nR 4 j 4 p 4 j 4")
    assert targets(worked)[-2:] == ["ring 3, picot 2", "ring 1, picot 1"]
    assert "closes the round" in worked.joins[-1].assumed


def test_the_last_pass_of_a_repeat_closes_the_round() -> None:
    worked = worked_of("REP 3 {\nR 4 j 4 p 4 p 4\nON first R 4 p 4 p 4 p 4\nON last R 4 j 4 p 4 j 4\n}")
    assert targets(worked) == ["ring 1, picot 3", "ring 2, picot 2", "ring 1, picot 1"]


def test_rings_with_a_join_on_top_go_round_the_round_before() -> None:
    worked = worked_of("# Round 1\nR 3 p 3 p 3 p 3\nCUT\n# Round 2\nREP 3 {\nR 6 j 6\nTURN\nC 5\nTURN\n}\nLJ")
    assert targets(worked) == [*(f"ring 1 of round 1, picot {number}" for number in (1, 2, 3)), "ring 1, base"]


def test_a_round_of_chains_is_locked_to_the_round_before() -> None:
    worked = worked_of("# Round 1\nR 3 p 3 p 3 p 3\nCUT\n# Round 2\nREP 3 {\nC 5 p 5\nLJ\n}")
    assert targets(worked) == [f"ring 1 of round 1, picot {number}" for number in (1, 2, 3)]


def test_a_chain_round_a_ring_goes_to_its_free_picot_and_then_to_its_base() -> None:
    worked = worked_of("REP 2 {\nR 8 sp 8\nTURN\nC 4 p 4\nLJ\nC 5\nLJ\nTURN\n}")
    assert targets(worked) == ["ring 1, picot 1", "ring 1, base", "ring 2, picot 1", "ring 2, base"]


def test_a_chain_beside_a_ring_with_several_free_picots_is_not_settled() -> None:
    worked = worked_of("R 4 p 4 p 4 p 4\nTURN\nC 6\nLJ")
    (join,) = worked.joins
    assert not join.resolved
    assert join.candidates == 3


def test_rings_that_are_all_joined_to_one_picot() -> None:
    worked = worked_of("R 6 p 6\nREP 3 {\nBT 3mm\nR 6 j 6\n}")
    assert set(targets(worked)) == {"ring 1, picot 1"}


def test_nothing_to_join_to() -> None:
    worked = worked_of("R 5 j 5\nC 4 j 4")
    assert targets(worked) == [
        "(the text does not say which picot is meant)",
        "(the text does not say what the chain is joined to)",
    ]


def test_a_picot_is_named_and_its_element_is_not() -> None:
    worked = worked_of("R 5 p 5 p 5\nTURN\nC 4 p 4\nTURN\nR 5 j 5 -> last picot")
    assert targets(worked) == ["ring 1, picot 2"]
    assert worked.joins[0].assumed == "ring 1 is meant"


def test_the_base_of_what_is_not_said() -> None:
    closing = worked_of("REP 3 {\nR 5 p 5\nTURN\nC 6\nTURN\n}\nLJ -> base")
    assert targets(closing) == ["ring 1, base"]
    beside = worked_of("REP 3 {\nR 5 p 5\nTURN\nC 6\nLJ -> base\nTURN\n}")
    assert targets(beside) == ["ring 1, base", "ring 2, base", "ring 3, base"]


def test_a_tip_that_is_not_said_whose_is_the_mock_picot_s() -> None:
    worked = worked_of("R 3 p 3 p 3\nMP\nREP 2 {\nC 5\nLJ -> ring 1, next picot\n}\nC 5\nLJ -> top\nC 5\nLJ -> top")
    assert targets(worked) == ["ring 1, picot 1", "ring 1, picot 2", "ring 1, mock picot", "ring 1, top"]


def test_that_picot_of_the_ring_just_worked_and_the_same_picot_again() -> None:
    that = worked_of("REP 2 {\nR 8 sp 8\nTURN\nC 4 p 4\nLJ -> same small picot\nTURN\n}")
    assert targets(that) == ["ring 1, picot 1", "ring 2, picot 1"]
    same = worked_of("R 6 p 6\nREP 3 {\nR 6 j 6 p 6 -> same picot\n}")
    assert targets(same) == ["ring 1, picot 1"] * 3


def test_and_to_the_first_closes_the_round() -> None:
    worked = worked_of("R 4 p 4 p 4\nR 4 j 4 p 4 -> previous ring, last picot\nR 4 j 4 j 4 -> last picot; picot 1")
    assert targets(worked) == ["ring 1, picot 2", "ring 2, picot 1", "ring 1, picot 1"]


def test_what_lies_opposite_where_nothing_else_is_told() -> None:
    worked = worked_of("REP 3 {\nR 6 j 6 -> opposite picot\nTURN\nC 5\nTURN\n}")
    assert targets(worked) == ["motif"] * 3
    assert all(join.assumed for join in worked.joins)
