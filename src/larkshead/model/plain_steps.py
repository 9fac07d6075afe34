"""Steps from plain data."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

from larkshead.model.plain_out import HALF_NAMES, JOIN_NAMES, PICOT_NAMES, SCOPES
from larkshead.model.plain_values import MISSING, Key, Path, Values, shown
from larkshead.model.steps import (
    ELEMENT_KINDS,
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

NoteStep = Callable[[object, Path, Path | None], None]

# Repeats within repeats and elements thrown off elements: no pattern comes near it, and what walks the model stays
# within the stack.
DEEPEST = 100
_SIGNS: dict[str, Callable[[], WorkItem]] = {
    "p": Picot,
    "sp": lambda: Picot("small"),
    "lp": lambda: Picot("long"),
    "j": Join,
    "lj": lambda: Join(kind="lock"),
    "b": Beads,
    "/": SideChange,
}
_WORDS: dict[str, Callable[[], Step]] = {
    "turn": Turn,
    "do not turn": NoTurn,
    "bare thread": BareThread,
    "lock join": LockJoin,
    "mock picot": MockPicot,
    "switch": Switch,
    "cross threads": lambda: Switch(way="cross"),
    "attach": Attach,
    "cut": Cut,
    "cut and tie": lambda: Cut(tie=True),
    "hide ends": HideEnds,
}
_JOINS = {name: kind for kind, name in JOIN_NAMES.items()}
_PICOTS = {name: size for size, name in PICOT_NAMES.items()}
_HALVES = {name: half for half, name in HALF_NAMES.items()}
_SCOPES = {name: scope for scope, name in SCOPES.items()}
_COUNTED = (
    "rings", "chains", "split rings", "split chains", "mock rings", "josephine rings",
    "ds", "picots", "joins", "lock joins", "beads",
)  # fmt: skip
_ELEMENT_KEYS = ("work", "thread", "technique", "size", "half closed", "remark")
_WORK_HOLDS = (
    "numbers, p, lp, sp, j, lj, b, /, and groups that begin with join, lock join, folded join, picot, long picot, "
    "small picot, beads, first halves, second halves or thrown"
)


class StepReader(Values):
    """Reads steps; ``note`` is told of each step with its path, and the path of its work where it has any."""

    def __init__(self, fault: Callable[[Path, str], None], note: NoteStep) -> None:
        super().__init__(fault)
        self.note = note
        self.depth = 0

    def steps(self, value: Any, path: Path) -> list[Step]:
        """A list of steps; a step that cannot be read is reported and left out."""
        if not isinstance(value, list):
            self.wrong(path, "steps are a list", value)
            return []
        if self.depth >= DEEPEST:
            self.fault(path, f"steps stand within steps more than {DEEPEST} deep")
            return []
        self.depth += 1
        made = [self.step(one, (*path, at)) for at, one in enumerate(value)]
        self.depth -= 1
        return [step for step in made if step is not None]

    def step(self, value: Any, path: Path) -> Step | None:
        """One step; None where it cannot be read."""
        if isinstance(value, str) and value in _WORDS:
            step = _WORDS[value]()
            self.note(step, path, None)
            return step
        if isinstance(value, dict):
            if "on" in value or "step" in value:
                return self.by_pass(value, path)
            for key in value:
                read = _GROUPS.get(key)
                if read is not None:
                    made = read(self, value, path)
                    if made is not None and not isinstance(made, Element):
                        self.note(made, path, None)
                    return made
        self.wrong(
            path,
            f"a step is one of {', '.join(_WORDS)}, or a group that begins with "
            f"{', '.join(key for key in _GROUPS if key not in _WORDS)}",
            value,
        )
        return None

    def by_pass(self, data: dict[Any, Any], path: Path) -> Step | None:
        if "step" in data:
            self.known_keys(data, path, "a step that differs by pass", ("step", "on"))
            step = self.step(data["step"], (*path, "step"))
        else:
            step = self.step({key: value for key, value in data.items() if key != "on"}, path)
        on = data.get("on", MISSING)
        if not isinstance(on, dict):
            what = "nothing" if on is MISSING else shown(on)
            self.fault((*path, "on") if "on" in data else path, f"'on' names passes and their steps; found {what}")
            return step
        passes: dict[str | int, list[Step]] = {}
        for key, value in on.items():
            which = _pass(key)
            if which is None:
                self.fault((*path, "on", Key(key)), f"a pass is first, last or a number; found {shown(key)}")
                continue
            at = (*path, "on", key)
            if isinstance(value, list):
                passes[which] = self.steps(value, at)
            else:
                made = self.step(value, at)
                passes[which] = [] if made is None else [made]
        if step is None:
            return None
        made_step = ByPass(step, passes)
        self.note(made_step, path, None)
        return made_step

    # Elements

    def element(self, data: dict[Any, Any], path: Path) -> Element | None:
        kind = next((kind for kind in ELEMENT_KINDS if kind in data), None)
        if kind is None:
            return None
        self.known_keys(data, path, f"a {kind}", (kind, *_ELEMENT_KEYS))
        element = Element(kind)
        named = "work" in data
        work_path = (*path, "work") if named else (*path, kind)
        if named:
            element.label = self.text(data[kind], (*path, kind), f"the name of a {kind} that has its own 'work'")
        work = data["work"] if named else data[kind]
        if isinstance(work, list):
            self.depth += 1
            element.work = self.work(work, work_path, kind)
            self.depth -= 1
        else:
            name = "" if named or not isinstance(work, str) else f" (a {kind} with a name has its work under 'work')"
            self.wrong(work_path, f"the work of a {kind} is a list{name}", work)
        if "thread" in data:
            element.thread = self.text(data["thread"], (*path, "thread"))
        if "technique" in data:
            element.technique = self.text(data["technique"], (*path, "technique"))
        if "size" in data:
            element.size = self.text(data["size"], (*path, "size"))
        if "half closed" in data:
            element.half_closed = self.yes(data["half closed"], (*path, "half closed"), "half closed")
        if "remark" in data:
            element.remark = self.text(data["remark"], (*path, "remark"))
        self.note(element, path, work_path)
        return element

    def work(self, value: list[Any], path: Path, kind: str) -> list[WorkItem]:
        out: list[WorkItem] = []
        for at, one in enumerate(value):
            item: WorkItem | None = None
            if isinstance(one, str) and one in _SIGNS:
                if one == "/" and not kind.startswith("split"):
                    self.fault((*path, at), f"'/' goes to the second thread's side, which a {kind} has not")
                item = _SIGNS[one]()
            elif isinstance(one, (int, float)) and not isinstance(one, bool):
                count = self.whole(one, (*path, at), "a count of stitches")
                item = None if count is None else Stitches(count)
            elif isinstance(one, dict):
                item = self.item(one, (*path, at), kind)
            else:
                self.wrong((*path, at), f"a {kind}'s work may hold {_WORK_HOLDS}", one)
            if item is not None:
                out.append(item)
        return out

    def item(self, data: dict[Any, Any], path: Path, kind: str) -> WorkItem | None:
        for key, value in data.items():
            at = (*path, key)
            if key in _JOINS:
                self.known_keys(data, path, f"a {key}", (key, "beads"))
                places = self.places(value, at, f"a {key}")
                return Join(places, _JOINS[key], self.beads(data, path))  # type: ignore[arg-type]
            if key in _PICOTS:
                self.known_keys(data, path, f"a {key}", (key, "beads", "kind"))
                length = None if value is None else self.length(value, at, f"the length of a {key}")
                way = self.text(data["kind"], (*path, "kind"), "the kind of a picot") if "kind" in data else ""
                return Picot(_PICOTS[key], length, self.beads(data, path), way)  # type: ignore[arg-type]
            if key in _HALVES:
                self.known_keys(data, path, key, (key,))
                count = self.whole(value, at, f"a count of {key}")
                return None if count is None else Halves(_HALVES[key], count)
            if key == "thrown":
                self.known_keys(data, path, "a thrown element", (key,))
                return self.thrown(value, at)
            if key == "beads" and not any(one in _JOINS or one in _PICOTS for one in data):
                self.known_keys(data, path, "beads between stitches", (key,))
                count = self.whole(value, at, "a count of beads", 1)
                return None if count is None else Beads(count)
        self.wrong(path, f"a {kind}'s work may hold {_WORK_HOLDS}", data)
        return None

    def beads(self, data: dict[Any, Any], path: Path) -> int:
        if "beads" not in data:
            return 0
        return self.whole(data["beads"], (*path, "beads"), "a count of beads") or 0

    def thrown(self, value: Any, path: Path) -> Thrown | None:
        if self.depth >= DEEPEST:
            self.fault(path, f"elements are thrown off elements more than {DEEPEST} deep")
            return None
        element = self.element(value, path) if isinstance(value, dict) else None
        if element is None:
            self.wrong(path, f"what is thrown off is an element ({', '.join(ELEMENT_KINDS)})", value)
            return None
        return Thrown(element)

    # Actions

    def turn(self, data: dict[Any, Any], path: Path) -> Step:
        self.known_keys(data, path, "a turn", ("turn",))
        way = self.one_of(data["turn"], (*path, "turn"), "the way to turn", {"reverse": "reverse", "page": "page"})
        return Turn() if way is MISSING else Turn(way)

    def bare_thread(self, data: dict[Any, Any], path: Path) -> Step:
        self.known_keys(data, path, "bare thread", ("bare thread", "threads"))
        step = BareThread(self.maybe_length(data, path, "bare thread"))
        if "threads" in data:
            step.threads = self.whole(data["threads"], (*path, "threads"), "the number of threads", 1) or 1
        return step

    def maybe_length(self, data: dict[Any, Any], path: Path, key: str) -> Any:
        return None if data[key] is None else self.length(data[key], (*path, key), f"the length of a {key}")

    def lock_join(self, data: dict[Any, Any], path: Path) -> Step:
        self.known_keys(data, path, "a lock join", ("lock join", "thread"))
        step = LockJoin(self.places(data["lock join"], (*path, "lock join"), "a lock join"))
        if "thread" in data:
            step.thread = self.text(data["thread"], (*path, "thread"))
        return step

    def mock_picot(self, data: dict[Any, Any], path: Path) -> Step:
        self.known_keys(data, path, "a mock picot", ("mock picot", "number"))
        step = MockPicot(self.maybe_length(data, path, "mock picot"))
        if "number" in data:
            step.number = self.whole(data["number"], (*path, "number"), "the number of a mock picot", 1)
        return step

    def switch(self, data: dict[Any, Any], path: Path) -> Step:
        key = "switch" if "switch" in data else "cross threads"
        self.known_keys(data, path, f"a {key}", (key,))
        step = Switch(way="change" if key == "switch" else "cross")
        if data[key] is not None:
            step.to = self.text(data[key], (*path, key), "the thread taken up")
        return step

    def attach(self, data: dict[Any, Any], path: Path) -> Step:
        self.known_keys(data, path, "fastening on", ("attach", "threads"))
        step = Attach(self.places(data["attach"], (*path, "attach"), "a new thread"))
        if "threads" in data:
            step.threads = self.texts(data["threads"], (*path, "threads"))
        return step

    def cut(self, data: dict[Any, Any], path: Path) -> Step:
        key = "cut and tie" if "cut and tie" in data else "cut"
        self.known_keys(data, path, "a cut", (key,))
        threads = [] if data[key] is None else self.texts(data[key], (*path, key), "what is cut")
        return Cut(key == "cut and tie", threads)

    def hide_ends(self, data: dict[Any, Any], path: Path) -> Step:
        self.known_keys(data, path, "hiding of ends", ("hide ends", "remark"))
        step = HideEnds()
        ways = {"sewn in": "sewn in", "worked over": "worked over", "drawn in": "drawn in"}
        if data["hide ends"] is not None:
            way = self.one_of(data["hide ends"], (*path, "hide ends"), "the way to hide ends", ways)
            if way is not MISSING:
                step.way = way
        if "remark" in data:
            step.remark = self.text(data["remark"], (*path, "remark"))
        return step

    def note_step(self, data: dict[Any, Any], path: Path) -> Step:
        self.known_keys(data, path, "a note", ("note",))
        return Note(self.text(data["note"], (*path, "note")))

    def total(self, data: dict[Any, Any], path: Path) -> Step:
        self.known_keys(data, path, "a total", ("total", "scope", "each", "of", "about", "words"))
        step = StatedTotal({})
        said = data["total"]
        if isinstance(said, dict):
            self.known_keys(said, (*path, "total"), "a total", _COUNTED)
            for name in _COUNTED:
                if name in said:
                    number = self.whole(said[name], (*path, "total", name), f"the total of {name}")
                    if number is not None:
                        step.counts[name.replace(" ", "_")] = number
        else:
            self.wrong((*path, "total"), "a total names what is counted and how many, such as rings: 5", said)
        if "scope" in data:
            scope = self.one_of(data["scope"], (*path, "scope"), "what a total is of", _SCOPES)
            if scope is not MISSING:
                step.scope = scope
        if "each" in data:
            step.each = self.yes(data["each"], (*path, "each"), "each")
        if "about" in data:
            step.about = self.yes(data["about"], (*path, "about"), "about")
        if "of" in data:
            step.of = self.text(data["of"], (*path, "of"))
        if "words" in data:
            step.words = self.text(data["words"], (*path, "words"))
        return step

    def repeat(self, data: dict[Any, Any], path: Path) -> Step:
        self.known_keys(data, path, "a repeat", ("repeat", "until", "label", "steps"))
        step = Repeat([])
        if data["repeat"] != "open" and data["repeat"] is not None:
            step.times = self.whole(data["repeat"], (*path, "repeat"), "how often a repeat is worked (or open)", 1)
        if "until" in data:
            step.until = self.text(data["until"], (*path, "until"))
        if "label" in data:
            step.label = self.text(data["label"], (*path, "label"))
        if "steps" in data:
            step.steps = self.steps(data["steps"], (*path, "steps"))
        else:
            self.fault(path, "a repeat has steps; found none")
        return step


def _pass(key: Any) -> str | int | None:
    if key in ("first", "last"):
        return str(key)
    if isinstance(key, int) and not isinstance(key, bool) and key > 0:
        return key
    return int(key) if isinstance(key, str) and re.fullmatch(r"[1-9][0-9]{0,8}", key) else None


_GROUPS: dict[Any, Callable[[StepReader, dict[Any, Any], Path], Step | None]] = {
    **dict.fromkeys(ELEMENT_KINDS, StepReader.element),
    "turn": StepReader.turn,
    "bare thread": StepReader.bare_thread,
    "lock join": StepReader.lock_join,
    "mock picot": StepReader.mock_picot,
    "switch": StepReader.switch,
    "cross threads": StepReader.switch,
    "attach": StepReader.attach,
    "cut": StepReader.cut,
    "cut and tie": StepReader.cut,
    "hide ends": StepReader.hide_ends,
    "note": StepReader.note_step,
    "total": StepReader.total,
    "repeat": StepReader.repeat,
}

# The keys by which a group is known for a step, and for a piece of the work of an element.
STEP_KEYS = frozenset({*_GROUPS, "step", "on"})
ITEM_KEYS = frozenset({*_JOINS, *_PICOTS, *_HALVES, "thrown", "beads"})
