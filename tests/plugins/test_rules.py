"""Each rule over step lists: what it finds, at which line, and the exceptions in which it keeps still."""

from __future__ import annotations

from typing import NamedTuple

import pytest

from larkshead.conventions import Convention
from larkshead.linting.testing import Read, assert_finds, assert_silent, findings_of
from larkshead.model import MockPicot, StatedTotal, Thread
from larkshead.reading import Notice, Reading, Source, Span


class Case(NamedTuple):
    """A step list in which a rule finds something on ``line`` (silent: None), with words of its message."""

    rule: str
    line: int | None
    says: str
    text: str


def case(rule: str, line: int | None, says: str, *steps: str) -> Case:
    return Case(rule, line, says, "\n".join(steps) + "\n")


ROW = (
    "R 5 p 5 p 5 p 5 # R1",
    "TURN",
    "REP 4 {",
    "C 6 p 6",
    "TURN",
    "R 5 j 5 p 5 p 5 -> previous ring, last picot",
    "TURN",
    "}",
)


def row(**changed: str) -> tuple[str, ...]:
    """The row of rings and chains with some of its lines changed (``line6="..."``)."""
    return tuple(changed.get(f"line{number}", line) for number, line in enumerate(ROW, 1))


WHEEL = (
    "# Round 1",
    "R 2 p 2 p 2 p 2 p 2 p 2",
    "TURN",
    "MP",
    "# Round 2",
    "REP 5 {",
    "C 5 p 5",
    "LJ -> next free picot of round 1",
    "}",
    "C 5 p 5",
    "LJ -> mock picot",
)


def wheel(**changed: str) -> tuple[str, ...]:
    """A ring with five picots and a mock picot, and six chains round it."""
    return tuple(changed.get(f"line{number}", line) for number, line in enumerate(WHEEL, 1))


RING_OF_RINGS = (
    "# Round 1",
    "R 5 p 5 p 5 p 5 # R1",
    "TURN",
    "C 6 p 6",
    "TURN",
    "REP 4 {",
    "R 5 j 5 p 5 p 5 -> previous ring, last picot",
    "TURN",
    "C 6 p 6",
    "TURN",
    "}",
    "R 5 j 5 p 5 j 5 -> previous ring, last picot; ring R1, first picot",
    "TURN",
    "C 6 p 6",
    "LJ -> ring R1, base",
    "CUT",
)


def ring_of_rings(**changed: str) -> tuple[str, ...]:
    """Six rings joined all round, with chains between."""
    return tuple(changed.get(f"line{number}", line) for number, line in enumerate(RING_OF_RINGS, 1))


