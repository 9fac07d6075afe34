"""The text of a rule: its docstring, laid out so that it can be printed and its examples run.

A rule's docstring is one line that names the defect, then sections, each begun by its word at the margin and a colon,
in any order; a section goes on over indented lines::

    Defect: what is wrong, and by what it is known
    Why: what it costs whoever works the pattern
    Exempt: what looks like it and is right; remarks that silence it
    Good:
        a whole small pattern in shorthand in which the rule finds nothing
    Bad:
        the same with the defect; the rule has to find it
    Source: keys of pages, or "common practice, no source"

``Good`` and ``Bad`` may stand several times. Examples are in shorthand; ``Bad (prose):`` or another name of a notation
in brackets says otherwise.
"""

from __future__ import annotations

import inspect
import re

from larkshead.records import dataclass, field

_HEAD = re.compile(r"(Defect|Why|Exempt|Fix|Source|Good|Bad)(?: \((\w+)\))?:[ \t]*(.*)")


@dataclass(slots=True)
class Example:
    """A pattern the docstring shows: ``good`` ones are silent, the others found. ``notation`` is what it is written
    in."""

    text: str
    good: bool
    notation: str = "shorthand"


@dataclass(slots=True)
class RuleText:
    """What a rule says of itself. ``sections`` holds Defect, Why, Exempt, Fix and Source, where given."""

    summary: str
    sections: dict[str, str] = field(default_factory=dict)
    examples: list[Example] = field(default_factory=list)


def rule_text(check: object) -> RuleText:
    """The text of a rule from the docstring of its check; ValueError where it is not laid out as above."""
    return parse_rule_text(inspect.getdoc(check) or "")


def parse_rule_text(docstring: str) -> RuleText:
    """A docstring as rule text; ValueError naming what is missing."""
    lines = docstring.splitlines()
    if not lines or not lines[0].strip():
        raise ValueError("a rule needs a docstring that begins with one line naming the defect")
    text = RuleText(lines[0].strip())
    current: tuple[str, str, list[str]] | None = None
    for line in [*lines[1:], "Defect:"]:
        head = _HEAD.fullmatch(line)
        if not head:
            if current is None and line.strip():
                raise ValueError(f"this line belongs to no section: {line.strip()!r}")
            if current is not None:
                current[2].append(line)
            continue
        if current is not None:
            _keep(text, *current)
        current = (head.group(1), head.group(2) or "", [head.group(3)])
    missing = [name for name in ("Defect", "Why", "Source") if name not in text.sections]
    missing += [name for name, good in (("Good", True), ("Bad", False)) if all(e.good != good for e in text.examples)]
    if missing:
        raise ValueError(f"the docstring has no section {', '.join(missing)}")
    return text


def _keep(text: RuleText, name: str, notation: str, lines: list[str]) -> None:
    if name in ("Good", "Bad"):
        shown = inspect.cleandoc("\n".join(["", *lines])).strip("\n")
        text.examples.append(Example(shown + "\n", name == "Good", notation or "shorthand"))
    else:
        text.sections[name] = " ".join(" ".join(lines).split())
