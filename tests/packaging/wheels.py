"""Building wheels, shared by the tests of this folder."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

ROOT = Path(__file__).parents[2]
STRANGER = ROOT / "tests" / "host" / "stranger"
Run = Callable[..., "subprocess.CompletedProcess[str]"]


def build_wheel(source: Path, folder: Path) -> Path:
    """The wheel of a source tree, built with what is installed here."""
    command = [sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", str(folder), str(source)]
    done = subprocess.run(command, capture_output=True, text=True)
    assert done.returncode == 0, done.stdout + done.stderr
    (wheel,) = folder.glob("*.whl")
    return wheel
