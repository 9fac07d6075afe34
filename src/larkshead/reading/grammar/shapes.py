"""Shapes of shorthand told from the tokens alone: where an element with its work begins, which marks and letters head
lines.
"""

from __future__ import annotations

from larkshead.reading.grammar.places import ELEMENTS, PICOTS
from larkshead.reading.grammar.tokens import Token

NOUNS = frozenset({*ELEMENTS, "large_ring", "small_ring"})
MARKS = frozenset({"DASH", "PLUS", "PLUSMINUS", "DOT", "ITEM"})
# Behind a first count: what shows that it is one.
_AFTER_COUNT = frozenset(
    {
        *MARKS,
        *PICOTS,
        "double_stitch",
        "first_half",
        "second_half",
        "half_stitch",
        "join",
        "folded_join",
        "bead",
        "close",
        "half_closed",
        "reverse_work",
        "no_turn",
        "SLASH",
        "CARET",
        "second_side",
        "lock_join",
        "OPEN",
        "COMMA",
        "STOP",
        "NL",
        "PARA",
        "SEMI",
        "END",
        "SHUT",
        "times",
        "switch",
        "space",
        "NUM",
        "MARK",
        "evenly",
        "shuttle",
    }
)
# Behind a figure alone: the figure may as well number the element in words about it.
_WEAK = frozenset({"COMMA", "STOP", "NL", "PARA", "SEMI", "END", "SHUT", "close", "OPEN", "MARK"})
# Before an element that is only named.
_NAMED_BY = frozenset(
    {
        "of",
        "to",
        "from",
        "between",
        "last",
        "previous",
        "next",
        "each",
        "all",
        "after",
        "ORD",
        "same",
        "any",
        "like",
        *PICOTS,
    }
)
_BEFORE_WORK = frozenset({"COLON", "EQUALS", "COMMA", "of", "DASH", "STOP", "with"})
_HALVES = frozenset({"first_half", "second_half", "half_stitch"})
_NOT_WORKED = frozenset({*NOUNS, "UNIT", "shuttle", "ball", "round", "row", "motif", "step", "more"})


def kind_at(tokens: list[Token], at: int) -> str:
    return tokens[at].kind if 0 <= at < len(tokens) else "END"


def element_ahead(tokens: list[Token], at: int, match: list[int] | None = None) -> bool:
    """Whether the work of the element named at ``at`` follows: its counts, behind a label, a remark in brackets, a
    colon.
    """
    i = at + 1
    kind = kind_at(tokens, i)
    if counts_below(tokens, at):
        return True
    if kind == "with" and kind_at(tokens, i + 1) == "shuttle":
        i += 3
        kind = kind_at(tokens, i)
    if (
        (kind == "NUM" and _is_label(tokens, i))
        or kind == "label"
        or (kind not in ("NUM", "OPEN", "COLON") and letter_at(tokens, i))
    ):
        i += 1
        kind = kind_at(tokens, i)
        if kind == "SHUT" and kind_at(tokens, i + 1) == "NUM":
            i += 1
            kind = kind_at(tokens, i)
    if kind == "OPEN":
        if kind_at(tokens, i + 1) in ("NUM", "SHUT", *MARKS, *PICOTS) and _counts_in(tokens, i + 1):
            return True
        end = match[i] if match is not None and i < len(match) else -1
        if end >= 0:
            i = end + 1
            kind = kind_at(tokens, i)
            if kind == "OPEN":
                return _counts_in(tokens, i + 1)
    if kind in _BEFORE_WORK:
        if kind == "COLON" and counted_out(tokens, at, i + 1):
            return False
        if kind == "COMMA" and kind_at(tokens, at - 1) in ("NUM", "split", "small", "large"):
            return False
        i += 1
        kind = kind_at(tokens, i)
        if kind == "OPEN" and _counts_in(tokens, i + 1):
            return True
    if kind in ("small_picot", "long_picot", "ITEM", "bead", "PLUSMINUS") and kind_at(tokens, i + 1) == "NUM":
        return True
    if kind == "like" or kind == "same":
        after = kind_at(tokens, i + 1)
        return (after in ("NUM", "ORD", "like", "previous", *NOUNS) or letter_at(tokens, i + 1)) and (
            i > at + 1 or at == 0 or kind_at(tokens, at - 1) in ("NL", "PARA", "STOP")
        )
    if kind != "NUM":
        return False
    after = kind_at(tokens, i + 1)
    if after == "WORD" and not tokens[i + 1].spaced and len(tokens[i + 1].text) < 4 and tokens[i].spaced:
        # "Chain 5f 5s": counts with letters of the pattern's own.
        return True
    if after in NOUNS and i == at + 1 and kind_at(tokens, i + 2) == "NUM" and tokens[i + 1].text[-1] not in "sS":
        # "Ch 8 R 5-5"
        return tokens[i].spaced
    if after in _NOT_WORKED or (
        after not in _AFTER_COUNT and not (after == "glue" and kind_at(tokens, i + 2) in ("close", *PICOTS))
    ):
        return False
    if after == "join" and not tokens[i].spaced and len(tokens[i + 1].text) > 2 and kind_at(tokens, i + 2) == "to":
        # "R1 joins to R3" speaks of it.
        return False
    if after in PICOTS and i == at + 1 and not tokens[i].spaced and tokens[i + 1].spaced:
        # "R1 p2" is a place, and "R1 5-5" an element; "R5p5" is work.
        follows = tokens[i + 2] if i + 2 < len(tokens) else None
        if follows is not None and follows.kind == "NUM" and not follows.spaced:
            return False
    if after in _WEAK and i == at + 1:
        if kind_at(tokens, at - 1) in _NAMED_BY or (
            kind_at(tokens, at - 1) == "glue" and kind_at(tokens, at - 3) in ("between", "of")
        ):
            return False
        return tokens[i].spaced or tokens[at].kind != "ring" or after == "close"
    if after == "NUM":
        return kind_at(tokens, i + 2) in _AFTER_COUNT and kind_at(tokens, i + 2) != "NUM"
    if after == "OPEN":
        return _counts_in(tokens, i + 2) or i > at + 1 or tokens[i].spaced
    if after == "COMMA" and kind_at(tokens, i + 2) in ("NUM",) and kind_at(tokens, i + 3) in _NOT_WORKED:
        return kind_at(tokens, at - 1) in (
            "NL",
            "PARA",
            "END",
            "COLON",
            "SEMI",
            "STOP",
            "COMMA",
            "OPEN",
            "MARK",
            "reverse_work",
        )
    return True


