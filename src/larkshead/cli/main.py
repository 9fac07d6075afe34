"""The commands as one group; each command's module is imported only when it is used."""

from __future__ import annotations

import gc
import importlib
import os
import sys

import click

from larkshead import __version__
from larkshead.reports.printable import printable

# Command, module and the line that --help shows for it, said here so that --help imports no command.
COMMANDS = {
    "convert": "Write patterns in another style.",
    "lint": "Proof patterns by working them.",
    "work": "Show a pattern step by step as it is worked.",
    "tally": "Count stitches, picots, joins and beads.",
    "explain": "Explain a rule or a trade term.",
    "list": "List styles, conventions, rules, reports, plugins and samples.",
}


class Commands(click.Group):
    """The group of commands, each loaded when asked for."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The commands in the order a pattern goes through them."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """One command, from the module of its name."""
        if cmd_name not in COMMANDS:
            return None
        module = importlib.import_module(f"larkshead.cli.{cmd_name}_command")
        command: click.Command = module.command
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """The list of commands, without importing them."""
        with formatter.section("Commands"):
            formatter.write_dl(list(COMMANDS.items()))

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """The command asked for; an unknown one is answered with those there are."""
        if args and args[0] not in COMMANDS and not args[0].startswith("-"):
            from larkshead.app.errors import choice

            ctx.fail(choice("command", args[0], list(COMMANDS)))
        return super().resolve_command(ctx, args)


@click.group(cls=Commands, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(__version__, "-V", "--version", message="larkshead %(version)s")
def commands() -> None:
    """Read tatting patterns in one notation, write them in another, and proof them by working them.

    \b
    Examples:
      larkshead convert collar.txt --to shorthand
      larkshead lint collar.txt
      larkshead tally collar.txt
      larkshead explain impossible-join
    """


def run() -> None:
    """Run the command line; the process ends with 0 (clean), 1 (findings or losses) or 2 (could not run)."""
    # What is loaded stays: looking for circles in it again and again would only cost time.
    gc.set_threshold(100_000, 20, 50)
    code = 0
    try:
        commands.main(prog_name="larkshead")
    except SystemExit as end:
        code = end.code if isinstance(end.code, int) else 1 if end.code else 0
    except OSError as fault:
        sys.stderr.write(f"larkshead: error: the result cannot be written: {fault.strerror or fault}\n")
        code = 2
    except Exception as fault:
        if os.environ.get("LARKSHEAD_DEBUG"):
            raise
        said = " ".join(str(fault).split())
        sys.stderr.write(
            f"larkshead: error: {type(fault).__name__}: {printable(said)}; this is a fault of larkshead, not of the "
            "pattern. Set LARKSHEAD_DEBUG=1 to see where it arose.\n"
        )
        code = 2
    _end(code)


def _end(code: int) -> None:
    """End at once: taking down all that was loaded, module by module, would take as long as a small pattern."""
    for stream in (sys.stdout, sys.stderr):
        try:
            stream.flush()
        except OSError:
            # Whoever was reading has gone.
            code = code or 1
    os._exit(code)
