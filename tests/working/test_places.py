"""Every place a designer can name resolves to one picot of one element, or says why not."""

from __future__ import annotations

from by_hand import element, steps, targets, worked_of

from larkshead.model import Attach, Cut, ElementRef, LockJoin, Part, PartRef, Pattern, Place, Repeat, Turn
from larkshead.working import work


def test_previous_ring_by_first_and_last() -> None:
    worked = worked_of(
        """
        R 5 p 5 p 5 p 5
        R 5 j 5 p 5 p 5 -> previous ring, last picot
        R 5 j 5 p 5 p 5 -> previous ring, first picot
        """
    )
    assert targets(worked) == ["ring 1, picot 3", "ring 2, picot 1"]
    assert not any(join.assumed for join in worked.joins)


def test_a_label_and_a_number_name_the_same_ring() -> None:
    worked = worked_of(
        """
        R 5 p 5 p 5 # A
        R 5 p 5 p 5 # B
        R 4 j 4 j 4 -> ring A, picot 2; ring 2, picot 1
        """
    )
    assert targets(worked) == ["ring A, picot 2", "ring B, picot 1"]


def test_negative_numbers_count_from_the_end() -> None:
    worked = worked_of("R 2 p 2 p 2 p 2 p 2\nR 4 j 4 -> ring 1, picot -2")
    assert targets(worked) == ["ring 1, picot 3"]


def test_a_picot_that_is_not_there() -> None:
    worked = worked_of("R 6 p 6 p 6 p 6\nTURN\nR 4 j 4 -> ring 1, picot 5")
    (join,) = worked.joins
    assert join.reason == "ring 1 has 3 picots; there is no fifth"
    assert join.candidates == 0
    assert join.element is worked.elements[0]
    assert not join.resolved


def test_a_ring_without_picots_and_a_ring_that_is_not_there() -> None:
    worked = worked_of("R 12\nR 4 j 4 j 4 j 4 -> ring 1, last picot; ring 7, picot 1; ring K, picot 1")
    assert targets(worked) == [
        "(ring 1 has no picots)",
        "(there is no ring 7)",
        "(nothing in this pattern is called ring K)",
    ]


def test_what_comes_later_is_said_to_come_later() -> None:
    worked = worked_of(
        """
        R 4 j 4 p 4 j 4 -> ring 2, picot 1; ring 1, picot 4
        R 5 j 5 p 5 -> ring B, picot 1 # A
        R 5 p 5 # B
        """
    )
    assert targets(worked) == [
        "(ring 2 is not worked yet)",
        "(ring 1 has 1 picot; there is no fourth)",
        "(ring B is not worked yet)",
    ]


def test_a_ring_joined_to_its_own_picot_before_and_after_it_is_made() -> None:
    made = worked_of("R 10 p 4 j 10 -> same ring, picot 1")
    assert targets(made) == ["ring 1, picot 1"]
    unmade = worked_of("R 10 j 4 p 10 -> same ring, picot 1")
    assert targets(unmade) == ["(the picots of ring 1 are not made yet)"]


def test_the_middle_picot_of_an_odd_and_of_an_even_number() -> None:
    odd = worked_of("R 5 p 5 p 5 p 5\nR 4 j 4 -> previous ring, middle picot")
    assert targets(odd) == ["ring 1, picot 2"]
    even = worked_of("R 5 p 5 p 5\nR 4 j 4 -> previous ring, middle picot")
    (join,) = even.joins
    assert not join.resolved
    assert join.candidates == 2
    assert "none of them is in the middle" in join.reason


def test_the_middle_picot_of_a_ring_that_is_joined_itself() -> None:
    worked = worked_of(
        """
        R 5 p 5 p 5 p 5
        R 5 j 5 p 5 p 5 -> previous ring, last picot
        C 6 j 6 -> ring 2, middle picot
        """
    )
    assert targets(worked)[-1] == "ring 2, picot 1"


def test_the_only_picot() -> None:
    worked = worked_of("R 6 p 6\nR 6 j 6 -> first ring, only picot\nR 5 p 5 p 5\nC 4 j 4 -> ring 3, only picot")
    assert targets(worked)[0] == "ring 1, picot 1"
    assert worked.joins[1].candidates == 2


