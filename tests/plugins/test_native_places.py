"""Places in words: every place has words that give the same place back."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from strategies import any_place

from larkshead.model import ElementRef, PartRef, Place
from larkshead.model.placewords import place_to_words, words_to_place

odd_text = st.text(max_size=8)
odd_which = st.one_of(st.none(), st.integers(-30, 3000), odd_text)
odd_places = st.builds(
    Place,
    spot=odd_text,
    picot=odd_which,
    element=st.one_of(
        st.none(),
        st.builds(ElementRef, kind=odd_text, which=odd_which, label=st.one_of(st.none(), odd_text), size=odd_text),
    ),
    part=st.one_of(st.none(), st.builds(PartRef, kind=odd_text, which=odd_which, label=st.one_of(st.none(), odd_text))),
    size=odd_text,
    words=odd_text,
)


@given(st.one_of(any_place, odd_places))
@settings(max_examples=400)
def test_every_place_has_words_that_give_it_back(place: Place) -> None:
    words = place_to_words(place)
    assert words_to_place(words) == place
    assert not re.search(r"[;#&\n|]", words)


@pytest.mark.parametrize(
    ("words", "place"),
    [
        ("?", Place()),
        ("previous ring, last picot", Place(picot="last", element=ElementRef("ring", "previous"))),
        ("ring A, picot 2", Place(picot=2, element=ElementRef("ring", label="A"))),
        (
            "round 1 ring 3, middle picot",
            Place(picot="middle", element=ElementRef("ring", 3), part=PartRef("round", 1)),
        ),
        ("next free picot of round 1", Place(picot="free", part=PartRef("round", 1))),
        ("same picot", Place(picot="same")),
        ("ring A, base", Place("base", element=ElementRef("ring", label="A"))),
        ("bare thread", Place("bare thread")),
        ("motif 2 ring 4, picot 3", Place(picot=3, element=ElementRef("ring", 4), part=PartRef("motif", 2))),
        ("fabric", Place("fabric")),
        ("previous large ring", Place(element=ElementRef("ring", "previous", size="large"))),
        ("element B, picot -1", Place(picot=-1, element=ElementRef(label="B"))),
        ("mock ring 2, mock picot", Place("mock picot", element=ElementRef("mock ring", 2))),
        ('ring "4", only picot', Place(picot="only", element=ElementRef("ring", label="4"))),
        ("same picot (said: the corner one)", Place(picot="same", words="the corner one")),
    ],
)
def test_the_words_a_designer_uses(words: str, place: Place) -> None:
    assert words_to_place(words) == place
    assert place_to_words(place) == words


@pytest.mark.parametrize(
    ("typed", "written"),
    [
        ("last picot of previous ring", "previous ring, last picot"),
        ("the last picot of the previous ring", "previous ring, last picot"),
        ("picot 2 of ring A", "ring A, picot 2"),
        ("Previous ring, Last picot", "previous ring, last picot"),
        ("base of ring A", "ring A, base"),
        ("ring 3 of round 1, picot 2", "round 1 ring 3, picot 2"),
    ],
)
def test_other_orders_are_understood(typed: str, written: str) -> None:
    assert place_to_words(words_to_place(typed)) == written


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("the moon", "found 'moon'"),
        ("ring A ring B", "two elements are named"),
        ("picot 1 base", "two picots or spots"),
        ("round 1 row 2", "two parts"),
        ("first ring 2", "named twice"),
        ("", "no place is named"),
        ("same picot (said: so", "a bracket is left open"),
        ("ring (", "not part of a place"),
    ],
)
def test_what_is_no_place_is_said_to_be_none(words: str, said: str) -> None:
    with pytest.raises(ValueError, match=r".") as raised:
        words_to_place(words)
    assert said in str(raised.value)
