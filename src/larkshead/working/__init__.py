"""Working a pattern: expanding its passes, resolving its places, following its threads, and the totals."""

from larkshead.working.limits import Limits
from larkshead.working.tally import Counts, PartTally, Tally, tally, tally_pattern
from larkshead.working.work import work
from larkshead.working.worked import (
    Ends,
    Position,
    Problem,
    Worked,
    WorkedAction,
    WorkedElement,
    WorkedJoin,
    WorkedPart,
    WorkedPicot,
)

__all__ = [
    "Counts",
    "Ends",
    "Limits",
    "PartTally",
    "Position",
    "Problem",
    "Tally",
    "Worked",
    "WorkedAction",
    "WorkedElement",
    "WorkedJoin",
    "WorkedPart",
    "WorkedPicot",
    "tally",
    "tally_pattern",
    "work",
]
