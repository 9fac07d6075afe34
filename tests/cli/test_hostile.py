"""Files that are no patterns, or meant to harm: one clear message, exit 2, nothing written, no traceback."""

from __future__ import annotations

import os
import time
from pathlib import Path

import pytest
from calling import Call, notices

PLAIN = "R 4 p 4\nTURN\nC 6 p 6\n"

NO_TEXT = {
    "png": (b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", "not-text", "a picture (PNG)"),
    "jpeg": (b"\xff\xd8\xff\xe0\0\x10JFIF", "not-text", "a picture (JPEG)"),
    "bitmap": (b"BM\x8a\0\0\0\0\0", "not-text", "a picture (BMP)"),
    "pdf": (b"%PDF-1.7\n%\xe2\xe3", "not-text", "a PDF document"),
    "office": (b"PK\x03\x04\x14\0\x06\0", "not-text", "an office document"),
    "zero": (b"R 4 p 4\nC 6\0 p 6\n", "not-text", "a zero byte stands in line 2"),
    "noise": (bytes(range(1, 32)) * 40 + b"\xff\xfe\xfd" * 20, "not-text", "for machines"),
    "empty": (b"", "empty-file", "the file is empty"),
    "blank": (b" \n\t\r\n ", "empty-file", "the file is empty"),
    "mark": (b"\xef\xbb\xbf", "empty-file", "the file is empty"),
    "half": (b"\xff\xfeR\0 \0" + b"\0\xd8", "not-text", "UTF-16"),
}


@pytest.mark.parametrize("name", NO_TEXT)
@pytest.mark.parametrize("command", ["convert", "lint", "tally", "work"])
def test_no_text(call: Call, name: str, command: str) -> None:
    content, kind, said = NO_TEXT[name]
    Path("given.txt").write_bytes(content)
    to = ("--to", "steplist", "-o", "out.steps") if command == "convert" else ()
    done = call(command, "given.txt", "--from", "steplist", *to, "--notices", "json")
    assert done.exit_code == 2
    (notice,) = notices(done)
    assert (notice["file"], notice["kind"], notice["severity"]) == ("given.txt", kind, "error")
    assert said in notice["message"]
    assert os.listdir() == ["given.txt"]


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "utf-32"])
def test_encodings_that_tell_themselves(call: Call, encoding: str) -> None:
    Path("given.steps").write_bytes(PLAIN.encode(encoding))
    done = call("convert", "given.steps", "--to", "steplist")
    assert (done.exit_code, done.stdout, done.stderr) == (0, PLAIN, "")


@pytest.mark.parametrize(("encoding", "name"), [("cp1252", "Windows-1252"), ("latin-1", "Latin-1")])
def test_an_older_encoding_is_read_and_told(call: Call, encoding: str, name: str) -> None:
    extra = "\x81" if encoding == "latin-1" else ""
    Path("given.steps").write_bytes(f"# caf\xe9{extra}\nR 4 p 4\n".encode(encoding))
    done = call("convert", "given.steps", "--to", "steplist", "--notices", "json")
    assert done.exit_code == 0
    assert "caf\xe9" in done.stdout
    told = [n for n in notices(done) if n["kind"] == "encoding-guessed"]
    assert [(n["severity"], n["line"], n["column"]) for n in told] == [("note", 1, 6)]
    assert name in told[0]["message"]


def test_line_ends_of_any_system(call: Call) -> None:
    for ends in ("\r\n", "\r"):
        Path("given.steps").write_bytes(PLAIN.replace("\n", ends).encode())
        assert call("convert", "given.steps", "--to", "steplist").stdout == PLAIN


def test_terminal_codes_never_reach_the_terminal(call: Call) -> None:
    text = "# \x1b[31mred\x1b[0m \x1b]0;owned\x07 \u202etxet\nR 4 p 4\nR 4 zz\x1b[2J 4\n"
    Path("given.steps").write_text(text, "utf-8")
    for command in (("convert", "--to", "steplist"), ("convert", "--to", "prose"), ("lint",), ("work",), ("tally",)):
        done = call(command[0], "given.steps", "--from", "steplist", *command[1:])
        assert not set(done.stdout + done.stderr) & set("\x1b\x07\x9b\u202e"), command


