"""The settings file: found, checked, and obeyed."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest
from calling import Call, notices

from larkshead.settings import FILE_NAME, SettingsError, find_settings, load_settings


def test_the_nearest_file_upwards_is_found(tmp_path: Path) -> None:
    (tmp_path / "a" / "b").mkdir(parents=True)
    (tmp_path / FILE_NAME).write_text("", "utf-8")
    assert find_settings(str(tmp_path / "a" / "b")) == str(tmp_path / FILE_NAME)
    (tmp_path / "a" / FILE_NAME).write_text("", "utf-8")
    assert find_settings(str(tmp_path / "a" / "b")) == str(tmp_path / "a" / FILE_NAME)


def test_everything_that_can_be_set(tmp_path: Path) -> None:
    path = tmp_path / FILE_NAME
    path.write_text(
        'from = "shorthand"\nto = "prose"\nread-as = "en"\nwrite-as = "en"\nfail-on = "error"\n'
        'conventions = ["house.yaml"]\n[rules]\nmissing-turn = "off"\n'
        "[limits]\nfile-bytes = 10\nline-characters = 15\nworked-steps = 20\nnesting = 30\nworked-picots = 40\n",
        "utf-8",
    )
    settings = load_settings(str(path))
    assert (settings.style, settings.write_style, settings.read_as, settings.write_as) == (
        "shorthand",
        "prose",
        "en",
        "en",
    )
    assert settings.fail_on == "error"
    assert settings.conventions == [str(tmp_path / "house.yaml")]
    assert settings.rules == {"missing-turn": "off"}
    limits = settings.limits
    assert (limits.file_bytes, limits.line_characters) == (10, 15)
    assert (limits.worked_steps, limits.nesting, limits.worked_picots) == (20, 30, 40)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("form = 'prose'", "form: no such setting (known: from,"),
        ("from = 5", "from: expected text, found 5"),
        ("fail-on = 'always'", "fail-on: expected note or warning or error or never, found 'always'"),
        ("rules = 'none'", "rules: expected a table"),
        ("[rules]\nx = 'fatal'", "rules.x: expected off or note or warning or error"),
        ("[limits]\nworked-steps = -1", "limits.worked-steps: expected a whole number from 1, found -1"),
        ("[limits]\nworked-steps = true", "limits.worked-steps: expected a whole number from 1"),
        ("[limits]\nsteps = 1", "limits.steps: no such limit"),
        ("conventions = 'x.yaml'", "conventions: expected a list"),
        ("from = !\nto = 1", "not TOML: Invalid value (at line 1, column 8)"),
    ],
)
def test_what_is_wrong_is_said(tmp_path: Path, text: str, said: str) -> None:
    path = tmp_path / FILE_NAME
    path.write_text(text, "utf-8")
    with pytest.raises(SettingsError) as caught:
        load_settings(str(path))
    assert str(path) in str(caught.value)
    assert said in str(caught.value)


def test_faulty_settings_stop_the_run_with_one_message(call: Call) -> None:
    Path(FILE_NAME).write_text("from = 5\n", "utf-8")
    done = call("lint", "-", "--notices", "json", text="R 4 p 4\n")
    assert (done.exit_code, [n["kind"] for n in notices(done)]) == (2, ["faulty-settings"])
    done = call("lint", "-", "--settings", "nowhere.toml", text="R 4 p 4\n")
    assert done.exit_code == 2
    assert "nowhere.toml" in done.stderr


def test_styles_come_from_the_settings(call: Call) -> None:
    os.mkdir("below")
    Path(FILE_NAME).write_text('from = "steplist"\nto = "native"\n', "utf-8")
    done = call("convert", "-", text="R 4 p 4\n")
    assert done.exit_code == 0, done.stderr
    assert "ring" in done.stdout


def test_rules_are_turned_off_and_weighed(call: Call) -> None:
    text = "R 4 p 4 p\n"
    found = json.loads(call("lint", "-", "--from", "steplist", "--format", "json", text=text).stdout)
    assert [f["severity"] for f in found if f["rule"] == "picot-without-stitch"] == ["error"]
    Path(FILE_NAME).write_text('[rules]\npicot-without-stitch = "note"\n', "utf-8")
    done = call("lint", "-", "--from", "steplist", "--format", "json", text=text)
    assert [f["severity"] for f in json.loads(done.stdout) if f["rule"] == "picot-without-stitch"] == ["note"]
    Path(FILE_NAME).write_text('[rules]\npicot-without-stitch = "off"\n', "utf-8")
    done = call("lint", "-", "--from", "steplist", "--format", "json", text=text)
    assert not [f for f in json.loads(done.stdout) if f["rule"] == "picot-without-stitch"]


def test_the_limit_on_steps_is_obeyed(call: Call) -> None:
    Path(FILE_NAME).write_text("[limits]\nworked-steps = 10\n", "utf-8")
    done = call("lint", "-", "--from", "steplist", "--format", "json", text="REP 11 {\nR 4 p 4\n}\n")
    assert "too-many-steps" in done.stdout
    done = call("lint", "-", "--from", "steplist", "--format", "json", text="REP 10 {\nR 4 p 4\n}\n")
    assert "too-many-steps" not in done.stdout
