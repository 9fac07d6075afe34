"""Split elements told in sentences: ``make it a split chain. Put six on as usual, lock the core to the ring, and hitch the other six on``.

Token rewriting before the grammar: the name, a colon, the work of the one side, a mark of the second side and the work of the other.
"""

from __future__ import annotations

from larkshead.reading.grammar.places import ELEMENTS, PICOTS
from larkshead.reading.grammar.tokens import END, Token

_SPLIT = {"ring": "split_ring", "chain": "split_chain"}
_NAME_ENDS = frozenset({"STOP", "COLON", "SEMI", "COMMA"})
_CLAUSE = frozenset({"STOP", "SEMI", "COMMA", "PARA", "COLON"})
_ENDS = frozenset({"PARA", "reverse_work", "no_turn", "cut", "leave", "repeat"})
# Words of the clause or behind the count that tell of the other side.
_OTHER_SIDE = frozenset({"bare_thread", "core", "split", "second_side", "other", "more"})
_LOCKING = frozenset({"join", "lock_join"})
_REACH = 60


def told_by_sides(tokens: list[Token]) -> list[Token]:
    """The tokens with the two sides of such elements told as in a count. Linear in their number."""
    out: list[Token] = []
    at = 0
    while at < len(tokens):
        name, behind = _name(tokens, at)
        if name is not None and behind < len(tokens) and tokens[behind].kind in _NAME_ENDS:
            sides = _sides(tokens, behind + 1)
            if sides is not None:
                work, at = sides
                mark = tokens[behind]
                if tokens[behind - 1].kind == "pronoun":
                    # "the sixth chain is a split one": the chain itself is named before.
                    while out[-1].kind not in _SPLIT:
                        out.pop()
                    name = out.pop()._replace(kind=name.kind, value=name.value)
                out += [name, mark._replace(kind="COLON"), *work]
                continue
        out.append(tokens[at])
        at += 1
    return out


def _name(tokens: list[Token], at: int) -> tuple[Token | None, int]:
    """``a split chain``, or ``the chain is a split one``, and where it ends."""
    token = tokens[at]
    if token.kind in _SPLIT.values():
        return token, at + 1
    if token.kind == "split" and at + 1 < len(tokens) and tokens[at + 1].kind == "pronoun":
        for before in reversed(tokens[max(0, at - 5) : at]):
            if before.kind in _SPLIT:
                return token._replace(kind=_SPLIT[before.kind], value=_SPLIT[before.kind]), at + 2
    return None, at


def _sides(tokens: list[Token], at: int) -> tuple[list[Token], int] | None:
    """The work of both sides, and where the sentence that ends it ends; None where no second side is told in words."""
    first = _count(tokens, at, None)
    if first is None or first - at > 12:
        return None
    second = _count(tokens, first + 1, tokens[first])
    if second is None:
        return None
    work = [tokens[first]]
    i = first + 1
    while i < second:
        kind = tokens[i].kind
        if kind in PICOTS or kind in ("NUM", "bead"):
            work.append(tokens[i])
        elif kind in _LOCKING:
            work.append(tokens[i])
            i += 1
            # "lock the shuttle thread into the foot of the ring"
            while i < second and tokens[i].kind not in ("to", *_CLAUSE):
                i += 1
            while i < second and tokens[i].kind not in _CLAUSE:
                work.append(tokens[i])
                i += 1
            work.append(Token("COMMA", ",", tokens[i - 1].end, tokens[i - 1].end, True, ","))
            continue
        i += 1
    end = second + 1
    while end < len(tokens) and tokens[end].kind not in ("STOP", "PARA", *_ENDS):
        end += 1
    side = Token("second_side", "second_side", tokens[second].start, tokens[second].start, True, "/")
    return [*work, side, tokens[second]._replace(end=tokens[end - 1].end)], end


def _count(tokens: list[Token], at: int, first: Token | None) -> int | None:
    """Where the next side's count stands: any count for the first side, one said to be on the other for the second."""
    for i in range(at, min(at + _REACH, len(tokens))):
        kind = tokens[i].kind
        if kind in _ENDS or (kind in ELEMENTS and tokens[i - 1].kind not in ("glue", "ORD", "of", "this", "previous")):
            return None
        if kind != "NUM":
            continue
        following = tokens[i + 1] if i + 1 < len(tokens) else END
        if following.kind in (*ELEMENTS, "times", "UNIT"):
            return None
        if first is None or _on_other_side(tokens, i):
            return i
        if not {tokens[i - 1].kind, following.kind} & {*PICOTS, "COMMA", "join", "lock_join"}:
            return None
    return None


def _on_other_side(tokens: list[Token], at: int) -> bool:
    """Whether the words of the count's clause, or those right behind it, speak of the other side's thread or of what is left to do."""
    begin = at
    while begin > 0 and tokens[begin - 1].kind not in _CLAUSE and at - begin < 14:
        begin -= 1
    end = at + 1
    while end < len(tokens) and tokens[end].kind not in _CLAUSE and end - at < 10:
        end += 1
    return any(t.kind in _OTHER_SIDE or t.value == "other_side" for t in tokens[begin:end])
