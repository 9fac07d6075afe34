"""Records behave as the standard library's data classes do."""

from __future__ import annotations

import copy
import dataclasses
import pickle
from dataclasses import FrozenInstanceError, fields, is_dataclass, replace
from typing import Any

import pytest

from larkshead import records
from larkshead.model import Element, Picot, Place, Repeat, Stitches


@records.dataclass(slots=True)
class Shuttle:
    """A record with every kind of field."""

    name: str
    color: str = "ecru"
    beads: list[int] = records.field(default_factory=list)
    secret: object = records.field(default=None, repr=False, compare=False)


@records.dataclass(slots=True)
class LongShuttle(Shuttle):
    """A record that extends another."""

    length: float = 1.5

    @property
    def long(self) -> bool:
        """A property beside fields."""
        return self.length > 1


@records.dataclass(frozen=True, slots=True)
class Knot:
    """A record that cannot be changed."""

    name: str
    turns: int = 1


@dataclasses.dataclass(slots=True)
class StandardShuttle:
    """The same as Shuttle, by the standard library."""

    name: str
    color: str = "ecru"
    beads: list[int] = dataclasses.field(default_factory=list)
    secret: object = dataclasses.field(default=None, repr=False, compare=False)


CALLS: list[tuple[tuple[Any, ...], dict[str, Any]]] = [
    (("a",), {}),
    (("a", "red"), {}),
    ((), {"name": "b", "beads": [1]}),
    (("c",), {"secret": 5}),
]


@pytest.mark.parametrize(("args", "kwargs"), CALLS)
def test_objects_are_as_the_standard_library_makes_them(args: tuple[Any, ...], kwargs: dict[str, Any]) -> None:
    mine, standard = Shuttle(*args, **kwargs), StandardShuttle(*args, **kwargs)
    assert repr(mine) == repr(standard).replace("Standard", "")
    assert dataclasses.asdict(mine) == dataclasses.asdict(standard)
    assert mine == Shuttle(*args, **kwargs)
    assert mine != standard


@pytest.mark.parametrize(("args", "kwargs"), [((), {}), (("a", "b", [], 1, 2), {}), (("a",), {"colour": "red"})])
def test_wrong_arguments_are_refused(args: tuple[Any, ...], kwargs: dict[str, Any]) -> None:
    for made in (Shuttle, StandardShuttle):
        with pytest.raises(TypeError):
            made(*args, **kwargs)


def test_fields_are_those_of_the_standard_library() -> None:
    mine = [(f.name, f.type, f.default, f.default_factory, f.repr, f.compare) for f in fields(Shuttle)]
    assert mine == [(f.name, f.type, f.default, f.default_factory, f.repr, f.compare) for f in fields(StandardShuttle)]
    assert is_dataclass(Shuttle) and is_dataclass(Shuttle("a"))
    assert [f.name for f in fields(LongShuttle)] == ["name", "color", "beads", "secret", "length"]


def test_lists_are_not_shared_and_uncompared_fields_are_not_compared() -> None:
    first, second = Shuttle("a"), Shuttle("a", secret=object())
    first.beads.append(1)
    assert second.beads == []
    first.beads.clear()
    assert first == second


def test_a_shared_default_is_refused() -> None:
    with pytest.raises(TypeError, match="shared"):

        @records.dataclass(slots=True)
        class Wrong:
            beads: list[int] = []  # noqa: RUF012


def test_slots_hold() -> None:
    with pytest.raises(AttributeError):
        Shuttle("a").colour = "red"  # type: ignore[attr-defined]
    with pytest.raises(AttributeError):
        LongShuttle("a").colour = "red"  # type: ignore[attr-defined]


def test_extended_records() -> None:
    made = LongShuttle("a", length=2)
    assert (made.name, made.color, made.length, made.long) == ("a", "ecru", 2, True)
    assert made != Shuttle("a")
    assert replace(made, color="red") == LongShuttle("a", "red", length=2)


def test_frozen_records() -> None:
    knot = Knot("double", 2)
    with pytest.raises(FrozenInstanceError):
        knot.turns = 3  # type: ignore[misc]
    with pytest.raises(FrozenInstanceError):
        del knot.turns
    assert {knot: 1}[Knot("double", 2)] == 1
    assert pickle.loads(pickle.dumps(knot)) == copy.deepcopy(knot) == knot


def test_plain_records_are_not_hashable() -> None:
    with pytest.raises(TypeError):
        hash(Shuttle("a"))


def test_copies_and_patterns() -> None:
    repeat = Repeat([Element("ring", [Stitches(5), Picot(), Stitches(5)])], 3)
    assert copy.deepcopy(repeat) == pickle.loads(pickle.dumps(repeat)) == repeat
    match repeat.steps[0]:
        case Element("ring", [Stitches(count), *_]):
            assert count == 5
        case _:
            pytest.fail("records do not match")


def test_a_circle_can_be_shown() -> None:
    shuttle = Shuttle("a")
    shuttle.beads.append(shuttle)  # type: ignore[arg-type]
    assert "..." in repr(shuttle)


def test_properties_of_model_records_work() -> None:
    assert Place().unsaid
    assert not Place(picot=2).unsaid
