"""What is built is what is in the tree, and it works where only it is installed; so does a stranger's plugin."""

from __future__ import annotations

import json
import zipfile
from pathlib import Path

import pytest
from wheels import ROOT, Run

pytestmark = pytest.mark.xdist_group("wheel")

AS_SHORTHAND = ("-", "--from", "shorthand", "--read-as", "en")
PATTERN = "R 5-5-5-5 cl\nRW\nC 6-6\nRW\nR 2-2 cl\n"


def test_the_wheel_holds_the_tree(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        held = {name for name in archive.namelist() if ".dist-info/" not in name}
    wanted = set()
    for folder in ("src", "plugins", "schemas"):
        for path in (ROOT / folder).rglob("*"):
            inside = path.relative_to(ROOT / folder)
            hidden = any(part.startswith(".") or part == "__pycache__" for part in inside.parts)
            if path.is_file() and not hidden:
                wanted.add(inside.as_posix())
    assert len(wanted) > 50
    assert held == wanted


def test_the_wheel_names_what_it_needs(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        (metadata,) = (name for name in archive.namelist() if name.endswith(".dist-info/METADATA"))
        lines = archive.read(metadata).decode("utf-8").splitlines()
    needs = [line.split()[1] for line in lines if line.startswith("Requires-Dist") and "extra" not in line]
    needed = {need.split(">")[0].replace("-", ".") for need in needs}
    assert needed == {"click", "jsonschema", "pluggy", "ruamel.yaml"}


def test_what_is_installed_is_what_runs(fresh: Run) -> None:
    listed = json.loads(fresh("list", "plugins", "--format", "json").stdout)
    assert {"larkshead", "larkshead-outline"} == {row["plugin"] for row in listed}


def test_a_pattern_goes_through_the_installed_command(fresh: Run) -> None:
    done = fresh("convert", *AS_SHORTHAND, "--to", "steplist", text=PATTERN)
    assert done.returncode == 0, done.stderr
    assert done.stdout.splitlines()[:3] == ["R 5 p 5 p 5 p 5", "TURN", "C 6 p 6"]


def test_a_strangers_writer_is_used(fresh: Run) -> None:
    done = fresh("convert", *AS_SHORTHAND, "--to", "outline", "--notices", "json", text=PATTERN)
    assert done.returncode == 0, done.stderr
    assert done.stdout == "ring of 20\nchain of 12\nring of 4\n"
    losses = [notice for notice in map(json.loads, done.stderr.splitlines()) if notice["kind"] == "dropped"]
    assert [(loss["line"], loss["message"]) for loss in losses] == [
        (2, "an outline has elements only"),
        (4, "an outline has elements only"),
    ]


def test_losses_fail_when_strict(fresh: Run) -> None:
    done = fresh("convert", *AS_SHORTHAND, "--to", "outline", "--strict", text=PATTERN)
    assert done.returncode == 1


def test_a_strangers_rule_is_used(fresh: Run) -> None:
    command = ("lint", *AS_SHORTHAND, "--format", "json", "--rule", "tiny-ring")
    done = fresh(*command, text=PATTERN)
    assert done.returncode == 1, done.stderr
    (finding,) = json.loads(done.stdout)
    assert (finding["rule"], finding["severity"], finding["line"]) == ("tiny-ring", "warning", 5)
    assert "only 4 stitches" in finding["message"]


def test_a_stranger_tests_a_rule_with_the_public_tester(fresh: Run) -> None:
    code = (
        "from larkshead.app.testing import reader\n"
        "from larkshead.linting.testing import assert_finds, assert_silent, check_examples\n"
        "rule = 'larkshead_outline.tiny_ring:check'\n"
        "assert check_examples(rule, reader()) == 2\n"
        "assert_finds(rule, 'R 5-5 cl\\nR 1-1 cl\\n', reader(), line=2, says='only 2', times=1)\n"
        "assert_silent(rule, 'R 5-5 cl\\n', reader())\n"
    )
    done = fresh("-c", code, command="python")
    assert done.returncode == 0, done.stderr


def test_a_strangers_rule_that_fails_is_named_and_the_others_run(fresh: Run) -> None:
    done = fresh("lint", *AS_SHORTHAND, "--format", "json", text=PATTERN)
    findings = {finding["rule"]: finding for finding in json.loads(done.stdout)}
    assert "tiny-ring" in findings
    assert "plugin outline of larkshead-outline 3.2" in findings["broken-rule"]["message"]
    assert "stumbles" in findings["broken-rule"]["message"]
    assert "Traceback" not in done.stderr


def test_a_strangers_rule_is_explained(fresh: Run) -> None:
    done = fresh("explain", "tiny-ring")
    assert done.returncode == 0
    assert "the gap at its base" in done.stdout


def test_a_broken_plugin_is_named_with_its_version_and_the_rest_goes_on(fresh: Run) -> None:
    done = fresh("tally", *AS_SHORTHAND, "--format", "json", text=PATTERN)
    assert done.returncode == 0, done.stderr
    assert json.loads(done.stdout)[0]["ds"] == 36
    assert "plugin frayed of larkshead-frayed 0.4 was left out" in done.stderr
    assert "the thread is frayed" in done.stderr
    assert "Traceback" not in done.stderr
