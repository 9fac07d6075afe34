"""The schemas of settings and of reports say what the program takes and prints."""

from __future__ import annotations

import json
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from jsonschema import Draft202012Validator

from larkshead.cli.group import commands
from larkshead.settings import Settings, SettingsError, load_settings

STEPS = """\
# Round 1
R 4 p 4 pp # A
C 6 p 6
R 4 j 4 -> ring A, picot 7
"""


def schema(name: str) -> dict[str, Any]:
    made: dict[str, Any] = json.loads(files("larkshead_schemas").joinpath(name).read_text("utf-8"))
    Draft202012Validator.check_schema(made)
    return made


def test_the_limits_of_the_schema_are_those_of_the_program() -> None:
    limits = schema("settings.json")["properties"]["limits"]["properties"]
    mine = Settings().limits
    assert {name: one["default"] for name, one in limits.items()} == {
        name.replace("_", "-"): getattr(mine, name) for name in type(mine).__slots__
    }
    assert schema("settings.json")["properties"]["fail-on"]["default"] == Settings().fail_on


@pytest.mark.parametrize(
    ("toml", "data"),
    [
        ('from = "prose"', {"from": "prose"}),
        ('fail-on = "never"', {"fail-on": "never"}),
        ('fail-on = "sometimes"', {"fail-on": "sometimes"}),
        ('[rules]\nmissing-turn = "off"', {"rules": {"missing-turn": "off"}}),
        ("[rules]\nmissing-turn = 3", {"rules": {"missing-turn": 3}}),
        ("[limits]\nworked-steps = 10", {"limits": {"worked-steps": 10}}),
        ("[limits]\nworked-steps = 0", {"limits": {"worked-steps": 0}}),
        ("[limits]\nstitches = 1", {"limits": {"stitches": 1}}),
        ('conventions = ["mine.yaml"]', {"conventions": ["mine.yaml"]}),
        ('conventions = "mine.yaml"', {"conventions": "mine.yaml"}),
        ("colour = true", {"colour": True}),
    ],
)
def test_the_program_takes_the_settings_the_schema_takes(tmp_path: Path, toml: str, data: dict[str, Any]) -> None:
    path = tmp_path / "larkshead.toml"
    path.write_text(toml)
    valid = Draft202012Validator(schema("settings.json")).is_valid(data)
    if valid:
        load_settings(str(path))
    else:
        with pytest.raises(SettingsError):
            load_settings(str(path))


def test_what_is_printed_as_json_is_what_the_schema_says(tmp_path: Path) -> None:
    path = tmp_path / "wheel.steps"
    path.write_text(STEPS)
    report = Draft202012Validator(schema("report.json"))
    remark = Draft202012Validator({"$ref": "#/$defs/remark", "$defs": schema("report.json")["$defs"]})
    linted = CliRunner().invoke(commands, ["lint", "--format", "json", str(path)])
    found = json.loads(linted.stdout)
    assert found
    report.validate(found)
    tallied = CliRunner().invoke(commands, ["tally", "--format", "json", "--notices", "json", str(path)])
    totals = json.loads(tallied.stdout)
    assert totals[0]["rings"] == 2
    report.validate(totals)
    notices = [json.loads(line) for line in tallied.stderr.splitlines()]
    assert [notice["line"] for notice in notices] == [2]
    for notice in notices:
        remark.validate(notice)
