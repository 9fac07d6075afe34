"""A convention: the vocabulary, marks and habits of one language or house, ready to read and write with."""

from __future__ import annotations

from typing import Any

from larkshead.records import dataclass, field


@dataclass(slots=True)
class Term:
    """One concept of the trade in a convention.

    ``say`` singular and plural as written out; ``short`` the abbreviation written in shorthand; ``source`` the keys of
    the pages it was found on, or ``memory``.
    """

    concept: str
    say: tuple[str, str] = ("", "")
    short: str = ""
    source: str = ""


# The shade of forms that speak of more than one.
SEVERAL = "several"


@dataclass(slots=True)
class Convention:
    """A loaded convention.

    ``forms`` maps a phrase in lower case (words parted by one space) to the kind of token it is and a value (a number
    for number words, a unit for units, the shade of a form that says more than its kind (``several``), else None). ``phrases`` are the templates and word lists writers use.
    ``columns`` maps the head of a table's column to what may stand in such a column (step, element, work, ...), likeliest
    first; ``cells`` maps the words of a whole cell to what it may say (yes, no, none, same, ...).
    ``everyone_knows`` are the concepts whose abbreviations need no list.
    """

    name: str
    title: str = ""
    language: str = ""
    terms: dict[str, Term] = field(default_factory=dict)
    forms: dict[str, tuple[str, Any]] = field(default_factory=dict)
    phrases: dict[str, Any] = field(default_factory=dict)
    headings: dict[str, str] = field(default_factory=dict)
    columns: dict[str, tuple[str, ...]] = field(default_factory=dict)
    cells: dict[str, tuple[str, ...]] = field(default_factory=dict)
    everyone_knows: frozenset[str] = frozenset()
    habits: dict[str, str] = field(default_factory=dict)
    # Built on first use by the lexer and kept with the convention it belongs to.
    cache: dict[str, Any] = field(default_factory=dict, repr=False, compare=False)

    def short(self, concept: str) -> str:
        """The abbreviation of a concept, or the word itself where there is none."""
        term = self.terms.get(concept)
        return (term.short or term.say[0]) if term else concept

    def say(self, concept: str, count: int = 1) -> str:
        """The word for a concept in the number that goes with ``count``."""
        term = self.terms.get(concept)
        return (term.say[0] if count == 1 else term.say[1]) if term else concept.replace("_", " ")
