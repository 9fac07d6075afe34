"""Where joins go, as a cell tells it: ``last p of ring 3, first p of ring 1``, ``LJ, 2nd p of same Ch``, ``r2.p3``."""

from __future__ import annotations

from collections.abc import Collection

from larkshead.conventions import Convention
from larkshead.model import Join, Place
from larkshead.reading import Span
from larkshead.reading.grammar.counts.work import SIDE_KINDS
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.meanings import JOINS, Varying
from larkshead.reading.grammar.places import ELEMENTS, PARTS, PICOTS, read_place
from larkshead.reading.grammar.said import Piece
from larkshead.reading.grammar.tokens import Token
from larkshead_table.plans import Target

_SEPARATORS = frozenset({"COMMA", "SEMI", "NL", "STOP"})
_LINKS = frozenset({"of", "to", "from", "between", "last", "previous", "next", "ORD", "same"})
_ARROWS = frozenset({"to", "EQUALS", "COLON"})
_LEADS = frozenset({"to", "glue", "PLUS", "COLON", "EQUALS", "with", "this", "DASH", "QUOTE", "after", "OTHER"})
_SPOTS = frozenset({"base", "fabric", "loop", "bare_thread", "space", "tip", "mock_picot", "between"})


def read_targets(tokens: list[Token], names: Collection[str], convention: Convention) -> list[Target]:
    """The places a cell tells, in order. ``names`` are the words elements of this table are called by."""
    targets: list[Target] = []
    lock = False
    for segment in _segments(_glued(_named(tokens, names))):
        kinds = [token.kind for token in segment]
        lock_here = "lock_join" in kinds
        folded = "folded_join" in kinds or any(_says(t, "folded", convention) for t in segment)
        target = _target(segment)
        if target is None:
            # "LJ, 2nd p of same Ch": the way to join told first, the place behind it.
            lock = lock or lock_here
            if folded and targets:
                targets[-1].folded = True
            continue
        target.lock, target.folded = lock or lock_here, folded
        lock = False
        if targets and _completes(targets[-1].place, target.place):
            whole = targets[-1]
            whole.place.picot, whole.place.size = target.place.picot, target.place.size or whole.place.size
            whole.place.words = ", ".join(filter(None, (whole.place.words, target.place.words)))
            whole.span = whole.span.join(target.span)
            whole.lock = whole.lock or target.lock
            continue
        targets.append(target)
    return targets


def tells_lock(tokens: list[Token]) -> bool:
    """Whether a lock join is told."""
    return any(token.kind == "lock_join" for token in tokens)


def _says(token: Token, meaning: str, convention: Convention) -> bool:
    return token.kind == "WORD" and meaning in convention.cells.get(token.text.lower(), ())


def _named(tokens: list[Token], names: Collection[str]) -> list[Token]:
    """Words and letters that name elements of this table become labels, a dash or plus named by its place a picot."""
    out: list[Token] = []
    for at, token in enumerate(tokens):
        after = tokens[at + 1].kind if at + 1 < len(tokens) else "END"
        before = out[-1].kind if out else "START"
        glued = f"{tokens[at - 1].text}{token.text}" if at and token.kind == "NUM" and not token.spaced else ""
        if glued.lower() in names:
            # "A1": step 1 of part A.
            out[-1] = tokens[at - 1]._replace(kind="label", value=glued, end=token.end, text=glued)
            continue
        if (
            token.kind in ("DASH", "PLUS")
            and before in ("last", "ORD", "middle", "next", "previous", "centre")
            and token.spaced
        ):
            token = token._replace(kind="picot")
        elif token.text[0].isalpha() and token.text.lower() in names and token.kind not in ("NUM", "ORD", *PICOTS):
            # "A ring" begins with an article, "ring A" and "A, last p" name one.
            article = token.kind == "glue" and (after in ELEMENTS or (after in PICOTS and before not in ELEMENTS))
            kind_word = token.kind in ELEMENTS and (len(token.text) > 1 or after in ELEMENTS)
            if (
                not article
                and not kind_word
                and (len(token.text) > 1 or token.text.isupper() or before in ("of", *ELEMENTS))
            ):
                token = token._replace(kind="label", text=token.text.upper() if len(token.text) == 1 else token.text)
        out.append(token)
    return out


def _glued(tokens: list[Token]) -> list[Token]:
    """``r1.p3``, ``A/2``: marks between an element and its picot drop out."""
    out: list[Token] = []
    for at, token in enumerate(tokens):
        after = tokens[at + 1] if at + 1 < len(tokens) else None
        if token.kind == "STOP" and after is not None and after.text[0].islower():
            # The stop of an abbreviation.
            continue
        if (
            token.kind in ("STOP", "COLON", "SLASH", "DASH")
            and not token.spaced
            and after is not None
            and not after.spaced
            and out
        ) and (after.kind in PICOTS or after.kind in ("NUM", "ORD", "base")):
            continue
        out.append(token)
    return out


