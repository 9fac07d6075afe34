"""Patterns of our own that between them reach every kind of step, item and place: for snapshots and round trips."""

from __future__ import annotations

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
from larkshead.model.work import WorkItem

PREVIOUS = Place(picot="last", element=ElementRef("ring", "previous"))
FIRST = Place(picot="first", element=ElementRef("ring", "first"))
BASE = Place("base", element=ElementRef("ring", "first"))


def counts(*parts: int | WorkItem) -> list[WorkItem]:
    """Work from counts, with ordinary picots between counts that stand side by side."""
    work: list[WorkItem] = []
    for part in parts:
        if isinstance(part, int):
            if work and isinstance(work[-1], Stitches):
                work.append(Picot())
            work.append(Stitches(part))
        else:
            work.append(part)
    return work


def edging() -> Pattern:
    """A shuttle-and-ball edging: rings and chains, a repeat, joins to the ring before, the last ring to the first."""
    ring = Element("ring", counts(5, Join([PREVIOUS]), 5, 5, 5))
    last = Element("ring", counts(5, Join([PREVIOUS]), 5, 5, Join([FIRST], "folded"), 5))
    return Pattern(
        title="Hedge-sparrow border",
        materials=["white thread, size 20", "a fine hook"],
        threads=[Thread("shuttle", "shuttle 1", "white", "20", Length("5", "m"), None, "ball"), Thread("ball", "ball")],
        picot_length=Length("3", "mm"),
        finished_size="2 cm deep",
        parts=[
            Part(
                steps=[
                    Element("ring", counts(5, 5, 5, 5), label="A"),
                    Turn(),
                    Element("chain", counts(6, 6)),
                    Turn(),
                    Repeat([ByPass(ring, {"last": [last]}), Turn(), Element("chain", counts(6, 6)), Turn()], 7),
                    LockJoin([BASE]),
                    Cut(tie=True),
                    HideEnds("sewn in"),
                ]
            )
        ],
        notes=["Press under a damp cloth."],
    )


def star() -> Pattern:
    """Two rounds with one shuttle: mock picot, bare thread, lock joins, a split ring as climb, ends drawn in."""
    centre = Place(picot="next", element=ElementRef("ring", "first"))
    climb = Element("split ring", counts(4, 4, SideChange(), 4, 4), thread="shuttle 1 over tail")
    return Pattern(
        title="Frost on the pane",
        threads=[Thread("shuttle", "shuttle 1"), Thread("tail", "tail", length=Length("60", "cm", "80", True))],
        allowances=[Allowance("unlike-sisters", "ring B", "the climb differs from its sisters")],
        parts=[
            Part("round", 1, steps=[
                Element("ring", counts(3, 3, 3, 3, 3, 3)),
                MockPicot(Length("5", "mm"), 6),
                Repeat([
                    BareThread(Length("4", "mm")),
                    Element("ring", counts(3, Picot("small"), 3), label="B"),
                    Turn(),
                    BareThread(Length("4", "mm")),
                    LockJoin([centre]),
                    Turn(),
                ], 5),
                climb,
                StatedTotal({"rings": 7, "ds": 64}, "part"),
            ]),
            Part("round", 2, notes=["Keep the tail behind."], steps=[
                Repeat([
                    Element("ring", counts(4, Join([Place(picot="same")]), 4), size="large", technique="onion"),
                    NoTurn(),
                    Element("ring", counts(2, Picot("long", Length("10", "mm")), 2), half_closed=True, size="small"),
                    Turn("page"),
                ], None, "all picots are joined"),
                Cut(),
                HideEnds("drawn in"),
            ]),
        ],
    )  # fmt: skip


def beaded() -> Pattern:
    """Two shuttles and beads: a thrown ring, beads on picots, on the core and in joins, halves, changes of shuttle."""
    tiny = Element("ring", counts(3, 3), thread="shuttle 2")
    corner = Place(picot=2, element=ElementRef("ring", None, "A"), part=PartRef("motif", "previous"))
    return Pattern(
        title="Rain on the sill",
        threads=[
            Thread("shuttle", "shuttle 1", "grey", beads=24),
            Thread("shuttle", "shuttle 2", "green", joined_to="shuttle 1", tied=True),
        ],
        abbreviations=[Abbreviation("wb", "the window bar", None), Abbreviation("r", "ring", "ring")],
        sizes=["15 (17, 19)"],
        habits={"join": "counted"},
        parts=[
            Part("motif", name="Drop", times=4, steps=[
                Attach([Place(picot="any", part=PartRef("round", 1))], ["shuttle 1", "ball"]),
                Element("ring", counts(4, Picot(beads=1), 4, Beads(2), 4), label="A", thread="shuttle 1"),
                Note("slide the beads close"),
                Switch("shuttle 2"),
                Element("josephine ring", [Halves(1, 12)]),
                Element("chain", [Halves(2, 8), Picot(kind="twisted"), Stitches(5)]),
                Switch(way="cross"),
                Element("chain", counts(4, Thrown(tiny), 4, Join([corner], beads=1), 4), remark="it stands up"),
                Element("mock ring", counts(5, Join([PREVIOUS, FIRST]), 5), label="3"),
                Element("split chain", counts(6, SideChange(), 6)),
                LockJoin([Place("bare thread", "next")], thread="shuttle 2"),
            ]),
            Part("edging", steps=[
                Repeat([
                    Element("ring", counts(6, 6)),
                    Turn(),
                    Repeat([Element("chain", counts(3, 3)), LockJoin([Place("mock picot")])], 2),
                    ByPass(Turn(), {"last": [], 2: [NoTurn(), Note("so it lies flat")]}),
                ], 3),
                StatedTotal({"ds": 12}, "element", each=True, of="ring"),
                StatedTotal({"rings": 3, "picots": 9}, "pattern", about=True),
                Element("ring", [Picot(), Picot("small"), Stitches(4)]),
                Element("ring", counts(4, Join([Place("fabric")], "lock"), 4)),
                HideEnds("worked over"),
            ]),
        ],
    )  # fmt: skip


ALL = {"edging": edging, "star": star, "beaded": beaded}
