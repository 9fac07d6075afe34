"""The reports that ship, held to snapshots."""

from __future__ import annotations

import pytest
from syrupy.assertion import SnapshotAssertion

from larkshead.host.manager import load_plugins
from larkshead.reading import Severity, Source, Span
from larkshead.reports import FileReport, Mend, Place, Remark, Report

COLLAR = "Collar in two rows\nR 5-5-5-5 cl RW\n\tC 6-6\n" + "R 5+5-5-5 cl RW " * 20 + "\nR 4-\u7de3\u98fe\u308a-4 cl\n"
REPORTS = load_plugins().reports


def remark(
    severity: Severity, words: str, message: str, related: tuple[tuple[str, str], ...] = (), mend: str = ""
) -> Remark:
    """A remark at the first place where the words stand."""
    source = Source(COLLAR, "collar.txt")
    start = COLLAR.index(words)
    span = Span(start, start + len(words))
    line = COLLAR.splitlines()[source.position(start).line - 1]
    places = [Place.of(source, Span(COLLAR.index(w), COLLAR.index(w) + len(w)), said) for w, said in related]
    made = Remark("finding", "made-up-rule", severity, message, "collar.txt", Place.of(source, span), places, line)
    if mend:
        edits = [(Place.of(source, Span(start, start + 1)), mend), (Place.of(source, Span(start + 1, start + 3)), "")]
        made.mend = Mend("ask", "as its sisters have it", edits)
    return made


def report(color: bool = False, summary: bool = True) -> Report:
    """A report with everything in it."""
    far = COLLAR.index("R 5+5") + 16 * 12
    source = Source(COLLAR, "collar.txt")
    long_line = COLLAR.splitlines()[3]
    return Report(
        [
            FileReport(
                "collar.txt",
                [
                    remark("error", "5+5-5-5", "ring 2 joins nothing", (("5-5-5-5", "ring 1 is here"), ("C 6-6", ""))),
                    remark("warning", "6-6", "a tab stands before this", mend="7"),
                    Remark(
                        "finding", "far-out", "warning", "far along the line", "collar.txt",
                        Place.of(source, Span(far, far + 9)), [], long_line,
                    ),
                    remark("note", "\u98fe\u308a", "wide letters"),
                    Remark(
                        "finding", "two-lines", "note", "over two lines", "collar.txt",
                        Place.of(source, Span(12, 26)), [], COLLAR.splitlines()[0],
                    ),
                    Remark("finding", "nowhere", "warning", "of the whole pattern", "collar.txt"),
                ],
                (180, 15, 5),
            ),
            FileReport("clean.txt", [], (100, 0, 0)),
            FileReport("nearly.txt", [], (999, 0, 1)),
            FileReport("\x1b[31mred.txt", [Remark("notice", "odd", "note", "a \x1b[2J\u202e name", "\x1b[31mred.txt")]),
            FileReport("", [Remark("notice", "plugin-left-out", "warning", "a plugin was left out")]),
        ],
        color,
        summary,
    )  # fmt: skip


@pytest.mark.parametrize("name", sorted(REPORTS))
def test_a_report_with_everything_in_it(name: str, snapshot: SnapshotAssertion) -> None:
    render = REPORTS[name].load(REPORTS[name].spec.target)
    assert render(report()) == snapshot


def test_text_in_colors(snapshot: SnapshotAssertion) -> None:
    render = REPORTS["text"].load(REPORTS["text"].spec.target)
    plain, colored = render(report()), render(report(color=True))
    assert colored == snapshot
    for code in ("\x1b[1;31m", "\x1b[1;33m", "\x1b[1;36m", "\x1b[32m", "\x1b[0m"):
        colored = colored.replace(code, "")
    assert colored == plain


@pytest.mark.parametrize("name", sorted(REPORTS))
def test_nothing_to_report(name: str, snapshot: SnapshotAssertion) -> None:
    render = REPORTS[name].load(REPORTS[name].spec.target)
    assert render(Report([FileReport("clean.txt")], summary=True)) == snapshot


@pytest.mark.parametrize("name", sorted(REPORTS))
def test_no_report_lets_terminal_codes_through(name: str) -> None:
    render = REPORTS[name].load(REPORTS[name].spec.target)
    assert not set(render(report())) & set("\x1b\x07\x9b\u202e")
