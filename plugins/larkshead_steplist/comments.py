"""Lines that begin with ``# ``: headings of parts, what surrounds the steps, and text among them.

========================================  ==========================================================================
``# Round 1: Outer; kind: spiral``        a part: kind and number, then its name; ``, worked 4 times`` before the colon
``# Title: ...`` ``# Material: ...``      the pattern's title, materials, threads, abbreviations, sizes, habits,
                                          allowances: one line each
``# Total of the part: 5 rings, 90 ds``   a stated total at its place
``# Hide ends: sewn in``                  hiding of ends at its place
``# anything else``                       a note: the pattern's before the first heading or step, a step after it
========================================  ==========================================================================
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

from larkshead.model import Abbreviation, Allowance, HideEnds, Note, Part, Pattern, StatedTotal, Thread
from larkshead.model.placewords import quoted_json
from larkshead_steplist.fields import (
    Fields,
    is_safe,
    quoted_if_needed,
    read_fields,
    read_length,
    unquoted,
    written_fields,
    written_length,
)

PART_KINDS = ("round", "row", "motif", "edging", "border", "centre", "corner", "section", "strip", "side", "block")
_HEADING = re.compile(
    rf"(Part|{'|'.join(k.capitalize() for k in PART_KINDS)})(?: (\d{{1,9}}))?(?:, worked (\d{{1,9}}) times)?(?:: (.*))?"
)
_KEYED = re.compile(
    r"(Title|Material|Thread|Abbreviation|Picot length|Size|Finished size|Habit|Allowance|Pattern note|Part note|Note"
    r"|Total|Total so far|Total of the part|Total of the element|Hide ends)(?:: (.*))?"
)
_SCOPES = {
    "Total": "pattern",
    "Total so far": "sofar",
    "Total of the part": "part",
    "Total of the element": "element",
}
_TOTALS = {scope: key for key, scope in _SCOPES.items()}
_COUNT = re.compile(r"(-?\d{1,12}) ([a-z]+(?: [a-z]+)*)")
_WAYS = ("sewn in", "worked over", "drawn in")

StepComment = HideEnds | Note | StatedTotal


def _keys(*names: str) -> Callable[[str], bool]:
    return frozenset(names).__contains__


_PART_KEYS = _keys("kind", "number")
_THREAD_KEYS = _keys("role", "color", "size", "length", "beads", "with", "tied to", "wound from")
_ABBREVIATION_KEYS = _keys("means", "is")
_HABIT_KEYS = _keys("is")
_ALLOWANCE_KEYS = _keys("where", "because")
_TOTAL_KEYS = _keys("of", "words")
_TOTAL_FLAGS = frozenset(("each", "about"))


# Reading


def read_heading(text: str) -> Part | None:
    """The part that a heading line opens, None where the text is no heading."""
    found = _HEADING.fullmatch(text)
    if not found:
        return None
    kind, number, times, rest = found.groups()
    part = Part("" if kind == "Part" else kind.lower(), int(number) if number else None, times=int(times or 1))
    if rest:
        fields = read_fields(rest, _PART_KEYS)
        part.name = "; ".join([*([fields.main] if fields.main else []), *fields.rest])
        part.kind = fields.values.get("kind", part.kind)
        if re.fullmatch(r"\d{1,9}", fields.values.get("number", "")):
            part.number = int(fields.values["number"])
    return part


def read_step(text: str) -> StepComment | None:
    """The step that a keyed line says (a note, a total, hiding of ends), None for any other text."""
    found = _KEYED.fullmatch(text)
    if not found:
        return None
    key, rest = found.group(1), (found.group(2) or "").strip()
    if key == "Hide ends":
        return _read_hide_ends(rest)
    if key == "Note" and rest:
        return Note(unquoted(rest))
    if key in _SCOPES and rest:
        return _read_total(key, rest)
    return None


def _read_hide_ends(rest: str) -> HideEnds:
    fields = read_fields(rest, _keys("remark"), frozenset(_WAYS))
    way = next((way for way in _WAYS if way in fields.flags), "")
    said = [*([fields.main] if fields.main else []), *fields.rest]
    return HideEnds(way, fields.values.get("remark", "; ".join(said)))  # type: ignore[arg-type]


def _read_total(key: str, rest: str) -> StatedTotal | None:
    fields = read_fields(rest, _TOTAL_KEYS, _TOTAL_FLAGS)
    counts: dict[str, int] = {}
    for one in (fields.main or "").split(", "):
        found = _COUNT.fullmatch(one)
        if not found:
            return None
        counts[found.group(2).replace(" ", "_")] = int(found.group(1))
    return StatedTotal(
        counts,
        _SCOPES[key],  # type: ignore[arg-type]
        "each" in fields.flags,
        fields.values.get("of", ""),
        "about" in fields.flags,
        fields.values.get("words", ""),
    )


def read_surrounding(text: str, pattern: Pattern, part: Part | None) -> bool:
    """Put a keyed line where it belongs in the pattern (a note of the part: in the part); False for any other text."""
    found = _KEYED.fullmatch(text)
    if not found or not found.group(2):
        return False
    key, rest = found.group(1), found.group(2).strip()
    if key == "Title":
        pattern.title = unquoted(rest)
    elif key == "Material":
        pattern.materials.append(unquoted(rest))
    elif key == "Thread":
        return _read_thread(rest, pattern)
    elif key == "Abbreviation":
        return _read_abbreviation(rest, pattern)
    elif key == "Picot length":
        try:
            pattern.picot_length = read_length(rest)
        except ValueError:
            return False
    elif key == "Size":
        pattern.sizes.append(unquoted(rest))
    elif key == "Finished size":
        pattern.finished_size = unquoted(rest)
    elif key == "Habit":
        fields = read_fields(rest, _HABIT_KEYS)
        if "is" not in fields.values:
            return False
        pattern.habits[fields.main or ""] = fields.values["is"]
    elif key == "Allowance":
        fields = read_fields(rest, _ALLOWANCE_KEYS)
        values = fields.values
        pattern.allowances.append(Allowance(fields.main or "", values.get("where", ""), values.get("because", "")))
    elif key == "Pattern note":
        pattern.notes.append(unquoted(rest))
    elif key == "Part note" and part is not None:
        part.notes.append(unquoted(rest))
    else:
        return False
    return True


def _read_thread(rest: str, pattern: Pattern) -> bool:
    fields = read_fields(rest, _THREAD_KEYS)
    values = fields.values
    thread = Thread(values.get("role", "shuttle"), fields.main or "", values.get("color", ""), values.get("size", ""))
    try:
        if "length" in values:
            thread.length = read_length(values["length"])
        if "beads" in values:
            thread.beads = int(values["beads"])
    except ValueError:
        return False
    if "tied to" in values:
        thread.joined_to, thread.tied = values["tied to"], True
    elif "wound from" in values:
        thread.joined_to = values["wound from"]
    if values.get("with") == "tied":
        thread.tied = True
    pattern.threads.append(thread)
    return True


def _read_abbreviation(rest: str, pattern: Pattern) -> bool:
    fields: Fields = read_fields(rest, _ABBREVIATION_KEYS)
    if "means" not in fields.values:
        return False
    pattern.abbreviations.append(Abbreviation(fields.main or "", fields.values["means"], fields.values.get("is")))
    return True


# Writing


def written_heading(part: Part) -> str:
    """A part's heading, without the mark."""
    pairs: list[tuple[str, str | None]] = []
    if part.kind == "" or part.kind in PART_KINDS:
        text = part.kind.capitalize() or "Part"
    else:
        text = "Part"
        pairs.append(("kind", part.kind))
    if part.number is not None:
        if 0 <= part.number < 10**9:
            text += f" {part.number}"
        else:
            pairs.append(("number", str(part.number)))
    if part.times != 1:
        text += f", worked {part.times} times"
    rest = written_fields(_main(part.name, _PART_KEYS) if part.name else None, pairs)
    return f"{text}: {rest}" if rest else text


