"""The work told step by step: what is made, with which threads, on which side, what it is joined to, what stays
free.
"""

from __future__ import annotations

from collections.abc import Iterator

from larkshead.model import (
    Attach,
    BareThread,
    Beads,
    Cut,
    Element,
    Halves,
    HideEnds,
    Join,
    LockJoin,
    MockPicot,
    Note,
    NoTurn,
    Pattern,
    Picot,
    SideChange,
    StatedTotal,
    Step,
    Stitches,
    Switch,
    Thrown,
    Turn,
)
from larkshead.records import dataclass, field
from larkshead.working.names import name_of, name_of_part, name_of_target
from larkshead.working.worked import Worked, WorkedElement, WorkedJoin


@dataclass(slots=True)
class JoinTold:
    """One join: ``place`` its number among the picots and joins of its element (0 between elements), ``into``
    what it is made into (empty where that is not known), ``reason`` why it is not known, ``assumed`` what was
    taken for granted.
    """

    place: int
    into: str
    reason: str = ""
    assumed: str = ""


@dataclass(slots=True)
class StepTold:
    """One step as worked.

    ``number`` counts the steps from 1; ``what`` names it (``ring 2``, ``turn``); ``part`` its round or row;
    ``passes`` tells the passes it stands in (``2 of 5``, a question mark where it is not known how many).
    ``work`` is the element's work in short; ``thread`` the threads (the working one over the core), ``side``
    front or back; ``free`` how many picots of all the work are free after it; ``joins`` what it is joined to;
    ``thrown_from`` what it is thrown off.
    """

    number: int
    what: str
    part: str = ""
    passes: list[str] = field(default_factory=list)
    work: str = ""
    thread: str = ""
    side: str = ""
    ds: int = 0
    free: int = 0
    joins: list[JoinTold] = field(default_factory=list)
    thrown_from: str = ""
    stands: str = ""


def narrate(worked: Worked) -> list[StepTold]:
    """Every step as worked, in order."""
    return list(narration(worked))


def narration(worked: Worked) -> Iterator[StepTold]:
    """Every step as worked, one at a time, so that a long pattern need not be held whole."""
    parts = worked.pattern.parts
    names = [name_of_part(part, index) for index, part in enumerate(parts)]
    free = 0
    for number, made in enumerate(worked.sequence, 1):
        joins = [told(join, worked.pattern) for join in made.joins]
        free -= sum(1 for join in made.joins if _uses_first(join))
        passes = [f"{at} of {of or '?'}" for at, of in zip(made.passes, made.of_passes, strict=True)]
        if isinstance(made, WorkedElement):
            free += sum(1 for picot in made.picots if not picot.mock)
            thread = made.core if made.core == made.working else f"{made.working or '?'} over {made.core}"
            host = name_of(made.thrown_from) if made.thrown_from is not None else ""
            yield StepTold(
                number, name_of(made), names[made.part], passes, work_in_short(made.step), thread, made.side,
                made.ds, free, joins, host, made.position.at,
            )  # fmt: skip
        else:
            free += made.picot is not None
            where = made.position.at if made.position is not None else ""
            what = action_in_short(made.step)
            yield StepTold(number, what, names[made.part], passes, free=free, joins=joins, stands=where)


def _uses_first(join: WorkedJoin) -> bool:
    """Whether a join is the first made into its picot."""
    return join.picot is not None and bool(join.picot.uses) and join.picot.uses[0] is join


def told(join: WorkedJoin, pattern: Pattern) -> JoinTold:
    """One join in words."""
    return JoinTold(join.position, name_of_target(join, pattern), join.reason, join.assumed)


def work_in_short(step: Element) -> str:
    """The work of an element in short: ``4 p 4 j 4``; ``/`` between the sides of a split element."""
    return " ".join(_item(item) for item in step.work)


def _item(item: object) -> str:
    if isinstance(item, Stitches):
        return str(item.count)
    if isinstance(item, Halves):
        return f"{item.count} {'first' if item.half == 1 else 'second'} halves"
    if isinstance(item, Picot):
        return {"small": "sp", "long": "lp"}.get(item.size, "p") + (f" {item.length}" if item.length else "")
    if isinstance(item, Join):
        return "lj" if item.kind == "lock" else "j"
    if isinstance(item, Beads):
        return " ".join("b" * item.count)
    if isinstance(item, SideChange):
        return "/"
    if isinstance(item, Thrown):
        return f"({item.element.kind} thrown off)"
    raise TypeError(f"not an item of work: {item!r}")


def action_in_short(step: Step) -> str:
    """An action in short: ``turn``, ``leave 3mm``, ``mock picot``."""
    if isinstance(step, BareThread):
        return f"leave {step.length}" if step.length is not None else "leave bare thread"
    if isinstance(step, Switch):
        return "cross the threads" if step.way == "cross" else f"change to {step.to}" if step.to else "change shuttles"
    if isinstance(step, Cut):
        return " ".join((("tie and cut" if step.tie else "cut"), *([", ".join(step.threads)] if step.threads else [])))
    if isinstance(step, Attach):
        return " ".join(("fasten on", *([", ".join(step.threads)] if step.threads else [])))
    if isinstance(step, HideEnds):
        return f"hide the ends, {step.way}" if step.way else "hide the ends"
    if isinstance(step, Note):
        return step.text
    if isinstance(step, StatedTotal):
        return step.words or "a total is said"
    return _PLAIN[type(step)]


_PLAIN: dict[type, str] = {Turn: "turn", NoTurn: "do not turn", LockJoin: "lock join", MockPicot: "mock picot"}
