"""What stands around the steps: title, materials, threads, sizes, headings of parts, notes, allowances, glossary."""

from __future__ import annotations

from larkshead.model import Allowance, Part, Pattern, Thread
from larkshead.writing.wording import Wording, one_line


def before_lines(wording: Wording, pattern: Pattern) -> list[str]:
    """The lines under the title, one for each thing said before the steps."""
    lines = []
    if pattern.materials:
        items = [one_line(item) for item in pattern.materials]
        mark = wording.fill("semicolon")
        groups = [mark.join(items)] if not any(mark.strip() in item for item in items) else items
        lines += [wording.fill("materials", text=text) for text in groups if text]
    lines += [thread_line(wording, thread) for thread in pattern.threads]
    if pattern.picot_length:
        lines.append(wording.fill("picot_length", length=wording.length(pattern.picot_length)))
    if pattern.sizes:
        mark = wording.fill("semicolon")
        lines.append(wording.fill("sizes", text=mark.join(map(one_line, pattern.sizes))))
    if pattern.finished_size:
        lines.append(wording.fill("finished_size", text=one_line(pattern.finished_size)))
    for habit, value in pattern.habits.items():
        lines.append(wording.fill("habit", habit=one_line(habit), value=one_line(value)))
    lines += [allowance_line(wording, allowance) for allowance in pattern.allowances]
    return lines


def thread_line(wording: Wording, thread: Thread) -> str:
    """One thread and all that is said of it."""
    name = thread.name or thread.role
    joined = ""
    if thread.joined_to:
        joined = wording.fill("tied_to" if thread.tied else "wound_with", thread=wording.thread(thread.joined_to))
    return wording.fill(
        "thread_line",
        name=wording.thread(name),
        role=wording.noun(thread.role) if not name.startswith(thread.role) else "",
        color=one_line(thread.color),
        size=one_line(thread.size),
        length=wording.length(thread.length),
        beads="" if thread.beads is None else wording.fill("beads_strung", n=thread.beads),
        joined=joined,
    )


def allowance_line(wording: Wording, allowance: Allowance) -> str:
    """A rule silenced, where, and why."""
    rule, where, because = one_line(allowance.rule), one_line(allowance.where), one_line(allowance.because)
    return wording.fill("allowance", rule=rule, where=where, because=because)


def heading(wording: Wording, part: Part) -> str:
    """The heading of a part; empty where the pattern has none."""
    kind = wording.noun(part.kind) if part.kind else ""
    name = one_line(part.name)
    if not kind and not name and part.number is None and part.times == 1:
        return ""
    if not kind and (part.number is not None or not name):
        kind = wording.noun("part")
    times = wording.fill("part_times", n=part.times) if part.times != 1 else ""
    title = wording.fill("part_title", kind=kind, number=part.number, name=name) if kind else name
    return capital(wording.fill("part_heading", title=title, times=times))


def glossary(wording: Wording, pattern: Pattern) -> str:
    """The abbreviations used, and those of the pattern's own that no concept explains; empty for none."""
    entries = dict(wording.used)
    for own in pattern.abbreviations:
        if own.concept is None and own.form and own.meaning:
            entries.setdefault(one_line(own.form), one_line(own.meaning))
    if not entries:
        return ""
    said = [wording.fill("glossary_entry", form=form, meaning=meaning) for form, meaning in entries.items()]
    return wording.fill("glossary", entries=wording.fill("comma").join(said))


def notes_lines(wording: Wording, pattern: Pattern) -> list[str]:
    """The notes at the end, under their heading."""
    if not pattern.notes:
        return []
    return [wording.fill("notes_heading"), *(wording.fill("notes_item", text=one_line(n)) for n in pattern.notes)]


def capital(text: str) -> str:
    """A sentence's first letter as a capital."""
    return text[:1].upper() + text[1:]
