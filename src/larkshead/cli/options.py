"""Options that several commands share."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

import click

Command = TypeVar("Command", bound=Callable[..., Any])

LEVELS = ("note", "warning", "error", "never")


def inputs(command: Command) -> Command:
    """The files to read and how."""
    for decorator in (
        click.argument("files", nargs=-1, metavar="FILE..."),
        click.option(
            "--settings", "settings_path", metavar="FILE", help="Settings file; else the nearest larkshead.toml."
        ),
        click.option(
            "--notices",
            "notices_format",
            type=click.Choice(["text", "json"]),
            default="text",
            show_default=True,
            help="How notices are shown on standard error (json: one object a line).",
        ),
        click.option(
            "--read-as", "read_as", metavar="CONVENTION", help="Whose words and habits the text is in; else recognised."
        ),
        click.option("--from", "style", metavar="STYLE", help="Style the text is in; else recognised."),
    ):
        command = decorator(command)
    return command
