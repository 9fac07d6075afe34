"""What stands in each column of a table: told by its head, and where the head leaves it open by what is in it."""

from __future__ import annotations

import re
from collections.abc import Sequence

from larkshead.conventions import Convention
from larkshead.reading.grammar.places import ELEMENTS
from larkshead.reading.grammar.tokens import Token
from larkshead.records import dataclass, field

_WORDS = re.compile(r"[^\W_]+(?:['.][^\W_]+)*\.?|[#+№&×/?]")
_COUNTS = re.compile(r"\d\s*(?:[-–—−·+]|\bp\b|ds)\s*\d")
_BRACKETS = re.compile(r"[(\[]([^)\]]*)[)\]]")
# What a head adds to a role it names: in full, or as a part of it.
_FULL, _PART = 2.0, 1.2
_LATER = 0.05
_FIT = 2.0
_UNFIT = 0.9
_COUNTED = 0.9
# Roles a column may have without being named, with the looks that speak for them.
LOOKS: dict[str, frozenset[str]] = {
    "label": frozenset({"label"}),
    "part": frozenset({"part", "label"}),
    "element": frozenset({"element"}),
    "work": frozenset({"work", "same"}),
    "say": frozenset({"say", "work", "element"}),
    "joins": frozenset({"place", "none"}),
    "lock": frozenset({"place", "none"}),
    "turn": frozenset({"turn", "yes", "no"}),
    "close": frozenset({"close", "yes", "no"}),
    "then": frozenset({"action", "close", "turn"}),
    "notes": frozenset({"words", "action", "times"}),
    "times": frozenset({"times", "number"}),
    "thread": frozenset({"thread", "number"}),
    "beads": frozenset({"number", "none"}),
    "gap": frozenset({"length", "number", "none"}),
    "side_one": frozenset({"work", "none"}),
    "side_two": frozenset({"work", "none"}),
    "between": frozenset({"marks"}),
    "picots": frozenset({"number", "none"}),
    "ds": frozenset({"number"}),
    "joins_made": frozenset({"number", "none"}),
    "picot_size": frozenset({"length", "number"}),
}
# A head that names a role with some of its words counts half.
_HALF = 0.6
# Content that is common enough to be taken for a role without a head to name it, and how sure that is.
_UNNAMED = {
    "label": 0.8,
    "element": 1.5,
    "work": 1.4,
    "turn": 1.5,
    "then": 1.3,
    "joins": 1.2,
    "times": 1.1,
    "say": 1.25,
    "thread": 1.0,
}
_SURE = 0.6
# So many cells that name an element make a column of them where no head says another thing.
_ELEMENTS = 0.4
# The first column of a table is the one that numbers its rows, if its cells allow it.
_FIRST = 2.0


@dataclass(slots=True)
class Column:
    """One column: its ``role``, the words of its head, the unit they give, the kind of element they name.

    Roles: label, part, element, work, say (whole directions), joins, lock, turn, close, then, notes, times, thread,
    beads, gap, side_one, side_two, between, slot (one group of several columns), picots, ds, joins_made, picot_size,
    kind_work (the counts of one kind of element), ignore, and empty where nothing can be told. ``letters`` when the
    cells beneath a kind of element are letters that name it.
    """

    role: str = ""
    head: str = ""
    unit: str = ""
    kind: str = ""
    size: str = ""
    lock: bool = False
    letters: bool = False
    named: bool = False
    roles: dict[str, float] = field(default_factory=dict)


@dataclass(slots=True)
class Content:
    """What stands under a head: the looks of every filled cell."""

    looks: list[set[str]]

    def fit(self, role: str) -> float:
        """The share of filled cells that look like what a role holds."""
        wanted = LOOKS.get(role)
        if not self.looks or wanted is None:
            return 0.5
        return sum(1 for look in self.looks if look & wanted) / len(self.looks)

    def share(self, look: str) -> float:
        """The share of filled cells with this look."""
        return sum(1 for found in self.looks if look in found) / len(self.looks) if self.looks else 0.0


def head_words(text: str) -> str:
    """A head as it stands in the convention: lower case, one space between words, without what is in brackets."""
    bare = _BRACKETS.sub(" ", text.lower().replace("’", "'")) or text.lower()
    return " ".join(bare.split()).strip(" :*_")


