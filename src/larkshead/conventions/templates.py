"""Templates: how a convention says a thing, as text with slots.

    {name}      the value of a slot, or the word for a concept of the trade
    {name:n}    the word for a concept in the number that goes with slot ``n``
    < ... >     left out when a slot inside it is empty
    << >>       the marks < and > themselves

Word order is the convention's own: a writer only names the slots.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import lru_cache
from typing import NamedTuple, Union


class Slot(NamedTuple):
    """A place in a template to be filled; ``number`` names the slot that decides between one and many."""

    name: str
    number: str


Segment = Union[str, Slot, "tuple[Segment, ...]"]
_MARK = re.compile(r"<<|>>|<|>|\{(\w+)(?::(\w+))?\}")


@lru_cache(maxsize=2048)
def compile_template(text: str) -> tuple[Segment, ...]:
    """The segments of a template; ValueError for a mark that is not closed."""
    stack: list[list[Segment]] = [[]]
    at = 0
    for mark in _MARK.finditer(text):
        if mark.start() > at:
            stack[-1].append(text[at : mark.start()])
        at = mark.end()
        found = mark.group()
        if found in ("<<", ">>"):
            stack[-1].append(found[0])
        elif found == "<":
            stack.append([])
        elif found == ">":
            if len(stack) == 1:
                raise ValueError(f"'>' without '<' in the template {text!r}")
            inner = tuple(stack.pop())
            stack[-1].append(inner)
        else:
            stack[-1].append(Slot(mark.group(1), mark.group(2) or ""))
    if len(stack) > 1:
        raise ValueError(f"'<' without '>' in the template {text!r}")
    if at < len(text):
        stack[-1].append(text[at:])
    return tuple(stack[0])


def render(segments: tuple[Segment, ...], value: Callable[[Slot], str]) -> str:
    """The text of a template, ``value`` giving what stands in each slot."""
    return _render(segments, value)[0]


def _render(segments: tuple[Segment, ...], value: Callable[[Slot], str]) -> tuple[str, bool]:
    """The text, and whether every slot outside an optional stretch was filled."""
    said: list[str] = []
    full = True
    for segment in segments:
        if isinstance(segment, str):
            said.append(segment)
        elif isinstance(segment, Slot):
            text = value(segment)
            full = full and bool(text)
            said.append(text)
        else:
            text, complete = _render(segment, value)
            if complete:
                said.append(text)
    return "".join(said), full


def pattern(
    segments: tuple[Segment, ...], slot: Callable[[Slot], str], lazy: bool = False, needed: tuple[str, ...] = ()
) -> str:
    """A regular expression for the texts a template can give, ``slot`` giving the expression for each slot.

    ``lazy`` tries first without what may be left out, for a text that has to be matched to its end; the slots
    ``needed`` may not be left out.
    """
    said: list[str] = []
    for segment in segments:
        if isinstance(segment, str):
            said.append(re.escape(segment))
        elif isinstance(segment, Slot):
            said.append(slot(segment))
        else:
            inner = pattern(segment, slot, lazy, needed)
            there = any(isinstance(one, Slot) and one.name in needed for one in segment)
            said.append(f"(?:{inner}){'' if there else '??' if lazy else '?'}")
    return "".join(said)