CASES = [
    # unbalanced-picots
    case("unbalanced-picots", None, "", *row()),
    case("unbalanced-picots", 6, "5+5-4-5", *row(line6="R 5 j 5 p 4 p 5 -> previous ring, last picot")),
    case("unbalanced-picots", 4, "7 on one side stands against 9", *row(line4="C 7 p 9")),
    case(
        "unbalanced-picots", None, "",
        *row(line1="R 5 p 5 p 4 p 5", line6="R 5 j 5 p 4 p 5 -> previous ring, last picot"),
    ),
    case("unbalanced-picots", None, "", "R 3 p 4 p 5", "C 6 p 6", "R 5 p 4 p 3", "C 6 p 6", "R 4 p 4"),
    case("unbalanced-picots", None, "", *row(line4="C 4 p 9")),
    case("unbalanced-picots", 2, "8 stitches on its first side and 7", "REP 4 {", "SR 4 p 4 / 7", "SR 8 / 4 p 4", "}"),
    case("unbalanced-picots", None, "", "REP 4 {", "SR 4 p 4 / 6", "SR 6 / 4 p 4", "}"),
    # unlike-sisters
    case("unlike-sisters", None, "", *row()),
    case(
        "unlike-sisters", 12, "its 5 sisters 5-5-5-5",
        *ring_of_rings(line12="R 5 j 4 p 4 j 5 -> previous ring, last picot; ring R1, first picot"),
    ),
    case("unlike-sisters", 4, "is worked 5-5", *ring_of_rings(line4="C 5 p 5")),
    case("unlike-sisters", 14, "other beads", *ring_of_rings(line4="C 6 p b 6", line9="C 6 p b 6")),
    case("unlike-sisters", None, "", *ring_of_rings(line4="C 12", line14="C 12")),
    case("unlike-sisters", None, "", "MR 4 p 4", "C 2", "REP 3 {", "R 5 p 5", "C 4", "}", "R 5 p 5", "C 2"),
    case(
        "unlike-sisters", None, "",
        "R 3 p 3", "TURN", "R 4 p 4", "TURN", "R 5 p 5", "TURN", "R 6 p 6", "TURN", "R 7 p 7",
    ),
    case("unlike-sisters", None, "", "REP 3 {", "R 4 p 4", "TURN", "R 5 p 5", "TURN", "}"),
    case("unlike-sisters", None, "", "R 5 p 5", "C 6", "R 6 p 6", "C 6", "R 5 p 5"),
    # picot-without-stitch
    case("picot-without-stitch", None, "", "R 4 p 4 p 4"),
    case("picot-without-stitch", 1, "after the last stitch", "R 4 p 4 p"),
    case("picot-without-stitch", 1, "before the first stitch", "R p 4 p 4"),
    case("picot-without-stitch", 1, "side by side", "R 4 p p 4"),
    case("picot-without-stitch", None, "", "C 5 p", "LJ -> base"),
    case("picot-without-stitch", None, "", "C 5 p b 5"),
    case("picot-without-stitch", None, "", "SR 5 p / p 5"),
    # mock-picot-miscount is tested below: a step list gives a mock picot no number
    # impossible-join
    case("impossible-join", None, "", *row()),
    case("impossible-join", 6, "has 3 picots; there is no fifth", *row(line6="R 5 j 5 p 5 p 5 -> ring R1, picot 5")),
    case("impossible-join", 3, "no picots", "R 12 # A", "TURN", "R 4 j 4 -> ring A, last picot"),
    case("impossible-join", 1, "not worked yet", "R 4 j 4 -> ring B, picot 1 # A", "R 4 p 4 # B"),
    case("impossible-join", None, "", "R 12 # A", "C 5", "LJ -> ring A, base"),
    case("impossible-join", None, "", "R 4 j 4 -> fabric"),
    case("impossible-join", None, "", "R 4 j 4 -> motif 2 ring 4, picot 3"),
    case("impossible-join", None, "", "R 4 j 4 -> ?"),
    # ambiguous-join
    case("ambiguous-join", None, "", *row()),
    case(
        "ambiguous-join", 3, "which of its 3 free picots is not said",
        "R 5 p 5 p 5 p 5 # A", "C 6", "R 5 p 5 j 5 -> ring A",
    ),
    case("ambiguous-join", None, "", "R 5 p 5 # A", "C 6", "R 5 j 5 -> ring A"),
    case(
        "ambiguous-join",
        4,
        "it is not said of what",
        "R 5 p 5 p 5",
        "C 6",
        "REP 3 {",
        "R 5 j 5 p 5 -> next picot",
        "C 6",
        "}",
    ),
    # picot-already-joined
    case("picot-already-joined", None, "", *row()),
    case(
        "picot-already-joined", 5, "joined to already",
        "R 5 p 5 p 5 # R1", "C 6", "R 5 j 5 p 5 -> ring R1, last picot # R2", "C 6",
        "R 5 j 5 p 5 -> ring R1, last picot # R3",
    ),
    case(
        "picot-already-joined", None, "",
        "R 5 p 5 p 5 # R1", "C 6", "R 5 j 5 p 5 -> ring R1, last picot # R2", "C 6", "R 5 j 5 p 5 -> same picot # R3",
    ),
    case("picot-already-joined", None, "", "R 9 p 9 # hub", "REP 4 {", "C 6", "R 5 j 5 -> ring hub, picot 1", "}"),
    # missing-join
    case("missing-join", None, "", *row()),
    case(
        "missing-join", 5, "has a picot where its sisters are joined",
        "R 5 p 5 p 5", "C 6", "R 5 j 5 p 5 -> previous ring, last picot", "C 6", "R 5 p 5 p 5", "C 6",
        "R 5 j 5 p 5 -> previous ring, last picot",
    ),
    case("missing-join", None, "", *ring_of_rings()),
    case(
        "missing-join",
        4,
        "is not joined to ring 2 beside it",
        "REP 3 {",
        "R 4 p 4 p 4",
        "R 4 j 6 p 4 -> previous ring, last picot",
        "R 4 p 4 p 4",
        "C 9",
        "}",
    ),
    # round-does-not-close
    case("round-does-not-close", None, "", *ring_of_rings()),
    case(
        "round-does-not-close", 12, "is not joined to R1",
        *ring_of_rings(line12="R 5 j 5 p 5 p 5 -> previous ring, last picot"),
    ),
    case("round-does-not-close", 14, "not joined to the base of R1", *ring_of_rings(line15="TURN")),
    case("round-does-not-close", None, "", *row()),
    # repeats-do-not-fit
    case("repeats-do-not-fit", None, "", *wheel()),
    case("repeats-do-not-fit", 8, "7 joins are made here", *wheel(line6="REP 6 {")),
    case("repeats-do-not-fit", 8, "which has 6 places", *wheel(line6="REP 4 {")),
    case("repeats-do-not-fit", None, "", *wheel(line6="REP 2 {")),
    # missing-climb
    case("missing-climb", None, "", *wheel()),
    case(
        "missing-climb", 7, "nothing brings the thread out",
        *wheel(line4="", line11="LJ -> next free picot of round 1"),
    ),
    case("missing-climb", None, "", *wheel(line4="CUT", line11="LJ -> next free picot of round 1")),
    case("missing-climb", 7, "no mock picot is made", *wheel(line4="BT 3mm")),
    # missing-turn
    case("missing-turn", None, "", *row()),
    case("missing-turn", 4, "is not turned between", *row(line5="")),
    case("missing-turn", None, "", *row(line5="NOTURN")),
    case("missing-turn", None, "", *row(line2="", line5="", line7="")),
    case(
        "missing-turn", 7, "",
        "R 4 p 4", "TURN", "BT 5mm", "R 5 p 5", "TURN", "BT 5mm", "R 4 p 4", "BT 5mm", "R 5 p 5", "TURN", "BT 5mm",
        "R 4 p 4",
    ),
    case("missing-turn", None, "", "R 4 p 4", "R 4 p 4", "R 4 p 4", "TURN", "C 6", "TURN", "R 4 p 4"),
    # repeat-does-not-close
    case("repeat-does-not-close", None, "", *row(), "C 6 p 6", "R 5 p 5 # R6"),
    case("repeat-does-not-close", 3, "R7 follows, and it is number 6 of the rings", *row(), "C 6 p 6", "R 5 p 5 # R7"),
    # ambiguous-repeat
    case("ambiguous-repeat", None, "", "R 4 p 4", "REP ? { # until: length wanted", "C 6", "R 4 p 4", "}"),
    case("ambiguous-repeat", 2, "does not say how often", "R 4 p 4", "REP ? {", "C 6", "R 4 p 4", "}"),
    # half-stitch-left-over
    case("half-stitch-left-over", 1, "first half stitch", "C 6 p 6 h1:1"),
    case("half-stitch-left-over", None, "", "C 6 h1:1 p h2:1 6"),
    case("half-stitch-left-over", None, "", "JR h1:9"),
    case("half-stitch-left-over", None, "", "C h1:3 h2:3 h1:3 h2:3 h1:3"),
    # join-to-own-picot
    case("join-to-own-picot", None, "", "R 10 p 4 j 10 -> same ring, picot 1"),
    case("join-to-own-picot", 3, "not made yet", "R 5 p 5 p 5", "C 6", "R 5 j 5 p 5 -> same ring, last picot"),
    # lock-join-in-ring
    case("lock-join-in-ring", 2, "drawn up by", "R 5 p 5", "R 5 lj 5 -> previous ring, last picot"),
    case("lock-join-in-ring", None, "", "R 5 p 5", "C 5 lj 5 -> previous ring, last picot"),
    case("lock-join-in-ring", None, "", "R 5 p 5", "SR 5 / 3 lj 2 -> previous ring, last picot"),
    # crowded-picot
    case(
        "crowded-picot", 1, "3 joins go into one small picot",
        "R 9 sp 9 # A", "REP 3 {", "C 4", "R 5 j 5 -> ring A, picot 1", "}",
    ),
    case("crowded-picot", None, "", "R 9 p 9 # A", "REP 3 {", "C 4", "R 5 j 5 -> ring A, picot 1", "}"),
    case("crowded-picot", 1, "it holds about 4", "R 9 p 9 # A", "REP 12 {", "C 4", "R 5 j 5 -> ring A, picot 1", "}"),
    # turn-undone
    case("turn-undone", 3, "turned twice", "R 4", "TURN", "TURN", "C 6"),
    case("turn-undone", None, "", "R 4", "TURN", "MP", "TURN", "C 6"),
    case("turn-undone", None, "", *row()),
    # stray-turn
    case("stray-turn", 2, "the work is turned between",
         "REP 3 {", "R 4 p 4 p 4", "TURN", "R 4 j 6 p 4 -> previous ring, last picot",
         "R 4 j 4 p 4 -> previous ring, last picot", "C 8", "}"),
    case("stray-turn", None, "", "R 4 p 4", "TURN", "BT 3mm", "R 4 j 4 -> previous ring, last picot", "R 4 p 4"),
    # uneven-bare-thread
    case(
        "uneven-bare-thread", 6, "8mm of bare thread",
        "R 4", "BT 5mm", "R 4", "BT 5mm", "R 4", "BT 8mm", "R 4", "BT 5mm", "R 4",
    ),
    case("uneven-bare-thread", None, "", "R 4", "BT 3mm", "R 5", "BT 6mm", "R 4", "BT 3mm", "R 5", "BT 6mm"),
    # split-ring-sides-unstated
    case("split-ring-sides-unstated", 1, "12 stitches are divided", "SR 12"),
    case("split-ring-sides-unstated", None, "", "SR 6 / 6"),
    # thrown-ring-needs-shuttle
    case("thrown-ring-needs-shuttle", 3, "takes a shuttle", "C 5", "SWITCH", "R 4 p 4", "SWITCH", "C 5 # continued"),
    # ring-hard-to-close
    case("ring-hard-to-close", 1, "80 double stitches", "R 40 p 40"),
    case("ring-hard-to-close", None, "", "R 24 p 24", "SR 40 / 40", "C 90"),
    # round-out-of-order
    case("round-out-of-order", 3, "there is no round 2", "# Round 1", "R 4", "# Round 3", "C 6"),
    case("round-out-of-order", None, "", "# Round 1", "R 4", "# Round 2", "C 6", "# Round 3", "C 7"),
    case("round-out-of-order", None, "", "# Round 3", "R 4", "# Round 2", "C 6", "# Round 1", "C 7"),
    # label-used-twice
    case("label-used-twice", 3, "a second ring", "R 4 # A", "C 5", "R 4 # A"),
    case("label-used-twice", None, "", "# Round 1", "R 4 # A", "# Round 2", "R 4 # A"),
    # unknown-label
    case("unknown-label", 2, "ring E", "R 4 p 4 # A", "R 4 j 4 -> ring E, picot 1"),
    case("unknown-label", None, "", "R 4 p 4 # A", "R 4 j 4 -> ring A, picot 1 # B"),
]  # fmt: skip