def head_roles(text: str, convention: Convention) -> dict[str, float]:
    """The roles a head names, with how surely: a phrase of the convention in full, or the longest one within."""
    words = head_words(text)
    for form in (words, words.rstrip("?. "), " ".join(text.lower().split()).strip(" :")):
        if form in convention.columns:
            return {role: _FULL - _LATER * at for at, role in enumerate(convention.columns[form])}
    parts = _WORDS.findall(words)
    for size in range(len(parts), 0, -1):
        for at in (0, *range(len(parts) - size, 0, -1)):
            phrase = " ".join(parts[at : at + size])
            if phrase in convention.columns and (size > 1 or len(phrase) > 1 or phrase in "+#"):
                weight = _PART * (0.4 + 0.6 * size / len(parts))
                return {role: weight - _LATER * k for k, role in enumerate(convention.columns[phrase])}
    return {}


def is_head(cells: Sequence[str], convention: Convention) -> bool:
    """Whether a row of cells reads as heads: most of the filled ones are named in the convention."""
    filled = [cell for cell in cells if cell]
    if not filled or any(_COUNTS.search(cell) for cell in filled) or sum(cell.isdigit() for cell in filled) == 1:
        return False
    weights = [max(head_roles(cell, convention).values(), default=0.0) for cell in filled]
    known = sum(1.0 if weight >= 1.0 else 0.5 if weight >= _HALF else 0.0 for weight in weights)
    return (known >= 2 and known * 2 >= len(filled)) or known == len(filled) == 1


def is_side_head(cells: Sequence[str], convention: Convention) -> bool:
    """Whether a column of cells reads as heads: a table that lies on its side."""
    if len(set(cells)) < len(cells) or not is_head(cells, convention):
        return False
    named = [role for cell in cells for role, weight in head_roles(cell, convention).items() if weight > 1.5]
    return bool({"work", "joins", "turn", "then"} & set(named))


def choose_roles(
    heads: Sequence[tuple[str, list[Token]]], contents: Sequence[Content], convention: Convention
) -> list[Column]:
    """The columns of a table, by their heads (words and tokens, empty without a head) and what stands in them."""
    columns = [_column(text, tokens, convention) for text, tokens in heads]
    _slots(columns, heads, contents)
    elements = [content.share("element") for content in contents]
    headed = any(column.head for column in columns)
    for at, (column, content) in enumerate(zip(columns, contents, strict=True)):
        if column.role:
            continue
        if (
            not at
            and not headed
            and elements[0] >= _ELEMENTS
            and elements[0] == max(elements) > content.share("number")
        ):
            # "R", "rw", "C", "rw": short words with elements among them are no labels.
            column.role = "element"
            continue
        counts = content.share("work") > _COUNTED > content.share("number")
        scores = {
            # A head over nothing but counts, none of which could be what it says, says little.
            role: (_UNFIT if counts and not content.fit(role) else weight) + _FIT * content.fit(role)
            for role, weight in column.roles.items()
        }
        first = column is columns[0]
        for role, weight in _UNNAMED.items():
            fit = content.fit(role)
            if role in ("times", "thread"):
                # A number alone is no sign of either.
                fit = content.share(role)
            if first and role == "label":
                fit = max(fit, content.share("word"))
            if content.looks and (fit >= _SURE or (first and role == "label" and fit >= 0.5)):
                scores[role] = max(scores.get(role, 0.0), (_FIRST if first and role == "label" else weight) * fit)
        column.roles = scores
        column.role = max(scores, key=lambda role: scores[role], default="")
    _kinds(columns, contents)
    _settle(columns, contents)
    return columns


def _column(text: str, tokens: list[Token], convention: Convention) -> Column:
    column = Column(head=text, roles=head_roles(text, convention))
    column.named = bool(column.roles)
    kinds = [token.kind for token in tokens]
    column.lock = "lock_join" in kinds
    column.unit = _unit(text, convention)
    for token in tokens:
        if token.kind in ELEMENTS and not column.kind:
            column.kind = ELEMENTS[token.kind]
        elif token.kind in ("small", "large") and not column.size:
            column.size = token.kind
    return column


