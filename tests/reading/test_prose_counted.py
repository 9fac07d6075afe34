"""What running words count, change and part: numbers reached, lots, every so-manyth, passes told apart."""

from __future__ import annotations

import pytest
from prose_tools import prose_steps, read_prose

REACHED = [
    (
        "a ring of seven picot seven and turn and chain nine and turn and on you go till you can count five rings and five chains",
        ["REP 5 {", "R 7 p 7", "TURN", "C 9", "TURN", "}"],
    ),
    (
        "A big ring of 7, picot, 7. Leave 3 mm. A little ring of 3, picot, 3. Leave 3 mm. Go on so until you have six of each.",
        ["REP 6 {", "R 7 p 7", "BT 3mm", "R 3 p 3", "BT 3mm", "}"],
    ),
    (
        "Ring of 9, picot, 9. Leave 2 mm. Make another, leave 2 mm, and so on, until seven rings hang on the thread. "
        "Leave 2 mm after the seventh as well.",
        ["R 9 p 9", "BT 2mm", "REP 6 {", "R 9 p 9", "BT 2mm", "}"],
    ),
    (
        "Centre: ring of 2, four picots with 4 between, 2. Cut. Tie on in any picot. Chain 5, lock join to the next picot. "
        "Go on until every picot is used. Cut.",
        ["R 2 p 4 p 4 p 4 p 2", "CUT", "ATTACH", "REP 4 {", "C 5 lj", "}", "CUT"],
    ),
    (
        "Round one of the mat left us with seven free picots. Tie on in one of them. Chain five, picot, five, "
        "lock join to the next picot, and so on all round. Cut.",
        ["ATTACH", "REP 7 {", "C 5 p 5 lj", "}", "CUT"],
    ),
]
LOTS = [
    (
        "One tooth is a ring of five, picot, five, then turn, chain six, turn. Did six. Tuesday, four more. "
        "Wednesday just the one. Thursday, half as many as on Tuesday.",
        [line for times in (6, 4, 1, 2) for line in (f"REP {times} {{", "R 5 p 5", "TURN", "C 6", "TURN", "}")],
    ),
    (
        "ring of two picot two and turn and chain four and turn and that's your one tooth and I did nine teeth",
        ["REP 9 {", "R 2 p 2", "TURN", "C 4", "TURN", "}"],
    ),
    (
        "ring of six picot six and turn and chain four and turn and that's one and you do eight and then cut",
        ["REP 8 {", "R 6 p 6", "TURN", "C 4", "TURN", "}", "CUT"],
    ),
    (
        "Ring of six, picot, six. Turn. Chain four. Turn. That is one repeat; the cuff takes eleven repeats.",
        ["REP 11 {", "R 6 p 6", "TURN", "C 4", "TURN", "}"],
    ),
    (
        "Chain six, turn, ring of five, picot, five, turn, chain six, lock join to the picot below. "
        "Again: chain six, turn, the same ring, turn, chain six, lock join to the next picot. Three more of those bring you home.",
        ["C 6", "TURN", "R 5 p 5", "TURN", "C 6 lj", "REP 4 {", "C 6", "TURN", "R 5 p 5", "TURN", "C 6 lj", "}"],
    ),
]
SHARED = [
    (
        "Nine rings in a row, each with 2 mm of thread left after it. They are four, picot, four, but every third ring is "
        "six and six with a bead between.",
        ["REP 3 {", "REP 2 {", "R 4 p 4", "BT 2mm", "}", "R 6 b 6", "BT 2mm", "}"],
    ),
    (
        "Ring of 4, picot, 4. Three more rings, with 2 mm of thread before each.",
        ["R 4 p 4", "REP 3 {", "BT 2mm", "R 4 p 4", "}"],
    ),
    (
        "Ring of 3, picot, 3, picot, 3. Beside it, twice, a ring of 3, join to the last picot of the ring before, 3, picot, 3.",
        ["R 3 p 3 p 3", "REP 2 {", "R 3 j 3 p 3", "}"],
    ),
    (
        "Make a ring of 6, picot, 6. Now a second one beside it, joined: 6, join to the picot, 6. That makes a pair. Leave 1 cm. "
        "Work four pairs in all with 1 cm between.",
        ["REP 3 {", "R 6 p 6", "R 6 j 6", "BT 1cm", "}", "R 6 p 6", "R 6 j 6"],
    ),
    (
        "Ring one: five, picot, five, picot, five. Turn. Chain: eight. Turn. Rings two and three are as ring one; "
        "the same chain follows each of them, turned before and after.",
        ["R 5 p 5 p 5", "TURN", "C 8", "TURN", "REP 2 {", "R 5 p 5 p 5", "TURN", "C 8", "TURN", "}"],
    ),
]
CHANGED = [
    (
        "Ring: 6, picot, 6, picot, 6. Turn. Chain: 5. Turn. Eight times in all; ring 8 also joins ring 1 where its second picot "
        "would have been.",
        ["REP 8 {", "R 6 p 6 p 6", "ON last R 6 p 6 j 6", "TURN", "C 5", "TURN", "}"],
    ),
    (
        "Ring: 6, picot, 6. Turn. Chain: 5. Turn. Nine times in all. In all but the first there is a join where the picot "
        "would be, to the picot of the first ring.",
        ["REP 9 {", "R 6 j 6", "ON first R 6 p 6", "TURN", "C 5", "TURN", "}"],
    ),
    (
        "Arm: ring of 3, picot, 3; ring of 6, picot, 6. Turn, chain 8, turn. Make five arms. From the second arm onwards the "
        "first ring has a join for its picot, to the second ring of the arm before.",
        ["REP 5 {", "R 3 j 3", "ON first R 3 p 3", "R 6 p 6", "TURN", "C 8", "TURN", "}"],
    ),
]


@pytest.mark.parametrize(("text", "wanted"), [*REACHED, *LOTS, *SHARED, *CHANGED])
def test_counted(text: str, wanted: list[str]) -> None:
    assert prose_steps(text) == wanted


def test_ends_tied_behind_a_cut_join_nothing() -> None:
    assert prose_steps(
        "Ring of 5, picot, 5. Turn. Chain of 7. Cut, tie to the base of the first ring, and hide the ends."
    )[-2:] == ["C 7", "CUT"]


def notices(text: str) -> list[str]:
    return [notice.kind for notice in read_prose(text).notices]


def test_a_choice_of_counts_is_told_and_the_first_taken() -> None:
    text = "Ring of 6, picot, 6. Turn. Chain of 8 or 10 ds. Turn."
    assert prose_steps(text) == ["R 6 p 6", "TURN", "C 8", "TURN"]
    assert "unclear-count" in notices(text)


def test_more_for_those_who_want_it_is_no_work() -> None:
    assert prose_steps("Ring of 6, picot, 6. Leave 3 mm. Nine times in all. A wide wrist wants three or four more.")[
        :1
    ] == ["REP 9 {"]


def test_a_sum_told_before_the_work_is_held_to_it() -> None:
    assert "contradiction" in notices(
        "Chain of 20 double stitches in all, like so: 6 double stitches, picot, 6 double stitches."
    )


def test_steps_named_by_their_numbers_alone() -> None:
    text = (
        "1) Ring of 5, picot, 5.\n2) Turn, leave 4 mm.\n3) Ring of 3.\n4) Turn, 4 mm.\n5) Do 3 and 4 six times in all."
    )
    assert prose_steps(text) == ["R 5 p 5", "TURN", "BT 4mm", "REP 6 {", "R 3", "TURN", "BT 4mm", "}"]