def test_sizes_tell_picots_apart() -> None:
    worked = worked_of("R 4 sp 4 lp 4 p 4 sp 4\nR 4 j 4 j 4 -> previous ring, last small picot; ring 1, long picot")
    assert targets(worked) == ["ring 1, picot 4", "ring 1, picot 2"]
    assert targets(worked_of("R 4 sp 4\nR 4 j 4 -> ring 1, long picot")) == ["(ring 1 has no long picot)"]


def test_numbers_count_joined_picots_where_nothing_else_fits() -> None:
    worked = worked_of(
        """
        R 5 p 5 p 5 p 5
        R 5 j 5 p 5 p 5 -> ring 1, picot 3
        R 5 j 5 p 5 j 5 -> ring 2, picot 3; ring 1, picot 1
        C 4 j 4 -> ring 2, picot 2
        """
    )
    assert targets(worked) == ["ring 1, picot 3", "ring 2, picot 2", "ring 1, picot 1", "ring 2, picot 1"]
    assert worked.joined_picots_counted
    assert "joined picots of ring 2 are counted" in worked.joins[1].assumed
    assert not worked.joins[0].assumed


def test_large_and_small_rings_by_turns() -> None:
    worked = worked_of(
        """
        R 4 p 4
        TURN
        R 4 p 3 p 3 p 4
        TURN
        REP 3 {
        R 4 p 4
        TURN
        R 4 j 3 p 3 p 4 -> previous large ring, last picot
        TURN
        }
        """
    )
    assert targets(worked) == ["ring 2, picot 3", "ring 4, picot 2", "ring 6, picot 2"]


def test_the_ring_before_is_the_one_on_the_same_side_where_rings_alternate() -> None:
    worked = worked_of(
        """
        R 4 p 4 p 4 p 4
        TURN
        BT 3mm
        R 4 p 4 p 4 p 4
        TURN
        BT 3mm
        REP 2 {
        R 4 j 4 p 4 p 4 -> previous ring, last picot
        TURN
        BT 3mm
        R 4 j 4 p 4 p 4 -> previous ring, last picot
        TURN
        BT 3mm
        }
        """
    )
    assert targets(worked) == ["ring 1, picot 3", "ring 2, picot 3", "ring 3, picot 2", "ring 4, picot 2"]
    assert all("on the same side" in join.assumed for join in worked.joins)


def test_the_ring_before_is_one_of_the_same_sort_where_the_nearest_cannot_be_meant() -> None:
    worked = worked_of(
        """
        R 5 p 5 p 5
        TURN
        C 8
        SWITCH
        JR h1:10
        SWITCH
        C 8
        TURN
        R 5 j 5 p 5 -> previous ring, last picot
        """
    )
    assert targets(worked) == ["ring 1, picot 2"]
    assert "has no such picot" in worked.joins[0].assumed


def test_going_round_an_earlier_round_and_back_to_its_start() -> None:
    worked = worked_of(
        """
        # Round 1
        R 3 p 3 p 3 p 3 p 3
        CUT
        # Round 2
        ATTACH -> any picot of round 1
        REP 4 {
        C 5 p 5
        LJ -> next picot of round 1
        }
        CUT
        """
    )
    assert targets(worked) == [f"ring 1 of round 1, picot {number}" for number in (1, 2, 3, 4, 1)]
    assert [join.kind for join in worked.joins] == ["attach", "lock", "lock", "lock", "lock"]
    first = worked.elements[0].picots[0]
    assert [use.kind for use in first.uses] == ["lock"]


def test_any_picot_repeated_on_every_pass_moves_on() -> None:
    worked = worked_of(
        "# Round 1\nR 2 p 2 p 2 p 2\nCUT\n# Round 2\nREP 3 {\nR 5 j 5 -> any picot of round 1\nTURN\nC 6 p 6\nTURN\n}"
    )
    assert targets(worked) == [f"ring 1 of round 1, picot {number}" for number in (1, 2, 3)]


def test_going_round_passes_over_picots_that_the_round_itself_has_joined() -> None:
    worked = worked_of(
        """
        # Round 1
        R 4 p 4 p 4 p 4
        REP 3 {
        R 4 j 4 p 4 p 4 -> previous ring, last picot
        ON last R 4 j 4 p 4 j 4 -> previous ring, last picot; first ring, first picot
        }
        CUT
        # Round 2
        REP 4 {
        C 6
        LJ -> next picot of round 1
        }
        """
    )
    picots = [join.picot for join in worked.joins[-4:]]
    assert [(p.element.number, p.place) for p in picots if p is not None] == [(1, 2), (2, 2), (3, 2), (4, 2)]


