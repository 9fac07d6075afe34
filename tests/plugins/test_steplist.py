"""The step list: what it reads, what it writes, and that the one undoes the other."""

from __future__ import annotations

import time
from dataclasses import fields, is_dataclass
from typing import Any

import pytest
from hypothesis import given
from larkshead_steplist.reader import read
from larkshead_steplist.recogniser import recognise
from larkshead_steplist.writer import write
from strategies import patterns

from larkshead.model import (
    BareThread,
    Beads,
    ByPass,
    Element,
    ElementRef,
    Halves,
    HideEnds,
    Join,
    Length,
    LockJoin,
    MockPicot,
    Note,
    Part,
    Pattern,
    Picot,
    Place,
    Repeat,
    SideChange,
    StatedTotal,
    Step,
    Stitches,
    Switch,
    Thrown,
    Turn,
)
from larkshead.reading.reading import Reading
from larkshead.reading.source import Source

WHEEL = """\
# Title: Six rings about a hub

# Round 1
R 4 p 4 p 4 p 4 # A
TURN
REP 5 {
C 6 p 6
TURN
R 4 j 4 p 4 p 4 -> previous ring, last picot # B
ON last R 4 j 4 p 4 j 4 -> previous ring, last picot; ring A, first picot # B
TURN
}
C 6 p 6
LJ -> ring A, base
CUT # tie
# Hide ends: sewn in
"""


def reading(text: str) -> Reading:
    return read(Source(text, "wheel.steps"))


def steps(text: str) -> list[Step]:
    made = reading(text)
    assert made.notices == []
    return made.pattern.parts[0].steps


def pattern_of(*made: Step) -> Pattern:
    return Pattern(parts=[Part(steps=list(made))])


def test_a_wheel_reads_and_writes_itself() -> None:
    made = reading(WHEEL)
    assert made.notices == []
    assert made.pattern.title == "Six rings about a hub"
    (round_one,) = made.pattern.parts
    assert (round_one.kind, round_one.number) == ("round", 1)
    repeat = round_one.steps[2]
    assert isinstance(repeat, Repeat) and repeat.times == 5
    last = repeat.steps[2]
    assert isinstance(last, ByPass)
    (closing,) = last.passes["last"]
    assert isinstance(closing, Element) and closing.label == "B"
    join = closing.work[5]
    assert isinstance(join, Join)
    assert join.places == [Place(picot="first", element=ElementRef("ring", label="A"))]
    assert write(made.pattern).text == WHEEL
    assert write(made.pattern).losses == []


def without_print(thing: Any) -> None:
    """Take the printed words away from every place that is understood."""
    if isinstance(thing, Place):
        if not thing.unsaid:
            thing.words = ""
        if thing.element and thing.element.label == str(thing.element.which):
            thing.element.label = None
    elif isinstance(thing, (list, dict)):
        for one in thing.values() if isinstance(thing, dict) else thing:
            without_print(one)
    elif is_dataclass(thing):
        for one in fields(thing):
            without_print(getattr(thing, one.name))


@given(patterns())
def test_what_is_written_reads_back_the_same(pattern: Pattern) -> None:
    written = write(pattern)
    without_print(pattern)
    made = reading(written.text)
    assert written.losses == []
    assert made.notices == []
    assert made.pattern == pattern
    assert write(made.pattern).text == written.text


@pytest.mark.parametrize(
    ("line", "element"),
    [
        ("R 5 sp 5", Element("ring", [Stitches(5), Picot("small"), Stitches(5)])),
        ("C 3 p b b 3", Element("chain", [Stitches(3), Picot(beads=2), Stitches(3)])),
        ("C 3 b 3", Element("chain", [Stitches(3), Beads(1), Stitches(3)])),
        ("R 3 j b 3 -> ?", Element("ring", [Stitches(3), Join(beads=1), Stitches(3)])),
        ("JR h1:12", Element("josephine ring", [Halves(1, 12)])),
        ("SR 8 / 4 p 4", Element("split ring", [Stitches(8), SideChange(), Stitches(4), Picot(), Stitches(4)])),
        ("MR 6 lp 6 # lid", Element("mock ring", [Stitches(6), Picot("long"), Stitches(6)], label="lid")),
        ("R 4 # A; size: small; thread: tail", Element("ring", [Stitches(4)], "A", "tail", size="small")),
        ("R 4 # draw up loosely", Element("ring", [Stitches(4)], remark="draw up loosely")),
        (
            "C 2 p 2 p 2 # p2: 3mm, twisted",
            Element("chain", [Stitches(2), Picot(), Stitches(2), Picot("", Length("3"), kind="twisted"), Stitches(2)]),
        ),
    ],
)
def test_elements(line: str, element: Element) -> None:
    assert steps(line) == [element]
    assert write(pattern_of(element)).text == line + "\n"