def written_surroundings(pattern: Pattern) -> Iterator[str]:
    """The lines before the first part, without the mark."""
    if pattern.title:
        yield f"Title: {quoted_if_needed(pattern.title)}"
    for note in pattern.notes:
        yield note if _is_bare(note) else f"Pattern note: {quoted_if_needed(note)}"
    for material in pattern.materials:
        yield f"Material: {quoted_if_needed(material)}"
    for thread in pattern.threads:
        yield f"Thread: {_written_thread(thread)}"
    for entry in pattern.abbreviations:
        pairs: list[tuple[str, str | None]] = [("means", entry.meaning)]
        if entry.concept is not None:
            pairs.append(("is", entry.concept))
        yield f"Abbreviation: {written_fields(_main(entry.form, _ABBREVIATION_KEYS), pairs)}"
    if pattern.picot_length is not None:
        yield f"Picot length: {written_length(pattern.picot_length)}"
    for size in pattern.sizes:
        yield f"Size: {quoted_if_needed(size)}"
    if pattern.finished_size:
        yield f"Finished size: {quoted_if_needed(pattern.finished_size)}"
    for habit, said in pattern.habits.items():
        yield f"Habit: {written_fields(_main(habit, _HABIT_KEYS), [('is', said)])}"
    for allowance in pattern.allowances:
        said_pairs = [(k, v) for k, v in (("where", allowance.where), ("because", allowance.because)) if v]
        yield f"Allowance: {written_fields(_main(allowance.rule, _ALLOWANCE_KEYS), said_pairs)}"


