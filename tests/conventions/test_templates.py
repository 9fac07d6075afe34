"""Templates: slots, optional stretches, marks of their own."""

from __future__ import annotations

import pytest

from larkshead.conventions.templates import compile_template, render


def fill(template: str, **slots: str) -> str:
    return render(compile_template(template), lambda slot: slots.get(slot.name, ""))


@pytest.mark.parametrize(
    ("template", "slots", "said"),
    [
        ("{a} and {b}", {"a": "x", "b": "y"}, "x and y"),
        ("join< to {place}>", {"place": "ring A"}, "join to ring A"),
        ("join< to {place}>", {}, "join"),
        ("<{a}< ({b})>, >end", {"a": "x"}, "x, end"),
        ("<{a}< ({b})>, >end", {"b": "x"}, "end"),
        ("<<{a}>>", {"a": "x"}, "<x>"),
        ("no slots", {}, "no slots"),
    ],
)
def test_fill(template: str, slots: dict[str, str], said: str) -> None:
    assert fill(template, **slots) == said


@pytest.mark.parametrize("template", ["<open", "shut>", "<a<b>"])
def test_unbalanced_marks_are_refused(template: str) -> None:
    with pytest.raises(ValueError, match="without"):
        compile_template(template)
