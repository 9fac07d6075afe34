"""``larkshead lint``: what is found where, in which form, and how it ends."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from calling import Call, notices

from larkshead.app.remarks import of_notice
from larkshead.reading import Notice, Source, Span

CLEAN = "R 4 p 4 p 4\nTURN\nC 6 p 6\n"
FAULTY = "R 4 p 4\nTURN\nC 6 p p 6\nTURN\nR 4 p 4\n"


def lint(call: Call, text: str, *arguments: str) -> tuple[int, str]:
    done = call("lint", "-", "--from", "steplist", *arguments, text=text)
    return done.exit_code, done.stdout


def test_a_clean_pattern(call: Call) -> None:
    assert lint(call, CLEAN, "--rule", "picot-without-stitch") == (0, "1 pattern: nothing found\n")
    assert lint(call, CLEAN, "--rule", "picot-without-stitch", "--format", "json") == (0, "[]\n")


def test_a_finding_shows_the_users_own_line_and_the_place(call: Call) -> None:
    code, out = lint(call, FAULTY, "--rule", "picot-without-stitch")
    lines = out.splitlines()
    assert code == 1
    assert lines[0].startswith("-:3:7: error: ")
    assert lines[0].endswith("(picot-without-stitch)")
    assert lines[1:3] == ["   3 | C 6 p p 6", "     |       ^"]
    assert lines[-1] == "1 pattern: 1 error"


def test_json_has_every_place(call: Call) -> None:
    code, out = lint(call, FAULTY, "--rule", "picot-without-stitch", "--format", "json")
    (finding,) = json.loads(out)
    assert code == 1
    assert finding["rule"] == "picot-without-stitch"
    assert finding["file"] == "-"
    assert [finding[k] for k in ("line", "column", "end_line", "end_column")] == [3, 7, 3, 8]
    assert finding["severity"] == "error"
    assert finding["related"] == []
    assert finding["message"]


@pytest.mark.parametrize(("level", "code"), [("note", 1), ("warning", 1), ("error", 1), ("never", 0)])
def test_the_level_from_which_it_fails(call: Call, level: str, code: int) -> None:
    assert lint(call, FAULTY, "--rule", "picot-without-stitch", "--fail-on", level)[0] == code


def test_one_list_for_many_files(call: Call) -> None:
    Path("in").mkdir()
    Path("in/a.steps").write_text(FAULTY, "utf-8")
    Path("in/b.steps").write_text(CLEAN, "utf-8")
    Path("in/c.steps").write_text(FAULTY, "utf-8")
    done = call("lint", "in", "nowhere.steps", "--rule", "picot-without-stitch", "--format", "json")
    assert done.exit_code == 2
    assert [Path(f["file"]).name for f in json.loads(done.stdout)] == ["a.steps", "c.steps"]


def test_what_could_not_be_read_counts_as_a_finding(call: Call) -> None:
    done = call("lint", "-", "--from", "steplist", "--notices", "json", text="R 4 p 4\nR 4 zz 4\n")
    assert done.exit_code == 1
    assert [(n["line"], n["severity"]) for n in notices(done)] == [(2, "error")]


@pytest.mark.parametrize(
    ("arguments", "kind"),
    [
        (("--rule", "impossible-joint"), "unknown-rule"),
        (("--format", "txet"), "unknown-report"),
        (("--from", "crochet"), "unknown-style"),
        (("--read-as", "xx"), "unknown-convention"),
    ],
)
def test_unknown_names_are_one_message(call: Call, arguments: tuple[str, ...], kind: str) -> None:
    Path("a.steps").write_text(CLEAN, "utf-8")
    done = call("lint", "a.steps", "a.steps", *arguments, "--notices", "json")
    assert (done.exit_code, done.stdout, [n["kind"] for n in notices(done)]) == (2, "", [kind])
    assert "did you mean impossible-join?" in notices(done)[0]["message"] or kind != "unknown-rule"


def test_no_file_named(call: Call) -> None:
    done = call("lint")
    assert done.exit_code == 2
    assert "name files or folders, or - for standard input" in done.stderr


ALLOWED = """title: Fern
allowances:
- {{rule: picot-without-stitch{where}, because: the picots are drawn together by a bead}}
steps:
- ring: A
  work: [4, p, 4]
- chain: B
  work: [6, p, p, 6]
"""


@pytest.mark.parametrize(
    ("where", "silenced"), [("", True), (", where: B", True), (", where: A", False), (", where: chain B", True)]
)
def test_an_allowance_silences_and_is_told_when_it_matches_nothing(call: Call, where: str, silenced: bool) -> None:
    Path("fern.yaml").write_text(ALLOWED.format(where=where), "utf-8")
    done = call("lint", "fern.yaml", "--format", "json")
    rules = [finding["rule"] for finding in json.loads(done.stdout)]
    assert ("picot-without-stitch" in rules) is not silenced, done.stderr
    assert ("unused-allowance" in rules) is not silenced


def test_nothing_that_could_be_proofed(call: Call) -> None:
    done = call("lint", "nowhere.steps")
    assert (done.exit_code, done.stdout) == (2, "no pattern could be proofed\n")


def test_remarks_on_an_endless_line_keep_only_their_surroundings(call: Call) -> None:
    text = "R 4 p 4 zz " * 30_000
    done = call("convert", "-", "--from", "shorthand", "--read-as", "en", "--to", "steplist", text=text)
    assert len(done.stderr) < 2_000 * (1 + done.stderr.count("\n"))
    source = Source("x" * 1000 + "here" + "y" * 1000 + "\nnext", "-")
    remark = of_notice(Notice("odd", "note", "look", Span(1000, 1004)), source)
    assert remark.place is not None
    assert remark.text[remark.place.column - remark.text_column :].startswith("here")
    assert len(remark.text) < 1000


def test_what_a_finding_tells_is_not_told_twice(call: Call) -> None:
    sample = "sample:turnstile.shorthand"
    told = [notice["kind"] for notice in notices(call("tally", sample, "--notices", "json"))]
    assert "contradiction" in told
    assert notices(call("lint", sample, "--notices", "json")) == []
    # Without the rules that would have found it, the reader's own remark stands.
    alone = notices(call("lint", sample, "--rule", "missing-turn", "--notices", "json"))
    assert [notice["kind"] for notice in alone] == told


def test_what_could_not_be_read_is_in_the_last_line(call: Call) -> None:
    done = call(
        "lint", "-", "--from", "shorthand", "--read-as", "en", text="R 6-6 cl\nRepeat row 7 three more times.\n"
    )
    assert done.stdout.splitlines()[-1].endswith("; 1 place could not be read for certain")
