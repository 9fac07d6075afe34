"""Threads, sides, where the thread stands, climbs and ends."""

from __future__ import annotations

from by_hand import element, steps, targets, worked_of

from larkshead.model import Attach, Cut, Element, HideEnds, Picot, Stitches, Switch, Thread, Thrown, Turn
from larkshead.working import Worked, work

SHUTTLE, BALL = Thread("shuttle", "shuttle"), Thread("ball", "ball", joined_to="shuttle")
TWO = [Thread("shuttle", "shuttle 1"), Thread("shuttle", "shuttle 2", joined_to="shuttle 1")]


def threads(worked: Worked) -> list[tuple[str, str]]:
    return [(one.core, one.working) for one in worked.elements]


def test_shuttle_and_ball() -> None:
    worked = worked_of("R 5\nTURN\nC 6", threads=[SHUTTLE, BALL])
    assert threads(worked) == [("shuttle", "shuttle"), ("shuttle", "ball")]
    assert worked.threads_known
    assert not worked.problems


def test_no_threads_named() -> None:
    worked = worked_of("R 5\nTURN\nC 6")
    assert threads(worked) == [("shuttle 1", "shuttle 1"), ("shuttle 1", "ball")]
    assert not worked.threads_known
    assert not worked.problems


def test_changing_shuttles() -> None:
    worked = worked_of("R 6\nC 5\nSWITCH\nR 3\nSWITCH\nC 5", threads=TWO)
    assert threads(worked) == [
        ("shuttle 1", "shuttle 1"), ("shuttle 1", "shuttle 2"), ("shuttle 2", "shuttle 2"), ("shuttle 1", "shuttle 2"),
    ]  # fmt: skip


def test_threads_named_at_the_element() -> None:
    pattern = steps(
        [
            element("chain", "5", thread="shuttle 1 over shuttle 2"),
            element("ring", "4", thread="shuttle 1"),
            element("chain", "5"),
        ],
        threads=TWO,
    )
    assert threads(work(pattern)) == [
        ("shuttle 2", "shuttle 1"), ("shuttle 1", "shuttle 1"), ("shuttle 1", "shuttle 2"),
    ]  # fmt: skip


def test_crossing_the_threads_changes_their_roles() -> None:
    worked = work(steps([element("chain", "5"), Switch(way="cross"), element("chain", "5")], threads=[SHUTTLE, BALL]))
    assert threads(worked) == [("shuttle", "ball"), ("ball", "shuttle")]


def test_a_chain_with_one_thread_is_a_problem_said_once() -> None:
    worked = worked_of("REP 5 {\nR 5\nTURN\nC 6\nTURN\n}", threads=[SHUTTLE])
    assert [(problem.kind, problem.step is worked.elements[1].step) for problem in worked.problems] == [
        ("no-second-thread", True)
    ]
    assert worked.elements[1].working == ""


def test_the_tail_is_the_second_thread_of_one_shuttle_work() -> None:
    tail = Thread("tail", "tail", joined_to="shuttle")
    worked = worked_of("R 5\nSR 4 p 4 / 4 p 4", threads=[SHUTTLE, tail])
    assert threads(worked)[1] == ("shuttle", "tail")
    assert not worked.problems
    assert worked.ends.started == 1


def test_thread_cut_and_only_one_fastened_on_again() -> None:
    pattern = steps(
        [element("chain", "5"), Cut(), Attach(threads=["shuttle"]), element("chain", "5")], threads=[SHUTTLE, BALL]
    )
    worked = work(pattern)
    assert threads(worked) == [("shuttle", "ball"), ("shuttle", "")]
    assert [problem.kind for problem in worked.problems] == ["no-second-thread"]


def test_cutting_one_thread_leaves_the_other() -> None:
    worked = work(steps([Cut(threads=["ball"]), element("ring", "5"), element("chain", "5")], threads=[SHUTTLE, BALL]))
    assert threads(worked) == [("shuttle", "shuttle"), ("shuttle", "")]


