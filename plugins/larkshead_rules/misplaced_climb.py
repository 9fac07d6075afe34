"""The rule misplaced-climb."""

from __future__ import annotations

from collections.abc import Iterator

from larkshead.linting import Context, Finding
from larkshead.linting.runs import runs_of
from larkshead.model import BareThread, MockPicot
from larkshead.working.worked import WorkedAction, WorkedElement


def check(context: Context) -> Iterator[Finding]:
    """There is a climb, but it lands elsewhere than the next round begins.

    Defect: a round of chains runs from chain picot to chain picot of the round before, and the mock picot it begins at
    is made
        at the end of a plain chain, where that is joined to a ring, and not in the middle of a split chain.
    Why: the round then begins at the foot of a ring, and one place along the edge stays empty.
    Exempt: a mock picot as last picot of a ring whose picots the round is joined to; a split ring or split chain before
    it;
        bare thread that leads to the first place.
    Good (steplist):
        # Round 1
        REP 4 {
        R 5 p 5
        C 6 p 6
        }
        R 5 p 5
        SC 6 / 6
        MP
        # Round 2
        REP 4 {
        C 7 p 7
        LJ -> next chain of round 1, only picot
        }
        C 7 p 7
        LJ -> mock picot
    Bad (steplist):
        # Round 1
        REP 4 {
        R 5 p 5
        C 6 p 6
        }
        R 5 p 5
        C 6 p 6 j -> ring 1, base
        MP
        # Round 2
        REP 4 {
        C 7 p 7
        LJ -> next chain of round 1, only picot
        }
        C 7 p 7
        LJ -> mock picot
    Source: [GS-CLIMB], [SG-SC].
    """
    sequence = context.worked.sequence
    for index, run in runs_of(context).items():
        mock: WorkedAction | None = None
        for at in range(index - 1, -1, -1):
            made = sequence[at]
            if isinstance(made, WorkedElement) or isinstance(made.step, BareThread):
                break
            if isinstance(made.step, MockPicot):
                mock = made
        if mock is None or not isinstance(made, WorkedElement) or made.kind != "chain" or not made.joins:
            continue
        into = [join.picot.element for join in run if join.picot is not None and join.picot is not mock.picot]
        if not into or any(element.is_ring for element in into) or made.position.at != "join":
            continue
        yield context.finding(
            f"the mock picot is made at the end of {context.name(made)}, and the round that begins there runs from "
            f"picot to picot of the chains",
            mock.step,
            related=[(made.step, None, "the chain it ends"), (sequence[index].step, None, "the round begins here")],
        )