def test_terminal_codes_written_as_escapes_never_reach_the_terminal(call: Call) -> None:
    Path("given.json").write_text(
        call("convert", "-", "--from", "steplist", "--to", "json", text="# curious\nR 4 p 4\n").stdout.replace(
            "curious", "\\u001b[31mred\\u009b"
        ),
        "utf-8",
    )
    done = call("convert", "given.json", "--to", "steplist")
    assert "[31mred" in done.stdout
    assert not set(done.stdout + done.stderr) & set("\x1b\x9b")


def test_a_file_over_the_limit_is_refused_at_once(call: Call) -> None:
    with open("huge.steps", "wb") as file:
        file.truncate(100_000_000)
    start = time.process_time()
    done = call("lint", "huge.steps", "--notices", "json")
    assert time.process_time() - start < 2
    assert (done.exit_code, notices(done)[0]["kind"]) == (2, "file-too-large")
    assert "20,000,000 bytes" in notices(done)[0]["message"]


def test_standard_input_over_the_limit_is_refused(call: Call) -> None:
    Path("larkshead.toml").write_text("[limits]\nfile-bytes = 100\n", "utf-8")
    done = call("lint", "-", "--from", "steplist", "--notices", "json", text="R 4\n" * 100)
    assert (done.exit_code, notices(done)[0]["kind"]) == (2, "file-too-large")


def test_a_folder_without_patterns_and_what_is_no_file(call: Call) -> None:
    Path("empty").mkdir()
    done = call("lint", "empty", "--notices", "json")
    assert (done.exit_code, [n["kind"] for n in notices(done)]) == (2, ["empty-folder"])
    done = call("lint", "/dev/null/nothing", "bad\0name", "--notices", "json")
    assert (done.exit_code, [n["kind"] for n in notices(done)]) == (2, ["unreadable-file", "unreadable-file"])


def test_text_that_is_no_pattern(call: Call) -> None:
    Path("letter.txt").write_text("Dear Sir, thank you for the cake. Yours, M.\n", "utf-8")
    done = call("convert", "letter.txt", "--from", "prose", "--read-as", "en", "--to", "steplist", "-o", "x.steps")
    assert done.exit_code == 2
    assert "nothing in this text reads as a step" in done.stderr
    assert os.listdir() == ["letter.txt"]


def test_a_monstrous_repeat_is_refused_not_worked(call: Call) -> None:
    text = "REP 1000000000 {\nREP 1000000000 {\nR 4 p 4\n}\n}\n"
    start = time.process_time()
    done = call("lint", "-", "--from", "steplist", "--format", "json", text=text)
    assert done.exit_code == 1
    assert "too-many-steps" in done.stdout
    assert call("tally", "-", "--from", "steplist", "--format", "json", text=text).exit_code == 0
    assert time.process_time() - start < 2


def test_deep_nesting_is_refused_or_worked(call: Call) -> None:
    text = "REP 1 {\n" * 100_000 + "R 4 p 4\n" + "}\n" * 100_000
    start = time.process_time()
    done = call("convert", "-", "--from", "steplist", "--to", "steplist", text=text)
    assert done.exit_code in (0, 1, 2)
    assert "fault of larkshead" not in done.stderr
    assert time.process_time() - start < 5


@pytest.mark.parametrize("style", ["shorthand", "prose", "table"])
@pytest.mark.parametrize(
    "text", ["(" * 50_000 + "R 5-5" + ")" * 50_000, "[" * 50_000, "R 5-5 " + "[(" * 30_000 + "] x 2" * 60_000]
)
def test_brackets_beyond_all_depth_are_told_at_once(call: Call, style: str, text: str) -> None:
    start = time.process_time()
    done = call("convert", "-", "--from", style, "--read-as", "en", "--to", "steplist", "--notices", "json", text=text)
    assert time.process_time() - start < 2
    assert done.exit_code == 2
    assert [(n["kind"], n["line"]) for n in notices(done)] == [("too-deep", 1)]


@pytest.mark.parametrize(
    "text", ["9" * 40_000, "9-" * 20_000, "9 p " * 10_000, "ab" * 20_000, " |" * 20_000, '"' * 40_000, "a  " * 9_000]
)
def test_a_style_is_guessed_at_in_no_time(text: str) -> None:
    from larkshead.reading.texture import running, tabular

    start = time.process_time()
    running(text), tabular(text)
    assert time.process_time() - start < 1


