"""Native YAML and JSON: what they read, what they write, and that the one undoes the other."""

from __future__ import annotations

import textwrap
import time
from collections.abc import Callable

import pytest
from hypothesis import given, settings
from larkshead_native import json_writer, yaml_writer
from larkshead_native.reader import read_json, read_yaml
from larkshead_native.recogniser import recognise_json, recognise_yaml
from strategies import patterns

from larkshead.model import (
    BareThread,
    Beads,
    ByPass,
    Cut,
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
# Worked from the hub outwards.
title: Harbour wheel
threads:
  - shuttle: shuttle 1
    color: ecru
  - ball: ball
    wound from: shuttle 1
parts:
  - part: round 1
    steps:
      - ring: A   # the one the others hang from
        work: [4, p, 4, p, 4, p, 4]
      - turn
      - repeat: 5
        steps:
          - chain: [6, p, 6]
          - turn
          - ring: [4, {join: previous ring, last picot}, 4, p, 4, p, 4]
            on:
              last:
                ring: [4, {join: "previous ring, last picot"}, 4, p, 4, {join: first picot of ring A}, 4]
          - turn
      - chain: [6, p, 6]
      - lock join: ring A, base
      - cut and tie
      - hide ends: sewn in
"""


def yaml(text: str) -> Reading:
    return read_yaml(Source(textwrap.dedent(text), "wheel.yaml"))


def json(text: str) -> Reading:
    return read_json(Source(text, "wheel.json"))


def test_what_a_designer_types() -> None:
    made = yaml(WHEEL)
    assert made.notices == []
    (round_one,) = made.pattern.parts
    assert (round_one.kind, round_one.number) == ("round", 1)
    ring, _, repeat, _, lock, cut, hide = round_one.steps
    assert isinstance(ring, Element) and ring.label == "A"
    assert isinstance(repeat, Repeat) and repeat.times == 5
    third = repeat.steps[2]
    assert isinstance(third, ByPass) and isinstance(third.step, Element)
    last_picot = Place(picot="last", element=ElementRef("ring", "previous"))
    assert third.step.work[1] == Join([last_picot])
    (closing,) = third.passes["last"]
    assert isinstance(closing, Element)
    assert closing.work[5] == Join([Place(picot="first", element=ElementRef("ring", label="A"))])
    assert repeat.steps[3] == Turn()
    assert lock == LockJoin([Place("base", element=ElementRef("ring", label="A"))])
    assert (cut, hide) == (Cut(tie=True), HideEnds("sewn in"))


def test_the_example_of_the_documentation_is_a_pattern_and_writes_itself() -> None:
    assert yaml_writer.__doc__ is not None
    example = textwrap.dedent(yaml_writer.__doc__.split("::\n", 1)[1].split("\nWork holds")[0]).strip()
    made = yaml(example)
    assert made.notices == []
    without_comments = [line.split("#")[0].rstrip() for line in example.splitlines()]
    assert yaml_writer.write(made.pattern).text.splitlines() == without_comments


@pytest.mark.parametrize("notation", ["yaml", "json"])
@given(pattern=patterns())
@settings(max_examples=60)
def test_what_is_written_reads_back_the_same(notation: str, pattern: Pattern) -> None:
    write, read = (yaml_writer.write, read_yaml) if notation == "yaml" else (json_writer.write, read_json)
    written = write(pattern)
    assert written.losses == []
    made = read(Source(written.text))
    assert made.notices == []
    assert made.pattern == pattern


@pytest.mark.parametrize(
    ("step", "line"),
    [
        (Element("ring", [Stitches(4), Picot(), Stitches(4)]), "ring: [4, p, 4]"),
        (Element("chain", [Stitches(3), Join(), Stitches(3), Picot("small")]), "chain: [3, j, 3, sp]"),
        (Element("chain", [Picot("", Length("3"), 2, "twisted")]), "chain: [{picot: 3 mm, beads: 2, kind: twisted}]"),
        (Element("chain", [Picot("long", beads=1)]), "chain: [{long picot: null, beads: 1}]"),
        (Element("chain", [Beads(1), Stitches(2), Beads(3)]), "chain: [b, 2, {beads: 3}]"),
        (Element("josephine ring", [Halves(1, 12)]), "josephine ring: [{first halves: 12}]"),
        (Element("split ring", [Stitches(8), SideChange(), Stitches(8)]), "split ring: [8, /, 8]"),
        (Element("chain", [Join([Place("fabric")], "folded", 1)]), "chain: [{folded join: fabric, beads: 1}]"),
        (Element("mock ring", [Thrown(Element("ring", [Stitches(5)]))]), "mock ring: [{thrown: {ring: [5]}}]"),
        (Turn(), "turn"),
        (Turn("page"), "turn: page"),
        (BareThread(Length("1/4", "in")), "bare thread: 1/4 in"),
        (MockPicot(None, 6), "mock picot:\n    number: 6"),
        (Switch("shuttle 2"), "switch: shuttle 2"),
        (LockJoin(), "lock join"),
        (Note("Block it while damp."), "note: Block it while damp."),
        (Note("no"), 'note: "no"'),
        (Note("a: b"), 'note: "a: b"'),
        (StatedTotal({"rings": 6, "split_rings": 1}, "part"), "total: {rings: 6, split rings: 1}\n    scope: part"),
    ],
)
def test_steps_as_they_are_written(step: Step, line: str) -> None:
    text = yaml_writer.write(Pattern(parts=[Part(steps=[step])])).text
    assert text == f"steps:\n  - {line}\n"


def test_json_stands_one_step_a_line() -> None:
    text = json_writer.write(yaml(WHEEL).pattern).text
    assert '        {"ring": "A", "work": [4, "p", 4, "p", 4, "p", 4]},\n        "turn",\n' in text
    assert json(text).pattern == yaml(WHEEL).pattern


def test_long_work_is_broken_between_items() -> None:
    pattern = Pattern(parts=[Part(steps=[Element("chain", [Stitches(12) for _ in range(3000)])])])
    text = yaml_writer.write(pattern).text
    assert max(map(len, text.splitlines())) <= 110
    assert yaml(text).pattern == pattern


@pytest.mark.parametrize(
    ("text", "line", "column", "words"),
    [
        ("steps:\n  - ring: [4, pp, 4]\n", 2, 15, "a ring's work may hold numbers, p, lp, sp"),
        ("steps:\n  - ring: [4, pp, 4]\n", 2, 15, "found 'pp'"),
        ("steps:\n  - rings: [4]\n", 2, 5, "a step is one of turn"),
        ("steps:\n  - ring: [4]\n    colour: red\n", 3, 5, "found 'colour'"),
        ("steps:\n  - ring: A\n", 2, 11, "a ring with a name has its work under 'work'"),
        ("steps:\n  - chain: [4, /, 4]\n", 2, 16, "which a chain has not"),
        ("steps:\n  - bare thread: 3 ells\n", 2, 18, "such as 3 mm"),
        ("steps:\n  - ring: [4, {join: the moon}]\n", 2, 22, "the place 'the moon' is not understood"),
        ("steps:\n  - repeat: 0\n    steps: []\n", 2, 13, "whole number from 1"),
        ("steps:\n  - repeat: 3\n", 2, 5, "a repeat has steps"),
        ("steps:\n  - turn\n    cut\n", 2, 5, "found 'turn cut'"),
        ("steps:\n  - ring: [4]\n    on: {middle: turn}\n", 3, 10, "a pass is first, last or a number"),
        ("title: a\ntitel: b\n", 2, 1, "found 'titel'"),
        ("parts:\n  - part: round 1\n", 2, 5, "a part has steps"),
        ("steps: []\nparts: []\n", 1, 1, "found both"),
        ("threads:\n  - color: red\n", 2, 5, "a thread begins with shuttle, ball or tail"),
        ("title: a\ntitle: b\n", 2, 1, "stands here twice"),
        ("steps:\n\t- turn\n", 2, 1, "a tab stands in the indentation"),
        ("steps: [turn, cut\n", 1, 8, "not closed"),
        ('title: "a\nsteps: []\n', 1, 8, "not closed"),
        ("title: a: b\n", 1, 9, "a colon is out of place"),
        ("title: \x00\n", 1, 8, "a character that no text file holds"),
        ("title: &x a\nnotes: [*x]\n", 1, 8, "anchors (&name) are not read"),
        ("notes: [*x]\n", 1, 9, "aliases (*name) are not read"),
        ("title: !x a\n", 1, 8, "tags (!name) are not read"),
        ("steps: []\n---\nsteps: []\n", 2, 1, "a second document"),
        ("- turn\n", 1, 1, "found a list"),
        ("", 1, 1, "holds no pattern"),
    ],
)
def test_faults_in_yaml_name_line_and_column(text: str, line: int, column: int, words: str) -> None:
    made = read_yaml(Source(text))
    notice = made.notices[0]
    assert notice.span is not None
    assert words in notice.message
    assert (*made.source.position(notice.span.start), notice.severity) == (line, column, "error")


@pytest.mark.parametrize(
    ("text", "line", "column", "words"),
    [
        ('{"steps": [\n {"ring": [4, "pp"]}]}', 2, 15, "found 'pp'"),
        ('{"steps": [1,]}', 1, 14, "where a value is expected"),
        ('{"steps": [1 2]}', 1, 14, "a comma or ] is expected"),
        ('{"title": "a", "title": "b"}', 1, 16, "stands here twice"),
        ('{"title": NaN}', 1, 11, "texts stand in double quotes"),
        ('{"title": "a}', 1, 11, "no closing quote"),
        ('{"title": "\\ud800"}', 1, 11, "half a character"),
        ("{'title': 1}", 1, 2, "a key in double quotes"),
        ('{"title": 1} x', 1, 14, "after the end"),
        ("", 1, 1, "ends too soon"),
        ('{"title": ', 1, 11, "ends too soon"),
    ],
)
def test_faults_in_json_name_line_and_column(text: str, line: int, column: int, words: str) -> None:
    made = json(text)
    notice = made.notices[0]
    assert notice.span is not None
    assert words in notice.message
    assert (*made.source.position(notice.span.start), notice.severity) == (line, column, "error")


def test_a_fault_costs_its_own_item_only() -> None:
    made = yaml("steps:\n  - ring: [4, pp, 4]\n    size: [a]\n  - nonsense\n  - turn\n")
    assert made.pattern.parts[0].steps == [Element("ring", [Stitches(4), Stitches(4)]), Turn()]
    assert len(made.notices) == 3


def test_origins_name_parts_steps_and_items() -> None:
    made = yaml(WHEEL)
    (part,) = made.pattern.parts
    repeat = part.steps[2]
    assert isinstance(repeat, Repeat)
    third = repeat.steps[2]
    assert isinstance(third, ByPass)
    for thing, item, words in (
        (part.steps[0], None, "ring: A   # the one the others hang from\n        work: [4, p, 4, p, 4, p, 4]"),
        (part.steps[0], 3, "p"),
        (part.steps[1], None, "turn"),
        (third.step, 1, "{join: previous ring, last picot}"),
        (part.steps[5], None, "cut and tie"),
    ):
        span = made.origins.of(thing, item)
        assert span is not None
        assert made.source.quote(span) == words


@pytest.mark.parametrize(
    ("read", "text"),
    [
        (read_yaml, "[" * 100_000),
        (read_yaml, "[\n" * 100_000),
        (read_yaml, "- " * 9000),
        (read_yaml, "a" * 30_000_000),
        (read_yaml, "- a\n" * 400_000),
        (read_yaml, "a: b\n" * 300_000),
        (read_yaml, "a: &a [x,x]\n" + "".join(f"{chr(98 + n)}: &{chr(98 + n)} [*a,*a]\n" for n in range(9))),
        (read_yaml, "steps:\n" + "  - a\n" * 20_000),
        (read_json, "[" * 1_000_000),
        (read_json, '{"a":' * 100_000),
        (read_json, '{"title": "' + "a" * 30_000_000),
        (read_json, '{"title": ' + "9" * 100_000 + "}"),
        (read_json, '{"steps": [' + '"a",' * 100_000 + '"a"]}'),
    ],
    ids=lambda value: "" if callable(value) else value[:9].strip(),
)
def test_hostile_text_gets_a_clear_error(read: Callable[[Source], Reading], text: str) -> None:
    begun = time.process_time()
    made = read(Source(text))
    assert 1 <= len(made.notices) <= 250
    assert time.process_time() - begun < 10


@pytest.mark.parametrize(
    ("text", "sure"),
    [
        (WHEEL, True),
        ("steps:\n  - ring: [4, p, 4]\n", True),
        ("title: a\nfoo: b\n", False),
        ("Ring: 4 ds, p, 4 ds. Close.\n", False),
        ("", False),
    ],
)
def test_recognising_yaml(text: str, sure: bool) -> None:
    assert (recognise_yaml(Source(text)) > 0.9) is sure


def test_recognising_json() -> None:
    assert recognise_json(Source('{"title": "Wheel", "steps": []}')) > 0.9
    assert recognise_json(Source("R 4-4-4 cl")) == 0.0
