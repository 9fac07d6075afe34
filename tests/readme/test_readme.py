"""Every example of the README is run, and prints what the README shows.

``python -m pytest tests/readme --snapshot-update`` writes the present output into the README; look at it before it is kept.
"""

from __future__ import annotations

import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

README = Path(__file__).parents[2] / "README.md"
EXAMPLE = re.compile(r"```console\n\$ (?P<command>larkshead [^\n]*)\n(?P<shown>.*?)```", re.DOTALL)
FILE = re.compile(r"`(?P<name>[\w.]+)`:\n\n```text\n(?P<text>.*?)```", re.DOTALL)
TEXT = README.read_text("utf-8")
COMMANDS = [found["command"] for found in EXAMPLE.finditer(TEXT)]
# The samples stand in for every style they come in; these commands have to be among the examples.
TOLD = {"convert", "lint", "work", "tally", "explain", "list"}


def _printed(command: str, folder: Path) -> str:
    """What a reader sees at a terminal; nothing of it is a fault of larkshead's own."""
    for found in FILE.finditer(TEXT):
        (folder / found["name"]).write_text(found["text"], "utf-8")
    arguments = shlex.split(command)[1:]
    done = subprocess.run(
        [sys.executable, "-m", "larkshead", *arguments],
        cwd=folder,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        encoding="utf-8",
        env={"PYTHONUTF8": "1", "NO_COLOR": "1"},
    )
    assert done.returncode in (0, 1), done.stdout
    assert "fault of larkshead" not in done.stdout, done.stdout
    return done.stdout


def test_every_command_is_shown() -> None:
    assert {command.split()[1] for command in COMMANDS} == TOLD


@pytest.mark.xdist_group("readme")
@pytest.mark.parametrize("command", COMMANDS)
def test_an_example_prints_what_is_shown(command: str, tmp_path: Path, request: pytest.FixtureRequest) -> None:
    printed = _printed(command, tmp_path)
    if request.config.option.update_snapshots:
        _show(command, printed)
    shown = {found["command"]: found["shown"] for found in EXAMPLE.finditer(README.read_text("utf-8"))}
    assert printed == shown[command]


def _show(command: str, printed: str) -> None:
    """Put what is printed below a command of the README."""
    text = README.read_text("utf-8")
    README.write_text(
        EXAMPLE.sub(
            lambda found: found[0] if found["command"] != command else f"```console\n$ {command}\n{printed}```", text
        ),
        "utf-8",
    )
