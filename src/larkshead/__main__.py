"""The command line's entry point."""

from __future__ import annotations

import sys


def main() -> None:
    """Run the command line."""
    if sys.argv[1:] in (["--version"], ["-V"]):
        # Asked by scripts again and again: not worth loading anything for.
        from larkshead import __version__

        print(f"larkshead {__version__}")
        return
    from larkshead.cli.main import run

    run(sys.argv[1:])


if __name__ == "__main__":
    main()
