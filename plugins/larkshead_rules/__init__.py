"""The rules that ship: each is one module here, found by its name."""

from __future__ import annotations

from collections.abc import Sequence

from larkshead.host.hookspecs import hookimpl
from larkshead.host.specs import RuleSpec

# Name, usual severity, and what is wrong, in the order they are listed.
_RULES = (
    ("unbalanced-picots", "warning", "the groups of one element do not mirror about its middle"),
    ("unlike-sisters", "warning", "an element differs in stitches, picots or beads from its sisters"),
    ("stated-total-mismatch", "error", "a total said in the text is not what is worked"),
    ("picot-without-stitch", "error", "a picot with no stitch before or after it"),
    ("mock-picot-miscount", "error", "a mock picot is counted wrongly among the picots of its ring"),
    ("impossible-join", "error", "a join to a picot that is not there"),
    ("ambiguous-join", "warning", "the text does not settle which picot a join goes into"),
    ("picot-already-joined", "warning", "a picot is joined a second time without the text saying so"),
    ("missing-join", "warning", "an element lacks the join its sisters have"),
    ("round-does-not-close", "warning", "the last element of a round is not joined to the first"),
    ("repeats-do-not-fit", "error", "a round does not use the places the round before offers"),
    ("repeat-does-not-close", "error", "the passes of a repeat do not give what the text says they give"),
    ("missing-climb", "error", "a round starts away from where the thread is"),
    ("chain-needs-second-thread", "error", "a chain with only one live thread"),
    ("split-ring-one-thread", "error", "a split ring with one thread"),
    ("missing-turn", "warning", "no turn between two elements where the others have one"),
    ("undefined-abbreviation", "warning", "an abbreviation is used and not explained"),
    ("unmatched-repeat", "error", "a repeat mark or bracket without its fellow"),
)


@hookimpl
def larkshead_rules() -> Sequence[RuleSpec]:
    """The rules of this folder."""
    return [
        RuleSpec(name, severity, summary, f"larkshead_rules.{name.replace('-', '_')}:check")
        for name, severity, summary in _RULES
    ]