def read(text: str, notation: str = "steplist") -> Reading:
    """A step list as read, with a shuttle and a ball."""
    from larkshead_steplist.reader import read as read_steps

    reading: Reading = read_steps(Source(text, "test.steps"), Convention("none"))
    reading.pattern.threads = reading.pattern.threads or [Thread("shuttle", "shuttle 1"), Thread("ball", "ball")]
    return reading


def target(rule: str) -> str:
    return f"larkshead_rules.{rule.replace('-', '_')}:check"


@pytest.mark.parametrize("tried", CASES, ids=lambda tried: f"{tried.rule}-{CASES.index(tried)}")
def test_rule(tried: Case) -> None:
    if tried.line is None:
        assert_silent(target(tried.rule), tried.text, read)
    else:
        assert_finds(target(tried.rule), tried.text, read, line=tried.line, says=tried.says, times=1)


def read_with(*threads: Thread) -> Read:
    """A reader of step lists that gives the pattern these threads."""

    def read_so(text: str, notation: str) -> Reading:
        reading = read(text)
        reading.pattern.threads = list(threads)
        return reading

    return read_so


SHUTTLE = Thread("shuttle", "shuttle 1")
SECOND = Thread("shuttle", "shuttle 2")
BALL = Thread("ball", "ball")


@pytest.mark.parametrize(
    ("rule", "line", "threads", "steps"),
    [
        ("chain-needs-second-thread", 2, [SHUTTLE], "R 5 p 5\nC 6\nR 5 p 5\n"),
        ("chain-needs-second-thread", None, [SHUTTLE, BALL], "R 5 p 5\nC 6\n"),
        ("chain-needs-second-thread", None, [SHUTTLE, Thread("tail", "tail")], "R 5 p 5\nC 6\n"),
        ("chain-needs-second-thread", None, [], "R 5 p 5\nC 6\n"),
        ("split-ring-one-thread", 2, [SHUTTLE], "R 5 p 5\nSR 6 / 6\n"),
        ("split-ring-one-thread", None, [SHUTTLE, SECOND], "SR 6 / 6\n"),
        ("split-ring-one-thread", None, [SHUTTLE, Thread("tail", "tail")], "SR 6 / 6\n"),
    ],
)
def test_threads(rule: str, line: int | None, threads: list[Thread], steps: str) -> None:
    if line is None:
        assert_silent(target(rule), steps, read_with(*threads))
    else:
        assert_finds(target(rule), steps, read_with(*threads), line=line, times=1)


