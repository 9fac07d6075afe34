"""Hypothesis strategies for patterns that reach every kind of step, work item and place.

``patterns()`` is the whole model, free text and all. Every writer is held to it, less what it reports as lost. The
strategies keep to what can mean something: one side change in a split element and none elsewhere, beads in one item and
not in two side by side, no by-pass step of a by-pass step, a place that names something or carries the text's words.
"""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

from larkshead.model import (
    Abbreviation,
    Allowance,
    Attach,
    BareThread,
    Beads,
    ByPass,
    Cut,
    Element,
    ElementRef,
    Halves,
    HideEnds,
    Join,
    Length,
    LockJoin,
    MockPicot,
    Note,
    NoTurn,
    Part,
    PartRef,
    Pattern,
    Picot,
    Place,
    Repeat,
    SideChange,
    StatedTotal,
    Stitches,
    Switch,
    Thread,
    Thrown,
    Turn,
)
from larkshead.model.places import PICOTS, RELATIVE, SPOTS

PLAIN_KINDS = ("ring", "chain", "mock ring", "josephine ring")
SPLIT_KINDS = ("split ring", "split chain")
PART_KINDS = ("", "round", "row", "motif", "edging", "centre", "corner")
COUNTED = (
    "rings", "chains", "split_rings", "split_chains", "mock_rings", "josephine_rings",
    "ds", "picots", "joins", "lock_joins", "beads",
)  # fmt: skip

_TRICKY = (
    "Round 1", "R 4 p 4", "TURN", "}", "# mark", "a; b", 'say "so"', "key: value", "thrown", "continued", "- list",
    "[4, p]", "{a}", "no", "null", "1.5", "5 mm", "&x *x", "two\nlines", "trailing ", " leading",
    "\u00e9t\u00e9 \u2013 \u201cfin\u201d",
    "said: so", "more", "left out", "(said: x)", "a # b", "Title: so", "\\n", "\t", "\x85", "\ufeff", "%",
    "@", "!tag", "?",
)  # fmt: skip

words = st.sampled_from(
    ("leave a tail", "draw up", "on the wrong side", "of the first flower", "see the drawing", "work loosely")
)
free_text = st.one_of(words, st.sampled_from(_TRICKY), st.text(min_size=1, max_size=24))
maybe_text = st.one_of(st.just(""), free_text)
labels = st.one_of(st.sampled_from(("A", "B", "C2", "r1", "a", "ring", "1", "R1")), free_text)
thread_names = st.one_of(
    st.sampled_from(("shuttle 1", "shuttle 2", "ball", "tail", "shuttle 2 over shuttle 1")), free_text
)
counts = st.integers(1, 24)
lengths = st.builds(
    Length,
    value=st.sampled_from(("2", "3", "0.5", "1/4", "1 1/2", "2,5", "10")),
    unit=st.sampled_from(("mm", "cm", "m", "in", "yd", "")),
    upto=st.one_of(st.none(), st.sampled_from(("6", "12.5"))),
    about=st.booleans(),
)
maybe_length = st.one_of(st.none(), lengths)


def _which(names: tuple[str, ...]) -> st.SearchStrategy[Any]:
    return st.one_of(st.none(), st.integers(1, 40), st.sampled_from(names))


element_refs = st.builds(
    ElementRef,
    kind=st.sampled_from(("", *PLAIN_KINDS, *SPLIT_KINDS)),
    which=_which(RELATIVE),
    label=st.one_of(st.none(), labels),
    size=st.sampled_from(("", "", "large", "small")),
)
part_refs = st.builds(
    PartRef, kind=st.sampled_from(PART_KINDS), which=_which(RELATIVE), label=st.one_of(st.none(), st.none(), labels)
)
any_place = st.builds(
    Place,
    spot=st.one_of(st.just("picot"), st.sampled_from(SPOTS)),
    picot=st.one_of(_which(PICOTS), st.integers(-5, -1)),
    element=st.one_of(st.none(), element_refs),
    part=st.one_of(st.none(), part_refs),
    size=st.sampled_from(("", "", "long", "small")),
    words=st.one_of(st.just(""), st.just(""), free_text),
)
places = any_place.filter(lambda place: place != Place())
place_lists = st.one_of(st.just([]), st.lists(places, min_size=1, max_size=2))

picots = st.builds(
    Picot,
    size=st.sampled_from(("", "", "small", "long")),
    length=st.one_of(st.none(), st.none(), lengths),
    beads=st.one_of(st.just(0), st.integers(0, 3)),
    kind=st.sampled_from(("", "", "", "twisted", "downward", "graduated")),
)
joins = st.builds(
    Join,
    places=place_lists,
    kind=st.sampled_from(("picot", "picot", "lock", "folded")),
    beads=st.one_of(st.just(0), st.integers(0, 2)),
)
stitches = st.builds(Stitches, count=counts)
halves = st.builds(Halves, half=st.sampled_from((1, 2)), count=counts)
beads = st.builds(Beads, count=st.integers(1, 3))


def _one_bead_item(work: list[Any]) -> list[Any]:
    """Work in which beads stand together in one item."""
    return [
        item for at, item in enumerate(work) if not (isinstance(item, Beads) and at and isinstance(work[at - 1], Beads))
    ]


def _work(thrown: st.SearchStrategy[Any] | None, max_size: int = 7) -> st.SearchStrategy[list[Any]]:
    kinds = [stitches, stitches, picots, joins, beads, halves]
    if thrown is not None:
        kinds.append(thrown)
    return st.lists(st.one_of(*kinds), max_size=max_size).map(_one_bead_item)