def test_next_and_same_chain_of_the_round_before() -> None:
    worked = worked_of(
        """
        # Round 1
        REP 3 {
        R 5 p 5
        TURN
        C 4 p 4 p 4
        TURN
        }
        CUT
        # Round 2
        ATTACH -> round 1 any chain, first picot
        REP 3 {
        C 3
        LJ -> round 1 same chain, picot 2
        C 5 p 5
        LJ -> round 1 next chain, first picot
        }
        """
    )
    found = [(join.picot.element.number, join.picot.number) for join in worked.joins if join.picot]
    assert found == [(1, 1), (1, 2), (2, 1), (2, 2), (3, 1), (3, 2), (1, 1)]


def test_two_walks_in_one_round_do_not_disturb_each_other() -> None:
    worked = worked_of(
        """
        # Round 1
        REP 3 {
        R 5 p 5
        TURN
        C 4 p 4
        TURN
        }
        CUT
        # Round 2
        REP 3 {
        R 3 j 3 -> round 1 next ring, only picot
        TURN
        C 4 j 4 -> round 1 next chain, only picot
        TURN
        }
        """
    )
    found = [(join.picot.element.kind, join.picot.element.number) for join in worked.joins if join.picot]
    assert found == [("ring", 1), ("chain", 1), ("ring", 2), ("chain", 2), ("ring", 3), ("chain", 3)]


def test_the_next_chain_picot_by_picot_where_the_passes_fit() -> None:
    text = """
        # Round 1
        REP 3 {
        R 5 p 5
        TURN
        C 4 p 4 p 4
        TURN
        }
        CUT
        # Round 2
        REP COUNT {
        R 6 j 6 -> round 1 next chain
        TURN
        C 7
        TURN
        }
        """
    fitting = worked_of(text.replace("COUNT", "6"))
    found = [(join.picot.element.number, join.picot.number) for join in fitting.joins if join.picot]
    assert found == [(1, 1), (1, 2), (2, 1), (2, 2), (3, 1), (3, 2)]
    assert all(join.assumed for join in fitting.joins)
    assert all(join.candidates == 2 and not join.resolved for join in worked_of(text.replace("COUNT", "3")).joins)


def test_the_same_picot_again() -> None:
    worked = worked_of(
        "R 5 p 5 p 5\nR 5 j 5 -> ring 1, picot 1\nR 5 j 5 -> same picot\nC 4\nLJ -> first ring, base\nLJ -> same picot"
    )
    assert targets(worked) == ["ring 1, picot 1", "ring 1, picot 1", "ring 1, base", "ring 1, base"]


def test_corresponding_picot() -> None:
    worked = worked_of("R 4 p 4 p 4 p 4\nTURN\nC 9\nTURN\nR 4 p 4 j 4 p 4 -> ring 1, corresponding picot")
    assert targets(worked) == ["ring 1, picot 2"]


def test_two_places_in_one_join() -> None:
    pattern = steps(
        [
            element("ring", "4 p 4 p 4 p 4"),
            element("chain", "6 j 6", "ring 1, picot 2 + ring 1, picot 3"),
        ]
    )
    worked = work(pattern)
    assert targets(worked) == ["ring 1, picot 2", "ring 1, picot 3"]
    assert {join.item for join in worked.joins} == {1}


def test_spots_that_are_no_picot() -> None:
    worked = worked_of(
        """
        R 5 p 5
        BT 4mm
        R 5 p 5
        C 6
        LJ -> ring 1, base
        LJ -> bare thread
        LJ -> fabric
        LJ -> between
        SR 4 / 4
        LJ -> previous split ring, top
        LJ -> mock picot
        MP
        LJ -> mock picot
        """
    )
    assert targets(worked) == [
        "ring 1, base", "bare thread", "fabric", "chain 1, between", "split ring 3, top",
        "(no mock picot is made before this)", "split ring 3, mock picot",
    ]  # fmt: skip


