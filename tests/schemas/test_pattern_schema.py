"""The schema of patterns and the model hold together: the one takes exactly what the other can read."""

from __future__ import annotations

import json
from importlib.resources import files
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator
from strategies import patterns

from larkshead.model import Part, Pattern, Place, Turn
from larkshead.model.plain import Path, PlainError, pattern_from_plain, pattern_to_plain

SCHEMA = json.loads(files("larkshead_schemas").joinpath("pattern.json").read_text("utf-8"))
VALIDATOR = Draft202012Validator(SCHEMA)
WRONG: tuple[Any, ...] = (
    None, True, -1, 0, 3, 2.5, "zz", "p", "/", "turn", [], {}, {"zz": 1}, [1], ["p"], "5 mm", {"ring": [4]},
    {"beads": 1}, {"on": {}}, "first",
)  # fmt: skip


def faults_of(data: Any) -> list[tuple[Path, str]]:
    """What is wrong with plain data; the words of a place are no matter of the schema."""
    faults: list[tuple[Path, str]] = []
    pattern_from_plain(data, fault=lambda path, said: faults.append((path, said)))
    return [(path, said) for path, said in faults if "is not understood" not in said]


def paths(value: Any, path: Path = ()) -> list[Path]:
    """The path of every value inside."""
    inside: list[Path] = [path]
    pairs = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, one in pairs:
        inside += paths(one, (*path, key))
    return inside


def changed(data: Any, path: Path, how: str, wrong: Any) -> Any:
    """A copy with one value put in, taken away, added, or given another key."""
    made = json.loads(json.dumps(data))
    if not path:
        return wrong
    holder = made
    for step in path[:-1]:
        holder = holder[step]
    last: Any = path[-1]
    if how == "put":
        holder[last] = wrong
    elif how == "drop":
        del holder[last]
    elif how == "add" and isinstance(holder[last], dict):
        holder[last]["zz"] = wrong
    elif how == "add" and isinstance(holder[last], list):
        holder[last].append(wrong)
    elif how == "rename" and isinstance(holder, dict):
        holder["number" if last != "number" else "times"] = holder.pop(last)
    return made


def test_the_schema_is_a_schema() -> None:
    Draft202012Validator.check_schema(SCHEMA)


@given(patterns())
def test_every_pattern_is_valid_and_survives_as_plain_data(pattern: Pattern) -> None:
    plain = json.loads(json.dumps(pattern_to_plain(pattern)))
    VALIDATOR.validate(plain)
    assert pattern_from_plain(plain) == pattern


@given(patterns(max_parts=2), st.data())
@settings(max_examples=150)
def test_schema_and_model_refuse_the_same_data(pattern: Pattern, data: st.DataObject) -> None:
    plain = json.loads(json.dumps(pattern_to_plain(pattern)))
    path = data.draw(st.sampled_from(paths(plain)))
    how = data.draw(st.sampled_from(("put", "put", "drop", "add", "rename")))
    wrong = changed(plain, path, how, data.draw(st.sampled_from(WRONG)))
    assert VALIDATOR.is_valid(wrong) == (faults_of(wrong) == [])


@pytest.mark.parametrize(
    ("data", "words"),
    [
        ([], "a pattern is a group of keys"),
        ({"steps": [{"ring": ["pp"]}]}, "a ring's work may hold numbers"),
        ({"steps": [{"ring": [True]}]}, "found true"),
        ({"steps": [{"ring": [4], "chain": [4]}]}, "found 'chain'"),
        ({"steps": [{"chain": [4, "/"]}]}, "which a chain has not"),
        ({"steps": [{"repeat": 2}]}, "a repeat has steps"),
        ({"steps": [{"step": "turn"}]}, "'on' names passes and their steps; found nothing"),
        ({"steps": [{"total": {"knots": 3}}]}, "found 'knots'"),
        ({"threads": [{"shuttle": "1", "wound from": "ball", "tied to": "ball"}]}, "found both"),
        ({"parts": [{"part": "round 1", "number": 2, "steps": []}]}, "found them alone as well"),
        ({"habits": ["join"]}, "habits are a group of keys"),
    ],
)
def test_what_is_refused_is_said_in_plain_words(data: Any, words: str) -> None:
    assert not VALIDATOR.is_valid(data)
    with pytest.raises(PlainError, match=r".") as raised:
        pattern_from_plain(data)
    assert words in str(raised.value)


def test_a_place_not_understood_keeps_its_words() -> None:
    faults: list[tuple[Path, str]] = []
    made = pattern_from_plain({"steps": [{"lock join": "the moon"}]}, fault=lambda *fault: faults.append(fault))
    assert made.parts[0].steps[0].places == [Place(words="the moon")]  # type: ignore[union-attr]
    assert faults[0][0] == ("steps", 0, "lock join")


def test_steps_within_steps_have_an_end() -> None:
    deep: Any = "turn"
    for _ in range(300):
        deep = {"repeat": 2, "steps": [deep]}
    faults = faults_of({"steps": [deep]})
    assert len(faults) == 1
    assert "more than 100 deep" in faults[0][1]


def test_steps_alone_are_a_part_without_a_heading() -> None:
    assert pattern_from_plain({"steps": ["turn"]}) == Pattern(parts=[Part(steps=[Turn()])])
    assert pattern_to_plain(Pattern(parts=[Part(steps=[Turn()])])) == {"steps": ["turn"]}
