from __future__ import annotations

from larkshead.linting import shape_of
from larkshead.model import Beads, Element, Halves, Join, Picot, SideChange, Stitches


def test_counts_stand_between_marks() -> None:
    shape = shape_of(Element("ring", [Stitches(5), Join(), Stitches(3), Stitches(2), Picot(), Stitches(5)]))
    assert shape.counts == (5, 5, 5)
    assert shape.marks == ("j", "p") and shape.alike == ("p", "p")
    assert shape.items == (1, 4)
    assert shape.mirrors and shape.ds == 15
    assert str(shape) == "5+5-5"


def test_marks_without_a_stitch_between_are_one() -> None:
    shape = shape_of(Element("chain", [Stitches(3), Picot(beads=1), Beads(2), Stitches(3)]))
    assert shape.counts == (3, 3) and shape.marks == ("pb",) and shape.beads == (3,)


def test_a_join_that_fastens_the_end_of_a_chain_is_no_mark() -> None:
    chain = shape_of(Element("chain", [Stitches(5), Picot(), Stitches(5), Join(kind="lock")]))
    assert chain.counts == (5, 5) and chain.fastened == 3
    ring = shape_of(Element("ring", [Stitches(5), Join()]))
    assert ring.marks == ("j",) and ring.fastened == -1


def test_sides_of_a_split_ring() -> None:
    shape = shape_of(
        Element("split ring", [Stitches(4), Picot(), Stitches(4), SideChange(), Stitches(3), Picot(), Stitches(4)])
    )
    assert shape.sides() == [8, 7]


def test_half_stitches_are_kept_apart() -> None:
    shape = shape_of(Element("josephine ring", [Halves(1, 12)]))
    assert shape.halves == 12 and shape.ds == 0
