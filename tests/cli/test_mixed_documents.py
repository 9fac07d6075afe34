"""A document in which sentences, lines of shorthand and a table take turns reads as one pattern."""

from __future__ import annotations

from pathlib import Path

from calling import Call, notices

MIXED = """Kestrel mat
You need one shuttle and a ball. Abbreviations: ds double stitch, cl close, rw reverse work.

Round 1. Make a ring of four ds, a picot, four ds, and close it. Turn, and leave 3 mm of thread.

Round 2, in short:

R 5-5-5 cl rw
Ch 6-6 rw

Round 3 is told in a table:

| Step | Element | Stitches | Then |
|------|---------|----------|------|
| 1    | Ring    | 4-4-4    | turn |
| 2    | Chain   | 8        | turn |

Repeat steps 1 and 2 eleven more times. Cut.
"""
STEPS = [
    "R 4 p 4", "TURN", "BT 3mm", "R 5 p 5 p 5", "TURN", "C 6 p 6", "TURN", "REP 12 {", "R 4 p 4 p 4", "TURN", "C 8", "TURN",
    "}", "CUT",
]  # fmt: skip


def test_each_stretch_is_read_in_its_own_style(call: Call) -> None:
    Path("mat.txt").write_text(MIXED, "utf-8")
    done = call("convert", "mat.txt", "--to", "steplist", "--notices", "json")
    assert [line for line in done.stdout.splitlines() if line and not line.startswith("#")] == STEPS
    assert [line for line in done.stdout.splitlines() if line.startswith("# Round")][2:] == [
        "# Round 3: Round 3 is told in a table"
    ]
    (told,) = [n["message"] for n in notices(done) if n["kind"] == "style-recognised"]
    assert (
        told == "read as table, but lines 1-4 as prose, lines 6-9 as shorthand; say --from if all of it is in one style"
    )


def test_findings_stand_at_their_own_lines(call: Call) -> None:
    Path("mat.txt").write_text(MIXED.replace("4-4-4 ", "4+4-4 (9th p of previous ring)"), "utf-8")
    done = call("lint", "mat.txt", "--rule", "impossible-join")
    assert "mat.txt:15:" in done.stdout


def test_all_of_one_style_when_that_is_said(call: Call) -> None:
    Path("mat.txt").write_text(MIXED, "utf-8")
    done = call("convert", "mat.txt", "--from", "table", "--to", "steplist", "--notices", "json")
    assert not [n for n in notices(done) if n["kind"] == "style-recognised"]
