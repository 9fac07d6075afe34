"""What a command takes, as data: the plain reading of arguments and the full one by click are made from the same."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from larkshead.records import dataclass

LEVELS = ("note", "warning", "error", "never")
REPORT_FORMS = ("text", "json")


@dataclass(frozen=True, slots=True)
class Option:
    """One option. ``names`` as typed, ``key`` the keyword it is handed on by, ``metavar`` what stands for its value.

    ``choices`` are the only values taken, where there are any; ``flag`` takes no value and is True when given;
    ``many`` may be given several times and hands on a tuple.
    """

    names: tuple[str, ...]
    key: str
    help: str
    metavar: str = ""
    choices: tuple[str, ...] = ()
    default: str | None = None
    flag: bool = False
    many: bool = False


@dataclass(frozen=True, slots=True)
class Command:
    """One command: ``text`` is its help, ``operand`` what its plain arguments are called and the keyword for them.

    ``least`` and ``most`` say how many plain arguments there may be (-1: any number); ``operand_choices`` the only
    ones taken.
    """

    name: str
    text: str
    run: Callable[..., None]
    options: tuple[Option, ...]
    operand: tuple[str, str]
    least: int = 0
    most: int = -1
    operand_choices: tuple[str, ...] = ()


SETTINGS = Option(
    ("--settings",), "settings_path", "Settings file; else the nearest larkshead.toml.", "FILE"
)  # fmt: skip
INPUTS = (
    Option(("--from",), "style", "Style the text is in; else recognised.", "STYLE"),
    Option(("--read-as",), "read_as", "Whose words and habits the text is in; else recognised.", "CONVENTION"),
    Option(
        ("--notices",),
        "notices_format",
        "How notices are shown on standard error (json: one object a line).",
        choices=REPORT_FORMS,
        default="text",
    ),
    SETTINGS,
)
SHOW_READING = Option(
    ("--show-reading",), "show", "Show your text on standard error, each stretch with what it was read as.", flag=True
)
FILES = ("files", "FILE...")


def read_plainly(command: Command, arguments: Sequence[str]) -> dict[str, Any] | None:
    """The values of plainly given arguments; None for all that is unusual or wrong, which click then reads or refuses.

    Plain are options spelt out with their value behind them or after ``=``, and arguments that begin with no dash.
    """
    known = {name: option for option in command.options for name in option.names}
    values: dict[str, Any] = {o.key: False if o.flag else () if o.many else o.default for o in command.options}
    operands: list[str] = []
    given = iter(arguments)
    for word in given:
        if word == "-" or not word.startswith("-"):
            operands.append(word)
            continue
        name, equals, value = word.partition("=")
        option = known.get(name)
        if option is None or (equals and (option.flag or not name.startswith("--"))):
            return None
        if option.flag:
            values[option.key] = True
            continue
        if not equals:
            value = next(given, "-?")
            if value.startswith("-") and value != "-":
                return None
        if option.choices and value not in option.choices:
            return None
        values[option.key] = (*values[option.key], value) if option.many else value
    if len(operands) < command.least or 0 <= command.most < len(operands):
        return None
    if command.operand_choices and not set(operands) <= set(command.operand_choices):
        return None
    key = command.operand[0]
    values[key] = tuple(operands) if command.most < 0 else (operands[0] if operands else None)
    return values
