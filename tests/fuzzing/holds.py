"""What holds of every reading of every text, whatever it says."""

from __future__ import annotations

from larkshead.app.convert import convert
from larkshead.app.lint import lint
from larkshead.app.workbench import Workbench
from larkshead.model import Note
from larkshead.reading import Reading, Source
from larkshead.reading.coverage import coverage_of
from larkshead.reading.grammar.account import is_telling
from larkshead.reading.grammar.lexer import tokenize
from larkshead.reports.printable import is_printable

BENCH = Workbench()
WORDED = ("prose", "shorthand", "table")
WRITTEN = ("steplist", "shorthand", "prose", "table", "native")


def hold(text: str, style: str, convention: str = "en") -> None:
    """Read, work, proof and write a text; AssertionError where anything is not as it has to be.

    No reader raises; every place is within the text; no number and no word of the trade is lost; what is written reads
    back as it was; the same text gives the same reading.
    """
    reading = BENCH.read(Source(text, "fuzzed.txt"), style, convention)
    _spans_are_within(reading)
    lost = coverage_of(reading).lost
    for token in tokenize(text, BENCH.convention(convention)):
        within = any(span.start <= token.start < span.end for span in lost)
        assert not (within and is_telling(token, BENCH.convention(convention))), f"lost: {token.text!r}"
    again = BENCH.read(Source(text, "fuzzed.txt"), style, convention)
    assert reading.pattern == again.pattern
    for finding in lint(BENCH, reading).findings:
        assert finding.rule != "broken-rule", finding.message
    if not any(not isinstance(step, Note) for part in reading.pattern.parts for step in part.steps):
        # Nothing in the text is a step: no command writes such a pattern.
        return
    for target in WRITTEN:
        converted = convert(BENCH, reading, target)
        assert not converted.differences, (target, [d.message for d in converted.differences])
        assert is_printable(converted.text)


def _spans_are_within(reading: Reading) -> None:
    length = len(reading.source.text)
    spans = [span for _, span in reading.origins]
    spans += [notice.span for notice in reading.notices if notice.span is not None]
    spans += [span for _, span in reading.abbreviations_used]
    for span in spans:
        assert 0 <= span.start <= span.end <= length, span
