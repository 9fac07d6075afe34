"""Figures at the head of lines: the numbers of steps, or of the shuttles that work them."""

from __future__ import annotations

from larkshead.reading.grammar.places import PICOTS
from larkshead.reading.grammar.shapes import MARKS, NOUNS, kind_at
from larkshead.reading.grammar.tokens import Token

# What a line says behind its number.
_BEHIND_NUMBER = frozenset(
    {*NOUNS, "like", "same", "repeat", "label", "shuttle", "lock_join", "cut", "attach", "small", "large"}
)


_BEFORE_NUMBER = frozenset({"COMMA", "SEMI", "STOP", "reverse_work", "SLASH"})


def number_lines(tokens: list[Token]) -> list[Token]:
    """``1  R 6-6`` and ``2  Ch 4``: figures that run 1, 2, 3 at the head of lines number the lines (kind STEPNUM);
    ``1: R``, ``2: R``, ``1: Ch`` name the shuttle of each line.
    """
    heads: list[int] = []
    coloned: list[int] = []
    inline: list[int] = []
    for at, token in enumerate(tokens):
        if token.kind != "NUM" or at + 2 >= len(tokens):
            continue
        after = tokens[at + 1]
        begins = not at or tokens[at - 1].kind in ("NL", "PARA")
        if after.kind in _BEHIND_NUMBER and after.spaced and begins:
            heads.append(at)
        elif after.kind == "COLON" and tokens[at + 2].kind in NOUNS and begins:
            coloned.append(at)
        if after.kind in NOUNS and after.spaced and (begins or tokens[at - 1].kind in _BEFORE_NUMBER):
            inline.append(at)
    for run in (heads, inline):
        numbers = [tokens[at].value for at in run]
        if len(numbers) > 2 and numbers == list(range(1, len(numbers) + 1)):
            tokens = list(tokens)
            for at in run:
                tokens[at] = tokens[at]._replace(kind="STEPNUM")
            break
    named = [tokens[at].value for at in coloned]
    if set(named) == {1, 2} and len(named) > 2:
        out: list[Token] = []
        shuttles = set(coloned)
        for at, token in enumerate(tokens):
            if at in shuttles:
                out.append(Token("shuttle", None, token.start, token.start, True, ""))
            out.append(token)
        return out
    return tokens


def numbers_first(tokens: list[Token]) -> list[Token]:
    """``1R 6-6 2R 6+6``, ``1C 4-4``: figures glued before elements that run 1, 2, 3 are their numbers, as behind them."""
    runs: dict[str, list[int]] = {}
    heads: list[int] = []
    for at, token in enumerate(tokens[:-2]):
        after = tokens[at + 1]
        if token.kind == "NUM" and after.kind in NOUNS and not after.spaced and len(after.text) < 3:
            if kind_at(tokens, at + 2) not in ("NUM", "COLON"):
                return tokens
            heads.append(at)
            runs.setdefault(after.kind, []).append(token.value)
    if not any(len(run) > 1 for run in runs.values()) or any(
        run != list(range(1, len(run) + 1)) for run in runs.values()
    ):
        return tokens
    out = list(tokens)
    for at in heads:
        number, noun = tokens[at], tokens[at + 1]
        out[at] = noun._replace(start=number.start, spaced=number.spaced)
        out[at + 1] = number._replace(start=noun.end, end=noun.end, spaced=False)
    return out


def letter_lines(tokens: list[Token]) -> list[Token]:
    """``a: R 6-6`` and ``b: Ch 4``, ``A  R 6-6`` and ``B  Ch 4``: letters that run from the first of the alphabet at the
    head of lines name the lines, whatever they abbreviate (kind STEPNUM).
    """
    heads: list[tuple[int, int]] = []
    for at, token in enumerate(tokens):
        if len(token.text) != 1 or not token.text.isalpha() or (at and tokens[at - 1].kind not in ("NL", "PARA")):
            continue
        marked = kind_at(tokens, at + 1) in ("COLON", "SHUT", "EQUALS")
        behind = at + 2 if marked else at + 1
        if kind_at(tokens, behind) in NOUNS and (marked or tokens[behind].spaced):
            heads.append((at, behind))
    letters = "".join(tokens[at].text for at, _ in heads)
    if len(heads) < 2 or not any(alphabet.startswith(letters) for alphabet in (_LETTERS, _LETTERS.upper())):
        return tokens
    named = dict(heads)
    out: list[Token] = []
    at = 0
    while at < len(tokens):
        if at in named:
            out.append(tokens[at]._replace(kind="STEPNUM"))
            at = named[at]
        else:
            out.append(tokens[at])
            at += 1
    return out


