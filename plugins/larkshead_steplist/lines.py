"""One line of a step list taken apart, whatever stands around it.

A line is read on its own into a step, so that a line that comes again is read once (``fresh`` then gives each place
a step object of its own; the work items are shared).
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from copy import copy
from typing import Any

from larkshead.model import (
    Attach,
    BareThread,
    Beads,
    Cut,
    Element,
    ElementKind,
    Halves,
    Join,
    LockJoin,
    MockPicot,
    NoTurn,
    Picot,
    Place,
    Repeat,
    SideChange,
    Step,
    Stitches,
    Switch,
    Turn,
    WorkItem,
)
from larkshead.model.placewords import words_to_place
from larkshead.reading.source import Span
from larkshead.records import dataclass, field
from larkshead_steplist.comments import read_step
from larkshead_steplist.fields import Fields, read_fields, read_length

KINDS: dict[str, ElementKind] = {
    "R": "ring",
    "C": "chain",
    "Ch": "chain",
    "SR": "split ring",
    "SC": "split chain",
    "MR": "mock ring",
    "JR": "josephine ring",
}
ACTIONS = ("TURN", "NOTURN", "BT", "LJ", "MP", "CUT", "ATTACH", "SWITCH")
_REMARK = re.compile(r"\s#(?:\s|$)")
_TOKEN = re.compile(r"\S+")
_HALVES = re.compile(r"h([12]):(\d{1,7})")
_REPEAT = re.compile(r"REP\s+(\?|\d{1,18})\s*\{")
_DETAIL = re.compile(r"[pj]\d{1,6}")
_LABEL = re.compile(r'[^\s;:"#]{1,16}')
_KEYS = {
    "element": frozenset(("label", "thread", "technique", "size", "remark")),
    "REP": frozenset(("label", "until")),
    "SWITCH": frozenset(("to",)),
    "LJ": frozenset(("thread",)),
    "MP": frozenset(("length", "number")),
    "CUT": frozenset(("threads",)),
    "ATTACH": frozenset(("threads",)),
}
_FLAGS = {
    "element": frozenset(("half closed", "continued")),
    "SWITCH": frozenset(("cross", "back")),
    "CUT": frozenset(("tie",)),
    "TURN": frozenset(("page",)),
    "NOTURN": frozenset(("left out", "more")),
    "BT": frozenset(("about",)),
}
_NONE: frozenset[str] = frozenset()
UNSAID = "unsaid"


@dataclass(slots=True)
class Fault:
    """Something wrong in a line: its kind, what to say, and where in the line."""

    kind: str
    message: str
    start: int
    end: int


@dataclass(slots=True)
class Line:
    """A step line as read.

    ``mark``: continued (a piece of the element before), back (the shuttle taken up again after a thrown element), left
    out, more (fillers of a step that differs by pass). ``said`` is a remark that belongs to no field of the step.
    """

    step: Step | None
    items: list[Span] | None = None
    mark: str = ""
    said: str = ""
    faults: list[Fault] = field(default_factory=list)


def fresh(step: Step) -> Step:
    """The same step as an object of its own."""
    if isinstance(step, Element):
        return Element(
            step.kind,
            step.work.copy(),
            step.label,
            step.thread,
            step.technique,
            step.size,
            step.half_closed,
            step.remark,
        )
    if isinstance(step, Turn):
        return Turn(step.way)
    if isinstance(step, (LockJoin, Attach)):
        made = copy(step)
        made.places = step.places.copy()
        return made
    return copy(step)


def read_line(text: str) -> Line:
    """A line's step with its faults; no step where the line is none."""
    parted = _REMARK.split(text, maxsplit=1)
    body = parted[0]
    remark = parted[1].strip() if len(parted) > 1 else ""
    head_found = _TOKEN.search(body)
    head = head_found.group() if head_found else ""
    if head in KINDS and head_found:
        return _element(KINDS[head], body, head_found.end(), remark)
    if head == "REP":
        return _repeat(body, remark)
    if head in ACTIONS and head_found:
        return _action(head, body, head_found.end(), remark)
    start = head_found.start() if head_found else 0
    return Line(
        None,
        faults=[
            Fault(
                "unread-text",
                f"found {_shown(head)} where a step is expected: an element (R, C, SR, SC, MR, JR), an action "
                "(TURN, NOTURN, BT, LJ, MP, CUT, ATTACH, SWITCH), REP n {, ON pass STEP, or }",
                start,
                len(body.rstrip()),
            )
        ],
    )


def _shown(word: str) -> str:
    return repr(word if len(word) <= 40 else word[:37] + "...")


def _fields(remark: str, head: str) -> Fields:
    keys = _KEYS.get(head, _NONE)
    if head == "element":
        return read_fields(remark, lambda key: key in keys or _DETAIL.fullmatch(key) is not None, _FLAGS[head])
    return read_fields(remark, keys.__contains__, _FLAGS.get(head, _NONE))


# Elements


