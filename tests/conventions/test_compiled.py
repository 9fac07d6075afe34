"""Conventions run from their compiled form, and it is true to the YAML that people edit."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from larkshead.conventions.compiled import compile_convention, compiled_path, content_hash, load_document

PLUGINS = Path(__file__).parents[2] / "plugins"
SHIPPED = sorted(path for path in PLUGINS.glob("*/*.yaml"))

HOUSE = """name: house
title: A house of its own
language: en
terms:
  ring:
    say: [loop, loops]
    short: L
    source: memory
"""


def test_there_are_conventions() -> None:
    assert "en.yaml" in [path.name for path in SHIPPED]


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_the_compiled_form_is_true_to_the_yaml(path: Path) -> None:
    command = f"python -m larkshead.conventions {path.relative_to(PLUGINS.parent).as_posix()}"
    compiled = Path(compiled_path(path))
    assert compiled.exists(), f"{path.name} was never compiled: run `{command}`"
    stored = json.loads(compiled.read_text("utf-8"))
    assert stored["hash"] == content_hash(path.read_bytes()), f"{path.name} was edited since: run `{command}`"


def test_an_edited_file_is_read_anew(tmp_path: Path) -> None:
    path = tmp_path / "house.yaml"
    path.write_text(HOUSE, "utf-8")
    compile_convention(path)
    assert load_document(path)["terms"]["ring"]["short"] == "L"
    path.write_text(HOUSE.replace("short: L", "short: O"), "utf-8")
    assert load_document(path)["terms"]["ring"]["short"] == "O"


@pytest.mark.parametrize("content", ["", "[]", "{", '{"hash": "x", "convention": {}}'])
def test_a_broken_compiled_form_does_no_harm(tmp_path: Path, content: str) -> None:
    path = tmp_path / "house.yaml"
    path.write_text(HOUSE, "utf-8")
    Path(compiled_path(path)).write_text(content, "utf-8")
    assert load_document(path)["name"] == "house"


def test_the_command_that_compiles(tmp_path: Path) -> None:
    path = tmp_path / "house.yaml"
    path.write_text(HOUSE, "utf-8")
    command = [sys.executable, "-m", "larkshead.conventions", str(path)]
    assert subprocess.run(command, capture_output=True, text=True).stdout.strip() == compiled_path(path)
    path.write_text("name: [", "utf-8")
    done = subprocess.run(command, capture_output=True, text=True)
    assert done.returncode == 1
    assert f"{path}:1:" in done.stderr
