"""Documents of several styles: each stretch is read in its own, and the patterns become one."""

from __future__ import annotations

from typing import TYPE_CHECKING

from larkshead.app.choose import choose_style
from larkshead.app.errors import CannotRun
from larkshead.model import Element, Part, Repeat, Step
from larkshead.reading import Notice, Reading, Source, Span
from larkshead.reading.coverage import NOT_READ, coverage_of
from larkshead.reading.sections import only, sections_of
from larkshead.records import dataclass

if TYPE_CHECKING:
    from larkshead.app.workbench import Workbench

# A text with more changes of look than this is of no style that would show in its parts.
_MOST_SECTIONS = 60
# Longer texts are not read a second time: what has so many pages is of one style.
_MOST_CHARACTERS = 200_000


@dataclass(slots=True)
class _Stretch:
    span: Span
    style: str
    works: bool = True


def read_mixed(bench: Workbench, reading: Reading) -> Reading | None:
    """A reading in several styles that leaves fewer words unread than this one in a single style; None where there is none."""
    if not any(notice.kind in NOT_READ for notice in reading.notices) or not reading.convention:
        return None
    if len(reading.source.text) > _MOST_CHARACTERS:
        return None
    stretches = _stretches(bench, reading.source, reading.convention)
    if len({stretch.style for stretch in stretches}) < 2:
        return None
    mixed = _read_each(bench, reading.source, stretches, reading.convention)
    mixed.notices[:0] = [notice for notice in reading.notices if notice.kind == "convention-recognised"]
    return mixed if coverage_of(mixed).unread < coverage_of(reading).unread else None


def _read_each(bench: Workbench, source: Source, stretches: list[_Stretch], convention: str) -> Reading:
    """Every stretch in its own style, the patterns put together."""
    whole: Reading | None = None
    lists: list[Span] = []
    for stretch in stretches:
        view = Source(only(source.text, _in_order([*lists, stretch.span])), source.name)
        reading = bench.read(view, stretch.style, convention)
        lists += _list_lines(reading, source.text)
        if whole is None:
            whole = reading
            whole.source = source
        else:
            _join(whole, reading, stretch.span)
    assert whole is not None
    whole.style = max(stretches, key=lambda stretch: stretch.span.end - stretch.span.start).style
    whole.notices.insert(0, _told(stretches, whole.style, source))
    return whole


def _stretches(bench: Workbench, source: Source, convention: str) -> list[_Stretch]:
    """The stretches that work something, each with the words about it and its style."""
    sections = sections_of(source.text)
    if len({section.look for section in sections}) < 2 or len(sections) > _MOST_SECTIONS:
        return []
    found: list[_Stretch] = []
    for section in sections:
        try:
            style, _ = choose_style(bench, Source(source.quote(section.span)))
        except CannotRun:
            style = ""
        works = bool(style) and _works(bench, source, section.span, style, convention)
        stretch = _Stretch(section.span, style, works)
        if found and (not works or not found[-1].works or found[-1].style == style):
            # Words that work nothing go with what they stand behind; those before all else with what follows.
            before = found[-1]
            before.style = before.style if before.works else style
            before.works = before.works or works
            before.span = before.span.join(section.span)
        else:
            found.append(stretch)
    return found if all(stretch.works for stretch in found) else []


def _works(bench: Workbench, source: Source, span: Span, style: str, convention: str) -> bool:
    reading = bench.read(Source(only(source.text, [span])), style, convention)
    return any(_elements(part.steps) for part in reading.pattern.parts)


def _elements(steps: list[Step]) -> bool:
    return any(isinstance(step, Element) or (isinstance(step, Repeat) and _elements(step.steps)) for step in steps)


def _in_order(spans: list[Span]) -> list[Span]:
    """Spans in order, none within another."""
    kept: list[Span] = []
    for span in sorted(spans):
        if kept and span.start < kept[-1].end:
            kept[-1] = kept[-1].join(span)
        else:
            kept.append(span)
    return kept


def _list_lines(reading: Reading, text: str) -> list[Span]:
    """The lines of the pattern's own list, which rules the reading of every stretch."""
    spans = [span for entry in reading.pattern.abbreviations if (span := reading.origins.of(entry)) is not None]
    if not spans:
        return []
    start = text.rfind("\n", 0, min(span.start for span in spans)) + 1
    end = text.find("\n", max(span.end for span in spans))
    return [Span(start, len(text) if end < 0 else end)]


def _join(whole: Reading, more: Reading, span: Span) -> None:
    """What a later stretch tells, put behind what is told already."""
    pattern, added = whole.pattern, more.pattern
    parts = list(added.parts)
    if parts and pattern.parts and not (parts[0].kind or parts[0].name):
        # Steps under no heading of their own go on with the part before.
        _go_on(pattern.parts[-1], parts.pop(0))
    pattern.parts += parts
    known = {entry.form for entry in pattern.abbreviations}
    pattern.abbreviations += [entry for entry in added.abbreviations if entry.form not in known]
    pattern.threads = pattern.threads or added.threads
    pattern.materials = pattern.materials or added.materials
    pattern.sizes = pattern.sizes or added.sizes
    pattern.finished_size = pattern.finished_size or added.finished_size
    pattern.picot_length = pattern.picot_length or added.picot_length
    title = [added.title] if added.title and added.title != pattern.title else []
    pattern.notes += [note for note in (*title, *added.notes) if note not in pattern.notes]
    whole.origins.take_over(more.origins)
    whole.notices += [n for n in more.notices if n.span is None or span.start <= n.span.start < span.end]
    whole.abbreviations_used += [
        (form, place) for form, place in more.abbreviations_used if span.start <= place.start < span.end
    ]
    whole.abbreviations_defined |= more.abbreviations_defined


def _go_on(before: Part, more: Part) -> None:
    before.steps += more.steps
    before.notes += more.notes


def _told(stretches: list[_Stretch], style: str, source: Source) -> Notice:
    """Which lines are read as what."""
    others: list[str] = []
    for stretch in stretches:
        if stretch.style == style:
            continue
        words = source.quote(stretch.span)
        first = source.position(stretch.span.start + len(words) - len(words.lstrip())).line
        last = source.position(stretch.span.start + len(words.rstrip())).line
        others.append(
            f"line {first} as {stretch.style}" if first == last else f"lines {first}-{last} as {stretch.style}"
        )
    message = f"read as {style}, but {', '.join(others)}; say --from if all of it is in one style"
    return Notice("style-recognised", "note", message)
