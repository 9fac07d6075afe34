"""Working a pattern: expanding its passes, resolving its places, following its threads, and the totals."""

from larkshead.working.limits import Limits
from larkshead.working.narrate import JoinTold, StepTold, narrate, narration
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
    "JoinTold",
    "Limits",
    "PartTally",
    "Position",
    "Problem",
    "StepTold",
    "Tally",
    "Worked",
    "WorkedAction",
    "WorkedElement",
    "WorkedJoin",
    "WorkedPart",
    "WorkedPicot",
    "narrate",
    "narration",
    "tally",
    "tally_pattern",
    "work",
]
