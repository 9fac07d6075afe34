"""Passages with a name and a number, told like one another: ``Tile one: ...``, ``Tiles two to four are made as tile one except ...``.

Such a name stands for a part of the pattern, as motif does: its tokens become those of a motif and its letter a number, so that
headings, parts told like earlier ones and places (``any ring of rosette A``) are read as with motifs.
"""

from __future__ import annotations

from larkshead.reading.grammar.prose.naming import names_something
from larkshead.reading.grammar.samename import same_name
from larkshead.reading.grammar.tokens import END, Token

# The value of a token that names such a passage.
NAMED = "named"
_BEGINS = frozenset({"STOP", "PARA", "NL", "SEMI"})
_HEADED = frozenset({"COLON", "STOP", "NL", "PARA"})
_REACH = 14


def part_names(tokens: list[Token]) -> set[str]:
    """The names of passages that are told under a number and have others told like them."""
    told: set[str] = set()
    likened: set[str] = set()
    for i, token in enumerate(tokens):
        begins = i == 0 or tokens[i - 1].kind in _BEGINS
        if not begins or token.kind != "WORD" or not names_something(token) or _number(tokens, i + 1) is None:
            continue
        after = tokens[i + 2].kind if i + 2 < len(tokens) else "END"
        if after in _HEADED:
            told.add(token.text.lower())
        elif _likened(tokens, i):
            likened.add(token.text.lower())
    return {name for name in told if any(same_name(name, other) for other in likened)}


def names_part(tokens: list[Token], names: set[str]) -> bool:
    """Whether the tokens begin with such a name and its number."""
    return (
        len(tokens) > 1
        and any(same_name(name, tokens[0].text.lower()) for name in names)
        and _number(tokens, 1) is not None
    )


def parts_by_name(tokens: list[Token]) -> list[Token]:
    """The tokens with the names of such passages as motifs; the same list where there are none. Linear in their number."""
    names = part_names(tokens)
    if not names:
        return tokens
    out: list[Token] = []
    for i, token in enumerate(tokens):
        named = token.kind == "WORD" and any(same_name(name, token.text.lower()) for name in names)
        if named and (
            _number(tokens, i + 1) is not None or (out and out[-1].kind in ("ORD", "previous", "last", "next"))
        ):
            token = token._replace(kind="motif", value=NAMED)
        elif out and out[-1].kind == "motif" and out[-1].text != token.text and token.kind != "NUM":
            number = _number(tokens, i)
            token = token if number is None else token._replace(kind="NUM", value=number)
        elif named and i + 1 < len(tokens) and tokens[i + 1].kind == "previous":
            token = token._replace(kind="motif", value=NAMED)
        out.append(token)
    return out


def _number(tokens: list[Token], at: int) -> int | None:
    """The number that the token is, or the place of its letter among the letters."""
    token = tokens[at] if at < len(tokens) else END
    if token.kind == "NUM" and token.value >= 1:
        return int(token.value)
    if token.kind == "pronoun" and token.value == 1:
        return 1
    if len(token.text) == 1 and "A" <= token.text <= "Z":
        return ord(token.text) - ord("A") + 1
    return None


def _likened(tokens: list[Token], at: int) -> bool:
    """Whether the sentence goes on to say that this passage is like another of its name."""
    like = False
    for token in tokens[at + 2 : at + 2 + _REACH]:
        if token.kind in ("STOP", "PARA", "SEMI", "COLON"):
            return False
        like = like or token.kind in ("like", "same")
        if like and token.kind == "WORD" and same_name(token.text.lower(), tokens[at].text.lower()):
            return True
    return False
