"""Compiling conventions: ``python -m larkshead.conventions FILE.yaml ...`` writes the form that runs beside each file."""

from __future__ import annotations

import sys

from larkshead.conventions.compiled import compile_convention


def main() -> int:
    """Compile the files named; 1 where one of them is faulty."""
    from larkshead.conventions.source import ConventionError

    code = 0
    for path in sys.argv[1:]:
        try:
            print(compile_convention(path))
        except (ConventionError, OSError) as fault:
            print(fault, file=sys.stderr)
            code = 1
    return code


if __name__ == "__main__":
    sys.exit(main())
