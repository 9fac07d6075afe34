"""For whoever writes a rule: run its own examples, and check what it finds in a pattern.

::

    from larkshead.linting.testing import assert_finds, assert_silent, check_examples

    def test_examples():
        check_examples("my_rules.lonely_ring:check", read)

    def test_finds_the_second_ring():
        assert_finds("my_rules.lonely_ring:check", "R 5-5 cl\\nR 5 cl\\n", read, line=2)

``read(text, notation)`` gives a Reading: the reader of a notation, or several by their names. A rule is named by its
target (``module:attribute``), its spec, or the check function itself.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING

from larkshead.host.specs import RuleSpec, load_target
from larkshead.linting.context import Context
from larkshead.linting.findings import Finding
from larkshead.linting.ruletext import rule_text
from larkshead.linting.run import found_by
from larkshead.reading import Reading

if TYPE_CHECKING:
    from larkshead.conventions import Convention

Check = Callable[[Context], Iterable[Finding]]
Rule = str | RuleSpec | Check
Read = Callable[[str, str], Reading]


def findings_of(rule: Rule, reading: Reading, convention: Convention | None = None) -> list[Finding]:
    """What a rule finds in a pattern that was read; the rule's own faults are raised as they are."""
    from larkshead.working import work

    context = Context(work(reading.pattern), reading, convention)
    spec = rule if isinstance(rule, RuleSpec) else RuleSpec(_name_of(rule), "warning", "", "")
    return list(found_by(context, spec, _check_of(rule)))


def check_examples(rule: Rule, read: Read, convention: Convention | None = None) -> int:
    """Run the examples of a rule's docstring: nothing may be found in a good one, something in a bad one.

    Gives the number of examples run; raises AssertionError with the example and what was found, ValueError for a
    docstring that is not laid out as a rule's text.
    """
    text = rule_text(_check_of(rule))
    for example in text.examples:
        found = findings_of(rule, read(example.text, example.notation), convention)
        if example.good and found:
            raise AssertionError(_story(f"{_name_of(rule)} finds something in its good example", example.text, found))
        if not example.good and not found:
            raise AssertionError(_story(f"{_name_of(rule)} finds nothing in its bad example", example.text, found))
    return len(text.examples)


def assert_finds(
    rule: Rule,
    text: str,
    read: Read,
    *,
    line: int | None = None,
    says: str = "",
    notation: str = "shorthand",
    times: int | None = None,
    convention: Convention | None = None,
) -> list[Finding]:
    """Assert that a rule finds something in a text, and give it back.

    ``line`` the line (from 1) one finding has to begin on, ``says`` words one message has to hold, ``times`` how many
    findings there have to be.
    """
    reading = read(text, notation)
    found = findings_of(rule, reading, convention)
    name = _name_of(rule)
    if not found:
        raise AssertionError(_story(f"{name} finds nothing", text, found))
    if times is not None and len(found) != times:
        raise AssertionError(_story(f"{name} finds {len(found)} things, not {times}", text, found, reading))
    if line is not None and line not in {_line(reading, finding) for finding in found}:
        raise AssertionError(_story(f"{name} finds nothing on line {line}", text, found, reading))
    if says and not any(says in finding.message for finding in found):
        raise AssertionError(_story(f"{name} never says {says!r}", text, found, reading))
    return found


def assert_silent(
    rule: Rule, text: str, read: Read, *, notation: str = "shorthand", convention: Convention | None = None
) -> None:
    """Assert that a rule finds nothing in a text."""
    reading = read(text, notation)
    found = findings_of(rule, reading, convention)
    if found:
        raise AssertionError(_story(f"{_name_of(rule)} should find nothing", text, found, reading))


def _check_of(rule: Rule) -> Check:
    if isinstance(rule, RuleSpec):
        rule = rule.target
    check: Check = load_target(rule) if isinstance(rule, str) else rule
    return check


def _name_of(rule: Rule) -> str:
    if isinstance(rule, RuleSpec):
        return rule.name
    named = rule if isinstance(rule, str) else getattr(rule, "__module__", "")
    return named.partition(":")[0].rpartition(".")[2].replace("_", "-")


def _line(reading: Reading, finding: Finding) -> int | None:
    return reading.source.position(finding.span.start).line if finding.span is not None else None


def _story(what: str, text: str, found: list[Finding], reading: Reading | None = None) -> str:
    shown = "".join(f"    {line}\n" for line in text.splitlines())
    listed = "".join(
        f"    {f'line {_line(reading, finding)}: ' if reading is not None else ''}{finding.message}\n"
        for finding in found
    )
    return (
        f"{what}:\n{shown}"
        + (f"it found:\n{listed}" if found else "")
        + (
            f"the reader said:\n{''.join(f'    {notice.message}' + chr(10) for notice in reading.notices)}"
            if reading is not None and reading.notices
            else ""
        )
    )


__all__ = ["assert_finds", "assert_silent", "check_examples", "findings_of"]
