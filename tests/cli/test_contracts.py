"""What is printed as JSON, and what settings are accepted, is what the contracts say."""

from __future__ import annotations

import json
import tomllib
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
from calling import Call
from hypothesis import given
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from larkshead.settings import SettingsError, load_settings

FAULTY = "R 4 p 4\nTURN\nC 6 p p 6\nTURN\nR 4 j 4 -> ring 9, picot 2\nR 4 zz\nREP ? {\nBT ?\n}\n"


def contract(name: str) -> dict[str, Any]:
    """A schema that ships."""
    loaded: dict[str, Any] = json.loads(files("larkshead_schemas").joinpath(f"{name}.json").read_text("utf-8"))
    return loaded


def part(name: str) -> Draft202012Validator:
    """A validator for one definition of the contract on reports."""
    whole = contract("report")
    return Draft202012Validator({**whole["$defs"][name], "$defs": whole["$defs"]})


@pytest.mark.parametrize("name", ["report", "settings"])
def test_contracts_are_sound(name: str) -> None:
    Draft202012Validator.check_schema(contract(name))


def test_findings(call: Call) -> None:
    done = call("lint", "-", "--from", "steplist", "--format", "json", text=FAULTY)
    printed = json.loads(done.stdout)
    assert len(printed) >= 2
    Draft202012Validator(contract("report")).validate(printed)
    for one in printed:
        part("remark").validate(one)


def test_notices_and_losses_and_failures(call: Call) -> None:
    done = call("lint", "-", "nowhere.steps", "--from", "steplist", "--notices", "json", text=FAULTY)
    lines = [json.loads(line) for line in done.stderr.splitlines()]
    assert len(lines) >= 2
    for line in lines:
        part("remark").validate(line)


def test_tallies(call: Call) -> None:
    printed = json.loads(call("tally", "-", "--from", "steplist", "--format", "json", text=FAULTY).stdout)
    Draft202012Validator(contract("report")).validate(printed)
    for one in printed:
        part("tally").validate(one)


_texts = st.text("abc.-\u00e9", min_size=1, max_size=6)
_levels = st.sampled_from(["off", "note", "warning", "error", "never", "fatal"])
_odd = st.one_of(st.integers(-2, 2), st.booleans(), st.just("x"), st.lists(st.just("x"), max_size=1))
_settings = st.dictionaries(
    st.sampled_from(["from", "to", "read-as", "write-as", "fail-on", "conventions", "rules", "limits", "form"]),
    st.one_of(
        _texts,
        _levels,
        _odd,
        st.lists(_texts, max_size=2),
        st.dictionaries(_texts, _levels, max_size=2),
        st.dictionaries(
            st.sampled_from(["file-bytes", "line-characters", "worked-steps", "nesting", "worked-picots", "steps"]),
            _odd,
            max_size=2,
        ),
    ),
    max_size=3,
)


def as_toml(document: dict[str, Any]) -> str:
    """A document as TOML, every table written inline."""

    def value(thing: Any) -> str:
        if isinstance(thing, dict):
            return "{" + ", ".join(f"{json.dumps(k)} = {value(v)}" for k, v in thing.items()) + "}"
        if isinstance(thing, list):
            return "[" + ", ".join(map(value, thing)) + "]"
        return json.dumps(thing)

    return "".join(f"{key} = {value(thing)}\n" for key, thing in document.items())


@given(_settings)
def test_settings_are_accepted_just_as_the_contract_says(tmp_path_factory: Any, document: dict[str, Any]) -> None:
    path = Path(tmp_path_factory.getbasetemp()) / "some-settings.toml"
    path.write_text(as_toml(document), "utf-8")
    assert tomllib.loads(path.read_text("utf-8")) == document
    sound = Draft202012Validator(contract("settings")).is_valid(document)
    try:
        load_settings(str(path))
        accepted = True
    except SettingsError:
        accepted = False
    assert accepted == sound, document


def test_the_contract_names_the_same_limits_and_defaults() -> None:
    limits = load_settings(None).limits
    said = contract("settings")["properties"]["limits"]["properties"]
    assert {key.replace("-", "_"): one["default"] for key, one in said.items()} == {
        "file_bytes": limits.file_bytes,
        "worked_steps": limits.worked_steps,
        "nesting": limits.nesting,
        "line_characters": limits.line_characters,
        "worked_picots": limits.worked_picots,
    }
