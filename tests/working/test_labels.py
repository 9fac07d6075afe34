"""Elements called by their labels: rings and chains numbered alike, and the same labels again in every motif."""

from __future__ import annotations

from larkshead.model import Element, ElementRef, Join, Part, Pattern, Picot, Place, Stitches
from larkshead.working import work
from larkshead.working.worked import WorkedElement


def _element(kind: str, label: str, *joins: Place) -> Element:
    items = [Join([place]) for place in joins] or [Picot(), Picot()]
    made: list[object] = [Stitches(4)]
    for item in items:
        made += [item, Stitches(4)]
    return Element(kind, made, label=label)  # type: ignore[arg-type]


def _called(kind: str, label: str | None, which: int | None = None) -> Place:
    return Place(picot="last", element=ElementRef(kind, which, label))


def _into(*parts: list[Element]) -> list[WorkedElement | None]:
    """Where each join goes."""
    pattern = Pattern(parts=[Part("motif", number, steps=list(steps)) for number, steps in enumerate(parts, 1)])
    return [join.picot.element if join.picot else None for join in work(pattern).joins]


def _names(found: list[WorkedElement | None]) -> list[tuple[str, str | None, int] | None]:
    return [(one.kind, one.step.label, one.part) if one else None for one in found]


def test_a_ring_and_a_chain_of_one_number_are_told_apart() -> None:
    made = [_element("ring", "1"), _element("chain", "1"), _element("ring", "2"), _element("chain", "2")]
    for which in (None, 2):
        ring = _into([*made, _element("ring", "3", _called("ring", "2", which))])
        chain = _into([*made, _element("ring", "3", _called("chain", "2", which))])
        assert _names(ring) == [("ring", "2", 0)]
        assert _names(chain) == [("chain", "2", 0)]


def test_a_number_is_the_label_where_elements_are_numbered() -> None:
    """A ring without a number between two numbered ones does not put the count out."""
    made = [_element("ring", "1"), Element("ring", [Stitches(3), Picot(), Stitches(3)]), _element("ring", "2")]
    assert _names(_into([*made, _element("ring", "3", _called("ring", None, 2))])) == [("ring", "2", 0)]


def test_the_label_of_this_part_comes_first() -> None:
    first = [_element("ring", "1"), _element("ring", "2")]
    second = [_element("ring", "1"), _element("ring", "2", _called("ring", "1"))]
    assert _names(_into(first, second)) == [("ring", "1", 1)]


def test_a_label_of_an_earlier_part_is_found() -> None:
    assert _names(_into([_element("ring", "A")], [_element("ring", "B", _called("ring", "A"))])) == [("ring", "A", 0)]
