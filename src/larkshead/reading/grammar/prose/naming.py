"""What running words keep in mind: elements named before their work, names of passages, beads to come."""

from __future__ import annotations

import itertools

from larkshead.model import (
    Step,
    Turn,
)
from larkshead.reading.grammar.items import WorkSyntax
from larkshead.reading.grammar.places import ELEMENTS, PICOTS
from larkshead.reading.grammar.said import (
    Piece,
    SaidNote,
    SaidShut,
)
from larkshead.reading.grammar.samename import same_name
from larkshead.reading.grammar.statements import Statements
from larkshead.reading.grammar.tokens import END, Token

_JOINED = frozenset({"join", "joining", "fasten", "lock_join"})


class Naming(Statements):
    """What running words keep in mind: elements named before their work, names of passages, beads to come."""

    named = ""
    named_count = 1
    from_name = ""
    sentence = 0
    # The size of every picot that has none of its own.
    picot_size = ""
    # Beads that every picot carries.
    picot_beads = 0

    def __init__(self, tokens: list[Token], syntax: WorkSyntax, labels: dict[str, str] | None = None) -> None:
        tokens = _choices(_places_no_lengths(_repeats_named(tokens)))
        super().__init__(tokens, syntax, labels)
        # Names given to passages, and beads told before the element they stand on.
        self.names: set[str] = unit_names(tokens)
        self.waiting: list[Piece] = []
        # Beads that every join carries.
        self.join_beads = 0

    def words(self, start: int) -> None:
        """Words no statement takes; an element named among them is what work told next makes."""
        super().words(start)
        said = self.said[-1] if self.said else None
        if isinstance(said, SaidNote) and not said.unread and said.span.start == self.c.tokens[start].start:
            # Words that lead to places, in a clause that was being read as work, were to be read.
            said.unread = self.open is not None and any(
                t.kind in ("between", "base", "opposite", "corresponding") for t in self.c.tokens[start : self.c.at]
            )
        tokens = self.c.tokens
        for i in range(start, self.c.at):
            if tokens[i].kind == "ball" and " " in tokens[i].text and not self.named:
                # The ball's thread was taken up.
                self.named = "chain"
            if tokens[i].kind in ELEMENTS and not (
                self.named and i and tokens[i - 1].kind in ("this", "of", "ORD", "previous", "last", "glue")
            ):
                self.named = ELEMENTS[tokens[i].kind]
                number = (
                    tokens[i - 2]
                    if i > 1 and tokens[i - 1].kind in ("small", "large", "glue", "more")
                    else tokens[i - 1]
                    if i
                    else None
                )
                if any(t.kind == "split" for t in tokens[i + 1 : i + 6]) and ELEMENTS[tokens[i].kind] in (
                    "ring",
                    "chain",
                ):
                    # "the last chain is a split one"
                    self.named = f"split {self.named}"
                self.named_count = int(number.value) if number is not None and number.kind == "NUM" else 1

    def say(self, step: Step, start: int) -> bool:
        if not isinstance(step, Turn):
            self.named = ""
        return super().say(step, start)

    def run_on(self) -> None:
        """What a full stop or blank line ends: a passage told to be worked so many times."""
        self.sentence = self.c.at + 1
        if self.open_groups and self.open_groups[-1] == "ahead":
            self.open_groups.pop()
            self.said.append(SaidShut("line", self.c.span(self.c.at)))

    def moved(self, start: int) -> bool:
        """Whether beads are slid along here, and not listed, strung or counted."""
        tokens = self.c.tokens
        if any(t.kind == "slide" for t in tokens[max(0, start - 5) : start]):
            return True
        # "two beads are slipped up"
        behind = start + 1 + (tokens[start].kind == "NUM")
        while behind < len(tokens) and tokens[behind].kind == "glue" and behind - start < 4:
            behind += 1
        return behind < len(tokens) and tokens[behind].kind == "slide"

    def _counts_stitches(self, introduced: bool) -> bool:
        """Whether the number at the position can count stitches: not elements, times, lengths or things."""
        c = self.c
        after = c.kind(1)
        if after in ELEMENTS or after in (
            "UNIT",
            "times",
            "large",
            "small",
            "ORD",
            "step",
            "row",
            "round",
            "motif",
            "of",
        ):
            return False
        if after == "more" and (c.kind(2) in ELEMENTS or c.kind(2) in ("WORD", "like")):
            return False
        return introduced or after != "WORD"


