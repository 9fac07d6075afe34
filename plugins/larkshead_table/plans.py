"""What the rows of a table say, before repeats are laid round them and places are resolved."""

from __future__ import annotations

from larkshead.model import Place, StatedTotal
from larkshead.reading import Span
from larkshead.reading.grammar.said import Said, SaidChange, SaidElement, SaidHeading
from larkshead.records import dataclass, field


@dataclass(slots=True)
class Target:
    """A place told for a join. ``item`` the join's own picot where it is told (first, last, a number); ``lock`` and
    ``folded`` as told; ``every`` when it goes for all joins of the element."""

    place: Place
    span: Span
    item: str | int = ""
    lock: bool = False
    folded: bool = False
    every: bool = False


@dataclass(slots=True)
class Unit:
    """An element with what is worked right after it; an action without an element stands in ``after`` alone."""

    element: SaidElement | None = None
    locks: list[Said] = field(default_factory=list)
    after: list[Said] = field(default_factory=list)
    totals: list[tuple[StatedTotal, Span]] = field(default_factory=list)


@dataclass(slots=True)
class Again:
    """A repeat told in words.

    ``times`` as said and ``how``: more (on top of the first working), all (in all), or empty where the words leave it
    open; ``refs`` the rows named, as pairs of labels (first, last; last empty for all rows from the first on);
    ``kinds`` elements named; ``near``: beside (with the next row), above (with the row before), all_rows, alone, or
    empty; ``until`` how many elements of a kind and size there shall be; ``open`` for the length wanted; ``verb`` when
    a word for repeating is said; ``last_rows`` so many rows before.
    """

    span: Span
    times: int | None = None
    how: str = ""
    refs: list[tuple[str, str]] = field(default_factory=list)
    kinds: list[str] = field(default_factory=list)
    near: str = ""
    until: dict[tuple[str, str], int] = field(default_factory=dict)
    open: bool = False
    verb: bool = False
    last_rows: int = 0
    total: int | None = None

    @property
    def bare(self) -> bool:
        """Whether nothing but how often is told."""
        return not (self.refs or self.kinds or self.near or self.until or self.last_rows)

    @property
    def in_all(self) -> int | None:
        """How often in all the rows are worked."""
        if self.total is not None:
            return self.total
        if self.times is None:
            return None
        return self.times + 1 if self.how == "more" else self.times


@dataclass(slots=True)
class Plan:
    """A row.

    ``labels`` the names it goes by, ``first`` and ``last`` where one row stands for several; ``count`` how often its
    steps are worked on the spot; ``brace`` the sign of a bracket drawn in a column; ``follows`` when each of its passes
    comes after a pass of the row before; ``instead`` the row and pass it is worked instead of; ``loose`` changes on
    some passes; ``told`` places of joins that are named by their own element; ``outside`` for text about the tables;
    ``ahead`` how often the table behind it is worked; ``numbers`` all those a row stands for where others stand between them (``1, 3, 5``); ``turns_after`` rows behind
    which the text about a table turns the work.
    """

    span: Span
    number: int
    labels: list[str] = field(default_factory=list)
    first: str = ""
    last: str = ""
    before: list[Said] = field(default_factory=list)
    units: list[Unit] = field(default_factory=list)
    heading: SaidHeading | None = None
    again: list[Again] = field(default_factory=list)
    times: Again | None = None
    brace: str = ""
    opens: bool = False
    shuts: Again | None = None
    count: int = 1
    follows: bool = False
    instead: tuple[str, str | int] | None = None
    loose: list[SaidChange] = field(default_factory=list)
    told: list[tuple[Target, Place]] = field(default_factory=list)
    outside: bool = False
    ahead: Again | None = None
    numbers: list[int] = field(default_factory=list)
    turns_after: list[str] = field(default_factory=list)

    @property
    def works(self) -> bool:
        """Whether anything is worked in the row, besides what is told of another row's passes."""
        return self.instead is None and self._works()

    def _works(self) -> bool:
        return any(unit.element is not None or unit.locks or unit.after for unit in self.units) or bool(self.before)

    @property
    def elements(self) -> list[SaidElement]:
        return [unit.element for unit in self.units if unit.element is not None]

    def unit(self) -> Unit:
        """The unit told last; a new one where there is none."""
        if not self.units:
            self.units.append(Unit())
        return self.units[-1]
