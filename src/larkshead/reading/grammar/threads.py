"""The threads a pattern is worked with, from its materials: shuttles, ball, wound continuously or tied, sizes,
colours, beads.
"""

from __future__ import annotations

from larkshead.conventions.convention import SEVERAL
from larkshead.model import Thread
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.tokens import Token

_AFTER_NAME = frozenset({"COMMA", "SEMI", "STOP", "SHUT", "NL", "PARA", "END"})
THREAD_KINDS = frozenset({"shuttle", "ball", "continuous", "thread", "size", "materials_head"})


def read_threads(tokens: list[Token]) -> list[Thread]:
    """The threads that words of materials name; none where they name neither shuttle nor ball."""
    c = Cursor(tokens)
    shuttles = 0
    ball = False
    named: dict[int, str] = {}
    size = ""
    continuous = any(t.kind == "continuous" for t in tokens)
    tied = any(t.kind == "fasten" for t in tokens)
    ball_beads: int | None = None
    shuttle_beads: int | None = None
    tail = any(t.kind == "tail" for t in tokens) and any(t.kind == "leave" for t in tokens)
    while c.at < c.limit:
        token = c.next()
        if token.kind == "shuttle":
            before = tokens[c.at - 2] if c.at >= 2 else None
            if (c.kind() == "NUM" and not c.peek().spaced) or (
                c.kind() == "NUM" and c.kind(1) in ("WORD", "glue", "COMMA", "END")
            ):
                number = int(c.next().value)
                if 0 < number < 10:
                    shuttles = max(shuttles, number)
                    if c.kind() == "WORD" and (c.kind(1) in _AFTER_NAME or c.kind(2) in ("shuttle", "ball", "NUM")):
                        named[number] = c.peek().text
            elif before is not None and before.kind == "NUM" and 0 < int(before.value) < 10:
                shuttles = max(shuttles, int(before.value))
            else:
                shuttles = max(shuttles, 1)
        elif (
            token.kind == "ball"
            and (c.at < 2 or tokens[c.at - 2].kind not in ("from",))
            and not _bought(tokens, c.at - 1)
        ):
            ball = True
        elif token.kind == "size" and c.kind() in ("NUM", "ORD"):
            size = size or c.next().text
    beads = [i for i, t in enumerate(tokens) if t.kind == "bead"]
    if beads or any(t.kind == "NUM" for t in tokens):
        ball_beads, shuttle_beads = _strung(tokens, bool(beads))
    if not shuttles and not ball:
        return []
    threads = [
        Thread("shuttle", f"shuttle {number}" if shuttles > 1 else "shuttle 1", named.get(number, ""), size)
        for number in range(1, max(shuttles, 1) + 1)
    ]
    if ball:
        threads.append(Thread("ball", "ball", size=size))
    if tail and not ball and shuttles <= 1:
        threads.append(Thread("tail", "tail", joined_to="shuttle 1"))
    if len(threads) > 1 and (continuous or tied) and threads[-1].role != "tail":
        threads[-1].joined_to = threads[0].name
        threads[-1].tied = tied and not continuous
    if ball_beads is not None and ball:
        threads[-1].beads = ball_beads
    if shuttle_beads is not None:
        threads[0].beads = shuttle_beads
    return threads


def _bought(tokens: list[Token], at: int) -> bool:
    """``two balls of cotton`` are bought and not worked with."""
    return tokens[at].value == SEVERAL and at + 1 < len(tokens) and tokens[at + 1].kind in ("of", "thread", "WORD")


def _strung(tokens: list[Token], spoken: bool) -> tuple[int | None, int | None]:
    """Beads strung on the ball and on the shuttle: a number before ``on the ball``."""
    found: dict[str, int] = {}
    number: int | None = None
    for i, token in enumerate(tokens):
        if token.kind == "NUM" and (
            i + 1 >= len(tokens) or tokens[i + 1].kind not in ("UNIT", "SLASH", "shuttle", "ball")
        ):
            if i and tokens[i - 1].kind == "size":
                continue
            number = int(token.value)
        elif (
            token.kind in ("ball", "shuttle")
            and number is not None
            and any(t.kind == "to" for t in tokens[max(0, i - 3) : i])
            and spoken
        ):
            found.setdefault(token.kind, number)
    return found.get("ball"), found.get("shuttle")