def unit_names(tokens: list[Token]) -> set[str]:
    """Words that name one of several like passages: ``each daisy``, ``the next acorn``, ``that is one catkin``, and what is
    told as ``a tulip is three rings`` or ``one clover: three rings`` and counted elsewhere."""
    names: set[str] = set()
    told: set[str] = set()
    counted: list[str] = []
    for before, token, after, following in zip(
        [END, *tokens], tokens, [*tokens[1:], END], [*tokens[2:], END, END], strict=False
    ):
        if not names_something(token):
            continue
        word = token.text.lower()
        if token.kind == "passage":
            names.add(word)
        single = before.kind == "NUM" and before.value == 1 and not before.text.isdigit()
        if token.kind == "WORD" and (before.kind in ("each", "next", "another", "pronoun") or single):
            names.add(word)
        if (before.kind in ("glue", "each", "pronoun") or single) and (
            after.value == "is" or after.kind == "COLON" or (after.kind == "has" and following.kind == "NUM")
        ):
            told.add(word)
        if before.value == "one" and after.kind in ("STOP", "SEMI", "COMMA", "COLON", "PARA"):
            told.add(word)
        if (before.kind == "NUM" and before.value != 1) or before.kind == "such":
            counted.append(word)
            if after.kind == "COMMA" and following.kind == "each":
                names.add(word)
    names.update(name for name in told if any(same_name(name, word) for word in counted))
    return names


def _repeats_named(tokens: list[Token]) -> list[Token]:
    """``one repeat``, ``the second repeat``, ``fourteen repeats``: a repeat spoken of as a passage; ``in all but the first`` counts nothing."""
    out: list[Token] = []
    for before, token, after in zip([END, *tokens], tokens, [*tokens[1:], END], strict=False):
        if token.kind == "in_all" and after.kind == "but":
            out.append(token._replace(kind="all"))
            continue
        named = token.kind == "repeat" and (
            before.kind in ("ORD", "each", "pronoun") or (before.kind == "NUM" and before.value != 1)
        )
        out.append(token._replace(kind="passage") if named else token)
    return out


def _places_no_lengths(tokens: list[Token]) -> list[Token]:
    """``six join six in that first one's picot``: a word of place that is spelt as a unit."""
    out: list[Token] = []
    for i, token in enumerate(tokens):
        if token.kind == "UNIT" and i and tokens[i - 1].kind == "NUM" and _leads_to_picot(tokens, i + 1):
            token = token._replace(kind="to")
        elif token.kind == "switch" and i and tokens[i - 1].kind in _JOINED and i + 1 < len(tokens):
            # "joined back to ring one"
            token = token._replace(kind="to", value="back") if tokens[i + 1].kind in ELEMENTS else token
        out.append(token)
    return out


def _choices(tokens: list[Token]) -> list[Token]:
    """``7 or 9 ds``: the first is taken, and the choice told behind it; ``three or four more`` is no number."""
    out: list[Token] = []
    at = 0
    while at < len(tokens):
        token = tokens[at]
        following = [t.kind for t in tokens[at : at + 5]]
        if following[:1] != ["NUM"] or following[2:3] != ["NUM"] or tokens[at + 1].value != "or":
            out.append(token)
            at += 1
            continue
        end = tokens[at + 2].end
        choice = Token(
            "vague", None, token.start, end, token.spaced, f"{token.text} {tokens[at + 1].text} {tokens[at + 2].text}"
        )
        at += 3
        if following[3:4] == ["double_stitch"]:
            out += [token, tokens[at], choice]
            at += 1
        elif following[3:4] == ["more"]:
            out.append(choice)
            at += 1
        else:
            out.append(choice)
    return out


def _leads_to_picot(tokens: list[Token], at: int) -> bool:
    if at >= len(tokens) or tokens[at].kind not in ("glue", "this", "same", "each", "any"):
        return False
    for token in tokens[at + 1 : at + 5]:
        if token.kind in PICOTS:
            return True
        if token.kind not in ("WORD", "ORD", "last", "same", "next", "previous", "glue", "middle", "ring", "chain"):
            return False
    return False


def counts_named(tokens: list[Token], names: set[str]) -> bool:
    """Whether several of a passage with a name are counted among the tokens."""
    return any(
        number.kind == "NUM" and number.value != 1 and any(same_name(name, token.text.lower()) for name in names)
        for number, token in itertools.pairwise(tokens)
        if names_something(token)
    )


def names_something(token: Token) -> bool:
    """Whether the token may be a name given to a passage."""
    return token.kind in ("WORD", "motif", "passage") and len(token.text) > 2