def _element(kind: ElementKind, body: str, at: int, remark: str) -> Line:
    work_text, arrow, place_text = body.partition("->")
    line = Line(None, items=[])
    work: list[WorkItem] = []
    for found in _TOKEN.finditer(work_text, at):
        _token(found.group(), found.start(), found.end(), work, line)
    element = Element(kind, work)
    line.step = element
    joins = [item for item in work if isinstance(item, Join)]
    if arrow:
        _give_places(joins, place_text, len(work_text) + 2, line)
    if any(isinstance(item, SideChange) for item in work) and not kind.startswith("split"):
        column = work_text.index("/")
        line.faults.append(
            Fault("bad-step", "'/' goes to the second thread's side, which only SR and SC have", column, column + 1)
        )
    if remark:
        _element_remark(element, joins, remark, line)
    return line


def _token(word: str, start: int, end: int, work: list[WorkItem], line: Line) -> None:
    items = line.items
    assert items is not None
    before = work[-1] if work else None
    if word.isdecimal() and word.isascii() and len(word) <= 7:
        work.append(Stitches(int(word)))
    elif word == "p":
        work.append(Picot())
    elif word == "lp":
        work.append(Picot("long"))
    elif word == "sp":
        work.append(Picot("small"))
    elif word == "j":
        work.append(Join())
    elif word == "lj":
        work.append(Join(kind="lock"))
    elif word == "b" and isinstance(before, (Picot, Join)):
        before.beads += 1
        items[-1] = Span(items[-1].start, end)
        return
    elif word == "b" and isinstance(before, Beads):
        before.count += 1
        items[-1] = Span(items[-1].start, end)
        return
    elif word == "b":
        work.append(Beads(1))
    elif word == "/":
        work.append(SideChange())
    elif found := _HALVES.fullmatch(word):
        work.append(Halves(int(found.group(1)), int(found.group(2))))
    else:
        line.faults.append(
            Fault(
                "bad-step",
                "an element's work may hold numbers, p, lp, sp, j, lj, b, h1:n, h2:n and /, parted by spaces; "
                f"found {_shown(word)}",
                start,
                end,
            )
        )
        return
    items.append(Span(start, end))


def _give_places(joins: list[Join], text: str, at: int, line: Line) -> None:
    """Share the places after the arrow out among the joins."""
    groups = text.split(";")
    for number, group in enumerate(groups):
        places = _places(group, at, line)
        if number < len(joins):
            joins[number].places = places
        elif places:
            stripped = group.strip()
            column = at + group.index(stripped)
            what = f"{len(joins)} joins" if len(joins) != 1 else "one join"
            line.faults.append(
                Fault(
                    "bad-step",
                    f"{len(groups)} places are named for {what}; {_shown(stripped)} is left over",
                    column,
                    column + len(stripped),
                )
            )
        at += len(group) + 1


def _places(text: str, at: int, line: Line) -> list[Place]:
    """The places of one join, parted by ``&``."""
    if text.strip() in ("", "?"):
        return []
    if text.strip() == UNSAID:
        return [Place()]
    places = []
    for one in text.split("&"):
        words = one.strip()
        try:
            places.append(words_to_place(words))
        except ValueError as fault:
            start = at + len(one) - len(one.lstrip())
            line.faults.append(Fault("bad-step", f"place not understood: {fault}", start, start + len(words)))
            places.append(Place(words=words))
        at += len(one) + 1
    return places


def _element_remark(element: Element, joins: list[Join], remark: str, line: Line) -> None:
    fields = _fields(remark, "element")
    values = fields.values
    said = list(fields.rest)
    if fields.main is not None:
        if fields.quoted or _LABEL.fullmatch(fields.main):
            element.label = fields.main
        else:
            said.insert(0, fields.main)
    element.thread = values.pop("thread", None)
    element.technique = values.pop("technique", "")
    element.size = values.pop("size", "")
    element.label = values.pop("label", element.label)
    element.half_closed = "half closed" in fields.flags
    if "continued" in fields.flags:
        line.mark = "continued"
    if "remark" in values:
        said.append(values.pop("remark"))
    picots = [item for item in element.work if isinstance(item, Picot)]
    for key, value in values.items():
        numbered: Sequence[Picot | Join] = picots if key[0] == "p" else joins
        number = int(key[1:])
        if not 1 <= number <= len(numbered) or not _detail(element.work, numbered[number - 1], value, line):
            said.append(f"{key}: {value}")
    element.remark = "; ".join(said)


def _detail(work: list[WorkItem], item: Picot | Join, text: str, line: Line) -> bool:
    """What a remark says of one picot or join: length, kind, beads that lie on it, folded."""
    for word in text.split(", "):
        beads = re.fullmatch(r"(\d{1,6}) on it", word)
        if beads and int(beads.group(1)) <= item.beads:
            loose = item.beads - int(beads.group(1))
            item.beads -= loose
            if loose:
                at = next(at for at, one in enumerate(work) if one is item)
                work.insert(at + 1, Beads(loose))
                if line.items:
                    line.items.insert(at + 1, line.items[at])
        elif isinstance(item, Join) and word == "folded":
            item.kind = "folded"
        elif isinstance(item, Picot) and re.fullmatch(r"[a-z]+(?: [a-z]+)*", word) and not word.startswith("about"):
            item.kind = word
        elif isinstance(item, Picot):
            try:
                item.length = read_length(word)
            except ValueError:
                return False
        else:
            return False
    return True


