"""``larkshead explain``."""

from __future__ import annotations

import inspect
import sys

from larkshead.app.errors import CannotRun, choice
from larkshead.app.terms import explain_term, known_words
from larkshead.cli.options import SETTINGS, Command, Option
from larkshead.cli.session import Session
from larkshead.reports import printable

TEXT = """Explain a rule or a trade term.

For a rule: what it looks for, why it matters, what it lets pass, and a right and a wrong example. For a term: how
each convention says it, in full and shortened, and where that is known from.

\b
Examples:
  larkshead explain impossible-join
  larkshead explain split ring
  larkshead explain lj --read-as en
"""


def run(words: tuple[str, ...], read_as: str | None, settings_path: str | None) -> None:
    """Explain a rule or a trade term."""
    session = Session(settings_path)
    bench = session.bench
    asked = " ".join(words)
    try:
        rule = bench.registry.rules.get(asked)
        if rule is not None:
            check = bench.body(rule, rule.spec.target)
            sys.stdout.write(f"{asked} ({rule.spec.severity}, from {rule.plugin})\n\n{inspect.getdoc(check) or ''}\n")
        else:
            text = explain_term(bench, asked, read_as)
            if not text:
                known = [*bench.registry.rules, *known_words(bench, read_as)]
                raise CannotRun(_unknown(asked, known), kind="unknown-word")
            sys.stdout.write(text)
        session.warn()
    except CannotRun as failure:
        session.fail(failure)
    session.end()


def _unknown(asked: str, known: list[str]) -> str:
    """The message for a word that is neither, with the likeliest slip but not the whole vocabulary."""
    said = choice("rule or term", asked, known)
    meant = said.rpartition("; ")[2] if "; did you mean" in said else ""
    also = "`larkshead list rules` shows the rules"
    return f"there is no rule or term {printable(asked)!r}; {meant or also}"


COMMAND = Command(
    "explain",
    TEXT,
    run,
    (Option(("--read-as",), "read_as", "Convention a term is looked up in; else all of them.", "CONVENTION"), SETTINGS),
    ("words", "RULE|TERM"),
    least=1,
)
