"""What stands around the steps: title, materials, threads, sizes, headings of parts, notes, allowances, glossary."""

from __future__ import annotations

import re

from larkshead.model import Allowance, Part, Pattern, Thread
from larkshead.reading.written.around import PART_KINDS, AroundReader
from larkshead.reading.written.book import WrittenBook
from larkshead.writing.freetext import is_used
from larkshead.writing.wording import Wording, one_line


def top_lines(wording: Wording, pattern: Pattern) -> list[str]:
    """The title and the lines under it, the list of what was abbreviated last: asked for when all else is written."""
    lines = [title_line(wording, pattern), *before_lines(wording, pattern), glossary(wording, pattern)]
    lines = [line for line in lines if line]
    if not lines and pattern.parts and not pattern.parts[0].steps and not pattern.parts[0].notes:
        # A heading with nothing under it would be taken for the title.
        lines.append(wording.fill("title_line", text=wording.quoted("")))
    return lines


def before_lines(wording: Wording, pattern: Pattern) -> list[str]:
    """The lines under the title, one for each thing said before the steps."""
    lines = []
    if pattern.materials:
        lines.append(
            wording.fill("materials", text=wording.fill("semicolon").join(map(wording.item, pattern.materials)))
        )
    lines += [thread_line(wording, thread) for thread in pattern.threads]
    if pattern.picot_length:
        lines.append(wording.fill("picot_length", length=wording.length(pattern.picot_length)))
    if pattern.sizes:
        lines.append(wording.fill("sizes", text=wording.fill("semicolon").join(map(wording.item, pattern.sizes))))
    if size := one_line(pattern.finished_size):
        lines.append(wording.fill("finished_size", text=size))
    habits = {one_line(habit): value for habit, value in pattern.habits.items()}
    if len(habits) < len(pattern.habits):
        wording.lose("dropped", "a counting habit that has the name of another")
    for habit, value in habits.items():
        name = wording.free(habit) or wording.quoted("")
        lines.append(wording.fill("habit", habit=name, value=wording.rest(value)))
    lines += [allowance_line(wording, allowance) for allowance in pattern.allowances]
    return lines


def thread_line(wording: Wording, thread: Thread) -> str:
    """One thread and all that is said of it."""
    name = thread.name if one_line(thread.name) else thread.role
    joined = ""
    if other := wording.thread(thread.joined_to):
        joined = wording.fill("tied_to" if thread.tied else "wound_with", thread=other)
    return wording.fill(
        "thread_line",
        name=wording.thread(name),
        role=wording.noun(thread.role) if name.partition(" ")[0] != thread.role else "",
        color=wording.free(thread.color),
        size=thread.size if re.fullmatch(r"[\w/. ]+", thread.size) else wording.free(thread.size),
        length=wording.length(thread.length),
        beads="" if thread.beads is None else wording.fill("beads_strung", n=thread.beads),
        joined=joined,
    )


def allowance_line(wording: Wording, allowance: Allowance) -> str:
    """A rule silenced, where, and why."""
    rule, where, because = (
        # No rule has a blank in its name; words of one could be taken for what follows it.
        wording.quoted(allowance.rule)
        if " " in allowance.rule.strip()
        else wording.free(allowance.rule) or wording.quoted(""),
        wording.free(allowance.where),
        one_line(allowance.because),
    )
    return wording.fill("allowance", rule=rule, where=where, because=because)


def title_line(wording: Wording, pattern: Pattern) -> str:
    """The title: by itself where it heads something and can be taken for nothing else, else called so."""
    text = one_line(pattern.title)
    if not text:
        return ""
    if pattern.parts and AroundReader(WrittenBook.of(wording.convention, *wording.styles)).is_title(text):
        return text
    return wording.fill("title_line", text=text)


def heading(wording: Wording, part: Part, first: bool = False) -> str:
    """The heading of a part; empty where the first part has none and needs none."""
    name = wording.free(part.name)
    if first and not part.kind and not name and part.number is None and part.times == 1 and (part.steps or part.notes):
        return ""
    kind = wording.word(part.kind or "part") if (part.kind or "part") in PART_KINDS else wording.free_word(part.kind)
    around = AroundReader(WrittenBook.of(wording.convention, *wording.styles))
    if kind == part.kind and kind not in PART_KINDS:
        same_small = kind == capital(kind)[:1].lower() + kind[1:]
        kind = wording.quoted(kind) if around.is_trade_word(kind) or not same_small else kind
    times = wording.fill("part_times", n=part.times) if part.times != 1 else ""
    title = wording.fill("part_title", kind=kind, number=part.number, name=name)
    return capital(wording.fill("part_heading", title=title, times=times))


def glossary(wording: Wording, pattern: Pattern) -> str:
    """The abbreviations used, and those of the pattern's own that no concept explains; empty for none."""
    # A form of several words is made up of others.
    entries = {form: meaning for form, meaning in wording.used.items() if " " not in form}
    for own in pattern.abbreviations:
        if own.concept is not None:
            continue
        meaning = wording.quoted(own.meaning) if "," in own.meaning else wording.item(own.meaning)
        form = own.form if re.fullmatch(r"[^\s\x00-\x1f\x7f-\x9f,;\"()\[\]]+", own.form) else wording.quoted(own.form)
        if entries.setdefault(form, meaning) != meaning and is_used(own.form, pattern):
            wording.lose("dropped", f"the pattern's own {form}, which here means {entries[form]}: {meaning}")
    if not entries:
        return ""
    said = [wording.fill("glossary_entry", form=form, meaning=meaning) for form, meaning in entries.items()]
    return wording.fill("glossary", entries=wording.fill("comma").join(said))


def notes_lines(wording: Wording, pattern: Pattern) -> list[str]:
    """The notes at the end, under their heading."""
    if not pattern.notes:
        return []
    return [wording.fill("notes_heading"), *(wording.fill("notes_item", text=wording.rest(n)) for n in pattern.notes)]


def capital(text: str) -> str:
    """A sentence's first letter as a capital, where it has one that is the capital of no other."""
    first = text[:1].upper()
    return first + text[1:] if first.lower() == text[:1] else text
