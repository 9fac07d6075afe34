"""Loading a convention, with the one it extends beneath it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from larkshead.conventions.compiled import load_document
from larkshead.conventions.convention import SEVERAL, Convention, Term

if TYPE_CHECKING:
    import os
    from collections.abc import Callable

# Sections whose entries are phrases of one token kind each.
_LISTS = ("words", "units")
_VALUES = ("numbers", "multiples", "ordinals", "fractions")
_VALUE_KINDS = {"numbers": "NUM", "multiples": "MULTIPLE", "ordinals": "ORD", "fractions": "FRACTION"}


def load_convention(path: str | os.PathLike[str], find: Callable[[str], str | os.PathLike[str]]) -> Convention:
    """The convention in the YAML file ``path``; ``find`` gives the file of the one it extends, by name.

    Raises ConventionError for a malformed file and for a circle of extensions.
    """
    chain = [load_document(path)]
    seen = {chain[0]["name"]}
    while chain[-1].get("extends"):
        base = load_document(find(chain[-1]["extends"]))
        if base["name"] in seen:
            from larkshead.conventions.source import ConventionError

            raise ConventionError(f"{path}: convention {base['name']!r} extends itself")
        seen.add(base["name"])
        chain.append(base)
    convention = Convention(name=chain[0]["name"])
    for document in reversed(chain):
        _lay_over(convention, document)
    convention.name = chain[0]["name"]
    return convention


def _lay_over(convention: Convention, document: dict[str, Any]) -> None:
    """Add a document's entries; where a form already stands, the newer meaning rules."""
    convention.title = document.get("title", convention.title)
    convention.language = document.get("language", convention.language)
    forms = convention.forms
    for concept, entry in document.get("terms", {}).items():
        say = entry.get("say") or ["", ""]
        source = entry.get("source", "")
        convention.terms[concept] = Term(
            concept, (say[0], say[1]), entry.get("short", ""), source if isinstance(source, str) else ", ".join(source)
        )
        for form in (*say, entry.get("short", ""), *entry.get("read", ())):
            if form:
                forms[_key(form)] = (concept, SEVERAL if form == say[1] != say[0] else None)
    for section in _LISTS:
        for kind, phrases in document.get(section, {}).items():
            for phrase in phrases:
                forms[_key(phrase)] = ("UNIT", kind) if section == "units" else _shaded(kind)
    for section in _VALUES:
        for phrase, value in document.get(section, {}).items():
            forms[_key(phrase)] = (_VALUE_KINDS[section], value)
    for phrase in document.get("unread", ()):
        forms.pop(_key(phrase), None)
    for style, phrases in document.get("phrases", {}).items():
        known = convention.phrases.get(style)
        # A style's phrases lie over those beneath, one by one.
        if isinstance(known, dict) and isinstance(phrases, dict):
            phrases = {**known, **phrases}
        convention.phrases[style] = phrases
    convention.columns.update(_meanings(document.get("columns", {})))
    convention.cells.update(_meanings(document.get("cells", {})))
    convention.headings.update(document.get("headings", {}))
    convention.habits.update(document.get("habits", {}))
    convention.everyone_knows |= frozenset(document.get("everyone_knows", ()))


def _shaded(kind: str) -> tuple[str, str | None]:
    """``picot/several``: forms of a kind set apart from its others by what they say besides."""
    kind, _, shade = kind.partition("/")
    return kind, shade or None


def _key(phrase: str) -> str:
    return " ".join(phrase.lower().replace("-", " ").replace("\u2019", "'").split())


def _meanings(lists: dict[str, list[str]]) -> dict[str, tuple[str, ...]]:
    """Phrases in lower case with the lists they stand in, for phrases that may stand in several."""
    found: dict[str, tuple[str, ...]] = {}
    for meaning, phrases in lists.items():
        for phrase in phrases:
            key = " ".join(phrase.lower().replace("\u2019", "'").split())
            if meaning not in found.get(key, ()):
                found[key] = (*found.get(key, ()), meaning)
    return found
