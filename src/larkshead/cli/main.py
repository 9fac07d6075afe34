"""Running a command: arguments read plainly where they are plain, by click where they are not."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Sequence

from larkshead.cli.commands import COMMANDS, load_command
from larkshead.cli.options import read_plainly
from larkshead.reports.printable import printable

COMPLETE = "_LARKSHEAD_COMPLETE"


def run(arguments: Sequence[str]) -> None:
    """Run the command line; the process ends with 0 (clean), 1 (findings or losses) or 2 (could not run)."""
    # What is loaded stays: looking for circles in it again and again would only cost time.
    gc.set_threshold(100_000, 20, 50)
    code = 0
    try:
        _run(arguments)
    except SystemExit as end:
        code = end.code if isinstance(end.code, int) else 1 if end.code else 0
    except KeyboardInterrupt:
        code = 130
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


def _run(arguments: Sequence[str]) -> None:
    if arguments and arguments[0] in COMMANDS and COMPLETE not in os.environ:
        command = load_command(arguments[0])
        values = read_plainly(command, arguments[1:])
        if values is not None:
            command.run(**values)
            return
    from larkshead.cli.group import commands

    commands.main(list(arguments), prog_name="larkshead")


def _end(code: int) -> None:
    """End at once: taking down all that was loaded, module by module, would take as long as a small pattern."""
    for stream in (sys.stdout, sys.stderr):
        try:
            stream.flush()
        except OSError:
            # Whoever was reading has gone.
            code = code or 1
    os._exit(code)
