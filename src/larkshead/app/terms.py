"""What a trade term is in each convention."""

from __future__ import annotations

from typing import TYPE_CHECKING

from larkshead.conventions import Convention, Term

if TYPE_CHECKING:
    from larkshead.app.workbench import Workbench


def explain_term(bench: Workbench, words: str, convention: str | None = None) -> str:
    """How each convention (or the one named) says what the words mean; empty where none knows them."""
    pieces: list[str] = []
    told: list[Term] = []
    wanted = " ".join(words.lower().replace("-", " ").replace("_", " ").split())
    for name in _conventions(bench, convention):
        loaded = bench.convention(name)
        concept = _concept(loaded, wanted)
        if concept is not None and not any(loaded.terms[concept] == other for other in told):
            # What a convention takes over from the one beneath it is not told twice.
            told.append(loaded.terms[concept])
            pieces.append(_entry(loaded, concept))
    return "\n".join(pieces)


def known_words(bench: Workbench, convention: str | None = None) -> list[str]:
    """Every term of the conventions, as written out."""
    return [
        t.say[0] for name in _conventions(bench, convention) for t in bench.convention(name).terms.values() if t.say[0]
    ]


def _conventions(bench: Workbench, convention: str | None) -> list[str]:
    return [convention] if convention else list(bench.registry.conventions)


def _concept(convention: Convention, wanted: str) -> str | None:
    """The concept that words name: itself, or a form of it."""
    concept = wanted.replace(" ", "_")
    if concept in convention.terms:
        return concept
    form = convention.forms.get(wanted)
    if form is not None and form[0] in convention.terms:
        return form[0]
    return next((c for c, term in convention.terms.items() if term.short.lower() == wanted), None)


def _entry(convention: Convention, concept: str) -> str:
    term = convention.terms[concept]
    forms = sorted(form for form, (meaning, _) in convention.forms.items() if meaning == concept)
    forms = [form for form in forms if form not in (term.say[0].lower(), term.say[1].lower(), term.short.lower())]
    lines = [f"{term.say[0] or concept.replace('_', ' ')} ({convention.title or convention.name})"]
    if term.say[1] and term.say[1] != term.say[0]:
        lines.append(f"  several: {term.say[1]}")
    if term.short:
        lines.append(f"  short:   {term.short}")
    if forms:
        lines.append(f"  read as the same: {', '.join(forms)}")
    if term.source:
        lines.append(f"  source:  {'common practice, from memory' if term.source == 'memory' else term.source}")
    return "\n".join(lines) + "\n"
