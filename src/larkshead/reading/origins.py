"""Where each step and work item came from in the source text, kept beside the model."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from larkshead.reading.source import Span


class Origins:
    """Spans of steps, parts and work items, by the identity of the model object.

    A step object stands for one place in the text, so a reader makes a new object for each place; work items may be
    shared and are named by their element and index.
    """

    __slots__ = ("_spans", "heard", "noted")

    def __init__(self) -> None:
        # Stretches read that made nothing of their own: labels, closings, what changes a step told elsewhere, filler.
        self.heard: list[Span] = []
        # Stretches kept as notes on the whole pattern.
        self.noted: list[Span] = []
        # Keyed by id(); the object itself is kept so that its id stays its own.
        self._spans: dict[int, tuple[object, Span, Sequence[Span] | None, int]] = {}

    def record(self, thing: object, span: Span, items: Sequence[Span] | None = None, base: int = 0) -> None:
        """Note that ``thing`` came from ``span``; ``items`` are the spans of its work items, from ``base`` on."""
        self._spans[id(thing)] = (thing, span, items, base)

    def of(self, thing: object, item: int | None = None) -> Span | None:
        """The span of a step or part, or of one item of its work; the whole step's where the item's is not known."""
        found = self._spans.get(id(thing))
        if found is None:
            return None
        _, span, items, base = found
        if item is not None and items is not None and 0 <= item < len(items):
            return Span(items[item].start + base, items[item].end + base)
        return span

    def take_over(self, others: Origins) -> None:
        """Everything that another reading of the same text recorded."""
        self._spans.update(others._spans)
        self.heard += others.heard
        self.noted += others.noted

    def __iter__(self) -> Iterator[tuple[object, Span]]:
        """Everything recorded with its span, in the order recorded."""
        return ((thing, span) for thing, span, _, _ in self._spans.values())

    def items_apart(self) -> Iterator[Span]:
        """The spans of work items that stand outside the span of their element: work told on in a later clause."""
        for _, span, items, base in self._spans.values():
            if items and (items[-1].end + base > span.end or items[0].start + base < span.start):
                yield from (Span(item.start + base, item.end + base) for item in items)

    def __len__(self) -> int:
        return len(self._spans)