def saying(*totals: StatedTotal, number: int | None = None) -> Read:
    """A reader of step lists that ends the pattern with totals said, and gives its mock picots a number."""

    def read_so(text: str, notation: str) -> Reading:
        reading = read(text)
        reading.pattern.parts[-1].steps.extend(totals)
        for part in reading.pattern.parts:
            for step in part.steps:
                if isinstance(step, MockPicot):
                    step.number = number
        return reading

    return read_so


@pytest.mark.parametrize(
    ("says", "total"),
    [
        ("", StatedTotal({"rings": 1, "chains": 6, "ds": 72})),
        ("the text says 70 double stitches for the whole, but 72", StatedTotal({"rings": 1, "ds": 70})),
        ("5 chains for the whole, but 6 chains are worked", StatedTotal({"chains": 5})),
        ("", StatedTotal({"ds": 60}, scope="part")),
        ("for round 1, but 12", StatedTotal({"ds": 10}, scope="part", of="Round 1")),
        ("", StatedTotal({"ds": 12}, scope="part", of="Round 1")),
        ("", StatedTotal({"ds": 70}, about=True)),
        ("", StatedTotal({"picots": 11}, scope="pattern")),
        ("", StatedTotal({"picots": 12}, scope="pattern")),
        ("lock joins", StatedTotal({"lock_joins": 7})),
        ("", StatedTotal({"joins": 6})),
        ("", StatedTotal({"ds": 10}, scope="element")),
        ("for chain 6 of round 2, but 10", StatedTotal({"ds": 11}, scope="element")),
    ],
)
def test_totals(says: str, total: StatedTotal) -> None:
    text = "\n".join(WHEEL) + "\n"
    rule = target("stated-total-mismatch")
    if not says:
        assert_silent(rule, text, saying(total))
    else:
        assert_finds(rule, text, saying(total), says=says, times=1)