def counted_out(tokens: list[Token], at: int, i: int) -> bool:
    """``Rings: 12.``: so many of them, and no work."""
    text = tokens[at].text
    return (
        tokens[at].kind in NOUNS
        and len(text) > 3
        and text[-1] in "sS"
        and kind_at(tokens, i - 1) == "COLON"
        and kind_at(tokens, i) == "NUM"
        and kind_at(tokens, i + 1) in ("COMMA", "STOP", "SEMI", "NL", "PARA", "END")
    )


def counts_below(tokens: list[Token], at: int) -> bool:
    """Whether the element named at ``at`` stands alone on its line, with its label at most, and its counts on the
    next.
    """
    if at and kind_at(tokens, at - 1) not in ("NL", "PARA", "SHUT", "COLON"):
        return False
    i = at + 1
    if (kind_at(tokens, i) == "NUM" and kind_at(tokens, i + 1) in ("NL", "COLON")) or letter_at(tokens, i):
        i += 1
    if kind_at(tokens, i) == "COLON":
        i += 1
    return kind_at(tokens, i) == "NL" and kind_at(tokens, i + 1) == "NUM" and _counts_in(tokens, i + 1)


def _is_label(tokens: list[Token], i: int) -> bool:
    """Whether the figure at ``i`` numbers the element before it: counts follow it, or a colon, or more elements so
    numbered.
    """
    after = kind_at(tokens, i + 1)
    if after in ("COLON", "EQUALS", "NUM", "like", "same", "with", "split"):
        return True
    if after == "SHUT" and not tokens[i].spaced and kind_at(tokens, i + 2) == "NUM":
        return True
    if after == "OPEN":
        if kind_at(tokens, i + 2) in NOUNS or kind_at(tokens, i + 2) in ("shuttle", "switch", "small", "thrown"):
            return False
        return not _counts_in(tokens, i + 2) or not tokens[i].spaced
    if after in ("DASH", "to") and kind_at(tokens, i + 2) == "NUM" and kind_at(tokens, i + 3) == "COLON":
        return bool(tokens[i + 2].value > tokens[i].value)
    if after in ("DASH", "to", "COMMA", "glue") and kind_at(tokens, i + 2) in NOUNS:
        return False
    return after == "STOP" and kind_at(tokens, i + 2) == "NUM" and not tokens[i].spaced


def letter_at(tokens: list[Token], i: int) -> bool:
    return (
        0 <= i < len(tokens)
        and len(tokens[i].text) == 1
        and tokens[i].text.isalpha()
        and tokens[i].text.isupper()
        and tokens[i].kind not in PICOTS
    )


