"""Where the joins of a row go."""

from __future__ import annotations

from copy import deepcopy

from larkshead.model import (
    Attach,
    Join,
    LockJoin,
    Picot,
)
from larkshead.reading import Notice, Span
from larkshead.reading.grammar.said import SaidElement, SaidStep
from larkshead.reading.grammar.tokens import Token
from larkshead_table.columns import Column
from larkshead_table.grid import Cell
from larkshead_table.joins import read_targets, span_of, tells_lock, unsaid_joins
from larkshead_table.looks import meanings
from larkshead_table.plans import Target
from larkshead_table.rowstate import RowState


class JoinCells(RowState):
    """Mixed into the reading of a row."""

    def on_joins(self, tokens: list[Token], column: Column, cell: Cell) -> None:
        said = meanings(cell.text(self.reader.source), self.convention)
        if "none" in said or "unsaid" in said:
            return
        tokens, changes = self.reader.listener.apart(tokens)
        self.plan.loose += changes
        if not tokens:
            return
        targets = read_targets(tokens, self.reader.listener.names, self.convention)
        heard_words = any(t.kind in ("ORD", "last") for t in tokens) and any(
            t.kind in ("join", "is", "instead") for t in tokens
        )
        if not targets or (heard_words and not any(unsaid_joins(e.pieces) for e in self.plan.elements)):
            if tells_lock(tokens) and not targets:
                self.locked = tokens
            else:
                self.say(tokens, column, cell)
            return
        for target in targets:
            target.lock = target.lock or column.role == "lock"
        self.targets += targets

    def place_targets(self) -> None:
        """Places told go to the joins of the row in order; what is left over is a lock join or makes a picot a join."""
        joins = [
            (unit, join)
            for unit in self.plan.units
            if unit.element is not None
            for join in unsaid_joins(unit.element.pieces)
        ]
        left: list[Target] = []
        for target in self.targets:
            locks = [entry for entry in joins if entry[1].kind == "lock"]
            entry = None
            if target.lock:
                entry = locks[0] if locks else None
            elif joins:
                entry = joins[0]
            if entry is None:
                left.append(target)
                continue
            joins.remove(entry)
            entry[1].places = [target.place]
            if target.folded and entry[1].kind == "picot":
                entry[1].kind = "folded"
        if (
            self.targets
            and joins
            and not left
            and (
                len(self.targets) == 1
                and (self.targets[0].every or self.targets[0].place.picot in ("next", "any", "free"))
            )
        ):
            for _, join in joins:
                join.places = [deepcopy(self.targets[0].place)]
        for target in left:
            self._left_over(target)
        if self.locked:
            self.lock_step([], span_of(self.locked))

    def point_joins(self) -> None:
        """A join whose place is told in a cell of its own has its place in the text there."""
        spans = {id(target.place): target.span for target in self.targets}
        for unit in self.plan.units:
            for at, (item, _) in enumerate(unit.element.pieces if unit.element is not None else ()):
                if isinstance(item, Join) and item.places and id(item.places[0]) in spans and unit.element is not None:
                    unit.element.pieces[at] = (item, spans[id(item.places[0])])

    def _left_over(self, target: Target) -> None:
        unit = self.plan.unit()
        for said in reversed(unit.after):
            # "tie in" with its place in the column of joins.
            if isinstance(said, SaidStep) and isinstance(said.step, Attach | LockJoin) and not said.step.places:
                said.step.places = [target.place]
                return
        element = unit.element
        ring = element is not None and element.kind in ("ring", "split ring", "mock ring")
        free = not target.lock and ring and target.place.spot in ("picot", "join", "mock picot")
        if free and element is not None and self._make_join(element, target):
            return
        self.lock_step([target], target.span)

    def lock_step(self, targets: list[Target], span: Span) -> None:
        self.plan.unit().locks.append(SaidStep(LockJoin([target.place for target in targets]), span))

    def _make_join(self, element: SaidElement, target: Target) -> bool:
        """A join is told in its column, but the counts show a picot in its place."""
        picots = [at for at, (item, _) in enumerate(element.pieces) if isinstance(item, Picot)]
        spots = [at for at, (item, _) in enumerate(element.pieces) if isinstance(item, Picot | Join)]
        if not picots:
            return False
        at = picots[0]
        if isinstance(target.item, int) and 0 < target.item <= len(spots):
            at = spots[target.item - 1]
        elif target.item == "last":
            at = picots[-1]
        elif target.item == "middle":
            at = spots[len(spots) // 2]
        elif target.item == "" and (any(isinstance(item, Join) for item, _ in element.pieces)):
            at = picots[-1]
        _item, span = element.pieces[at]
        element.pieces[at] = (Join([target.place], "folded" if target.folded else "picot"), span)
        if target.item == "":
            self.notices.append(
                Notice("assumed", "note", "the join told here is taken for the picot written in its place", target.span)
            )
        return True

    on_lock = on_joins
