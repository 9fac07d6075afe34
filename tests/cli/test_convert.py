"""``larkshead convert``: what is written where, what is said, and how it ends."""

from __future__ import annotations

import os
import stat
import sys
from pathlib import Path

import pytest
from calling import Call, notices

STEPS = "# Fern\n# Round 1\nR 4 p 4 # A\nTURN\nREP 3 {\nC 6 p 6\nTURN\n}\n"
PLAIN = "R 4 p 4\nTURN\nC 6 p 6\n"


def test_to_standard_output(call: Call) -> None:
    Path("fern.steps").write_text(PLAIN, "utf-8")
    done = call("convert", "fern.steps", "--to", "steplist")
    assert (done.exit_code, done.stdout, done.stderr) == (0, PLAIN, "")


def test_from_standard_input(call: Call) -> None:
    done = call("convert", "-", "--from", "steplist", "--to", "steplist", text=PLAIN)
    assert (done.exit_code, done.stdout) == (0, PLAIN)


def test_to_a_file_and_the_style_told_by_its_name(call: Call) -> None:
    Path("fern.steps").write_text(PLAIN, "utf-8")
    done = call("convert", "fern.steps", "-o", "fern.yaml")
    assert (done.exit_code, done.stdout) == (0, "")
    back = call("convert", "fern.yaml", "--to", "steplist")
    assert back.stdout == PLAIN


def test_a_file_that_is_there_is_left_alone_unless_forced(call: Call) -> None:
    Path("fern.steps").write_text(PLAIN, "utf-8")
    Path("mine.steps").write_text("precious\n", "utf-8")
    done = call("convert", "fern.steps", "-o", "mine.steps", "--notices", "json")
    assert done.exit_code == 2
    assert Path("mine.steps").read_text("utf-8") == "precious\n"
    assert [n["kind"] for n in notices(done)] == ["file-exists"]
    assert call("convert", "fern.steps", "-o", "mine.steps", "--force").exit_code == 0
    assert Path("mine.steps").read_text("utf-8") == PLAIN
    assert sorted(os.listdir()) == ["fern.steps", "mine.steps"]


@pytest.mark.skipif(sys.platform == "win32", reason="no such rights there")
def test_a_forced_file_keeps_its_rights(call: Call) -> None:
    Path("fern.steps").write_text(PLAIN, "utf-8")
    Path("mine.steps").write_text("old\n", "utf-8")
    os.chmod("mine.steps", 0o640)
    call("convert", "fern.steps", "-o", "mine.steps", "--force")
    assert stat.S_IMODE(os.stat("mine.steps").st_mode) == 0o640


def test_many_files_and_folders_into_a_folder(call: Call) -> None:
    Path("in/deep").mkdir(parents=True)
    Path("in/one.steps").write_text(PLAIN, "utf-8")
    Path("in/deep/two.steps").write_text(STEPS, "utf-8")
    Path("in/.hidden.steps").write_text(PLAIN, "utf-8")
    Path("in/notes.doc").write_text("not a pattern", "utf-8")
    Path("three.steps").write_text(PLAIN, "utf-8")
    done = call("convert", "in", "three.steps", "--to", "steplist", "--into", "out/steps")
    assert done.exit_code == 0, done.stderr
    assert sorted(os.listdir("out/steps")) == ["one.steps", "three.steps", "two.steps"]


def test_several_files_need_a_folder(call: Call) -> None:
    Path("a.steps").write_text(PLAIN, "utf-8")
    Path("b.steps").write_text(PLAIN, "utf-8")
    done = call("convert", "a.steps", "b.steps", "--to", "steplist")
    assert done.exit_code == 2
    assert done.stdout == ""
    assert "--into" in done.stderr


def test_two_files_of_one_name_do_not_write_over_each_other(call: Call) -> None:
    for folder in ("one", "two"):
        Path(folder).mkdir()
        Path(folder, "fern.steps").write_text(PLAIN, "utf-8")
    done = call("convert", "one", "two", "--to", "steplist", "--into", "out", "--force", "--notices", "json")
    assert done.exit_code == 2
    assert [(n["kind"], n["file"]) for n in notices(done)] == [("file-exists", os.path.join("two", "fern.steps"))]


def test_a_file_that_cannot_be_read_does_not_stop_the_others(call: Call) -> None:
    Path("a.steps").write_text(PLAIN, "utf-8")
    done = call("convert", "nowhere.steps", "a.steps", "--to", "steplist", "--into", "out", "--notices", "json")
    assert done.exit_code == 2
    assert os.listdir("out") == ["a.steps"]
    assert [(n["file"], n["kind"], n["severity"]) for n in notices(done)] == [
        ("nowhere.steps", "unreadable-file", "error")
    ]


