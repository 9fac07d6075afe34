"""Print one of the README's commands, so that what is checked is what the README says.

``python .ci/readme_command.py test`` prints the command that passes the tests: the one line with ``pytest`` in it.
"""

from __future__ import annotations

import re
import sys
from pathlib import Path

MARKS = {"test": "pytest", "run": "larkshead convert"}


def main() -> int:
    """Find the command in the README's code blocks."""
    mark = MARKS[sys.argv[1]]
    text = (Path(__file__).parents[1] / "README.md").read_text("utf-8")
    blocks = re.findall(r"^```\w*\n(.*?)^```", text, re.MULTILINE | re.DOTALL)
    lines = [line.strip() for block in blocks for line in block.splitlines() if mark in line]
    if not lines:
        print(f"the README has no command with {mark!r} in it", file=sys.stderr)
        return 1
    print(lines[0])
    return 0


if __name__ == "__main__":
    sys.exit(main())
