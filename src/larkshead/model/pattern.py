"""A whole pattern as written: what surrounds the steps, and the parts that hold them."""

from __future__ import annotations

from larkshead.model.lengths import Length
from larkshead.model.steps import Step
from larkshead.records import dataclass, field


@dataclass(slots=True)
class Thread:
    """A thread the pattern is worked with.

    ``role`` shuttle, ball or tail; ``name`` as the steps name it (``shuttle 1``, ``ball``);
    ``joined_to`` the thread it is wound from uncut, or tied to (``tied`` True).
    """

    role: str
    name: str
    color: str = ""
    size: str = ""
    length: Length | None = None
    beads: int | None = None
    joined_to: str | None = None
    tied: bool = False


@dataclass(slots=True)
class Abbreviation:
    """An entry of the pattern's own list: the form used and what it is said to mean."""

    form: str
    meaning: str
    concept: str | None = None


@dataclass(slots=True)
class Allowance:
    """A rule silenced in this pattern: where (an element label, a part, empty for all) and because of what."""

    rule: str
    where: str = ""
    because: str = ""


@dataclass(slots=True)
class Part:
    """A round, row, motif, edging or other part; ``kind`` empty for steps under no heading.

    ``times`` when the whole part is worked more than once.
    """

    kind: str = ""
    number: int | None = None
    name: str = ""
    times: int = 1
    steps: list[Step] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)


@dataclass(slots=True)
class Pattern:
    """A pattern. ``habits`` hold the counting habits printed counts were made by (join counted or not, ...)."""

    title: str = ""
    materials: list[str] = field(default_factory=list)
    threads: list[Thread] = field(default_factory=list)
    abbreviations: list[Abbreviation] = field(default_factory=list)
    picot_length: Length | None = None
    sizes: list[str] = field(default_factory=list)
    finished_size: str = ""
    habits: dict[str, str] = field(default_factory=dict)
    parts: list[Part] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    allowances: list[Allowance] = field(default_factory=list)
