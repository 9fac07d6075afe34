"""``work``, ``tally``, ``explain``, ``list`` and what every command has in common."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import click
import pytest
from calling import Call

from larkshead import __version__
from larkshead.cli.commands import COMMANDS
from larkshead.cli.group import commands

STEPS = "R 4 p 4 p 4 # A\nTURN\nREP 3 {\nC 6 p 6\nTURN\nR 4 j 4 p 4 -> previous ring, last picot\nTURN\n}\nBT 3mm\n"
HERE = Path(__file__).parents[2]


def larkshead(*arguments: str, **more: object) -> subprocess.CompletedProcess[str]:
    """The command in a process of its own."""
    return subprocess.run(
        [sys.executable, "-m", "larkshead", *arguments],
        capture_output=True,
        text=True,
        **more,  # type: ignore[call-overload]
    )


def test_tally_counts_every_pass(call: Call) -> None:
    done = call("tally", "-", "--from", "steplist", "--format", "json", text=STEPS)
    (counted,) = json.loads(done.stdout)
    wanted = {"file": "-", "rings": 4, "chains": 3, "ds": 84, "picots": 8, "joins": 3, "bare_thread": 3.0}
    assert {key: counted[key] for key in wanted} == wanted
    assert done.exit_code == 0


def test_tally_in_words(call: Call) -> None:
    done = call("tally", "-", "--from", "steplist", text=STEPS)
    assert done.stdout.splitlines() == [
        "-",
        "          rings  chains  stitches  picots  joins",
        "  in all      4       3        84       8      3",
        "  among them: 3 mm of bare thread",
    ]


def test_tally_does_not_know_what_an_open_repeat_comes_to(call: Call) -> None:
    text = "R 4 p 4\nREP ? {\nC 6\n}\n"
    (counted,) = json.loads(call("tally", "-", "--from", "steplist", "--format", "json", text=text).stdout)
    assert (counted["rings"], counted["chains"], counted["ds"]) == (1, None, None)
    assert "?" in call("tally", "-", "--from", "steplist", text=text).stdout


def test_tally_is_one_list_also_of_nothing(call: Call) -> None:
    done = call("tally", "nowhere.steps", "--format", "json")
    assert (done.exit_code, json.loads(done.stdout)) == (2, [])


def test_work_tells_every_step(call: Call) -> None:
    done = call("work", "-", "--from", "steplist", "--format", "json", text=STEPS)
    steps = [json.loads(line) for line in done.stdout.splitlines()]
    assert done.exit_code == 0
    assert [step["number"] for step in steps] == list(range(1, 16))
    assert steps[4]["joins"][0]["into"]
    assert steps[4]["passes"] == ["1 of 3"]
    assert steps[4]["free"] == 3
    text = call("work", "-", "--from", "steplist", text=STEPS).stdout
    assert "4 j 4 p 4" in text
    assert "pass 3 of 3" in text


def test_explain_a_rule_prints_its_docstring(call: Call) -> None:
    done = call("explain", "picot-without-stitch")
    assert done.exit_code == 0
    assert "picot-without-stitch (error, from plugin rules of larkshead" in done.stdout
    assert "Exempt:" in done.stdout


@pytest.mark.parametrize("words", [("split", "ring"), ("SR",), ("split_ring",), ("split-ring",)])
def test_explain_a_term(call: Call, words: tuple[str, ...]) -> None:
    done = call("explain", *words, "--read-as", "en")
    assert done.exit_code == 0, done.stderr
    assert done.stdout.startswith("split ring (English, modern)\n")
    assert "short:   SR" in done.stdout


def test_explain_what_is_not_known(call: Call) -> None:
    done = call("explain", "imposible-join")
    assert done.exit_code == 2
    assert "did you mean impossible-join?" in done.stderr
    assert call("explain", "flux", "capacitor").exit_code == 2


def test_every_rule_can_be_explained(call: Call) -> None:
    for row in json.loads(call("list", "rules", "--format", "json").stdout):
        done = call("explain", row["name"])
        assert done.exit_code == 0, row["name"]
        assert "Defect:" in done.stdout, row["name"]


@pytest.mark.parametrize("what", ["styles", "conventions", "rules", "reports", "samples", "plugins"])
def test_list(call: Call, what: str) -> None:
    text, rows = call("list", what).stdout, json.loads(call("list", what, "--format", "json").stdout)
    assert rows
    for row in rows:
        assert row["name"] in text
        assert row["summary"]
    assert what in json.loads(call("list", "--format", "json").stdout)


def test_help_shows_every_command_and_an_example_of_each(call: Call) -> None:
    text = call("--help").stdout
    for name, summary in COMMANDS.items():
        assert f"{name} " in text and summary in text
        own = call(name, "--help").stdout
        assert f"larkshead {name} " in own
        assert "Examples:" in own


def test_short_help_and_commands_agree() -> None:
    context = click.Context(commands)
    for name, summary in COMMANDS.items():
        command = commands.get_command(context, name)
        assert command is not None and command.name == name
        assert (command.help or "").split("\n")[0].startswith(summary.rstrip(".").split(",")[0])


def test_an_unknown_command_or_option(call: Call) -> None:
    done = call("covnert")
    assert done.exit_code == 2
    assert "did you mean convert?" in done.stderr
    assert call("lint", "--colour").exit_code == 2


def test_version_loads_nothing() -> None:
    done = larkshead("--version")
    assert (done.returncode, done.stdout) == (0, f"larkshead {__version__}\n")
    code = (
        "import sys; sys.argv = ['larkshead', '--version']; from larkshead.__main__ import main; main(); "
        "print('click' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True)
    assert done.stdout.splitlines()[1] == "False"


def test_the_process_ends_with_the_code_and_all_its_output(tmp_path: Path) -> None:
    many = "R 4 p 4\n" * 20_000
    done = larkshead("convert", "-", "--from", "steplist", "--to", "steplist", input=many)
    assert (done.returncode, done.stdout) == (0, many)
    done = larkshead("lint", "-", "--from", "steplist", "--rule", "picot-without-stitch", input="R p 4\n")
    assert done.returncode == 1
    assert larkshead("lint", str(tmp_path / "nowhere")).returncode == 2
    assert larkshead("lint", "--no-such-option").returncode == 2


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="needs a device that is always full")
def test_a_result_that_cannot_be_written_is_told() -> None:
    with open("/dev/full", "w") as full:
        done = subprocess.run(
            [sys.executable, "-m", "larkshead", "list", "styles"], stdout=full, stderr=subprocess.PIPE, text=True
        )
    assert done.returncode == 2
    assert "cannot be written" in done.stderr
    assert "Traceback" not in done.stderr


def test_a_reader_that_goes_away_is_no_trouble() -> None:
    done = subprocess.run(
        f"{sys.executable} -m larkshead convert - --from steplist --to steplist | head -1",
        shell=True, capture_output=True, text=True, input="R 4 p 4\n" * 50_000,
    )  # fmt: skip
    assert done.stdout == "R 4 p 4\n"
    assert "Traceback" not in done.stderr


def test_a_stream_that_cannot_show_a_character_shows_an_escape() -> None:
    environment = {**os.environ, "PYTHONIOENCODING": "ascii"}
    done = larkshead("convert", "-", "--from", "steplist", "--to", "steplist", input="R 4 # café\n", env=environment)
    assert done.returncode == 0
    assert "caf" in done.stdout
    assert "Traceback" not in done.stderr


def test_completion_is_offered() -> None:
    environment = {**os.environ, "_LARKSHEAD_COMPLETE": "bash_source"}
    done = larkshead(env=environment)
    assert "complete" in done.stdout and "larkshead" in done.stdout
    environment |= {"_LARKSHEAD_COMPLETE": "bash_complete", "COMP_WORDS": "larkshead con", "COMP_CWORD": "1"}
    assert "convert" in larkshead(env=environment).stdout


def test_a_fault_of_our_own_is_one_line_and_ends_with_two(tmp_path: Path) -> None:
    code = (
        "import sys; sys.argv = ['larkshead', 'list']; import larkshead.host.manager as m\n"
        "def broken(*a): raise ZeroDivisionError('oh')\n"
        "m.load_plugins = broken\nfrom larkshead.__main__ import main; main()"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True)
    assert done.returncode == 2
    assert done.stderr.count("\n") == 1
    assert "ZeroDivisionError: oh; this is a fault of larkshead" in done.stderr
