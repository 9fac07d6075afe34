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
    ("ambiguous-repeat", "warning", "how often a passage is worked is not settled"),
    ("uneven-graduation", "warning", "picots of different lengths do not rise and fall evenly"),
    ("half-stitch-left-over", "warning", "a first half stitch without its second, or the reverse"),
    ("bead-count-mismatch", "error", "the beads worked are not those strung"),
    ("unused-joining-picot", "warning", "a picot made for joining is never joined"),
    ("join-to-own-picot", "error", "an element is joined to a picot of its own that is not made yet"),
    ("lock-join-in-ring", "error", "a lock join inside a ring fixes the thread that draws it up"),
    ("crowded-picot", "warning", "more joins go into one picot than it can hold"),
    ("uneven-mock-picot", "note", "a mock picot is not as long as the picots it stands among"),
    ("misplaced-climb", "warning", "a climb lands elsewhere than the next round begins"),
    ("split-ring-sides-unstated", "warning", "a split ring without the division between its threads"),
    ("cut-thread-used", "error", "a thread is cut and then worked with"),
    ("thread-not-attached", "error", "threads were cut, and a chain begins without new ones"),
    ("which-shuttle", "warning", "an element does not name its shuttle where its sisters do"),
    ("thrown-ring-needs-shuttle", "error", "a ring on a chain is worked with the ball"),
    ("turn-undone", "warning", "two turns with nothing worked between"),
    ("stray-turn", "warning", "a turn between rings of a clover"),
    ("uneven-bare-thread", "warning", "like places have different lengths of bare thread"),
    ("bare-thread-unmeasured", "warning", "bare thread is left and its length is not given"),
    ("ends-not-hidden", "note", "threads are cut and nothing is said of their ends"),
    ("ring-hard-to-close", "note", "a ring so long that it is hard to draw up"),
    ("unused-abbreviation", "note", "an abbreviation is listed and never used"),
    ("round-out-of-order", "warning", "the headings of rounds skip or repeat a number"),
    ("label-used-twice", "warning", "two elements of one round carry the same label"),
    ("unknown-label", "error", "a label is referred to that nothing carries"),
)


@hookimpl
def larkshead_rules() -> Sequence[RuleSpec]:
    """The rules of this folder."""
    return [
        RuleSpec(name, severity, summary, f"larkshead_rules.{name.replace('-', '_')}:check")
        for name, severity, summary in _RULES
    ]
