"""What a cell says in words: actions, repeats of rows, elements told in full, changes on some passes, notes."""

from __future__ import annotations

import itertools
from collections.abc import Collection

from larkshead.conventions import Convention
from larkshead.model import Attach, LockJoin, Note, Place, Switch
from larkshead.reading import Notice
from larkshead.reading.grammar.changes import read_changes
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.lines.lines import Lines
from larkshead.reading.grammar.places import ELEMENTS, PICOTS
from larkshead.reading.grammar.said import Change, Said, SaidChange, SaidElement, SaidLine, SaidNote, SaidStep
from larkshead.reading.grammar.tokens import Token
from larkshead.reading.source import Source
from larkshead.records import dataclass, field
from larkshead_table.joins import read_targets, span_of
from larkshead_table.plans import Again, Target
from larkshead_table.repeats import read_again

_CLAUSE_ENDS = frozenset({"STOP", "SEMI", "NL", "PARA"})
_JOINS = frozenset({"join", "joining", "folded_join", "lock_join", "PLUS"})
_JOIN_LEADS = frozenset(
    {"join", "PLUS", "joining", "folded_join", "ORD", "last", "previous", "next", "same", "middle", "label"}
)
_PASSES = frozenset({"ORD", "last", "each", "after", "only"})


@dataclass(slots=True)
class Sayings:
    """What a cell says, in order: ``said`` for the shared grammar's steps, repeats of rows, changes, places of joins;
    ``rest`` are the words left over where steps are not looked for, ``default`` where joins go that tell no place."""

    said: list[Said] = field(default_factory=list)
    again: list[Again] = field(default_factory=list)
    changes: list[SaidChange] = field(default_factory=list)
    targets: list[Target] = field(default_factory=list)
    rest: list[Token] = field(default_factory=list)
    default: Place | None = None