def test_joins_counted_as_stitches_are_a_habit() -> None:
    found = assert_finds(
        target("stated-total-mismatch"), "\n".join(ROW) + "\n", saying(StatedTotal({"ds": 152})), says="as a stitch"
    )
    assert [one.severity for one in found] == ["note"]


def test_all_totals_right_with_one_pass_more() -> None:
    found = assert_finds(
        target("repeat-does-not-close"),
        "\n".join(ROW) + "\n",
        saying(StatedTotal({"rings": 6, "chains": 5, "ds": 180})),
        line=3,
        says="that takes 5",
    )
    assert len(found) == 1
    assert_silent(
        target("repeat-does-not-close"),
        "\n".join(ROW) + "\n",
        saying(StatedTotal({"rings": 6, "chains": 4, "ds": 148})),
    )


@pytest.mark.parametrize(("number", "found"), [(6, False), (7, True), (5, True), (None, False)])
def test_the_number_of_a_mock_picot(number: int | None, found: bool) -> None:
    rule, text = target("mock-picot-miscount"), "\n".join(WHEEL) + "\n"
    if found:
        assert_finds(rule, text, saying(number=number), line=4, says="with the mock picot that makes 6")
    else:
        assert_silent(rule, text, saying(number=number))


def test_what_the_reader_says_of_repeats_and_abbreviations() -> None:
    reading = read("R 4 p 4\n")
    reading.notices.append(Notice("unmatched-repeat", "warning", "repeat from *, and no * is set", Span(0, 1)))
    reading.abbreviations_used = [("R", Span(0, 1)), ("RW", Span(2, 3)), ("rw", Span(4, 5))]
    assert [one.message for one in findings_of(target("unmatched-repeat"), reading)] == [
        "repeat from *, and no * is set"
    ]
    assert findings_of(target("undefined-abbreviation"), reading) == []
    reading.abbreviations_defined = {"R"}
    found = findings_of(target("undefined-abbreviation"), reading)
    assert [(one.span, one.message) for one in found] == [
        (Span(2, 3), "RW is used here and not explained in the pattern's list")
    ]