def test_no_bare_thread_has_been_left() -> None:
    worked = worked_of("R 5 p 5\nC 6\nLJ -> bare thread")
    assert targets(worked) == ["(no bare thread is left before this)"]


def test_another_round_that_is_not_there() -> None:
    worked = worked_of(
        "# Round 1\nR 5 p 5\n# Round 2\nC 4\nLJ -> round 3 ring 1, picot 1\nLJ -> round 1 ring 2, picot 1"
    )
    assert targets(worked) == ["(there is no round 3 in this pattern)", "(round 1 has 1 ring; there is no second)"]


def test_a_motif_of_this_pattern_and_one_outside_it() -> None:
    inside = worked_of("# Motif 1\nR 5 p 5 p 5\nCUT\n# Motif 2\nR 5 j 5 -> motif 1 ring 1, picot 2")
    assert targets(inside) == ["ring 1 of motif 1, picot 2"]
    outside = worked_of("R 5 j 5 -> motif 2 ring 4, picot 3")
    assert targets(outside) == ["motif"]


def motif(times: int) -> Pattern:
    place = Place(picot=1, element=ElementRef("ring", 1), part=PartRef("motif", "previous"))
    ring = element("ring", "5 p 5")
    joined = element("ring", "5 j 5")
    joined.work[1].places.append(place)  # type: ignore[union-attr]
    return Pattern(parts=[Part("motif", None, times=times, steps=[ring, joined, Cut()])])


def test_a_part_worked_several_times_joins_to_the_time_before() -> None:
    worked = work(motif(3))
    assert [part.copy for part in worked.parts] == [1, 2, 3]
    reasons = [join.reason for join in worked.joins]
    assert reasons == ["no motif is worked before this one", "", ""]
    assert [join.picot.element.index for join in worked.joins if join.picot] == [0, 3]


def test_motifs_told_apart_by_cuts_alone() -> None:
    worked = worked_of(
        "R 4 p 4 p 4 p 4\nCUT\nR 4 p 4 j 4 p 4 -> motif 1 any ring, middle picot\nCUT\n"
        "R 4 j 4 -> previous motif ring 1, picot 2"
    )
    found = [(join.picot.element.index, join.picot.number) for join in worked.joins if join.picot]
    assert found == [(0, 2), (2, 2)]


def test_the_first_ring_of_a_repeated_group_is_its_own() -> None:
    worked = worked_of("REP 3 {\nR 8 p 3\nR 3 j 8 -> first ring, only picot\nTURN\nC 5\nTURN\n}")
    assert [join.picot.element.number for join in worked.joins if join.picot] == [1, 3, 5]
    assert [bool(join.assumed) for join in worked.joins] == [False, True, True]


def test_rings_that_all_meet_in_the_first_picot() -> None:
    worked = worked_of("R 6 p 6\nREP 4 {\nBT 3mm\nR 6 j 6 -> first ring, only picot\n}")
    assert set(targets(worked)) == {"ring 1, picot 1"}
    assert len(worked.elements[0].picots[0].uses) == 4


def test_a_named_ring_whose_picot_is_not_named() -> None:
    worked = worked_of("R 5 p 5 p 5 p 5\nR 5 j 5 p 5 -> ring 1\nTURN\nC 6 j 6 -> ring 1")
    near, open_ = worked.joins
    assert (near.picot and near.picot.number, near.candidates) == (3, 3)
    assert near.assumed
    assert not open_.resolved
    assert open_.candidates == 2


def test_labels_are_the_latest_of_their_name() -> None:
    worked = worked_of("REP 2 {\nR 4 p 4 p 4 # Ra\nR 4 j 6 p 4 -> ring Ra, last picot # Rb\nTURN\nC 5\nTURN\n}")
    assert [join.picot.element.index for join in worked.joins if join.picot] == [0, 5]


def test_next_picot_with_nothing_else_said_goes_on_where_the_thread_was_fastened() -> None:
    worked = worked_of(
        "# Round 1\nR 3 p 3 p 3 p 3 p 3\nCUT\n"
        "# Round 2\nATTACH -> round 1 ring 1, picot 2\nREP 3 {\nC 5\nLJ -> next picot\n}"
    )
    assert [join.picot.number for join in worked.joins if join.picot] == [2, 3, 4, 1]