@pytest.mark.parametrize(
    "name", ["up\\..\\..\\evil.steps", "con.steps", "a:b.steps", "\x1b[31mred.steps", "x" * 240 + ".steps"]
)
@pytest.mark.skipif(sys.platform == "win32", reason="such names cannot exist there")
def test_a_hostile_name_stays_in_its_folder(call: Call, name: str) -> None:
    Path("in").mkdir()
    Path("in", name).write_text(PLAIN, "utf-8")
    done = call("convert", "in", "--to", "native", "--into", "out")
    assert done.exit_code == 0, done.stderr
    (made,) = os.listdir("out")
    assert made.endswith(".yaml")
    assert not set(made) & set("\\:/\x1b")
    assert sorted(os.listdir()) == ["in", "out"]
    assert "\x1b" not in done.stderr


def test_a_link_at_the_place_of_the_result_is_not_followed(call: Call) -> None:
    Path("fern.steps").write_text(PLAIN, "utf-8")
    Path("out").mkdir()
    Path("precious.txt").write_text("precious\n", "utf-8")
    Path("out/fern.steps").symlink_to(Path("precious.txt").resolve())
    done = call("convert", "fern.steps", "--to", "steplist", "--into", "out")
    assert done.exit_code == 2
    call("convert", "fern.steps", "--to", "steplist", "--into", "out", "--force")
    assert Path("precious.txt").read_text("utf-8") == "precious\n"


@pytest.mark.parametrize(
    ("arguments", "kind"),
    [
        (("--to", "crochet"), "unknown-style"),
        (("--to", "steplist", "--from", "crochet"), "unknown-style"),
        (("--to", "shorthand", "--write-as", "xx"), "unknown-convention"),
        (("--to", "steplist", "--read-as", "xx"), "unknown-convention"),
        (("--to", "shorthand", "--write-as", "nowhere.yaml"), "unknown-convention"),
        (("--to", "steplist", "-o", "x.steps", "--into", "x"), "cannot-run"),
        (("--to", "steplist", "-o", "nowhere/x.steps"), "cannot-write"),
        (("--to", "steplist", "-o", "."), "cannot-write"),
        ((), "unknown-style"),
    ],
)
def test_what_cannot_be_done_is_one_message(call: Call, arguments: tuple[str, ...], kind: str) -> None:
    Path("fern.steps").write_text(PLAIN, "utf-8")
    done = call("convert", "fern.steps", *arguments, "--notices", "json")
    assert (done.exit_code, done.stdout) == (2, "")
    assert [n["kind"] for n in notices(done)] == [kind]
    assert os.listdir() == ["fern.steps"]


def test_a_likely_slip_is_offered(call: Call) -> None:
    done = call("convert", "fern.steps", "--to", "shorthnad")
    assert "did you mean shorthand?" in done.stderr


def test_strict_ends_with_one_where_a_warning_was_given(call: Call) -> None:
    Path("fern.steps").write_bytes(b"R 4 p 4 # it\x07ch\n")
    assert call("convert", "fern.steps", "--to", "steplist").exit_code == 0
    assert call("convert", "fern.steps", "--to", "steplist", "--strict").exit_code == 1
    Path("fern.steps").write_text(PLAIN, "utf-8")
    assert call("convert", "fern.steps", "--to", "steplist", "--strict").exit_code == 0


def test_a_sample_may_stand_in_place_of_a_file(call: Call) -> None:
    done = call("convert", "sample:windflower.shorthand", "--to", "steplist")
    assert done.exit_code in (0, 1), done.stderr
    assert "R " in done.stdout
    unknown = call("convert", "sample:windflour", "--to", "steplist")
    assert unknown.exit_code == 2
    assert "did you mean windflower?" in unknown.stderr


HOUSE = """name: house
extends: en
title: House
language: en
terms:
  ring:
    say: [loop, loops]
    short: L
    source: memory
"""


def test_a_convention_of_ones_own(call: Call) -> None:
    Path("house.yaml").write_text(HOUSE, "utf-8")
    Path("fern.steps").write_text(PLAIN, "utf-8")
    written = call("convert", "fern.steps", "--to", "shorthand", "--write-as", "house.yaml")
    assert "L" in written.stdout and "R" not in written.stdout.replace("RW", ""), written.stdout
    assert written.exit_code == 0, written.stderr
    back = call(
        "convert", "-", "--from", "shorthand", "--read-as", "house.yaml", "--to", "steplist", text=written.stdout
    )
    assert back.exit_code == 0, back.stderr
    assert [line for line in back.stdout.splitlines() if not line.startswith("#")] == PLAIN.splitlines()
    again = call(
        "convert", "-", "--from", "shorthand", "--read-as", "house.yaml", "--to", "shorthand", text=written.stdout
    )
    assert again.exit_code == 0, again.stderr
    assert again.stdout == written.stdout
    Path("larkshead.toml").write_text('conventions = ["house.yaml"]\nwrite-as = "house"\n', "utf-8")
    assert call("convert", "fern.steps", "--to", "shorthand").stdout == written.stdout


def test_a_faulty_convention_is_told_with_its_place(call: Call) -> None:
    Path("house.yaml").write_text(HOUSE + "colour: red\n", "utf-8")
    done = call("convert", "-", "--from", "steplist", "--to", "prose", "--write-as", "house.yaml", text=PLAIN)
    assert (done.exit_code, done.stdout) == (2, "")
    assert "house.yaml:" in done.stderr and "colour" in done.stderr