_LETTERS = "abcdefghijklmnopqrstuvwxyz"
_BULLETS = frozenset("•●∙◦▪■○‣⁃*")


def without_bullets(tokens: list[Token]) -> list[Token]:
    """The tokens without the round marks, and the dashes of one kind, that head several lines; what a line says begins
    behind them.
    """
    heads = [
        at
        for at, token in enumerate(tokens)
        if ((token.text in _BULLETS and token.kind in ("DOT", "OTHER")) or token.text == ">")
        and (not at or tokens[at - 1].kind in ("NL", "PARA"))
        and (at + 1 >= len(tokens) or tokens[at + 1].spaced or tokens[at + 1].kind in ("NL", "PARA"))
    ]
    dashes: dict[str, list[int]] = {}
    for at, token in enumerate(tokens):
        if (
            token.kind == "DASH"
            and (not at or tokens[at - 1].kind in ("NL", "PARA"))
            and at + 1 < len(tokens)
            and tokens[at + 1].spaced
            and tokens[at + 1].kind not in ("EQUALS", "means", "COLON", *PICOTS)
        ):
            dashes.setdefault(token.text, []).append(at)
    # A mark is explained once; a bullet stands before every entry.
    heads += [at for found in dashes.values() if len(found) > 1 for at in found]
    if not heads or (len(heads) == 1 and kind_at(tokens, heads[0] + 1) in ("EQUALS", "means", "COLON", *PICOTS)):
        return tokens
    dropped = set(heads)
    return [token for at, token in enumerate(tokens) if at not in dropped]


_IN_BARE_LINES = frozenset(
    {*NOUNS, "small", "large", "reverse_work", "no_turn", "COMMA", "STOP", "SEMI", "DASH", "OPEN", "SHUT", "MARK"}
    | {"times", "twice", "NUM", "glue", "close", "SLASH"}
)
_AFTER_BARE = frozenset({"COMMA", "STOP", "COLON", "SEMI"})


def bare_elements(tokens: list[Token]) -> frozenset[int]:
    """Elements that a line only names, where they are told before: ``R RW Ch RW, six times``, ``R C R C R C``."""
    found: list[int] = []
    start = 0
    for end in range(len(tokens) + 1):
        if end < len(tokens) and tokens[end].kind not in ("NL", "PARA"):
            continue
        if end - start > 2:
            found += _bare_in(tokens, start, end)
        start = end + 1
    return frozenset(found)


def _bare_in(tokens: list[Token], start: int, end: int) -> list[int]:
    nouns: list[int] = []
    worked = repeated = False
    at = start
    while at < end:
        token = tokens[at]
        after = tokens[at + 1].kind if at + 1 < end else "END"
        if token.kind in NOUNS:
            if after in ("label", "COLON", "EQUALS", "OPEN") and (
                at + 2 >= end or tokens[at + 2].kind in ("NUM", "OPEN", *MARKS) or after in ("label", "EQUALS")
            ):
                return []
            if after == "NUM" and (at + 2 >= end or tokens[at + 2].kind != "times"):
                worked = True
                at += 1
                while at < end and tokens[at].kind in ("NUM", *MARKS):
                    at += 1
                continue
            if nouns and tokens[at - 1].kind == "DASH" and tokens[at - 2].kind == token.kind:
                # "R - ring" explains.
                return []
            nouns.append(at)
        elif token.kind == "PLUS" and nouns and nouns[-1] == at - 1 and not token.spaced:
            pass
        elif token.kind not in _IN_BARE_LINES:
            if len(nouns) > 1 and token.kind == "COLON":
                at += 1
                continue
            if at == start or tokens[at - 1].kind not in _AFTER_BARE or len(nouns) < 2:
                return []
            repeated = repeated or any(t.kind in ("times", "twice") for t in tokens[at:end])
            break
        elif token.kind == "NUM" and after != "times" and tokens[at - 1].kind != "times":
            return []
        repeated = repeated or token.kind in ("times", "twice")
        at += 1
    if worked and not all(tokens[at + 1].kind in ("reverse_work", "COMMA") for at in nouns if at + 1 < end):
        return []
    return nouns if len(nouns) > 2 or (len(nouns) == 2 and repeated) else []