def _counts_in(tokens: list[Token], i: int) -> bool:
    """Whether a bracket whose first token is at ``i`` holds counts."""
    kind = kind_at(tokens, i)
    if kind == "SHUT":
        return True
    if kind == "NUM":
        after = kind_at(tokens, i + 1)
        return (
            after in (*MARKS, *PICOTS, "double_stitch", "SHUT", "join", "COMMA", "bead", "times", "lock_join")
            or after in _HALVES
        )
    return kind in MARKS | set(PICOTS) and kind_at(tokens, i + 1) == "NUM"


def bullet_marks(tokens: list[Token]) -> frozenset[int]:
    """Marks at the head of lines that nothing refers to and nothing closes: bullets, not repeat marks."""
    heads: dict[str, list[int]] = {}
    others: set[str] = set()
    for at, token in enumerate(tokens):
        if token.kind == "MARK":
            head = at == 0 or tokens[at - 1].kind in ("NL", "PARA")
            if head and at + 1 < len(tokens) and tokens[at + 1].spaced:
                heads.setdefault(token.text, []).append(at)
            else:
                others.add(token.text)
        elif token.kind == "repeat" and at + 1 < len(tokens) and tokens[at + 1].kind in ("MARK", "from"):
            for ahead in tokens[at + 1 : at + 4]:
                if ahead.kind == "MARK":
                    others.add(ahead.text)
    return frozenset(at for mark, places in heads.items() if mark not in others and len(places) > 1 for at in places)


def slash_parts(tokens: list[Token]) -> bool:
    """Whether a slash parts one step from the next in this text: it stands before or behind a turn or an element."""
    for at, token in enumerate(tokens):
        if token.kind == "SLASH" and 0 < at < len(tokens) - 1:
            around = (tokens[at - 1].kind, tokens[at + 1].kind)
            if any(kind in NOUNS or kind == "reverse_work" for kind in around):
                return True
    return False


def numbered(tokens: list[Token]) -> bool:
    """Whether figures glued to rings or chains number them: they run 1, 2, 3 and no further gap."""
    seen: dict[str, list[int]] = {}
    for at in range(len(tokens) - 1):
        token, after = tokens[at], tokens[at + 1]
        if (
            token.kind in NOUNS
            and after.kind == "NUM"
            and not after.spaced
            and kind_at(tokens, at - 1) not in _NAMED_BY
            and kind_at(tokens, at - 1) != "OPEN"
        ):
            runs = seen.setdefault(token.kind, [])
            if len(runs) < 50:
                runs.append(int(after.value))
    return any(len(run) > 1 and run == list(range(1, len(run) + 1)) for run in seen.values())


def gaps_part(tokens: list[Token]) -> bool:
    """Whether nothing but a gap parts the counts of this text: ``R 6 6 6 6``, and no mark stands between any two."""
    seen = False
    for at, token in enumerate(tokens):
        if token.kind == "PLAIN" or (token.kind in ("DASH", "DOT") and kind_at(tokens, at + 1) == "NUM"):
            return False
        if token.kind in NOUNS:
            seen = seen or all(kind_at(tokens, at + ahead) == "NUM" for ahead in (1, 2, 3))
    return seen


def single_dashes(tokens: list[Token]) -> bool:
    """Whether single dashes stand between counts in this text."""
    return any(
        (token.kind == "PLAIN" and "-" in token.text)
        or (
            token.kind == "DASH"
            and len(token.text) == 1
            and 0 < at < len(tokens) - 1
            and tokens[at - 1].kind == "NUM"
            and tokens[at + 1].kind == "NUM"
        )
        for at, token in enumerate(tokens)
    )


def label_lines(tokens: list[Token]) -> list[Token]:
    """Letters at the head of lines that run A, B, C before counts name the elements of those lines, whatever else
    they abbreviate.
    """
    heads = [
        at
        for at, t in enumerate(tokens)
        if len(t.text) == 1 and t.text.isupper() and kind_at(tokens, at - 1) in ("NL", "PARA", "END")
    ]
    heads = [
        at
        for at in heads
        if kind_at(tokens, at + 1) == "NUM"
        and tokens[at + 1].spaced
        and kind_at(tokens, at + 2) in (*MARKS, *PICOTS, "double_stitch", "close", "NL", "reverse_work", "join")
    ]
    letters = "".join(tokens[at].text for at in heads)
    if len(heads) < 2 or not "ABCDEFGHIJKLMNOPQRSTUVWXYZ".startswith(letters):
        return tokens
    out = list(tokens)
    for at in heads:
        out[at] = out[at]._replace(kind="label")
    return out