# Seconds on a machine that is busy with other things; what takes longer does not grow in proportion.
_GENEROUS = 10

MONSTROUS = {
    "counts without end": ("shorthand", "R " + "5-" * 2_500_000 + "5 cl\n", "too-long", 1),
    "dashes": ("shorthand", "Edging\n" + "-" * 1_000_000, "too-long", 2),
    "a prose line": ("prose", "Work a ring of five double stitches, " * 130_000, "too-long", 1),
    "bars": ("table", "|" * 1_000_000, "too-long", 1),
    "a list in brackets never closed": ("native", "title: fern\nparts: [" + "a, " * 600_000, "too-long", None),
    "keys nobody knows": ("native", "".join(f"k{at}: 1\n" for at in range(170_000)), "too-long", None),
    "quotes never closed": ("native", 'title: "' + "fern\n  " * 30_000, "not-yaml", 1),
    "aliases that multiply": (
        "native",
        "a0: &a0 [x, x]\n" + "".join(f"a{at + 1}: &a{at + 1} [*a{at}, *a{at}]\n" for at in range(60)),
        "alias",
        1,
    ),
    "keys of JSON nobody knows": ("json", "{" + ",".join(f'"k{at}":1' for at in range(600_000)) + "}", "too-long", 1),
    "empty groups": ("json", '{"steps":[' + "{}," * 3_000_000 + "{}]}", "not-a-pattern", 1),
    "groups of keys nobody knows": ("json", '{"steps":[' + '{"a":1},' * 1_000_000 + "{}]}", "not-a-pattern", 1),
    "numbers without end": ("json", '{"steps":[{"ring":[' + "1," * 3_000_000 + "1]}]}", "too-long", 1),
    "rows without end": ("table", "| R | 5-5 |\n" * 300_000, "too-long", None),
    "a quotation mark over very many lines": ("csv", 'step,count\n1,"5-5\n' + "2,4-4\n" * 300_000, "too-long", None),
    "quotation marks": ("csv", "step,element,count\n1,R," + '"5-5\n2,Ch,4-4\n' * 5_000, "broken-quoting", 2),
}


@pytest.mark.parametrize("name", MONSTROUS)
def test_what_no_pattern_is_gets_one_message_at_once(call: Call, name: str) -> None:
    style, text, kind, line = MONSTROUS[name]
    start = time.process_time()
    done = call(
        "convert", "-", "--from", style, "--read-as", "en", "--to", "steplist", "-o", "out.steps", "--notices", "json",
        text=text,
    )  # fmt: skip
    assert time.process_time() - start < _GENEROUS
    assert done.exit_code == 2
    assert [n["kind"] for n in notices(done)] == [kind]
    if line is not None:
        assert notices(done)[0]["line"] == line
    assert os.listdir() == []


def test_how_long_a_line_may_be_is_set(call: Call) -> None:
    Path("larkshead.toml").write_text("[limits]\nline-characters = 20\n", "utf-8")
    text = "R 5-5-5 cl\nR 5-5-5-5-5-5-5-5-5 cl\n"
    done = call("lint", "-", "--from", "shorthand", "--read-as", "en", "--notices", "json", text=text)
    assert done.exit_code == 2
    assert [(n["kind"], n["line"]) for n in notices(done)] == [("too-long", 2)]
    assert "20 are read at most" in notices(done)[0]["message"]


