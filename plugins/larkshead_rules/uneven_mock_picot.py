"""The rule uneven-mock-picot."""

from __future__ import annotations

from collections.abc import Iterator

from larkshead.linting import Context, Finding
from larkshead.model import MockPicot


def check(context: Context) -> Iterator[Finding]:
    """A mock picot is not as long as the picots it stands among.

    Defect: the mock picot and the ordinary picots of its ring have stated lengths, and they differ.
    Why: the join into the mock picot then lies nearer the middle or farther out than all the others.
    Exempt: lengths not stated; lengths in a range or about; a remark that it is meant.
    Good:
        Shuttle and ball. All picots are 3 mm high.
        R 2-2-2-2 cl
        Mock picot of 3 mm.
    Bad:
        Shuttle and ball. All picots are 3 mm high.
        R 2-2-2-2 cl
        Mock picot of 6 mm.
    Source: [GS-CLIMB], [ZH-MOCK], [TA-MEAS].
    """
    for made in context.actions(MockPicot):
        step = made.step
        if not isinstance(step, MockPicot) or made.picot is None:
            continue
        if step.length is None or step.length.upto or step.length.about:
            continue
        own = [picot.made.length for picot in made.picot.element.picots if picot.made is not None and picot.made.length]
        usual = own[0] if own else context.pattern.picot_length
        if usual is None or usual.mm is None or step.length.mm is None or abs(usual.mm - step.length.mm) < 0.1:
            continue
        if usual.upto or usual.about or context.remarks.near("on_purpose", step):
            continue
        yield context.finding(f"the mock picot is {step.length} and the other picots are {usual}", step)
