"""Comparing a pattern with itself read back: what is the same in meaning, what differs, what a loss explains."""

from __future__ import annotations

from collections.abc import Callable
from copy import deepcopy

import pytest
from hypothesis import given
from strategies import patterns
from written_patterns import ALL, BASE, counts, edging

from larkshead.model import (
    Abbreviation,
    Beads,
    Element,
    ElementRef,
    Join,
    LockJoin,
    Note,
    Part,
    Pattern,
    Place,
    Repeat,
    Stitches,
    Turn,
)
from larkshead.model.steps import Step
from larkshead.writing import Loss
from larkshead.writing.compare import differences


def of(*steps: Step) -> Pattern:
    return Pattern(parts=[Part(steps=list(steps))])


def ring(*work: int, label: str | None = None) -> Element:
    return Element("ring", counts(*work), label)


def joined(label: str | None = None, which: str | int | None = None, picot: str | int | None = "last") -> Element:
    return Element("ring", [Stitches(4), Join([Place(picot=picot, element=ElementRef("ring", which, label))])])


@pytest.mark.parametrize("name", ALL)
def test_a_pattern_is_as_itself(name: str) -> None:
    assert differences(ALL[name](), ALL[name]()) == []


@given(patterns())
def test_any_pattern_is_as_its_copy(pattern: Pattern) -> None:
    copy = deepcopy(pattern)
    copy.title += " "  # blanks are no difference, and this keeps the short way out from being taken
    assert differences(pattern, copy) == []


SAME = {
    "labels under other names": (of(ring(4, label="A"), joined("A")), of(ring(4, label="Anna"), joined("Anna"))),
    "a label given to what had none": (of(ring(4), Turn()), of(ring(4, label="1"), Turn())),
    "first and number 1": (of(joined(which="first", picot="first")), of(joined(which=1, picot=1))),
    "third and ring 3": (of(joined(which=3)), of(joined("3", 3))),
    "the picot and the only picot": (of(joined("A", picot="only")), of(joined("A", picot=None))),
    "counts side by side": (
        of(Element("chain", [Stitches(3), Stitches(4), Beads(1), Beads(1)])),
        of(Element("chain", [Stitches(7), Beads(2)])),
    ),
    "lock join in the chain or behind it": (
        of(Element("chain", [Stitches(4), Join([BASE], "lock")])),
        of(Element("chain", [Stitches(4)]), LockJoin([BASE])),
    ),
    "a remark and a note": (of(Element("ring", remark="so")), of(Element("ring"), Note("so"))),
    "notes of a part": (Pattern(parts=[Part(notes=["so"])]), of(Note("so"))),
    "a repeat worked once": (of(Repeat([ring(4), Turn()], 1)), of(ring(4), Turn())),
    "words of a place": (
        of(LockJoin([Place("base", element=ElementRef("ring", "first"), words="its foot")])),
        of(LockJoin([BASE])),
    ),
}


@pytest.mark.parametrize("name", SAME)
def test_notation_is_no_difference(name: str) -> None:
    before, after = SAME[name]
    assert differences(before, after) == []


def _break(change: Callable[[Pattern], object]) -> Pattern:
    pattern = edging()
    change(pattern)
    return pattern


BROKEN: dict[str, tuple[Callable[[Pattern], object], str]] = {
    "count": (lambda p: setattr(p.parts[0].steps[0].work[0], "count", 6), "ring A"),  # type: ignore[union-attr]
    "step left out": (lambda p: p.parts[0].steps.pop(1), "is missing"),
    "step more": (lambda p: p.parts[0].steps.insert(2, Turn()), "a step more"),
    "times": (lambda p: setattr(p.parts[0].steps[4], "times", 6), "7 times"),
    "in a repeat": (lambda p: p.parts[0].steps[4].steps.pop(), "is missing"),  # type: ignore[union-attr]
    "on the last pass": (lambda p: p.parts[0].steps[4].steps[0].passes.clear(), "on the last pass"),  # type: ignore[union-attr]
    "label": (lambda p: setattr(p.parts[0].steps[0], "label", None), "label A"),
    "title": (lambda p: setattr(p, "title", "Other"), "title"),
    "part": (lambda p: p.parts.clear(), "is missing"),
    "part more": (lambda p: p.parts.append(Part("round", 9)), "round 9"),
    "thread": (lambda p: p.threads.pop(), "threads"),
    "note": (lambda p: p.notes.clear(), "notes"),
}


@pytest.mark.parametrize("name", BROKEN)
def test_what_differs_is_said(name: str) -> None:
    change, said = BROKEN[name]
    found = differences(edging(), _break(change))
    assert found
    assert any(said in difference.message for difference in found), found


def test_swapped_labels_differ() -> None:
    before = of(ring(4, label="A"), ring(5, label="B"), joined("A"))
    after = of(ring(4, label="A"), ring(5, label="B"), joined("B"))
    assert "the label A became B" in differences(before, after)[0].message


@pytest.mark.parametrize("at", [0, 2])
def test_a_loss_explains_its_own_step_and_no_other(at: int) -> None:
    before = of(ring(4), Turn(), ring(5))
    after = of(ring(4), Turn(), ring(6))
    found = differences(before, after, [Loss("dropped", "so", before.parts[0].steps[at])])
    assert bool(found) == (at == 0)


def test_a_dropped_step_is_explained() -> None:
    before = of(ring(4), Turn(), ring(5))
    after = of(ring(4), ring(5))
    assert differences(before, after)
    assert differences(before, after, [Loss("dropped", "so", before.parts[0].steps[1])]) == []


def test_no_more_than_the_limit() -> None:
    before = of(*(ring(n) for n in range(1, 50)))
    after = of(*(ring(n + 1) for n in range(1, 50)))
    assert len(differences(before, after, limit=5)) == 5


@pytest.mark.parametrize(("note", "missed"), [("turn at the wb.", True), ("turn at the swb.", False), ("", False)])
def test_an_own_abbreviation_is_missed_where_it_is_used(note: str, missed: bool) -> None:
    own = [Abbreviation("wb", "the window bar")]
    before = Pattern(abbreviations=own, parts=[Part(steps=[Repeat([ring(4), Note(note)], 3)])])
    after = Pattern(parts=before.parts)
    assert bool(differences(before, after)) == missed
