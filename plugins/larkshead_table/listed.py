"""Rows that stand for several with others between (``1, 3, 5`` and ``2, 4, 6``), laid out in the order of their numbers;
turns told apart from the rows they follow."""

from __future__ import annotations

from copy import deepcopy

from larkshead.model import Turn
from larkshead.reading.grammar.said import SaidStep
from larkshead_table.plans import Plan

_MOST_ROWS = 2000


def in_order(plans: list[Plan]) -> list[Plan]:
    """The rows with each that is listed by several numbers told as often, where the numbers run without a gap."""
    out: list[Plan] = []
    at = 0
    while at < len(plans):
        end = at
        rows: dict[int, Plan] = {}
        listed = False
        while end < len(plans):
            numbers = _numbers(plans[end])
            if not numbers or rows.keys() & set(numbers):
                break
            listed = listed or len(numbers) > 1
            rows.update(dict.fromkeys(numbers, plans[end]))
            end += 1
        ordered = sorted(rows)
        if listed and len(rows) <= _MOST_ROWS and ordered == list(range(ordered[0], ordered[-1] + 1)):
            used: set[int] = set()
            for number in ordered:
                plan = rows[number]
                if id(plan) in used:
                    plan = deepcopy(plan)
                used.add(id(rows[number]))
                plan.labels, plan.numbers = [str(number), *(label for label in plan.labels if not label.isdigit())], []
                out.append(plan)
        else:
            end = max(end, at + 1)
            out += plans[at:end]
        at = end
    return out


def _numbers(plan: Plan) -> list[int]:
    """The numbers a row goes by."""
    if plan.numbers:
        return plan.numbers
    single = [label for label in plan.labels if label.isdecimal() and len(label) < 6]
    return [int(single[0])] if len(single) == 1 and not plan.outside and not plan.first else []


def turn_behind(plans: list[Plan]) -> None:
    """``Turn after 1 and 3.`` under a table: the turns told there behind the rows that are named."""
    wanted = {label for plan in plans for label in plan.turns_after}
    if not wanted:
        return
    spans = {label: plan.span for plan in plans for label in plan.turns_after}
    for plan in plans:
        label = next((label for label in plan.labels if label in wanted), None)
        if label is not None and plan.works and not plan.outside:
            plan.unit().after.append(SaidStep(Turn(), spans[label]))