class Listener:
    """Reads cells of words. ``labels`` are the keys of all rows, ``names`` the words elements are called by."""

    def __init__(self, source: Source, convention: Convention, labels: Collection[str], names: Collection[str]) -> None:
        self.source = source
        self.convention = convention
        self.labels = labels
        self.names = names

    def hear(self, tokens: list[Token], notices: list[Notice], joins: bool = False, plain: bool = True) -> Sayings:
        """Everything a cell says. ``joins`` when the row has joins whose places may be told here; not ``plain`` when
        only repeats and changes are listened for."""
        heard = Sayings()
        rest: list[Token] = []
        for clause in clauses(tokens):
            again, left = read_again(clause, self.labels, self.convention)
            if again is not None:
                if plain:
                    self._plain(rest, heard, joins, notices)
                    rest = []
                heard.again.append(again)
                if left and not self._change(left, heard):
                    rest.extend(left)
            elif not self._change(clause, heard):
                rest.extend(clause)
        if plain:
            self._plain(rest, heard, joins, notices)
        else:
            heard.rest = rest
        return heard

    # --- changes -----------------------------------------------------------------------------------------------

    def _change(self, tokens: list[Token], heard: Sayings) -> bool:
        """A join or picot told for some passes or elements only."""
        kinds = {token.kind for token in tokens}
        if not kinds & _PASSES:
            return False
        if not kinds & _JOINS:
            change = self.picot_on_pass(tokens)
            found = [change] if change is not None else []
        else:
            instead = self._picot_instead(tokens)
            found = [instead] if instead is not None else self._by_pass(tokens)
        heard.changes += [SaidChange(change, span_of(tokens)) for change in found]
        return bool(found)

    def picot_on_pass(self, tokens: list[Token]) -> Change | None:
        """``a p the first time``, ``first R: p instead``: beside a join, a picot in its place on one pass."""
        kinds = [token.kind for token in tokens]
        which = self._which(tokens)
        cued = "instead" in kinds or "times" in kinds
        if which is None or not cued or not set(kinds) & set(PICOTS) or set(kinds) & {"of", "to", "NUM", *_JOINS}:
            return None
        return _picot_on(which, tokens)

    def apart(self, tokens: list[Token]) -> tuple[list[Token], list[SaidChange]]:
        """What a cell of places says of some passes, taken out of it."""
        out: list[Token] = []
        changes: list[SaidChange] = []
        for segment in clauses(tokens, ("COMMA", "SEMI", "STOP"), brackets=True):
            change = self.picot_on_pass([token for token in segment if token.kind not in ("OPEN", "SHUT", "COMMA")])
            if change is None:
                out += segment
            else:
                changes.append(SaidChange(change, span_of(segment)))
        return out, changes

    def _picot_instead(self, tokens: list[Token]) -> Change | None:
        """``the first big ring has a p where the + is``: a picot instead of the join."""
        kinds = [token.kind for token in tokens]
        picots = [i for i, kind in enumerate(kinds) if kind in PICOTS]
        joins = [i for i, kind in enumerate(kinds) if kind in _JOINS]
        cues = {"instead", "where", "WORD", "glue", "for"}
        if not picots or not joins or not picots[0] < joins[0]:
            return None
        between = kinds[picots[0] + 1 : joins[0]]
        if not between or not set(between) <= {*cues, "of", "this", "to"}:
            return None
        which = self._which(tokens[: picots[0]])
        if which is None or "to" in between:
            return None
        return _picot_on(which, tokens)

    def _by_pass(self, tokens: list[Token]) -> list[Change]:
        """``last time join to first p of R1``, ``on the last pass the last p joins to the first ring``."""
        join = next((i for i, token in enumerate(tokens) if token.kind in _JOINS), None)
        if join is None:
            return []
        to = next((i for i in range(join, len(tokens)) if tokens[i].kind == "to"), len(tokens))
        which = self._which(tokens[:join]) or self._which(tokens[join:to])
        if which is None:
            return []
        found = read_changes(Cursor(tokens), len(tokens), _kind(tokens[:join]))
        if len(found) == 2 and not found[0].places and found[1].places:
            # "The last ring joins to the first: its last p to the first p of ring 1."
            found[1].passes, found[1].elements = found[0].passes, found[0].elements
            found[1].element_kind = found[0].element_kind
            found = found[1:]
        if len(found) != 1:
            return []
        (change,) = found
        if not any(not place.unsaid for place in change.places):
            targets = read_targets(tokens[join + 1 :], self.names, self.convention)
            change.places = [target.place for target in targets[:1]]
        if change.passes == "":
            change.passes = which
        if tokens[join].kind == "lock_join":
            change.into = "lock"
        return found

    def _which(self, tokens: list[Token]) -> str | int | None:
        """The pass or element spoken of: first, last, a number; None where no one is named."""
        for at, token in enumerate(tokens):
            after = tokens[at + 1].kind if at + 1 < len(tokens) else "END"
            if after in PICOTS or after in ("DASH", "PLUS"):
                continue
            if token.kind == "ORD":
                return "first" if token.value == 1 else int(token.value)
            if token.kind == "last":
                return "last"
        return None

    # --- everything else ---------------------------------------------------------------------------------------

    def _plain(self, tokens: list[Token], heard: Sayings, joins: bool, notices: list[Notice]) -> None:
        if not tokens:
            return
        if joins:
            tokens, changes = self.apart(tokens)
            heard.changes += changes
            tokens = self._places(tokens, heard)
        if not tokens:
            return
        lines = Lines(tokens)
        for said in lines.run():
            heard.said.extend(self._settled(said))
        notices.extend(lines.notices)
        heard.default = heard.default or lines.default

    def _places(self, tokens: list[Token], heard: Sayings) -> list[Token]:
        """Clauses that tell where the joins of the row go are taken out: ``join to p of row 1``, ``(p2 of R1)``."""
        out: list[Token] = []
        for clause in clauses(tokens, ("COMMA", *_CLAUSE_ENDS)):
            leads = [token.kind for token in clause if token.kind not in ("COMMA", "glue", "WORD", "OPEN", "to")]
            works = any(a.kind == "NUM" and b.kind in ("DASH", "PLUS") for a, b in itertools.pairwise(clause))
            places = (
                bool(leads)
                and not works
                and (
                    leads[0] in _JOIN_LEADS
                    or leads[0] in PICOTS
                    or (bool(set(leads) & set(PICOTS)) and leads[0] in ELEMENTS)
                )
            )
            targets = read_targets(clause, self.names, self.convention) if places else []
            if targets:
                heard.targets += targets
            else:
                out.extend(clause)
        return out

    def _settled(self, said: Said) -> list[Said]:
        """Steps with the places this table's names give, notes in the words of the text."""
        if isinstance(said, SaidLine):
            return []
        if isinstance(said, SaidNote):
            words = self.source.quote(said.span).strip()
            return [SaidNote(words, said.span, said.unread)] if words.strip(" .,;:-–—") else []
        return [said]


def clauses(tokens: list[Token], ends: Collection[str] = _CLAUSE_ENDS, brackets: bool = False) -> list[list[Token]]:
    """The tokens parted behind each end of a clause; the ends stay with what they end. With ``brackets`` what stands in
    brackets is a clause of its own."""
    out: list[list[Token]] = [[]]
    depth = 0
    for at, token in enumerate(tokens):
        depth += (token.kind == "OPEN") - (token.kind == "SHUT")
        if brackets and token.kind == "OPEN":
            out.append([])
        out[-1].append(token)
        if brackets and token.kind == "SHUT":
            out.append([])
        abbreviation = token.kind == "STOP" and at + 1 < len(tokens) and tokens[at + 1].text[0].islower()
        if token.kind in ends and not abbreviation and (depth <= 0 or brackets):
            out.append([])
    return [clause for clause in out if clause]


def _picot_on(which: str | int, tokens: list[Token]) -> Change:
    """A picot in the place of the first join on one pass."""
    span = span_of(tokens)
    return Change("first", "join", "picot", elements="number", passes=which, element_kind=_kind(tokens), span=span)


def _kind(tokens: list[Token]) -> str:
    return next((ELEMENTS[token.kind] for token in tokens if token.kind in ELEMENTS), "")


__all__ = ["Attach", "Listener", "LockJoin", "Note", "SaidElement", "SaidStep", "Sayings", "Switch", "clauses"]