@pytest.mark.parametrize(
    ("line", "step"),
    [
        ("BT 3mm", BareThread(Length("3"))),
        ("BT 1/4in", BareThread(Length("1/4", "in"))),
        ("BT 5..10mm", BareThread(Length("5", "mm", "10"))),
        ("BT ?", BareThread()),
        ("LJ -> bare thread", LockJoin([Place("bare thread")])),
        ("LJ -> ?", LockJoin()),
        ("MP # length: 4mm; number: 6", MockPicot(Length("4"), 6)),
        ("SWITCH # to: shuttle 2", Switch("shuttle 2")),
        ("TURN # page", Turn("page")),
        ("# Hide ends: worked over", HideEnds("worked over")),
    ],
)
def test_actions(line: str, step: Step) -> None:
    assert write(pattern_of(Turn(), step)).text == f"TURN\n{line}\n"
    assert steps(f"TURN\n{line}\n")[1] == step


def test_a_dash_parts_a_range_of_bare_thread_too() -> None:
    assert steps("BT 5-10mm") == [BareThread(Length("5", "mm", "10"))]


def test_a_place_is_told_by_what_it_means() -> None:
    place = Place(picot="last", element=ElementRef("ring", 1, "1"), words="to the last p of ring 1")
    text = write(pattern_of(Element("ring", [Stitches(4), Join([place]), Stitches(4)]))).text
    assert text == "R 4 j 4 -> ring 1, last picot\n"
    kept = write(pattern_of(LockJoin([Place(words="by the moon")]))).text
    assert kept == "LJ -> ? (said: by the moon)\n"


def test_two_places_in_one_join() -> None:
    (element,) = steps("R 4 j 4 j 4 -> ring A, picot 1 & ring B, picot 3; same picot")
    assert isinstance(element, Element)
    joins = [item.places for item in element.work if isinstance(item, Join)]
    assert [len(places) for places in joins] == [2, 1]


def test_an_element_with_thrown_rings_stands_in_pieces() -> None:
    leaf = Element("ring", [Stitches(3), Picot(), Stitches(3)])
    whole = Element(
        "mock ring", [Stitches(6), Thrown(leaf), Stitches(6), Picot(), Stitches(6), Thrown(leaf)], label="M"
    )
    text = write(pattern_of(whole)).text
    assert text.splitlines() == [
        "MR 6 # M",
        "SWITCH",
        "R 3 p 3",
        "SWITCH",
        "MR 6 p 6 # continued",
        "SWITCH",
        "R 3 p 3",
        "SWITCH # back",
    ]
    made = reading(text)
    assert made.pattern == pattern_of(whole)
    (step,) = made.pattern.parts[0].steps
    span = made.origins.of(step, 3)
    assert span is not None and made.source.quote(span) == "p"


def test_pieces_that_do_not_say_they_go_on_stay_apart() -> None:
    assert len(steps("MR 6\nSWITCH\nR 3 p 3\nSWITCH\nMR 6 p 6\n")) == 5


def test_a_step_left_out_or_several_on_some_pass() -> None:
    plain = Element("chain", [Stitches(6)])
    step = ByPass(plain, {"first": [], "last": [plain, LockJoin([Place("base")])], 3: [Turn()]})
    text = write(pattern_of(Repeat([step], 5))).text
    assert text.splitlines() == [
        "REP 5 {",
        "C 6",
        "ON first NOTURN # left out",
        "ON last C 6",
        "ON 3 TURN",
        "NOTURN # more",
        "ON last LJ -> base",
        "}",
    ]
    assert reading(text).pattern == pattern_of(Repeat([step], 5))


def test_passes_by_number_share_a_line() -> None:
    (repeat,) = steps("REP 4 {\nC 6\nON 2,4 C 8\n}")
    assert isinstance(repeat, Repeat)
    (step,) = repeat.steps
    assert isinstance(step, ByPass) and list(step.passes) == [2, 4]
    assert "ON 2,4 C 8\n" in write(pattern_of(repeat)).text


def test_a_repeat_stands_in_for_a_step() -> None:
    inner = Repeat([Element("ring", [Stitches(4)])], 3)
    step = ByPass(inner, {"last": [Repeat([Turn()], 2)]})
    text = write(pattern_of(Repeat([step], 2))).text
    assert "ON last REP 2 {\nTURN\n}" in text
    assert reading(text).pattern == pattern_of(Repeat([step], 2))


def test_text_is_a_note_of_the_pattern_before_the_steps_and_a_step_after() -> None:
    made = reading("# Work loosely.\n# Row 2: the corner\nTURN\n# see the drawing\n# Part note: in red\n")
    assert made.pattern.notes == ["Work loosely."]
    (row,) = made.pattern.parts
    assert (row.kind, row.number, row.name, row.notes) == ("row", 2, "the corner", ["in red"])
    assert row.steps == [Turn(), Note("see the drawing")]


