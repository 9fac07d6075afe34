"""The rule uneven-bare-thread."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from larkshead.linting import Context, Finding
from larkshead.model import BareThread
from larkshead.working.worked import WorkedAction


def check(context: Context) -> Iterator[Finding]:
    """Like places have different lengths of bare thread.

    Defect: of the bare thread before (or after) elements of one sort one stretch, written once, has another
        length than all the others.
    Why: the rings stand unevenly, and the piece leans.
    Exempt: classes by design, each the same at every like place (before small, before large rings); two lengths
        each written more than once; lengths in a range, or about; corners.
    Fix: the length the others have.
    Good:
        One shuttle.
        *R 4-4 cl RW, leave 5 mm
        R 5-5-5 cl RW, leave 5 mm
        Repeat from * 4 more times.
    Bad (steplist):
        R 4 p 4
        TURN
        BT 5mm
        R 5 p 5 p 5
        TURN
        BT 5mm
        R 4 p 4
        TURN
        BT 8mm
        R 5 p 5 p 5
        TURN
        BT 5mm
        R 4 p 4
    Source: [BO-1SH]; spaces on both sides of a ring equal [ZH-MOCK].
    """
    stretches: dict[int, tuple[WorkedAction, BareThread, float]] = {}
    for made in context.actions(BareThread):
        step = made.step
        if not isinstance(step, BareThread) or step.length is None:
            continue
        if step.length.upto is None and not step.length.about and step.length.mm is not None:
            stretches.setdefault(id(step), (made, step, step.length.mm))
    parts: dict[int, list[tuple[BareThread, float]]] = {}
    for made, step, length in stretches.values():
        parts.setdefault(made.part, []).append((step, length))
    for found in parts.values():
        lengths = Counter(length for _, length in found)
        usual, most = lengths.most_common(1)[0]
        if len(lengths) != 2 or most < 3 or min(lengths.values()) > 1:
            continue
        step = next(step for step, length in found if length != usual)
        like = next(step for step, length in found if length == usual)
        if context.remarks.near("on_purpose", step) or context.remarks.near("corner", step):
            continue
        yield context.finding(
            f"{step.length} of bare thread are left here, and {like.length} everywhere else",
            step,
            related=[(like, None, f"{like.length} here")],
        )
