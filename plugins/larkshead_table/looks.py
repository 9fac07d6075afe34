"""What a cell looks like by its words alone, for columns whose head does not say what stands in them."""

from __future__ import annotations

from larkshead.conventions import Convention
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.lengths import read_length
from larkshead.reading.grammar.places import ELEMENTS, PARTS, PICOTS
from larkshead.reading.grammar.tokens import Token

ACTIONS = frozenset(
    {
        "reverse_work",
        "no_turn",
        "leave",
        "bare_thread",
        "lock_join",
        "mock_picot",
        "switch",
        "attach",
        "cut",
        "hide_ends",
    }
)
_TRADE = frozenset(
    {
        *PICOTS,
        "join",
        "lock_join",
        "bead",
        "reverse_work",
        "no_turn",
        "cut",
        "mock_picot",
        "switch",
        "bare_thread",
        "leave",
        "close",
        "times",
    }
)
MARKS = frozenset({"DASH", "PLUS", "DOT", "PLUSMINUS", "join", "folded_join", "bead", "none", *PICOTS})
_SEPARATORS = frozenset({*MARKS, "COMMA", "NUM", "double_stitch", "OPEN", "SHUT", "times", "SLASH", "glue"})
_ELEMENT_LEADS = frozenset({"small", "large", "NUM", "ORD", "glue", "WORD", "shuttle", "COLON"})
_PLACE_WORDS = frozenset(
    {"previous", "next", "last", "same", "middle", "centre", "any", "free", "base", "between", "fabric", "ORD", "of"}
)


def meanings(text: str, convention: Convention) -> tuple[str, ...]:
    """What a whole cell says by the convention: yes, no, none, same, ..."""
    key = " ".join(text.lower().replace("’", "'").split())
    return convention.cells.get(key) or convention.cells.get(key.rstrip(".!")) or ()


def looks(tokens: list[Token], text: str, convention: Convention) -> set[str]:
    """The kinds of content a cell may be taken for."""
    found: set[str] = set(meanings(text, convention))
    kinds = [token.kind for token in tokens]
    if not kinds:
        return found
    if len(text) == 1 and text.isalpha():
        found |= {"letter", text.upper()}
    short = len(text) <= 6 and len(kinds) <= 4
    if kinds == ["NUM"]:
        found |= {"number", "label", "work"}
    elif short and (kinds[0] == "NUM" or len(tokens[0].text) <= 2 or "DASH" in kinds[1:2]) and kinds[0] != "DASH":
        found.add("label")
    listed = [int(token.value) for token in tokens if token.kind == "NUM"]
    if len(listed) > 1 and set(kinds) <= {"NUM", "COMMA", "glue"} and listed == sorted(set(listed)):
        found.add("label")
    if set(kinds) <= {"ORD", "NUM", "to", "DASH", "glue"} and "ORD" in kinds and len(kinds) <= 4:
        found.add("label")
    if len(kinds) == 1 and tokens[0].text.isalpha() and kinds[0] not in ELEMENTS and kinds[0] not in _TRADE:
        found.add("word")
    if kinds[0] in PARTS and len(kinds) <= 3:
        found |= {"part", "label"}
    if kinds[0] in ("like", "same"):
        found.add("same")
    if all(kind in MARKS for kind in kinds):
        found.add("marks")
    if _is_work(kinds):
        found.add("work")
    at = _element_at(kinds[2:] if kinds[1:2] in (["STOP"], ["SHUT"]) else kinds)
    if at is not None:
        found.add("element")
        if _is_work(kinds[at + 1 :]) or _is_work(kinds[at + 2 :]):
            found.add("say")
            found.discard("element")
    if any(kind in ACTIONS for kind in kinds) or kinds[0] == "close":
        found |= {"action", "say"}
        if set(kinds) <= {"reverse_work", "no_turn"}:
            found.add("turn")
        if kinds[0] in ("lock_join", "join"):
            found.add("place")
    if kinds[0] == "close" and len(kinds) == 1:
        found.add("close")
    if "times" in kinds or "repeat" in kinds or "twice" in kinds or "once" in kinds or "in_all" in kinds:
        found.add("times")
    if "shuttle" in kinds or "ball" in kinds or "thread" in kinds:
        found.add("thread")
    if any(kind in PICOTS for kind in kinds) and any(kind in _PLACE_WORDS or kind in ELEMENTS for kind in kinds):
        found.add("place")
    if kinds[0] in ("base", "previous", "next", "last") or "base" in kinds:
        found.add("place")
    if len(kinds) <= 3 and "UNIT" in kinds and read_length(Cursor(list(tokens))) is not None:
        found.add("length")
    if kinds.count("WORD") * 2 > len(kinds):
        found.add("words")
    return found


def _is_work(kinds: list[str]) -> bool:
    """Counts with something between them: ``5-5-5``, ``4 p 4``, ``(3 -) x 6``, ``5, 5, 5``."""
    numbers = kinds.count("NUM")
    if numbers < 2 or kinds[0] not in ("NUM", "OPEN", *MARKS):
        return numbers == 1 and len(kinds) <= 2 and kinds[-1] == "double_stitch"
    inside = sum(1 for kind in kinds if kind in _SEPARATORS)
    return inside * 3 >= len(kinds) * 2


def _element_at(kinds: list[str]) -> int | None:
    """Where the word for an element stands, behind no more than its size, number and thread."""
    for at, kind in enumerate(kinds[:5]):
        if kind in ELEMENTS:
            return at
        if kind not in _ELEMENT_LEADS:
            return None
    return None