def test_totals_at_their_place() -> None:
    made = steps("R 4 p 4\n# Total of the element: 8 ds, 1 picots; about\n")
    assert made[1] == StatedTotal({"ds": 8, "picots": 1}, "element", about=True)


@pytest.mark.parametrize(
    ("text", "line", "column", "words"),
    [
        ("TURN\nR 4 pp 4\n", 2, 5, "found 'pp'"),
        ("TURN\nchain 4\n", 2, 1, "found 'chain'"),
        ("R 4 j 4 -> the moon\n", 1, 12, "place not understood"),
        ("R 4 j 4 -> ?; ring A, base\n", 1, 15, "2 places are named for one join"),
        ("TURN -> ring A\n", 1, 6, "TURN goes to no place"),
        ("TURN twice\n", 1, 6, "nothing stands after TURN"),
        ("BT 3 ells\n", 1, 4, "found '3 ells'"),
        ("REP three {\n}\n", 1, 1, "found 'REP three {'"),
        ("REP 3 {\nTURN\n", 1, 1, "not closed"),
        ("TURN\n}\n", 2, 1, "none is open"),
        ("ON last TURN\n", 1, 4, "no step before"),
        ("R 4 / 4\n", 1, 5, "only SR and SC"),
        ("R 4 12345678 4\n", 1, 5, "found '12345678'"),
        ("R 4 \x00 4\n", 1, 5, "found '\\x00'"),
    ],
)
def test_faults_name_line_and_column(text: str, line: int, column: int, words: str) -> None:
    made = reading(text)
    notice = made.notices[0]
    assert notice.span is not None
    assert (*made.source.position(notice.span.start), notice.severity) == (line, column, "error")
    assert words in notice.message


def test_a_fault_costs_its_own_word_only() -> None:
    made = reading("R 4 pp 4 p 4\nnonsense\nTURN\n")
    assert made.pattern == pattern_of(
        Element("ring", [Stitches(4), Stitches(4), Picot(), Stitches(4)]),
        Turn(),
    )
    assert len(made.notices) == 2


def test_a_place_not_understood_keeps_its_words() -> None:
    (element,) = reading("R 4 j 4 -> the moon\n").pattern.parts[0].steps
    assert isinstance(element, Element)
    assert element.work[1] == Join([Place(words="the moon")])


def test_origins_name_lines_and_items() -> None:
    text = "# Round 1\n  R 4 p 4 # A\nON last TURN\n"
    made = reading(text)
    (part,) = made.pattern.parts
    (step,) = part.steps
    assert isinstance(step, ByPass)
    for thing, item, words in (
        (part, None, "# Round 1"),
        (step, None, "  R 4 p 4 # A"),
        (step.step, 1, "p"),
        (step.passes["last"][0], None, "last TURN"),
    ):
        span = made.origins.of(thing, item)
        assert span is not None
        assert made.source.quote(span) == words


def test_beads_side_by_side_are_a_loss_that_is_told() -> None:
    element = Element("chain", [Stitches(2), Beads(1), Beads(2), Stitches(2)])
    written = write(pattern_of(element))
    assert [(loss.kind, loss.step) for loss in written.losses] == [("approximated", element)]


@pytest.mark.parametrize(
    "text",
    [
        "REP 2 {\n" * 100_000,
        "}\n" * 200_000,
        "R " + "4 p " * 5_000_000,
        "\x00" * 1_000_000,
        "C 3\n" + "SWITCH\nR 3\nSWITCH\nC 3 # continued\n" * 20_000,
        "R 4\nSWITCH\n" * 20_000 + "R 4\n" + "SWITCH # back\n" * 20_000,
        "R 4 j 4 -> " + "ring " * 10_000,
        'R 4 # "' + '\\"' * 40_000,
    ],
    ids=["open", "closed", "one-line", "nul", "pieces", "thrown-deep", "place", "quote"],
)
def test_hostile_text_is_read_within_bounds(text: str) -> None:
    begun = time.process_time()
    made = reading(text)
    write(made.pattern)
    assert time.process_time() - begun < 10
    assert len(made.notices) <= 250


@pytest.mark.parametrize(
    ("text", "sure"),
    [
        (WHEEL, True),
        ("R 4 p 4\nTURN\n", True),
        ("R 4-4-4 cl rw\nC 6-6 rw\n", False),
        ("Ring: 4 ds, p, 4 ds. Close.\n", False),
        ("", False),
        ("| R1 | 4-4 |\n", False),
    ],
)
def test_recognising(text: str, sure: bool) -> None:
    assert (recognise(Source(text)) > 0.9) is sure
