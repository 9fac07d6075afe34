"""The commands by name; each command's module is imported only when it is used."""

from __future__ import annotations

import importlib

from larkshead.cli.options import Command

# The line that --help shows for each, said here so that --help imports no command.
COMMANDS = {
    "convert": "Write patterns in another style.",
    "lint": "Proof patterns by working them.",
    "work": "Show a pattern step by step as it is worked.",
    "tally": "Count stitches, picots, joins and beads.",
    "explain": "Explain a rule or a trade term.",
    "list": "List styles, conventions, rules, reports, samples and plugins.",
}


def load_command(name: str) -> Command:
    """The description of a command, from the module of its name."""
    command: Command = importlib.import_module(f"larkshead.cli.{name}_command").COMMAND
    return command
