"""The rule mock-picot-miscount."""

from __future__ import annotations

from collections.abc import Iterator

from larkshead.linting import Context, Finding
from larkshead.linting.stated import stated_totals
from larkshead.model import MockPicot
from larkshead.working.worked import WorkedElement


def check(context: Context) -> Iterator[Finding]:
    """A mock picot is counted wrongly among the picots of its ring.

    Defect: the mock picot is called the n-th picot of its ring, but the ring is worked with other than n - 1
        ordinary ones; or the ring is said to have n picots counting the mock picot and is worked with n
        ordinary ones.
    Why: the next round then finds one place too many or too few, and the mistake shows only when it comes
        round.
    Exempt: a mock picot without a number; one said to be an extra or not to be counted.
    Good:
        Shuttle and ball.
        R 2-2-2-2-2-2 cl RW
        Mock picot of 3 mm, the 6th picot.
    Bad:
        Shuttle and ball.
        R 2-2-2-2-2-2-2 cl RW
        Mock picot of 3 mm, the 6th picot.
    Source: [OO-CLIMB], [ZAN-COOR].
    """
    counted = {
        id(stated.of): stated
        for stated in stated_totals(context)
        if stated.of is not None and "mock_picots" not in stated.said and "picots" in stated.said
    }
    for made in context.actions(MockPicot):
        if not isinstance(made.step, MockPicot) or made.picot is None:
            continue
        ring = made.picot.element
        ordinary = _ordinary(ring)
        mock = sum(1 for picot in ring.picots if picot.mock)
        number = made.step.number
        right = ordinary + max(mock, 1)
        if number is not None and number not in (right, _places(ring) + max(mock, 1)):
            yield context.finding(
                f"the mock picot is called picot {number} of {context.name(ring)}, which is worked with {ordinary} "
                f"ordinary picots: with the mock picot that makes {right}",
                made.step,
                related=[(ring.step, None, f"{ordinary} ordinary picots")],
                fix=context.number_fix(made.step, number, right, "give the mock picot its number"),
            )
            continue
        stated = counted.get(id(ring.step))
        joins = sum(len(picot.uses) for picot in ring.picots)
        if number is None and stated is not None and stated.said["picots"] == ordinary == joins:
            yield context.finding(
                f"{context.name(ring)} is said to have {stated.said['picots']} picots and is worked with {ordinary} "
                f"before the mock picot",
                ring.step,
                related=[(made.step, None, "the mock picot")],
            )


def _ordinary(ring: WorkedElement) -> int:
    return sum(1 for picot in ring.picots if not picot.mock)


def _places(ring: WorkedElement) -> int:
    """Picots and joins alike, for those who number both."""
    return _ordinary(ring) + sum(1 for join in ring.joins if join.kind == "picot")
