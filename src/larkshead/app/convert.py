"""Converting: a pattern from one style into another, and back again to see that nothing was lost on the way."""

from __future__ import annotations

from typing import TYPE_CHECKING

from larkshead.reading import Reading, Source
from larkshead.records import dataclass, field
from larkshead.reports.printable import blank_codes, is_printable
from larkshead.writing.compare import Difference, differences
from larkshead.writing.losses import Loss

if TYPE_CHECKING:
    from larkshead.app.workbench import Workbench

# How many differences of a text from its pattern are told; one is enough to distrust it.
_TOLD = 5


@dataclass(slots=True)
class Converted:
    """A pattern as written in another style.

    ``differences`` are what the text, read back, says otherwise than the pattern without a loss that tells of it: an
    error of the program, never of the user.
    """

    reading: Reading
    text: str
    style: str
    convention: str
    losses: list[Loss] = field(default_factory=list)
    differences: list[Difference] = field(default_factory=list)


def convert(
    bench: Workbench, reading: Reading, style: str, convention: str | None = None, standing: str | None = None
) -> Converted:
    """Write a pattern that was read in ``style``, and read it back; CannotRun as for reading and writing.

    ``standing`` is the text of the file that is written over, which may hold comments to keep; a text converted to its own
    style stands for itself.
    """
    notation = bench.notation(style, "writer")
    if convention is None and bench.settings.write_as is None:
        # A pattern stays in its language unless another is asked for.
        convention = reading.convention or None
    habits = bench.convention_for(notation, convention)
    if standing is None and reading.style == style:
        standing = reading.source.text
    written = bench.write(reading.pattern, style, convention, standing)
    found: list[Difference] = []
    if notation.spec.reader is not None:
        back = bench.read(Source(written.text, f"<{style}>"), style, habits.name or None)
        found = differences(reading.pattern, back.pattern, written.losses, _TOLD)
    text, losses = written.text, list(written.losses)
    if not is_printable(text):
        text, places = blank_codes(text)
        losses.append(Loss("dropped", f"{len(places)} control characters were written as spaces"))
    return Converted(reading, text, style, habits.name, losses, found)
