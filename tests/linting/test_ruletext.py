from __future__ import annotations

import pytest

from larkshead.linting.ruletext import parse_rule_text

TEXT = """A ring of very few stitches.

Defect: a ring of fewer
    than six stitches
Why: it gapes.
Exempt: nothing.
Good:
    Shuttle.
    R 5-5 cl
Bad:
    R 2-2 cl
Bad (prose):
    Ring: 2 ds, close.
Source: common practice, no source
"""


def test_sections_and_examples() -> None:
    text = parse_rule_text(TEXT)
    assert text.summary == "A ring of very few stitches."
    assert text.sections["Defect"] == "a ring of fewer than six stitches"
    assert text.sections["Source"] == "common practice, no source"
    assert [(one.text, one.good, one.notation) for one in text.examples] == [
        ("Shuttle.\nR 5-5 cl\n", True, "shorthand"),
        ("R 2-2 cl\n", False, "shorthand"),
        ("Ring: 2 ds, close.\n", False, "prose"),
    ]


@pytest.mark.parametrize(
    ("docstring", "complaint"),
    [
        ("", "begins with one line"),
        ("A defect.\n\nsome words\n", "belongs to no section"),
        (TEXT.replace("Why: it gapes.\n", ""), "no section Why"),
        (TEXT.replace("Good:", "Bad:"), "no section Good"),
    ],
)
def test_what_is_missing_is_named(docstring: str, complaint: str) -> None:
    with pytest.raises(ValueError, match=complaint):
        parse_rule_text(docstring)