# Repeats and actions


def _repeat(body: str, remark: str) -> Line:
    found = _REPEAT.fullmatch(body.strip())
    if not found:
        return Line(
            None,
            faults=[
                Fault(
                    "bad-step",
                    "a repeat is opened by 'REP n {', n the number of times in all, or 'REP ? {' for an open number; "
                    f"found {_shown(body.strip())}",
                    len(body) - len(body.lstrip()),
                    len(body.rstrip()),
                )
            ],
        )
    times = None if found.group(1) == "?" else int(found.group(1))
    line = Line(None)
    if times == 0:
        times = None
        line.faults.append(
            Fault("bad-step", "a repeat worked no times at all; read as left open", body.index("R"), len(body.rstrip()))
        )
    repeat = Repeat([], times)
    if remark:
        fields = _fields(remark, "REP")
        repeat.label = fields.values.get("label", fields.main)
        repeat.until = fields.values.get("until", "")
        line.said = "; ".join(fields.rest)
    line.step = repeat
    return line


def _action(head: str, body: str, at: int, remark: str) -> Line:
    line = Line(None)
    text, arrow, place_text = body[at:].partition("->")
    fields = _fields(remark, head) if remark else Fields()
    values, flags = fields.values, fields.flags
    argument = text.strip()
    if argument and head != "BT":
        column = at + text.index(argument)
        line.faults.append(
            Fault("bad-step", f"nothing stands after {head}; found {_shown(argument)}", column, column + len(argument))
        )
    places: list[Place] = []
    if arrow and head in ("LJ", "ATTACH"):
        start = at + len(text) + 2
        for group in place_text.split(";"):
            places += _places(group, start, line)
            start += len(group) + 1
    elif arrow:
        line.faults.append(
            Fault("bad-step", f"{head} goes to no place; only joins, LJ and ATTACH do", at + len(text), len(body))
        )
    said = [*([fields.main] if fields.main else []), *fields.rest]
    if head == "TURN":
        line.step = Turn("page" if "page" in flags else "reverse")
    elif head == "NOTURN":
        _no_turn(line, remark, flags, said)
    elif head == "BT":
        line.step = _bare_thread(argument, at + len(text) - len(text.lstrip()), flags, said, line)
    elif head == "LJ":
        line.step = LockJoin(places, values.get("thread"))
    elif head == "ATTACH":
        line.step = Attach(places, _thread_list(values))
    elif head == "MP":
        line.step = _mock_picot(values, said)
    elif head == "CUT":
        line.step = Cut("tie" in flags, _thread_list(values))
    else:
        line.step = Switch(values.get("to"), "cross" if "cross" in flags else "change")
        line.mark = "back" if "back" in flags else ""
    line.said = "; ".join(said)
    return line


def _no_turn(line: Line, remark: str, flags: set[str], said: list[str]) -> None:
    """No turn; or, by its remark, nothing at all on this pass, or a step that has no line of its own."""
    line.mark = "left out" if "left out" in flags else "more" if "more" in flags else ""
    standing = read_step(remark) if remark and not line.mark else None
    line.step = NoTurn() if standing is None else standing
    if standing is not None:
        said.clear()


def _bare_thread(argument: str, column: int, flags: set[str], said: list[str], line: Line) -> BareThread:
    step = BareThread()
    if argument and argument != "?":
        try:
            step.length = read_length(argument)
            step.length.about = "about" in flags
        except ValueError:
            line.faults.append(
                Fault(
                    "bad-step",
                    f"a length of bare thread is a number and mm, cm, m, in or yd, or ?; found {_shown(argument)}",
                    column,
                    column + len(argument),
                )
            )
    for at, words in enumerate(said):
        found = re.fullmatch(r"(\d{1,6}) threads?", words)
        if found:
            step.threads = int(found.group(1))
            del said[at]
            break
    return step


def _mock_picot(values: dict[str, str], said: list[str]) -> MockPicot:
    step = MockPicot()
    try:
        if "length" in values:
            step.length = read_length(values["length"])
        if "number" in values:
            step.number = int(values["number"])
    except ValueError:
        said += [f"{key}: {value}" for key, value in values.items()]
    return step


def _thread_list(values: dict[str, Any]) -> list[str]:
    """Thread names parted by commas; a name that holds one is quoted, and then the whole list is."""
    text = values.get("threads")
    if not text:
        return []
    if text.startswith("["):
        import json

        try:
            return [str(name) for name in json.loads(text)]
        except ValueError:
            pass
    return [name.strip() for name in text.split(",")]