MUCH = {
    "headings": ("prose", "".join(f"Round {at}\n\n" for at in range(6_000)) + "Ring: 5 ds, p, 5 ds, close.\n"),
    "totals": ("shorthand", "R 5-5 cl RW\n(5 rings, 10 ds in all so far)\n" * 1_500),
    "rings not told": ("shorthand", "".join(f"R{at}: 5-5+5 (join to ring {at + 9_000})\n" for at in range(2_000))),
    "rounds alike": (
        "prose",
        "Round 1\n"
        + "Ring: 5 ds, p, 5 ds, close. Turn.\n" * 300
        + "".join(f"\nRound {at}: as round 1.\n" for at in range(2, 600)),
    ),
    "numbers of times": ("prose", "Double 5 times, 2 double, draw up and join it to the centre.\n" * 1_200),
    "notes": ("prose", "by leave join. " * 3_000 + "\nRing: 5 ds, p, 5 ds, close.\n"),
    "lines about a table": ("table", "picot mm thread\n" * 3_000 + "| ring | count |\n|---|---|\n| 1 | 5-5 |\n"),
    "plain lines": ("shorthand", "R 5-5-5-5 cl RW\nCh 6-6 RW\n" * 4_000),
    "long lines": ("shorthand", ("R " + "5-" * 20_000 + "5 cl\n") * 4),
    "repeats": ("shorthand", "[R 5-5 cl RW] x 3\n" * 3_000),
    "abbreviations": ("shorthand", "".join(f"q{at} = ring\n" for at in range(3_000)) + "R 5-5 cl\n"),
    "sentences": ("prose", "Work a ring of 5 double stitches, picot, 5 double stitches, close. Turn.\n" * 1_500),
    "abbreviations of prose": (
        "prose", "".join(f"q{at} = ring\n" for at in range(1_500)) + "Ring: 5 ds, p, 5 ds, close.\n",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", MUCH)
def test_much_of_the_same_is_read_in_proportion(call: Call, name: str) -> None:
    style, text = MUCH[name]
    start = time.process_time()
    done = call("tally", "-", "--from", style, "--read-as", "en", text=text)
    assert time.process_time() - start < _GENEROUS
    assert done.exit_code in (0, 1)


def test_what_is_told_of_steps_before_is_followed_up_to_a_number(call: Call) -> None:
    text = MUCH["rounds alike"][1]
    done = call(
        "convert", "-", "--from", "prose", "--read-as", "en", "--to", "steplist", "--notices", "json", text=text
    )
    assert done.exit_code == 1
    assert "too-many-steps" in {n["kind"] for n in notices(done)}


OLD = {
    "lines": "".join(f"R {at}-{at} cl RW\n" for at in range(1, 3_000)),
    "likenesses": "1st oval: 6 double, 1 purl, 6 double, draw up.\n"
    + "2nd oval, like the first, but join to the last purl.\n" * 1_500,
    "heads": "No. 5. Fig. 3. TATTED EDGING. Materials: cotton.\n\n" * 2_000 + "1st oval: 6 double, 1 purl, 6 double.\n",
    "empty brackets": "[ ] 1st oval: 6 double, 1 purl, 6 double, draw up.\n" * 20,
}


@pytest.mark.parametrize("name", OLD)
def test_old_books_are_read_in_proportion(call: Call, name: str) -> None:
    start = time.process_time()
    done = call("tally", "-", "--from", "prose", "--read-as", "en-vintage", text=OLD[name])
    assert time.process_time() - start < _GENEROUS
    assert done.exit_code in (0, 1)


def test_words_beyond_the_most_that_are_read_are_told(call: Call) -> None:
    text = "Ring: 5 double stitches, picot, 5 double stitches. Turn.\n" * 12_000
    for command in (("tally",), ("lint",), ("convert", "--to", "steplist")):
        done = call(command[0], "-", "--from", "prose", "--read-as", "en", *command[1:], "--notices", "json", text=text)
        assert done.exit_code == 1
        assert "too-long" in {n["kind"] for n in notices(done)}


def test_a_list_of_very_many_abbreviations_rules_with_the_first_of_them(call: Call) -> None:
    text = "".join(f"q{at} = ring\n" for at in range(3_000)) + "q7 5-5 cl\n"
    done = call(
        "convert", "-", "--from", "shorthand", "--read-as", "en", "--to", "steplist", "--notices", "json", text=text
    )
    assert "R 5 p 5" in done.stdout
    assert "too-many-abbreviations" in {n["kind"] for n in notices(done)}


def test_very_many_findings_are_told_up_to_a_number(call: Call) -> None:
    text = "Shuttle and ball.\n" + "R 5-5-5 cl, joining to the 9th picot of R1\n" * 3_000
    done = call("lint", "-", "--from", "shorthand", "--read-as", "en", text=text)
    assert done.stdout.count("error:") <= 500
    assert "more like these; as JSON all of them are told" in done.stdout