def _segments(tokens: list[Token]) -> list[list[Token]]:
    """The cell parted at commas, semicolons, and words for ``and`` between two places."""
    out: list[list[Token]] = [[]]
    for at, token in enumerate(tokens):
        if (
            token.kind in _SEPARATORS
            or (token.kind == "COLON" and any(t.kind in PARTS or t.kind in ELEMENTS for t in out[-1]))
            or (
                token.kind == "glue"
                and out[-1]
                and out[-1][-1].kind not in _LINKS
                and _is_place(out[-1])
                and _begins_place(_ahead(tokens, at + 1))
            )
        ):
            out.append([])
        elif token.kind in ("OPEN", "SHUT"):
            # A bracket holds a place of its own or a remark on the one before it.
            if token.kind == "OPEN" and _is_place(out[-1]) and _is_place(_ahead(tokens, at + 1)):
                out.append([])
        elif token.kind == "PLUS" and _is_place(out[-1]):
            out.append([])
        elif _glued_label(out[-1], token):
            out.append([token])
        else:
            out[-1].append(token)
    return [segment for segment in out if segment]


def _begins_place(tokens: list[Token]) -> bool:
    """Whether a place begins here: ``first p ...``, ``ring 1, first p``."""
    named = len(tokens) > 1 and tokens[0].kind in ELEMENTS and tokens[1].kind in ("NUM", "label", "WORD")
    return named or _is_place(tokens)


def _ahead(tokens: list[Token], at: int) -> list[Token]:
    """The next few tokens, up to the next separator."""
    end = at
    while end < min(at + 8, len(tokens)) and tokens[end].kind not in _SEPARATORS and tokens[end].kind != "SHUT":
        end += 1
    return tokens[at:end]


def _glued_label(segment: list[Token], token: Token) -> bool:
    """``C3 A1``: a second letter with its number begins another place."""
    letter = (
        len(token.text) == 1
        and token.text.isupper()
        and token.kind in ("WORD", "label", "double_stitch", "chain", "bead")
    )
    return letter and len(segment) >= 2 and segment[-1].kind == "NUM" and not segment[-1].spaced


def _is_place(tokens: list[Token]) -> bool:
    if any(token.kind == "between" for token in tokens):
        return False
    kinds = {token.kind for token in tokens}
    return bool(kinds & (set(PICOTS) | _SPOTS)) or bool(kinds & {"label"} and "NUM" in kinds)


def _target(segment: list[Token]) -> Target | None:
    """One place, with the join's own picot where that is told: ``last p to first p of R1``."""
    item: str | int = ""
    arrow = _arrow(segment)
    if arrow is not None:
        item = _own_item(segment[:arrow])
        segment = segment[arrow + 1 :]
    every = any(token.kind == "each" for token in segment[:2]) and not any(t.kind in PICOTS for t in segment[1:2])
    c = Cursor([token for token in segment if token.kind not in JOINS and token.kind != "MARK"])
    while c.kind() in _LEADS or (c.kind() in SIDE_KINDS and c.kind(1) == "NUM"):
        c.next()
        if c.tokens[c.at - 1].kind in SIDE_KINDS:
            c.next()
    back = c.at
    while c.kind() != "END":
        start = c.at
        place = read_place(c, bracket=True)
        if place is not None and not _is_side(c.tokens, start, c.at):
            return Target(place, c.span(start), item, every=every)
        if c.at == start:
            c.next()
    c.at = back
    return None


def _is_side(tokens: list[Token], start: int, end: int) -> bool:
    """``on side 2``: which side of the element joins, and no place."""
    bare = end - start == 1 and tokens[start].kind == "NUM"
    return bare and start > 0 and tokens[start - 1].kind == "WORD" and len(tokens[start - 1].text) > 1


def _arrow(segment: list[Token]) -> int | None:
    """Where the join's own picot ends and the place begins, when both are told."""
    for at, token in enumerate(segment):
        if token.kind in _ARROWS or token.text in ("→", ">"):
            before = {t.kind for t in segment[:at]}
            after = {t.kind for t in segment[at + 1 :]}
            if (
                before & set(PICOTS)
                and after & (set(PICOTS) | set(ELEMENTS) | _SPOTS | {"label"})
                and not before & set(ELEMENTS)
            ):
                return at
            return None
        if token.kind == "of":
            return None
    return None


def _own_item(tokens: list[Token]) -> str | int:
    for token in tokens:
        if token.kind == "ORD" or token.kind == "NUM":
            return "first" if token.value == 1 else int(token.value)
        if token.kind in ("last", "middle"):
            return token.kind
    return "first"


def _completes(whole: Place, part: Place) -> bool:
    """Whether a second place only says which picot of the element told first: ``ring 1, last p``."""
    if whole.picot is not None or whole.spot != "picot" or (whole.element is None and whole.part is None):
        return False
    return part.spot == "picot" and part.element is None and part.part is None


def unsaid_joins(pieces: list[Piece]) -> list[Join]:
    """The joins of the work whose place is not told yet."""
    found: list[Join] = []
    for piece, _ in pieces:
        for item in (piece.item, *piece.passes.values()) if isinstance(piece, Varying) else (piece,):
            if isinstance(item, Join) and not item.places:
                found.append(item)
    return found


def span_of(tokens: list[Token]) -> Span:
    """From the first token to the last."""
    return Span(tokens[0].start, tokens[-1].end)


__all__ = ["PARTS", "read_targets", "span_of", "tells_lock", "unsaid_joins"]