def test_sides_by_turns_and_front_again_after_a_cut() -> None:
    worked = worked_of("R 5\nTURN\nC 6\nC 6\nTURN\nR 5\nTURN\nC 5\nCUT\nR 3")
    assert [one.side for one in worked.elements] == ["front", "back", "back", "front", "back", "front"]


def thrown() -> Worked:
    ring = Element("ring", [Stitches(4), Picot(), Stitches(4)])
    chain = Element("chain", [Stitches(5), Thrown(ring), Stitches(5), Picot(), Stitches(2)])
    return work(
        steps([element("ring", "6 p 6"), Turn(), chain, element("chain", "3 j 3", "ring 2, picot 1")], threads=TWO)
    )


def test_a_thrown_ring_is_worked_with_the_other_shuttle_while_the_chain_goes_on() -> None:
    worked = thrown()
    first, chain, ring, after = worked.elements
    assert [first.index, chain.index, ring.index, after.index] == [0, 2, 3, 4]
    assert (ring.core, ring.working) == ("shuttle 2", "shuttle 2")
    assert ring.thrown_from is chain
    assert ring.side == "back"
    assert (chain.ds, chain.groups) == (12, (5, 5, 2))
    assert [picot.number for picot in chain.picots] == [1]
    assert targets(worked) == ["ring 2, picot 1"]
    assert chain.position.at == "end"


def test_where_the_thread_stands() -> None:
    worked = worked_of(
        """
        R 5 p 5
        TURN
        C 6
        LJ -> ring 1, base
        SR 4 / 4
        MP
        CUT
        ATTACH -> ring 1, picot 1
        C 4 j -> ring 1, picot 1
        """
    )
    stands = [one.position.at if one.position else "" for one in worked.sequence]
    assert stands == ["base", "base", "end", "join", "top", "tip", "nowhere", "attached", "join"]
    lock = worked.sequence[3].position
    assert lock is not None
    assert (lock.spot, lock.element) == ("base", worked.elements[0])
    tip = worked.sequence[5].position
    assert tip is not None
    assert tip.picot is not None
    assert tip.picot.mock


def test_climbs_between_rounds() -> None:
    def climb(between: str) -> str:
        text = f"# Round 1\nR 5 p 5\n{between}# Round 2\nC 6 p 6"
        return worked_of(text).parts[1].climb

    assert climb("") == "none"
    assert climb("MP\n") == "mock picot"
    assert climb("SR 4 / 4\n") == "split ring"
    assert climb("SC 4 / 4\n") == "split chain"
    assert climb("CUT\n") == "cut"
    assert worked_of("# Round 1\nR 5 p 5\nCUT\n# Round 2\nATTACH -> ring 1, picot 1\nC 6").parts[1].climb == "attached"
    lock = worked_of("# Round 1\nR 5 p 5\n# Round 2\nLJ -> round 1 ring 1, picot 1\nC 6").parts[1]
    assert (lock.climb, lock.stood and lock.stood.at, lock.began and lock.began.at) == ("lock join", "base", "join")
    assert worked_of("R 5").parts[0].climb == "start"


def test_ends_of_threads_wound_uncut_and_tied() -> None:
    def ends(threads: list[Thread]) -> tuple[int, int]:
        worked = work(steps([element("chain", "5"), Cut(), HideEnds("sewn in")], threads=threads))
        assert worked.ends.hidden == ["sewn in"]
        return worked.ends.started, worked.ends.cut

    assert ends([SHUTTLE, BALL]) == (0, 2)
    assert ends([SHUTTLE, Thread("ball", "ball", joined_to="shuttle", tied=True)]) == (2, 2)
    assert ends([SHUTTLE]) == (1, 1)


def test_new_threads_leave_new_ends() -> None:
    worked = work(
        steps([element("chain", "5"), Cut(), Attach(), element("chain", "5"), Cut()], threads=[SHUTTLE, BALL])
    )
    assert (worked.ends.started, worked.ends.cut, worked.ends.total) == (0, 4, 4)
    alone = work(steps([element("ring", "5"), Cut(), element("ring", "5"), Cut()], threads=[SHUTTLE]))
    assert (alone.ends.started, alone.ends.cut) == (2, 2)
