"""The look of a text before anything in it is understood: running words, counts strung together, or rows of cells.

Nothing here knows a language: letters, digits, marks and how lines are laid out are all that is looked at.
"""

from __future__ import annotations

import re
from collections import Counter
from itertools import islice

_WORD = re.compile(r"[^\W\d_]{4,}")
_COUNTS = re.compile(r"(?<!\d)\d+ ?[-\u2010-\u2015\u2212.\u00b7\u2022+] ?\d+|(?<!\d)\d+(?: ?[^\W\d_]{1,2} ?\d+){2,}")
# "R 3 x 7", "Ch: 5 3b 5", "R [5 - 5]": an abbreviation at the head of a line, and a figure right behind it.
_HEADED = re.compile(r"\W*[^\W\d_]{1,5}\.?\d*\s*[:=,]?\s*[(\[{<]?\s*\d")
_RULE = re.compile(r"[\s|:+=_-]+")
_QUOTED = re.compile(r'"[^"\n]*"')
_ANY = re.compile(r"[^\W\d_]+|\d+|[^\w\s]|\t")
_GAP = re.compile(r" {2,}|\t")


def words_share(text: str) -> float:
    """How much of what is printed belongs to words of four letters or more, from 0 to 1."""
    printed = sum(not char.isspace() for char in text)
    return sum(len(word) for word in _WORD.findall(text)) / printed if printed else 0.0


def counts(text: str) -> int:
    """How many counts are strung together with marks or short letters between, as 5-5-5 or 4p4p4."""
    return len(_COUNTS.findall(text))


def is_terse(line: str) -> bool:
    """Whether a line begins with an abbreviation that has figures behind it, and has few words besides."""
    return _HEADED.match(line) is not None and words_share(line) < 0.4


def words_end(text: str, most: int) -> int | None:
    """Where the ``most``-th word, number or mark (a tab is one) ends, None where there are no more than that."""
    if len(text) <= most:
        return None
    ends = [found.end() for found in islice(_ANY.finditer(text), most - 1, most + 1)]
    return ends[0] if len(ends) > 1 else None


def running(text: str) -> float:
    """How much a text looks like sentences rather than abbreviations and marks, from 0 to 1."""
    lines = [line for line in text.splitlines() if line.strip()]
    telling = [line for line in lines if counts(line)]
    look = _running(lines)
    terse = sum(map(is_terse, lines))
    if terse >= 0.3 * len(lines) and terse:
        # Lines of abbreviations with figures behind them are the notation, however much is told about them.
        look = min(look, 0.3)
    if look >= 0.5 and len(telling) > 1:
        # Where lines of counts stand among a title, materials and remarks, the counts' own lines show the notation.
        look = 0.4 * look + 0.6 * _running(telling)
    return look


def _running(lines: list[str]) -> float:
    text = "\n".join(lines)
    # A few counts in a long page are a designer's way of speaking; one in every line is the notation itself.
    strung = min(2.0, 2.0 * counts(text) / max(1, len(lines)))
    # Where none stands, long lines are sentences, however short their words.
    long = 0.0 if strung else min(0.2, 0.01 * len(text.split()) / max(1, len(lines)))
    return max(0.0, min(1.0, 0.5 + 4.0 * (words_share(text) - 0.52) - 0.25 * strung + long))


def tabular(text: str, marks: tuple[str, ...] = ("|", "\t", ",", ";", "")) -> float:
    """How much a text looks like rows of cells, from 0 to 1.

    ``marks`` are what may part the cells; an empty one stands for blanks.
    """
    rows = [line for line in text.splitlines() if line.strip()]
    if len(rows) < 2:
        return 0.0
    return max(_delimited(rows, mark) for mark in marks)


def _delimited(rows: list[str], mark: str) -> float:
    """The share of rows that have cells, the same number of them where the mark is one of speech too."""
    if mark:
        cells = [_QUOTED.sub("", row).strip().strip("|" if mark == "|" else "").count(mark) for row in rows]
    else:
        cells = [len(_GAP.findall(row.strip())) for row in rows]
    having = [count for count in cells if count]
    if len(having) < 2:
        return 0.0
    usual, often = Counter(having).most_common(1)[0]
    share = (often if mark in (",", ";") else len(having)) / len(rows)
    if mark in (",", ";"):
        # Sentences have commas too, but blanks behind them and seldom the same number in every line.
        every = sum(row.count(mark) for row in rows)
        share *= 1 - sum(row.count(mark + " ") for row in rows) / every
        if len(rows) < 3 or usual < 2:
            share *= 0.7
    if not mark and not any(_RULE.fullmatch(row) and "-" in row for row in rows):
        # Shorthand is spaced out as well, but has no line of heads and no columns that begin at one place in all lines.
        head = next(row for row, count in zip(rows, cells, strict=True) if count)
        starts = Counter(gap.end() for row in rows for gap in _GAP.finditer(row.rstrip()))
        columns = sum(1 for rows_there in starts.values() if rows_there >= 0.6 * len(having))
        # A line that begins with an element and its counts in one is no row of cells.
        led = sum(bool(_COUNTS.search(_GAP.split(row.strip(), maxsplit=1)[0])) for row in rows)
        share *= 0.25 if usual < 2 or columns < 2 or _COUNTS.search(head) or led >= 0.5 * len(rows) else 1.0
    # A title and a key before the rows, and remarks behind them, leave it a table.
    return min(1.0, 1.5 * share)
