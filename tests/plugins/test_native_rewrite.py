"""Writing over a designer's own YAML: what stays the same keeps its comments, its order and its spelling."""

from __future__ import annotations

import copy

import pytest
from hypothesis import given, settings
from larkshead_native import yaml_writer
from larkshead_native.reader import read_yaml
from larkshead_native.rewrite import rewrite
from strategies import patterns

from larkshead.model import Element, Note, Pattern, Repeat, Stitches, Switch
from larkshead.reading.source import Source

MINE = """\
# My wheel, second try.
notes:
  - "Work loosely."   # said twice in class
title: Harbour wheel

steps:
  # the hub
  - ring: A     # all hang from it
    work: [4,p,4,p,4,p,4]
  - turn
  - repeat: 5   # five spokes
    steps:
      - chain: [6, p, 6]
      - ring: [4, {join: last picot of the previous ring}, 4]   # as printed
  # the end
  - cut
"""


def pattern_of(text: str) -> Pattern:
    made = read_yaml(Source(text))
    assert made.notices == []
    return made.pattern


def test_nothing_changed_nothing_written() -> None:
    assert rewrite(MINE, pattern_of(MINE)) == MINE


def test_one_count_changed_one_line_changed() -> None:
    pattern = pattern_of(MINE)
    repeat = pattern.parts[0].steps[2]
    assert isinstance(repeat, Repeat) and isinstance(repeat.steps[0], Element)
    repeat.steps[0].work[0] = Stitches(7)
    assert rewrite(MINE, pattern) == MINE.replace("- chain: [6, p, 6]", "- chain: [7, p, 6]")


def test_a_title_changed_and_a_key_added() -> None:
    pattern = pattern_of(MINE)
    pattern.title = "Harbour wheel II"
    pattern.finished_size = "9 cm across"
    text = rewrite(MINE, pattern)
    # A new key stands before the one it comes before in a file written afresh.
    assert pattern_of(text) == pattern
    assert set(MINE.splitlines()) - set(text.splitlines()) == {"title: Harbour wheel"}


def test_steps_added_and_taken_away() -> None:
    pattern = pattern_of(MINE)
    del pattern.parts[0].steps[1]
    pattern.parts[0].steps.insert(1, Switch("shuttle 2"))
    pattern.parts[0].steps.append(Note("Press it."))
    text = rewrite(MINE, pattern)
    assert text == MINE.replace("  - turn\n", "  - switch: shuttle 2\n") + "  - note: Press it.\n"


def test_a_step_gone_leaves_the_comments_of_the_others() -> None:
    pattern = pattern_of(MINE)
    del pattern.parts[0].steps[3]
    text = rewrite(MINE, pattern)
    assert text == MINE.replace("  - cut\n", "")


def test_a_name_given_to_an_element() -> None:
    pattern = pattern_of(MINE)
    repeat = pattern.parts[0].steps[2]
    assert isinstance(repeat, Repeat) and isinstance(repeat.steps[1], Element)
    repeat.steps[1].label = "B"
    text = rewrite(MINE, pattern)
    assert pattern_of(text) == pattern
    assert "# five spokes" in text and "# the end" in text


@pytest.mark.parametrize("text", ["", "nonsense", "steps: [\n", "[turn]", "{steps: [turn]}", "steps:\n  - zz\n"])
def test_what_is_no_pattern_is_written_afresh(text: str) -> None:
    pattern = pattern_of(MINE)
    assert rewrite(text, pattern) == yaml_writer.write(pattern).text


@given(patterns(max_parts=2), patterns(max_parts=2))
@settings(max_examples=60)
def test_whatever_changes_the_text_says_the_new_pattern(before: Pattern, after: Pattern) -> None:
    text = "# mine\n" + yaml_writer.write(before).text
    mixed = copy.deepcopy(before)
    mixed.notes, mixed.threads = after.notes, after.threads
    if mixed.parts and after.parts:
        mixed.parts[0].steps[1:1] = after.parts[0].steps
    for changed in (mixed, after):
        assert pattern_of(rewrite(text, changed)) == changed
