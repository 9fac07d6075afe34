"""Slips that old books and pages really printed are found, at the line where they stand."""

from __future__ import annotations

import pytest
from outside import bench, by_id, read

from larkshead.app.lint import lint


@pytest.mark.parametrize("name", by_id("printed_errors"))
def test_a_printed_slip_is_found(name: str) -> None:
    entry = by_id("printed_errors")[name]
    reading = read(entry["text"], entry["style"], entry.get("convention", "en"))
    found = {
        (finding.rule, reading.source.position(finding.span.start).line)
        for finding in lint(bench(), reading).findings
        if finding.span is not None
    }
    assert (entry["rule"], entry["line"]) in found, entry["says"]


@pytest.mark.parametrize("name", ["fifth-picot-of-three", "fifth-purl-of-three"])
def test_the_collar_is_right_up_to_the_slip(name: str) -> None:
    """The other joins of the collar's star find their picots: only the slip is reported as impossible."""
    entry = by_id("printed_errors")[name]
    reading = read(entry["text"], "prose", entry.get("convention", "en"))
    worked = bench().work(reading.pattern)
    assert len(worked.elements) == 6
    assert [len(e.picots) for e in worked.elements] == [7, 8, 8, 7, 3, 6]
    assert len(worked.joins) == 8
    unresolved = [j for j in worked.joins if not j.resolved]
    assert len(unresolved) == 1 and unresolved[0].by is worked.elements[5]
    impossible = [f for f in lint(bench(), reading).findings if f.rule == "impossible-join"]
    assert len(impossible) == 1
