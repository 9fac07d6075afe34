"""Writes step lists. What has no line of its own goes into a remark; what no remark can say is reported as a loss.

The words that a place was printed in are left out where they are understood: patterns that join alike are alike here.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

from larkshead.model import (
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
    LockJoin,
    MockPicot,
    Note,
    NoTurn,
    Pattern,
    Picot,
    Place,
    Repeat,
    SideChange,
    StatedTotal,
    Step,
    Stitches,
    Switch,
    Thrown,
    Turn,
)
from larkshead.model.placewords import place_to_words, quoted_json
from larkshead.writing.losses import Loss, Written
from larkshead_steplist import comments
from larkshead_steplist.fields import is_safe, quoted_if_needed, written_fields, written_length
from larkshead_steplist.lines import KINDS, UNSAID, read_line

_HEADS = {kind: head for head, kind in KINDS.items() if head != "Ch"}
_PICOT_HEADS = {"": "p", "small": "sp", "long": "lp"}
_LABEL = re.compile(r'[^\s;:"#]{1,16}')
_KIND = re.compile(r"(?!about\b)[a-z]+(?: [a-z]+)*")
_LEFT_OUT = "NOTURN # left out"
_MORE = "NOTURN # more"

Pairs = list[tuple[str, str | None]]
# One step as written: its lines. A repeat has several, every other one line.
Unit = list[str]


def write(pattern: Pattern, convention: object | None = None) -> Written:
    """The step list of a pattern, and what it could not say."""
    writer = _Writer()
    lines = [f"# {text}" for text in comments.written_surroundings(pattern)]
    for number, part in enumerate(pattern.parts):
        plain = not (part.kind or part.name or part.notes or part.number is not None or part.times != 1)
        headed = bool(number) or not plain or not part.steps
        if headed:
            if lines:
                lines.append("")
            lines.append(f"# {comments.written_heading(part)}")
        lines += [f"# Part note: {quoted_if_needed(note)}" for note in part.notes]
        writer.begun = headed
        writer.block(part.steps, lines)
    text = "\n".join(lines)
    return Written(text + "\n" if text else "", writer.losses)


class _Writer:
    def __init__(self) -> None:
        self.losses: list[Loss] = []
        # Whether a heading or step stands before, so that a note needs no key.
        self.begun = True

    def lose(self, kind: str, message: str, step: object) -> None:
        self.losses.append(Loss(kind, message, step))  # type: ignore[arg-type]

    # Blocks

    def block(self, steps: Sequence[Step], lines: list[str]) -> None:
        for step in steps:
            for unit in self.units(step, standing=True):
                lines += unit
                self.begun = True

    def units(self, step: Step, standing: bool = False) -> list[Unit]:
        """The lines of a step: one unit a line or a whole repeat. ``standing`` where lines of text may stand."""
        if isinstance(step, Element):
            return [[line] for line in self.element(step)]
        if isinstance(step, Repeat):
            return [self.repeat(step)]
        if isinstance(step, ByPass):
            return self.by_pass(step)
        if isinstance(step, (Note, HideEnds, StatedTotal)):
            if standing:
                return [[f"# {comments.written_step(step, bare=self.begun)}"]]
            return [[f"NOTURN # {comments.written_step(step, bare=False)}"]]
        return [[_ACTIONS[type(step)](step)]]

    def repeat(self, step: Repeat) -> Unit:
        pairs: Pairs = []
        main = None
        if step.label is not None:
            main = _main(step.label)
        if step.until:
            pairs.append(("until", step.until))
        opening = f"REP {'?' if step.times is None else step.times} {{"
        lines = [_remarked(opening, written_fields(main, pairs))]
        self.begun = True
        self.block(step.steps, lines)
        return [*lines, "}"]

    def by_pass(self, step: ByPass) -> list[Unit]:
        """The lines of the plain step, each with the lines that stand for it on some passes."""
        if isinstance(step.step, ByPass):
            self.lose(
                "dropped", "a step that differs by pass stands for another such step; only the outer one is kept", step
            )
            return self.by_pass(ByPass(step.step.step, step.passes))
        if not step.passes:
            self.lose(
                "approximated", "a step said to differ by pass names no pass; it is written as a plain step", step
            )
        base = self.units(step.step)
        passes: dict[str | int, list[Unit]] = {}
        for key, steps in step.passes.items():
            passes[key] = []
            for one in steps:
                if isinstance(one, ByPass):
                    self.lose("dropped", f"what differs again within pass {key} is left out", one)
                    one = one.step
                passes[key] += self.units(one)
        out: list[Unit] = []
        for slot in range(max(map(len, [base, *passes.values()]))):
            plain = base[slot] if slot < len(base) else [_MORE]
            lines = list(plain)
            for keys, unit in self.slot(slot, plain, passes):
                lines += [f"ON {keys} {unit[0]}", *unit[1:]]
            out.append(lines)
        return out

    def slot(self, slot: int, plain: Unit, passes: dict[str | int, list[Unit]]) -> list[tuple[str, Unit]]:
        """The lines of one slot with the passes they are for; passes by number that have the same line share it."""
        said: list[tuple[str, Unit]] = []
        for key, units in passes.items():
            unit = units[slot] if slot < len(units) else [_LEFT_OUT]
            if slot and (unit == plain or (plain == [_MORE] and unit == [_LEFT_OUT])):
                continue
            last = said[-1] if said else None
            if isinstance(key, int) and last and last[0][0].isdigit() and last[1] == unit and len(unit) == 1:
                said[-1] = (f"{last[0]},{key}", unit)
            else:
                said.append((str(key), unit))
        return said

    # Elements

    def element(self, element: Element) -> list[str]:
        """The lines of an element: one, or pieces about the elements thrown off it."""
        head = _HEADS[element.kind]
        lines: list[str] = []
        piece = _Piece(self)
        first = True
        for item in element.work:
            if not isinstance(item, Thrown):
                piece.add(item, element)
                continue
            if lines and not piece.tokens:
                # Nothing between two thrown elements, so nothing to go on with.
                lines[-1] = "SWITCH # back"
            else:
                lines.append(piece.line(head, element, first))
            first = False
            lines.append("SWITCH")
            lines += self.element(item.element)
            lines.append("SWITCH")
            piece = _Piece(self)
        if piece.tokens or not lines:
            lines.append(piece.line(head, element, first))
        else:
            lines[-1] = "SWITCH # back"
        return lines


class _Piece:
    """One line of an element being written: tokens, places, and what the remark has to add."""

    def __init__(self, writer: _Writer) -> None:
        self.writer = writer
        self.tokens: list[str] = []
        self.places: list[str] = []
        self.details: Pairs = []
        self.picots = 0
        self.last: Picot | Join | Beads | None = None
        self.number = ""

    def add(self, item: object, element: Element) -> None:
        before, self.last = self.last, None
        if isinstance(item, Stitches):
            self.tokens.append(str(item.count))
        elif isinstance(item, Picot):
            self.picots += 1
            self.last, self.number = item, f"p{self.picots}"
            self.tokens += [_PICOT_HEADS[item.size], *["b"] * item.beads]
            self.say_picot(item, element)
        elif isinstance(item, Join):
            self.places.append(self.writer_places(item.places))
            self.last, self.number = item, f"j{len(self.places)}"
            self.tokens += ["lj" if item.kind == "lock" else "j", *["b"] * item.beads]
            if item.kind == "folded":
                self.detail("folded")
        elif isinstance(item, Beads):
            if isinstance(before, Beads):
                self.writer.lose("approximated", "beads that stand side by side are written as one group", element)
            elif before is not None:
                self.detail(f"{before.beads} on it")
            self.last = item
            self.tokens += ["b"] * item.count
        elif isinstance(item, Halves):
            self.tokens.append(f"h{item.half}:{item.count}")
        elif isinstance(item, SideChange):
            self.tokens.append("/")

    def say_picot(self, picot: Picot, element: Element) -> None:
        if picot.length is not None:
            self.detail(written_length(picot.length))
        if picot.kind:
            if _KIND.fullmatch(picot.kind):
                self.detail(picot.kind)
            else:
                self.writer.lose("dropped", f"the kind of a picot, {picot.kind!r}, has no words here", element)

    def detail(self, words: str) -> None:
        """Add to what the remark says of the last picot or join."""
        if self.details and self.details[-1][0] == self.number:
            words = f"{self.details[-1][1]}, {words}"
            self.details.pop()
        self.details.append((self.number, words))

    @staticmethod
    def writer_places(places: list[Place]) -> str:
        return _places(places)

    def line(self, head: str, element: Element, first: bool) -> str:
        text = " ".join([head, *self.tokens])
        if self.places:
            text += f" -> {'; '.join(self.places)}"
        pairs: Pairs = []
        main = None
        if first:
            main = _main(element.label) if element.label is not None else None
            if element.size:
                pairs.append(("size", element.size))
            if element.technique:
                pairs.append(("technique", element.technique))
            if element.thread is not None:
                pairs.append(("thread", element.thread))
            if element.half_closed:
                pairs.append(("half closed", None))
        else:
            pairs.append(("continued", None))
        pairs += self.details
        remark = written_fields(main, pairs)
        if first and element.remark:
            safe = is_safe(element.remark.replace(";", ","))
            bare = f"{remark}; {element.remark}" if remark else element.remark
            said = read_line(f"R{self.shape()} # {bare}").step
            if safe and isinstance(said, Element) and said.remark == element.remark and said.label == element.label:
                remark = bare
            else:
                remark = written_fields(remark, [("remark", element.remark)])
        return _remarked(text, remark)

    def shape(self) -> str:
        return "".join(f" {token}" for token in self.tokens)


def _remarked(text: str, remark: str) -> str:
    return f"{text} # {remark}" if remark else text


def _main(label: str) -> str:
    """A label as it stands first in a remark."""
    if _LABEL.fullmatch(label):
        said = read_line(f"R # {label}").step
        if isinstance(said, Element) and said.label == label:
            return label
    return quoted_json(label)


def _places(places: list[Place]) -> str:
    if not places:
        return "?"
    if places == [Place()]:
        return UNSAID
    return " & ".join(place_to_words(_without_print(place)) for place in places)


def _without_print(place: Place) -> Place:
    """A place without what is print and not meaning: the words of the text where they are understood, and a label that
    only says the number again."""
    if place.unsaid:
        return place
    element = place.element
    if element is not None and element.label is not None and element.label == str(element.which):
        element = ElementRef(element.kind, element.which, None, element.size)
    return Place(place.spot, place.picot, element, place.part, place.size)


# Actions


def _turn(step: Turn) -> str:
    return "TURN # page" if step.way == "page" else "TURN"


def _bare_thread(step: BareThread) -> str:
    pairs: Pairs = []
    if step.length is not None and step.length.about:
        pairs.append(("about", None))
    if step.threads != 1:
        pairs.append((f"{step.threads} threads", None))
    return _remarked(f"BT {'?' if step.length is None else step.length}", written_fields(None, pairs))


def _lock_join(step: LockJoin) -> str:
    pairs: Pairs = [("thread", step.thread)] if step.thread is not None else []
    return _remarked(f"LJ -> {_places(step.places)}", written_fields(None, pairs))


def _mock_picot(step: MockPicot) -> str:
    pairs: Pairs = []
    if step.length is not None:
        pairs.append(("length", written_length(step.length)))
    if step.number is not None:
        pairs.append(("number", str(step.number)))
    return _remarked("MP", written_fields(None, pairs))


def _switch(step: Switch) -> str:
    pairs: Pairs = [("to", step.to)] if step.to is not None else []
    if step.way == "cross":
        pairs.append(("cross", None))
    return _remarked("SWITCH", written_fields(None, pairs))


def _attach(step: Attach) -> str:
    text = f"ATTACH -> {_places(step.places)}" if step.places else "ATTACH"
    return _remarked(text, _thread_list(step.threads, []))


def _cut(step: Cut) -> str:
    return _remarked("CUT", _thread_list(step.threads, [("tie", None)] if step.tie else []))


def _thread_list(threads: list[str], pairs: Pairs) -> str:
    if not threads:
        return written_fields(None, pairs)
    names = ", ".join(threads)
    plain = all(re.fullmatch(r"\w+(?: \w+)*", name) for name in threads)
    if not plain:
        names = quoted_json(threads)
    return "; ".join(filter(None, [f"threads: {names}", written_fields(None, pairs)]))


_ACTIONS: dict[type, Callable[..., str]] = {
    Turn: _turn,
    NoTurn: lambda step: "NOTURN",
    BareThread: _bare_thread,
    LockJoin: _lock_join,
    MockPicot: _mock_picot,
    Switch: _switch,
    Attach: _attach,
    Cut: _cut,
}
