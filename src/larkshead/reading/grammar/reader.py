"""Reading a text of statements: front matter set apart, the pattern's own list laid over the convention, statements read and assembled."""

from __future__ import annotations

from larkshead.conventions import Convention
from larkshead.reading.grammar.assembly import Assembly
from larkshead.reading.grammar.items import WorkSyntax
from larkshead.reading.grammar.lexer import tokenize
from larkshead.reading.grammar.normalise import normalise
from larkshead.reading.grammar.prose import ProseStatements
from larkshead.reading.grammar.statements import Statements
from larkshead.reading.reading import Reading
from larkshead.reading.source import Source


def read_text(source: Source, convention: Convention, style: str, lines: bool) -> Reading:
    """The reading of a text in running words or shorthand. ``lines``: the end of a line ends a clause."""
    tokens = tokenize(source.text, convention)
    if not lines:
        tokens = normalise(tokens)
    statements = (Statements if lines else ProseStatements)(tokens, WorkSyntax(lines=lines))
    assembly = Assembly()
    pattern = assembly.build(statements.run())
    return Reading(source, pattern, assembly.origins, assembly.notices, style, convention.name)
