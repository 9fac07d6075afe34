"""Patterns for the tests of the working, from step lists."""

from __future__ import annotations

from textwrap import dedent
from typing import Any

from larkshead_steplist.reader import read

from larkshead.model import Element, Join, Part, Pattern, Picot, SideChange, Stitches, Thread
from larkshead.model.placewords import words_to_place
from larkshead.reading.source import Source
from larkshead.working import Limits, Worked, WorkedJoin, work
from larkshead.working.names import name_of_target


def pattern_of(text: str) -> Pattern:
    """The pattern a step list says; the list must be read without complaint."""
    reading = read(Source(dedent(text).strip(), "by hand"))
    complaints = [notice.message for notice in reading.notices if notice.severity != "note"]
    assert not complaints, complaints
    return reading.pattern


def worked_of(text: str, limits: Limits | None = None, threads: list[Thread] | None = None) -> Worked:
    """The pattern a step list says, worked."""
    pattern = pattern_of(text)
    if threads is not None:
        pattern.threads = threads
    return work(pattern, limits) if limits is not None else work(pattern)


def targets(worked: Worked) -> list[str]:
    """What each join goes into, in working order; the reason in brackets for one that is not resolved."""
    return [shown(join, worked) for join in worked.joins]


def shown(join: WorkedJoin, worked: Worked) -> str:
    return name_of_target(join, worked.pattern) or f"({join.reason})"


def steps(*parts: list[Any], threads: list[Thread] | None = None, **fields: Any) -> Pattern:
    """A pattern of parts under no heading, given as lists of steps."""
    return Pattern(parts=[Part(steps=list(one)) for one in parts], threads=threads or [], **fields)


def element(kind: str, work_of_it: str, *places: str, **fields: Any) -> Element:
    """An element of work in short (``4 p 4 j 4 / 4``), its joins into these places in order."""
    goals = iter(places)
    items: list[Any] = []
    for word in work_of_it.split():
        if word.isdigit():
            items.append(Stitches(int(word)))
        elif word in ("p", "sp", "lp"):
            items.append(Picot({"p": "", "sp": "small", "lp": "long"}[word]))  # type: ignore[arg-type]
        elif word in ("j", "lj", "fj"):
            said = next(goals, "?")
            where = [] if said == "?" else [words_to_place(one) for one in said.split(" + ")]
            items.append(Join(where, {"j": "picot", "lj": "lock", "fj": "folded"}[word]))  # type: ignore[arg-type]
        elif word == "/":
            items.append(SideChange())
        else:
            raise ValueError(word)
    return Element(kind, items, **fields)  # type: ignore[arg-type]