def _written_thread(thread: Thread) -> str:
    pairs: list[tuple[str, str | None]] = []
    if thread.role != "shuttle":
        pairs.append(("role", thread.role))
    if thread.color:
        pairs.append(("color", thread.color))
    if thread.size:
        pairs.append(("size", thread.size))
    if thread.length is not None:
        pairs.append(("length", written_length(thread.length)))
    if thread.beads is not None:
        pairs.append(("beads", str(thread.beads)))
    if thread.joined_to is not None:
        pairs.append(("tied to" if thread.tied else "wound from", thread.joined_to))
    elif thread.tied:
        pairs.append(("with", "tied"))
    return written_fields(_main(thread.name, _THREAD_KEYS), pairs)


def written_step(step: StepComment, bare: bool) -> str:
    """A note, a total or hiding of ends; ``bare`` where a note may stand without its key."""
    if isinstance(step, Note):
        return step.text if bare and _is_bare(step.text) else f"Note: {quoted_if_needed(step.text)}"
    if isinstance(step, HideEnds):
        pairs: list[tuple[str, str | None]] = [(step.way, None)] if step.way else []
        if step.remark:
            pairs.append(("remark", step.remark))
        return f"Hide ends: {written_fields(None, pairs)}" if pairs else "Hide ends"
    counts = ", ".join(f"{number} {name.replace('_', ' ')}" for name, number in step.counts.items())
    pairs = []
    if step.each:
        pairs.append(("each", None))
    if step.of:
        pairs.append(("of", step.of))
    if step.about:
        pairs.append(("about", None))
    if step.words:
        pairs.append(("words", step.words))
    return f"{_TOTALS[step.scope]}: {written_fields(counts, pairs)}"


def _main(text: str, is_key: Callable[[str], bool]) -> str:
    """A main field as it is to stand: in quotes where it would be taken for a key."""
    if is_safe(text):
        read = read_fields(text, is_key)
        if read.main == text and not read.values:
            return text
    return quoted_json(text)


def _is_bare(text: str) -> bool:
    """Whether a note can stand as it is: no heading, no keyed line."""
    return (
        is_safe(text.replace(";", ","))
        and not text.startswith("#")
        and not _HEADING.fullmatch(text)
        and not _KEYED.fullmatch(text)
    )