def test_passes_of_a_repeat_as_motifs() -> None:
    place = Place(picot="only", element=ElementRef("chain", 2), part=PartRef("wing", "previous"))
    wing = Repeat(
        [element("ring", "5 p 5"), Turn(), element("chain", "4 p 4"), element("chain", "6 p 6"), LockJoin([place])], 3
    )
    worked = work(steps([wing]))
    assert [join.picot.element.number if join.picot else join.spot for join in worked.joins] == ["motif", 2, 4]


def test_attaching_is_no_join_and_no_use() -> None:
    worked = work(steps([element("ring", "5 p 5"), Cut(), Attach([Place(picot=1, element=ElementRef("ring", 1))])]))
    assert not worked.elements[0].picots[0].uses
    assert [join.kind for join in worked.joins] == ["attach"]


def test_a_number_is_counted_by_what_the_letters_of_other_labels_stand_for() -> None:
    worked = work(
        steps(
            [
                element("ring", "4 p 4", label="R1"),
                element("chain", "5 p 5", label="C1"),
                element("ring", "6 p 6"),
                element("chain", "7 p 7"),
                element("chain", "4 j 4 j 4", "element R2, first picot", "element C2, first picot"),
            ]
        )
    )
    assert targets(worked) == ["ring 2, picot 1", "chain 2, picot 1"]


def test_rows_of_a_table_that_are_elements() -> None:
    place = Place(picot="last", element=ElementRef("ring"), part=PartRef("row", 3))
    base = Place("base", element=ElementRef("ring"), part=PartRef("row", 1))
    rows = [
        element("ring", "4 p 4", label="1"),
        element("chain", "5", label="2"),
        element("ring", "6 p 6 p 6", label="3"),
    ]
    worked = work(steps([*rows, LockJoin([place]), LockJoin([base])]))
    assert targets(worked) == ["ring 3, picot 2", "ring 1, base"]


def test_a_sister_that_has_lost_its_picot_is_not_passed_over() -> None:
    worked = worked_of(
        """
        R 5 p 5 p 5
        R 5 j 5 p 5 -> previous ring, last picot
        R 5 j 10 -> previous ring, last picot
        R 5 j 5 p 5 -> previous ring, last picot
        """
    )
    assert targets(worked) == ["ring 1, picot 2", "ring 2, picot 1", "(ring 3 has no picots)"]


def test_going_round_does_not_pass_over_chains_that_have_lost_their_picots() -> None:
    worked = worked_of(
        """
        # Round 1
        C 6 p 6
        REP 3 {
        C 12
        }
        # Round 2
        REP 4 {
        C 7
        LJ -> round 1 next chain, only picot
        }
        """
    )
    assert targets(worked)[:2] == ["chain 1 of round 1, picot 1", "(chain 2 has no picots)"]


def test_going_round_passes_over_small_rings_without_picots() -> None:
    worked = worked_of(
        """
        # Round 1
        REP 3 {
        R 6 p 6
        TURN
        R 4
        TURN
        }
        # Round 2
        REP 3 {
        C 7
        LJ -> round 1 next ring, only picot
        }
        """
    )
    assert targets(worked) == [f"ring {number} of round 1, picot 1" for number in (1, 3, 5)]


def test_round_one_without_a_heading() -> None:
    worked = worked_of("R 5 p 5 p 5\n# Round 2\nC 4\nLJ -> round 1 ring 1, picot 2")
    assert [join.picot.number for join in worked.joins if join.picot] == [2]


def test_large_rings_where_only_the_small_ones_are_called_so() -> None:
    rings = [element("ring", "6 p 3 p 6"), element("ring", "4 p 4", size="small")]
    joined = element("ring", "6 j 3 p 6", "previous large ring, last picot")
    worked = work(steps([*rings, joined, rings[1], joined]))
    assert targets(worked) == ["ring 1, picot 2", "ring 3, picot 1"]


def test_a_plain_ring_is_passed_over_for_the_one_before_it() -> None:
    worked = worked_of("R 3 p 4 p 3\nTURN\nC 5\nTURN\nR 6\nTURN\nC 5\nTURN\nR 3 j 4 p 3 -> previous ring, last picot")
    assert targets(worked) == ["ring 1, picot 2"]
    assert worked.joins[0].assumed