def _unit(text: str, convention: Convention) -> str:
    """The unit a head gives: ``gap (mm)``, ``gap in mm``."""
    words = [word.strip(".") for word in _BRACKETS.findall(text.lower())] + text.lower().split()[-1:]
    for word in words:
        kind, value = convention.forms.get(word, ("", None))
        if kind == "UNIT":
            return str(value)
    return ""


def _slots(columns: list[Column], heads: Sequence[tuple[str, list[Token]]], contents: Sequence[Content]) -> None:
    """Columns that hold one group each, with or without columns of marks between them: ``1st | p | 2nd | p | 3rd``."""
    numbers: list[int] = []
    for at, (column, content) in enumerate(zip(columns, contents, strict=True)):
        tokens = heads[at][1]
        counts = content.looks and content.share("number") >= _SURE
        named = [t.kind for t in tokens]
        ordinal = any(k in ("ORD", "NUM") for k in named) and "shuttle" not in named and len(named) <= 3
        alike = sum(1 for other in columns if other.head and other.head == column.head) > 1
        beside = [
            bool(contents[n].looks) and contents[n].share("marks") > _SURE
            for n in (at - 1, at + 1)
            if 0 <= n < len(contents)
        ]
        if (
            counts
            and (not column.kind or (all(beside) and len(column.head) == 1))
            and (ordinal or alike or any(beside))
            and "label" not in column.roles
            and "part" not in column.roles
        ):
            numbers.append(at)
    if len(numbers) < 2:
        return
    for at in range(numbers[0], numbers[-1] + 1):
        if at in numbers or contents[at].share("marks") >= _SURE or not contents[at].looks:
            columns[at].role = "slot"


def _kinds(columns: list[Column], contents: Sequence[Content]) -> None:
    """Heads that name a kind of element, with counts beneath them: each cell is an element of that kind."""
    if {"side_one", "side_two"} <= {column.role for column in columns}:
        # The counts stand in the columns of the two sides; a column headed with the element numbers them.
        for column in columns:
            column.role = "element" if column.kind and column.role in ("element", "label", "") else column.role
        return
    for column, content in zip(columns, contents, strict=True):
        if column.kind and column.role in ("element", "work", "label", "") and content.fit("work") >= _SURE:
            rest = [
                other
                for named, other in zip(columns, contents, strict=True)
                if not named.kind and named.role != "label" and other.share("work") - other.share("number") > 0.4
            ]
            only_numbers = content.share("number") > 0.9
            if not only_numbers or not rest:
                column.role = "kind_work"
    kinds = [column for column in columns if column.role == "kind_work"]
    if len(kinds) == 1 and any(column.role == "element" for column in columns):
        kinds[0].role = "work"


def _settle(columns: list[Column], contents: Sequence[Content]) -> None:
    """One column of elements and one of counts: others with the same head hold what their content says."""
    pairs = list(zip(columns, contents, strict=True))
    elements = [pair for pair in pairs if pair[0].role == "element"]
    if len(elements) > 1:
        best = max(elements, key=lambda pair: pair[1].fit("element"))
        for column, content in elements:
            if column is not best[0]:
                column.role = "part" if content.fit("label") >= _SURE else "say"
    if not elements and not any(column.role == "kind_work" for column in columns):
        others = [pair for pair in pairs if pair[0].role not in ("side_one", "side_two", "kind_work")]
        found = max(others, key=lambda pair: pair[1].share("element"), default=None)
        if found is not None and found[1].share("element") >= 0.5:
            found[0].role = "element"
    works = [pair for pair in pairs if pair[0].role == "work"]
    if len(works) > 1:
        best = max(works, key=lambda pair: (pair[1].share("work") - pair[1].share("number"), pair[1].share("work")))
        for column, content in works:
            if column is not best[0]:
                column.role = "ds" if content.share("number") >= _SURE else "say"
    for column, content in pairs:
        column.letters = (
            bool(column.kind) and column.role == "element" and content.share("letter") > 0.9 and content.share("A") > 0
        )
        if column.role == "joins" and content.share("number") >= _SURE and "joins_made" in column.roles:
            column.role = "joins_made"
