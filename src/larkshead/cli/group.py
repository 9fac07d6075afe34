"""The commands as click knows them: for help, for completion, and for arguments that are unusual or wrong."""

from __future__ import annotations

import click

from larkshead import __version__
from larkshead.app.errors import choice
from larkshead.cli.commands import COMMANDS, load_command
from larkshead.cli.options import Command


class Commands(click.Group):
    """The group of commands, each loaded when asked for."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The commands in the order a pattern goes through them."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """One command, made from what its module says it takes."""
        return as_click(load_command(cmd_name)) if cmd_name in COMMANDS else None

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """The list of commands, without importing them."""
        with formatter.section("Commands"):
            formatter.write_dl(list(COMMANDS.items()))

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """The command asked for; an unknown one is answered with those there are."""
        if args and args[0] not in COMMANDS and not args[0].startswith("-"):
            ctx.fail(choice("command", args[0], list(COMMANDS)))
        return super().resolve_command(ctx, args)


def as_click(command: Command) -> click.Command:
    """A command with the parameters its description gives it."""
    key, metavar = command.operand
    operand = click.Argument(
        [key],
        nargs=-1 if command.most < 0 else 1,
        required=command.least > 0,
        metavar=metavar,
        type=click.Choice(command.operand_choices) if command.operand_choices else str,
    )
    options = [
        click.Option(
            [*option.names, option.key],
            help=option.help,
            metavar=option.metavar or None,
            is_flag=option.flag,
            multiple=option.many,
            default=False if option.flag else option.default,
            show_default=option.default is not None,
            type=bool if option.flag else click.Choice(option.choices) if option.choices else str,
        )
        for option in command.options
    ]
    return click.Command(command.name, callback=command.run, params=[operand, *options], help=command.text)


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

    \b
    Completion in the shell:
      eval "$(_LARKSHEAD_COMPLETE=bash_source larkshead)"   (also zsh_source, fish_source)
    """
