"""Arguments read plainly are read as click reads them; all else is left to click."""

from __future__ import annotations

import subprocess
import sys
from typing import Any

import click
import pytest
from hypothesis import given
from hypothesis import strategies as st

from larkshead.cli.commands import COMMANDS, load_command
from larkshead.cli.group import as_click
from larkshead.cli.options import Command, read_plainly

ALL = [load_command(name) for name in COMMANDS]
WORDS = ["a.txt", "-", "json", "text", "styles", "warning", "", "x y", "--", "-x", "--nope", "-o", "-ofile", "--help"]


def by_click(command: Command, arguments: list[str]) -> dict[str, Any] | None:
    """What click makes of the arguments; None where it refuses them (or shows help)."""
    made = as_click(command)
    try:
        with made.make_context(command.name, list(arguments), help_option_names=["-h", "--help"]) as context:
            return dict(context.params)
    except (click.exceptions.Exit, click.ClickException):
        return None


@st.composite
def calls(draw: st.DrawFn) -> tuple[Command, list[str]]:
    """A command and arguments for it, mostly sensible."""
    command = draw(st.sampled_from(ALL))
    names = [name for option in command.options for name in option.names]
    choices = [choice for option in command.options for choice in option.choices]
    words = st.sampled_from(WORDS + names + choices + [f"{name}=text" for name in names])
    pairs = st.tuples(st.sampled_from(names), st.sampled_from(["json", "text", "v", "-"])).map(list)
    pieces = draw(st.lists(st.one_of(pairs, words.map(lambda word: [word])), max_size=5))
    return command, [word for piece in pieces for word in piece]


@given(calls())
def test_plain_arguments_mean_the_same_to_both(call: tuple[Command, list[str]]) -> None:
    command, arguments = call
    plainly = read_plainly(command, arguments)
    if plainly is not None:
        assert plainly == by_click(command, arguments), arguments


@pytest.mark.parametrize(
    ("name", "arguments"),
    [
        ("lint", ["a.txt", "--from", "shorthand", "--read-as", "en", "--format", "json", "--rule", "x", "--rule=y"]),
        ("convert", ["--to", "steplist", "--into", "out", "--notices", "json", "a.txt", "-", "--force", "--strict"]),
        ("convert", ["a", "-o", "b"]),
        ("tally", ["--from=table", "a.txt"]),
        ("work", ["-"]),
        ("explain", ["split", "ring"]),
        ("list", []),
        ("list", ["rules"]),
    ],
)
def test_the_usual_calls_are_plain(name: str, arguments: list[str]) -> None:
    command = load_command(name)
    plainly = read_plainly(command, arguments)
    assert plainly is not None
    assert plainly == by_click(command, arguments)


@pytest.mark.parametrize("arguments", [["--help"], ["--form", "x"], ["--from"], ["--notices", "xml"], ["--force=1"]])
def test_what_is_not_plain_is_left_to_click(arguments: list[str]) -> None:
    assert read_plainly(load_command("convert"), arguments) is None


def test_a_plain_call_does_not_load_click() -> None:
    code = (
        "import sys; before = set(sys.modules); import larkshead.cli.main as main; main._end = lambda code: None\n"
        "main.run(['tally', '-', '--from', 'steplist'])\n"
        "costly = {'click', 'jsonschema', 'ruamel.yaml', 'importlib.metadata', 'pathlib', 'hashlib', 'difflib'}\n"
        "assert not costly & (set(sys.modules) - before), costly & set(sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], input="R 4 p 4\n", capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    assert "in all" in done.stdout
