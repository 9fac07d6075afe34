"""Reading running words in tests: the steps as lines of the step list."""

from __future__ import annotations

from larkshead.app.workbench import Workbench
from larkshead.reading import Reading, Source

BENCH = Workbench()


def read_prose(text: str) -> Reading:
    """The reading of a passage in modern English."""
    return BENCH.read(Source(text, "passage.txt"), "prose", "en")


def prose_steps(text: str) -> list[str]:
    """The steps of a passage, without places, labels and notes."""
    lines = BENCH.write(read_prose(text).pattern, "steplist").text.splitlines()
    return [line.split(" ->")[0].split(" #")[0].strip() for line in lines if line and not line.startswith("#")]
