"""A pattern as plain data: the dicts, lists, texts and numbers that the native notations hold."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from larkshead.model.lengths import Length
from larkshead.model.pattern import Abbreviation, Allowance, Part, Pattern, Thread
from larkshead.model.places import Place
from larkshead.model.placewords import place_to_words
from larkshead.model.steps import (
    Attach,
    BareThread,
    ByPass,
    Cut,
    Element,
    HideEnds,
    LockJoin,
    MockPicot,
    Note,
    NoTurn,
    Repeat,
    StatedTotal,
    Step,
    Switch,
    Turn,
)
from larkshead.model.work import Beads, Halves, Join, Picot, SideChange, Stitches, Thrown, WorkItem

Plain = dict[str, Any]
SCOPES = {"element": "element", "sofar": "so far", "part": "part", "pattern": "pattern"}
JOIN_NAMES = {"picot": "join", "lock": "lock join", "folded": "folded join"}
PICOT_NAMES = {"": "picot", "small": "small picot", "long": "long picot"}
PICOT_SIGNS = {"": "p", "small": "sp", "long": "lp"}
HALF_NAMES = {1: "first halves", 2: "second halves"}


def pattern_to_plain(pattern: Pattern) -> Plain:
    """The plain data of a pattern; what is empty or usual is left out."""
    plain = _kept(
        {
            "title": pattern.title,
            "materials": list(pattern.materials),
            "threads": [_thread(thread) for thread in pattern.threads],
            "abbreviations": [_abbreviation(entry) for entry in pattern.abbreviations],
            "picot length": length_to_plain(pattern.picot_length) if pattern.picot_length else "",
            "sizes": list(pattern.sizes),
            "finished size": pattern.finished_size,
            "habits": dict(pattern.habits),
            "notes": list(pattern.notes),
            "allowances": [_allowance(allowance) for allowance in pattern.allowances],
        }
    )
    if len(pattern.parts) == 1 and pattern.parts[0] == Part(steps=pattern.parts[0].steps):
        plain["steps"] = steps_to_plain(pattern.parts[0].steps)
    elif pattern.parts:
        plain["parts"] = [_part(part) for part in pattern.parts]
    return plain


def length_to_plain(length: Length) -> str:
    """``3 mm``, ``about 1/4 in``, ``5..10 mm``."""
    about = "about " if length.about else ""
    reach = f"..{length.upto}" if length.upto else ""
    return f"{about}{length.value}{reach} {length.unit}".rstrip()


def steps_to_plain(steps: list[Step]) -> list[Any]:
    """The plain data of steps."""
    return [step_to_plain(step) for step in steps]


def step_to_plain(step: Step) -> Any:
    """The plain data of one step: a text where there is nothing to add, else a dict."""
    return _STEPS[type(step)](step)


def _kept(plain: Plain) -> Plain:
    return {key: value for key, value in plain.items() if value not in ("", [], {}, None, False)}


# What surrounds the steps


def _thread(thread: Thread) -> Plain:
    plain: Plain = {thread.role: thread.name}
    plain |= _kept({"color": thread.color, "size": thread.size})
    if thread.length is not None:
        plain["length"] = length_to_plain(thread.length)
    if thread.beads is not None:
        plain["beads"] = thread.beads
    if thread.joined_to is not None:
        plain["tied to" if thread.tied else "wound from"] = thread.joined_to
    elif thread.tied:
        plain["tied"] = True
    return plain


def _abbreviation(entry: Abbreviation) -> Plain:
    plain = {"form": entry.form, "means": entry.meaning}
    if entry.concept is not None:
        plain["concept"] = entry.concept
    return plain


def _allowance(allowance: Allowance) -> Plain:
    return {"rule": allowance.rule} | _kept({"where": allowance.where, "because": allowance.because})


def _part(part: Part) -> Plain:
    plain: Plain = {}
    if part.kind and not part.kind[-1].isdecimal() and part.kind == part.kind.strip():
        plain["part"] = part.kind if part.number is None else f"{part.kind} {part.number}"
    else:
        plain |= _kept({"kind": part.kind})
        if part.number is not None:
            plain["number"] = part.number
    plain |= _kept({"name": part.name})
    if part.times != 1:
        plain["times"] = part.times
    plain |= _kept({"notes": list(part.notes)})
    plain["steps"] = steps_to_plain(part.steps)
    return plain


# Elements


def _element(element: Element) -> Plain:
    work = [_item(item) for item in element.work]
    plain: Plain = {element.kind: work} if element.label is None else {element.kind: element.label, "work": work}
    if element.thread is not None:
        plain["thread"] = element.thread
    return plain | _kept(
        {
            "technique": element.technique,
            "size": element.size,
            "half closed": element.half_closed,
            "remark": element.remark,
        }
    )


def _item(item: WorkItem) -> Any:
    if isinstance(item, Stitches):
        return item.count
    if isinstance(item, Picot):
        if item.length is None and not item.beads and not item.kind:
            return PICOT_SIGNS[item.size]
        length = None if item.length is None else length_to_plain(item.length)
        return {PICOT_NAMES[item.size]: length} | _kept({"beads": item.beads or None, "kind": item.kind})
    if isinstance(item, Join):
        if not item.places and not item.beads and item.kind != "folded":
            return "j" if item.kind == "picot" else "lj"
        return {JOIN_NAMES[item.kind]: _places(item.places)} | _kept({"beads": item.beads or None})
    if isinstance(item, Beads):
        return "b" if item.count == 1 else {"beads": item.count}
    if isinstance(item, Halves):
        return {HALF_NAMES[item.half]: item.count}
    if isinstance(item, SideChange):
        return "/"
    assert isinstance(item, Thrown)
    return {"thrown": _element(item.element)}


def _places(places: list[Place]) -> str | list[str]:
    words = [place_to_words(place) for place in places]
    return words[0] if len(words) == 1 else words


# Actions and repeats


def _turn(step: Turn) -> Any:
    return "turn" if step.way == "reverse" else {"turn": step.way}


def _no_turn(step: NoTurn) -> Any:
    return "do not turn"


def _bare_thread(step: BareThread) -> Any:
    if step.length is None and step.threads == 1:
        return "bare thread"
    plain: Plain = {"bare thread": None if step.length is None else length_to_plain(step.length)}
    return plain if step.threads == 1 else plain | {"threads": step.threads}


def _lock_join(step: LockJoin) -> Any:
    if not step.places and step.thread is None:
        return "lock join"
    plain: Plain = {"lock join": _places(step.places)}
    return plain if step.thread is None else plain | {"thread": step.thread}


def _mock_picot(step: MockPicot) -> Any:
    if step.length is None and step.number is None:
        return "mock picot"
    plain: Plain = {"mock picot": None if step.length is None else length_to_plain(step.length)}
    return plain if step.number is None else plain | {"number": step.number}


def _switch(step: Switch) -> Any:
    name = "switch" if step.way == "change" else "cross threads"
    return name if step.to is None else {name: step.to}


def _attach(step: Attach) -> Any:
    if not step.places and not step.threads:
        return "attach"
    return {"attach": _places(step.places)} | _kept({"threads": list(step.threads)})


def _cut(step: Cut) -> Any:
    name = "cut and tie" if step.tie else "cut"
    return {name: list(step.threads)} if step.threads else name


def _hide_ends(step: HideEnds) -> Any:
    if not step.way and not step.remark:
        return "hide ends"
    return {"hide ends": step.way or None} | _kept({"remark": step.remark})


def _note(step: Note) -> Any:
    return {"note": step.text}


def _total(step: StatedTotal) -> Any:
    plain: Plain = {"total": {name.replace("_", " "): number for name, number in step.counts.items()}}
    if step.scope != "pattern":
        plain["scope"] = SCOPES[step.scope]
    return plain | _kept({"each": step.each, "of": step.of, "about": step.about, "words": step.words})


def _repeat(step: Repeat) -> Any:
    plain: Plain = {"repeat": "open" if step.times is None else step.times}
    if step.until:
        plain["until"] = step.until
    if step.label is not None:
        plain["label"] = step.label
    return plain | {"steps": steps_to_plain(step.steps)}


def _by_pass(step: ByPass) -> Any:
    plain = step_to_plain(step.step)
    if not isinstance(plain, dict) or "on" in plain:
        plain = {"step": plain}
    on: Plain = {}
    for key, steps in step.passes.items():
        made = steps_to_plain(steps)
        on[str(key)] = made[0] if len(made) == 1 else made
    return plain | {"on": on}


_STEPS: dict[type, Callable[[Any], Any]] = {
    Element: _element,
    Turn: _turn,
    NoTurn: _no_turn,
    BareThread: _bare_thread,
    LockJoin: _lock_join,
    MockPicot: _mock_picot,
    Switch: _switch,
    Attach: _attach,
    Cut: _cut,
    HideEnds: _hide_ends,
    Note: _note,
    StatedTotal: _total,
    Repeat: _repeat,
    ByPass: _by_pass,
}