def elements(depth: int = 1) -> st.SearchStrategy[Element]:
    """Elements of every kind; thrown elements ``depth`` deep."""
    thrown = st.builds(Thrown, element=elements(depth - 1)) if depth else None
    plain = _work(thrown)
    split = st.tuples(_work(None, 4), _work(None, 4)).map(lambda sides: [*sides[0], SideChange(), *sides[1]])
    said: dict[str, Any] = {
        "label": st.one_of(st.none(), labels),
        "thread": st.one_of(st.none(), st.none(), thread_names),
        "technique": st.one_of(
            st.just(""), st.just(""), st.sampled_from(("onion", "dimpled", "padded", "roll")), free_text
        ),
        "size": st.sampled_from(("", "", "large", "small")),
        "half_closed": st.sampled_from((False, False, True)),
        "remark": st.one_of(st.just(""), st.just(""), free_text),
    }
    return st.one_of(
        st.builds(Element, kind=st.sampled_from(PLAIN_KINDS), work=plain, **said),
        st.builds(Element, kind=st.sampled_from(SPLIT_KINDS), work=split, **said),
    )


totals = st.builds(
    StatedTotal,
    counts=st.dictionaries(st.sampled_from(COUNTED), st.integers(0, 2000), min_size=1, max_size=3),
    scope=st.sampled_from(("element", "sofar", "part", "pattern")),
    each=st.booleans(),
    of=st.one_of(st.just(""), labels),
    about=st.booleans(),
    words=maybe_text,
)
actions = st.one_of(
    st.builds(Turn, way=st.sampled_from(("reverse", "reverse", "page"))),
    st.builds(NoTurn),
    st.builds(BareThread, length=maybe_length, threads=st.sampled_from((1, 1, 2))),
    st.builds(LockJoin, places=place_lists, thread=st.one_of(st.none(), thread_names)),
    st.builds(MockPicot, length=maybe_length, number=st.one_of(st.none(), counts)),
    st.builds(Switch, to=st.one_of(st.none(), thread_names), way=st.sampled_from(("change", "cross"))),
    st.builds(Attach, places=place_lists, threads=st.lists(thread_names, max_size=2)),
    st.builds(Cut, tie=st.booleans(), threads=st.lists(thread_names, max_size=2)),
    st.builds(HideEnds, way=st.sampled_from(("", "sewn in", "worked over", "drawn in")), remark=maybe_text),
    st.builds(Note, text=free_text),
    totals,
)
plain_steps = st.one_of(elements(), elements(), actions)


def _repeats(steps: st.SearchStrategy[Any]) -> st.SearchStrategy[Repeat]:
    return st.builds(
        Repeat,
        steps=st.lists(steps, min_size=1, max_size=4),
        times=st.one_of(st.none(), st.integers(1, 8)),
        until=st.one_of(st.just(""), st.just(""), free_text),
        label=st.one_of(st.none(), labels),
    )


def _by_pass(steps: st.SearchStrategy[Any]) -> st.SearchStrategy[ByPass]:
    passes = st.one_of(st.sampled_from(("first", "last")), st.integers(1, 6))
    return st.builds(
        ByPass, step=steps, passes=st.dictionaries(passes, st.lists(steps, max_size=3), min_size=1, max_size=3)
    )


inner_repeats = _repeats(st.one_of(plain_steps, _by_pass(plain_steps)))
repeats = _repeats(
    st.one_of(
        plain_steps, plain_steps, _by_pass(plain_steps), _by_pass(st.one_of(plain_steps, inner_repeats)), inner_repeats
    )
)
steps = st.one_of(plain_steps, plain_steps, repeats)

parts = st.builds(
    Part,
    kind=st.one_of(st.sampled_from(PART_KINDS), labels),
    number=st.one_of(st.none(), st.integers(1, 12)),
    name=maybe_text,
    times=st.sampled_from((1, 1, 1, 4)),
    steps=st.lists(steps, max_size=6),
    notes=st.lists(free_text, max_size=2),
)
threads = st.builds(
    Thread,
    role=st.sampled_from(("shuttle", "ball", "tail")),
    name=thread_names,
    color=maybe_text,
    size=maybe_text,
    length=maybe_length,
    beads=st.one_of(st.none(), st.integers(0, 90)),
    joined_to=st.one_of(st.none(), thread_names),
    tied=st.booleans(),
)


def patterns(max_parts: int = 3) -> st.SearchStrategy[Pattern]:
    """Whole patterns with everything that surrounds the steps."""
    return st.builds(
        Pattern,
        title=maybe_text,
        materials=st.lists(free_text, max_size=2),
        threads=st.lists(threads, max_size=2),
        abbreviations=st.lists(
            st.builds(Abbreviation, form=free_text, meaning=free_text, concept=st.one_of(st.none(), free_text)),
            max_size=2,
        ),
        picot_length=maybe_length,
        sizes=st.lists(free_text, max_size=2),
        finished_size=maybe_text,
        habits=st.dictionaries(st.one_of(st.sampled_from(("join", "separated by")), free_text), free_text, max_size=2),
        parts=st.lists(parts, max_size=max_parts),
        notes=st.lists(free_text, max_size=2),
        allowances=st.lists(st.builds(Allowance, rule=free_text, where=maybe_text, because=maybe_text), max_size=2),
    )