def test_a_few_explained_on_the_way_are_no_list() -> None:
    """Only a whole pattern is told so, by a note, and only of what is not common knowledge."""
    reading = read("R 4 p 4\n")
    reading.abbreviations_used = [(form, Span(at, at + 1)) for at, form in enumerate(("R", "p", "cl", "RW", "FJ"))]
    reading.abbreviations_defined = {"FJ"}
    habits = Convention(
        "x", forms={"r": ("ring", None), "p": ("picot", None)}, everyone_knows=frozenset({"ring", "picot"})
    )
    found = findings_of(target("undefined-abbreviation"), reading, habits)
    assert [(one.message.split()[0], one.severity) for one in found] == [("cl", "note"), ("RW", "note")]
    reading.pattern.threads = []
    assert findings_of(target("undefined-abbreviation"), reading, habits) == []


def test_thrown_rings_are_sisters() -> None:
    rings = ["R 4 p 4", "R 4 p 4", "R 5 p 5", "R 4 p 4"]
    lines = ["C 3"]
    for ring in rings:
        lines += ["SWITCH", ring, "SWITCH", "C 3 # continued"]
    found = assert_finds(
        target("unlike-sisters"), "\n".join(lines) + "\n", read, says="is worked 5-5, its 3 sisters 4-4"
    )
    assert len(found) == 1


def test_a_passage_does_not_tell_of_all_it_joins_to() -> None:
    def bare(text: str, notation: str) -> Reading:
        reading = read(text)
        reading.pattern.threads = []
        return reading

    text = "R 4 j 4 -> ring 7, last picot\n"
    assert_silent(target("impossible-join"), text, bare)
    assert_finds(target("impossible-join"), text, read)


def test_a_fix_is_offered_where_the_sisters_agree() -> None:
    text = "\n".join(row(line6="R 5 j 5 p 4 p 5 -> previous ring, last picot")) + "\n"
    found = assert_finds(target("unbalanced-picots"), text, read)
    fix = found[0].fix
    assert fix is not None and fix.safety == "ask"
    ((span, instead),) = fix.edits
    assert (text[span.start : span.end], instead) == ("4", "5")


def test_every_rule_is_registered_under_its_module() -> None:
    import larkshead_rules

    for spec in larkshead_rules.larkshead_rules():
        assert spec.target == target(spec.name)
        assert spec.severity in ("error", "warning", "note")
