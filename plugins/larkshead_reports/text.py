"""Remarks for people: where, what, and the user's own line with the place marked::

collar.txt:12:7: error: ring 6 joins picot 5 of ring 5, which has 3 picots (impossible-join)
  12 | R 6+6-6
     |  ^^^^^
collar.txt:11:1: ring 5 is here
"""

from __future__ import annotations

import unicodedata

from larkshead.reports import FileReport, Place, Remark, Report, printable

_COLORS = {"error": "\x1b[1;31m", "warning": "\x1b[1;33m", "note": "\x1b[1;36m", "mark": "\x1b[32m"}
_OFF = "\x1b[0m"
# Remarks on one file that are shown; the gravest go first, and how many are left out is told.
_MOST = 500
_GRAVITY = {"error": 0, "warning": 1, "note": 2}
# What a line of a terminal is taken to hold; of a longer line of text only the surroundings of the place are shown.
_WIDTH = 100


def render(report: Report) -> str:
    """Every remark, then how much of each text was understood where that is known, then a line that sums it up."""
    lines: list[str] = []
    for file in report.files:
        shown = _shown(file.remarks)
        for remark in shown:
            lines += _remark(remark, report.color)
        if len(shown) < len(file.remarks):
            more = len(file.remarks) - len(shown)
            lines.append(f"{printable(file.file)}: and {more:,} more like these; as JSON all of them are told")
        if file.coverage is not None:
            lines.append(_coverage(file))
    if report.summary:
        lines.append(_summary(report))
    return "".join(line + "\n" for line in lines)


def _shown(remarks: list[Remark]) -> list[Remark]:
    """The remarks that are shown, in their order: all, or the gravest of very many."""
    if len(remarks) <= _MOST:
        return remarks
    ranked = sorted(range(len(remarks)), key=lambda at: (_GRAVITY[remarks[at].severity], at))
    return [remarks[at] for at in sorted(ranked[:_MOST])]


def _remark(remark: Remark, color: bool) -> list[str]:
    severity = _paint(remark.severity, remark.severity, color)
    lines = [f"{_where(remark.file, remark.place)}{severity}: {printable(remark.message)} ({remark.name})"]
    if remark.place is not None and remark.text.strip():
        lines += _quoted(remark, remark.place, color)
    for place in remark.related:
        lines.append(f"{_where(remark.file, place)}{printable(place.words or 'see here')}")
    if remark.mend is not None:
        lines += [_mend(remark, place, text) for place, text in remark.mend.edits]
    return lines


def _mend(remark: Remark, place: Place, text: str) -> str:
    """What could be put where, and to what end."""
    why = f" ({printable(remark.mend.message)})" if remark.mend is not None and remark.mend.message else ""
    put = f"put {printable(text)} here" if text else "leave this out"
    return f"{_where(remark.file, place)}perhaps {put}{why}"


def _where(file: str | None, place: Place | None) -> str:
    name = "larkshead" if file is None else printable(file)
    return f"{name}: " if place is None else f"{name}:{place.line}:{place.column}: "


def _quoted(remark: Remark, place: Place, color: bool) -> list[str]:
    """The user's line and a line of marks under the place."""
    text = remark.text
    start = place.column - remark.text_column
    end = place.end_column - remark.text_column if place.end_line == place.line else len(text.rstrip())
    end = max(end, start + 1)
    first, before, after = 0, "", ""
    if len(text) > _WIDTH:
        first = max(0, min(start - _WIDTH // 3, len(text) - _WIDTH))
        before = "..." if first or remark.text_column > 1 else ""
        after = "..." if first + _WIDTH < len(text) else ""
    piece = text[first : first + _WIDTH]
    shown = before + printable(piece.replace("\t", " ")) + after
    lead = _columns(before + printable(piece[: start - first].replace("\t", " ")))
    marks = max(1, _columns(printable(piece[start - first : end - first].replace("\t", " "))))
    number = f"{place.line:4d}"
    return [
        f"{number} | {shown.rstrip()}",
        f"{' ' * len(number)} | {' ' * lead}{_paint('^' * marks, 'mark', color)}",
    ]


def _columns(text: str) -> int:
    """How many columns of a terminal a text takes."""
    if text.isascii():
        return len(text)
    return sum(0 if unicodedata.combining(c) else 2 if unicodedata.east_asian_width(c) in "WF" else 1 for c in text)


def _coverage(file: FileReport) -> str:
    understood, noted, unread = file.coverage or (0, 0, 0)
    total = understood + noted + unread or 1
    parts = ["all words understood" if understood == total else f"{_share(understood, total)} of the words understood"]
    if noted:
        parts.append(f"{_share(noted, total)} kept as notes")
    if unread:
        parts.append(f"{_share(unread, total)} not read")
    return f"{printable(file.file)}: {', '.join(parts)}"


def _share(count: int, total: int) -> str:
    percent = 100 * count / total
    # A share that is not quite all, or not quite nothing, is never rounded to all or nothing.
    if 0 < percent < 1:
        return "less than 1%"
    return "over 99%" if 99 < percent < 100 else f"about {percent:.0f}%"


def _summary(report: Report) -> str:
    counts = {"error": 0, "warning": 0, "note": 0}
    for file in report.files:
        for remark in file.remarks:
            counts[remark.severity] += 1
    if not report.files:
        return "no pattern could be proofed"
    named = sum(1 for file in report.files if file.file)
    files = f"{named} {'pattern' if named == 1 else 'patterns'}"
    said = [f"{n} {word if n == 1 else word + 's'}" for word, n in counts.items() if n]
    found = ", ".join(said) if said else "nothing found"
    if report.doubts:
        found += f"; {report.doubts} {'place' if report.doubts == 1 else 'places'} could not be read for certain"
    return f"{files}: {found}"


def _paint(text: str, color: str, wanted: bool) -> str:
    return f"{_COLORS[color]}{text}{_OFF}" if wanted else text
