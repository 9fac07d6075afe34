"""Measures of speed and memory as ratios, to be read and not to be passed: ``python tests/benchmarks/ratios.py``.

Everything is held against something measured in the same run on the same machine: a cold start against an interpreter
that does nothing, reading against a bare tokenizer written here, growth against a pattern a tenth as long.
"""

from __future__ import annotations

import gc
import re
import subprocess
import sys
import tempfile
import time
import tracemalloc
from collections.abc import Callable, Sequence
from pathlib import Path

from larkshead.app.lint import lint
from larkshead.app.workbench import Workbench
from larkshead.reading import Source
from larkshead.working import Limits, work

SMALL = "R 5-5-5-5 cl RW\nCh 6-6 RW\nR 5+5-5-5 cl RW\nCh 6-6 RW\n"
COLD = (
    (("--version",), 4.5),
    (("--help",), 0.0),
    (("lint", "SHORTHAND", "--from", "shorthand", "--read-as", "en"), 7.0),
    (("lint", "SHORTHAND"), 7.0),
    (("convert", "SHORTHAND", "--from", "shorthand", "--read-as", "en", "--to", "steplist"), 7.0),
    (("convert", "SHORTHAND", "--from", "shorthand", "--read-as", "en", "--to", "prose"), 7.0),
    (("convert", "STEPS", "--to", "steplist"), 7.0),
)
_TOKEN = re.compile(r"\d+|[A-Za-z]+|[-+.,:;()\[\]*/]|\s+|.")


def best(call: Callable[[], object], times: int) -> float:
    """The shortest of several runs, in seconds."""
    shortest = float("inf")
    for _ in range(times):
        start = time.perf_counter()
        call()
        shortest = min(shortest, time.perf_counter() - start)
    return shortest


def cold_start(times: int = 15) -> None:
    """Whole runs of the command against ``python -c pass``."""
    print("cold start, times an interpreter that does nothing")
    with tempfile.TemporaryDirectory() as folder:
        files = {"SHORTHAND": Path(folder, "small.txt"), "STEPS": Path(folder, "small.steps")}
        files["SHORTHAND"].write_text(SMALL, "utf-8")
        files["STEPS"].write_text("R 5 p 5 p 5 p 5\nTURN\nC 6 p 6\n", "utf-8")

        def process(command: Sequence[str]) -> Callable[[], object]:
            return lambda: subprocess.run(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)

        base = best(process([sys.executable, "-c", "pass"]), times)
        print(f"  {'python -c pass':70} {base * 1000:6.1f} ms")
        for arguments, wanted in COLD:
            named = [str(files.get(word, word)) for word in arguments]
            took = best(process([sys.executable, "-m", "larkshead", *named]), times)
            aim = f"  (at most {wanted})" if wanted else ""
            print(f"  {' '.join(arguments):70} {took / base:6.2f}{aim}")


def shorthand(rounds: int) -> str:
    """A pattern in shorthand of two lines an element and its turn."""
    lines = []
    for number in range(1, rounds + 1):
        lines.append(f"Round {number}")
        lines += ["R 5-5-5-5 cl RW", "Ch 6-6 RW"]
        lines += ["R 5+5-5-5 cl RW", "Ch 6-6 RW"] * 4
        lines += ["R 5+5-5+5 cl RW", "Ch 6-6 RW", "Tie and cut."]
    return "\n".join(lines) + "\n"


def tokenize(text: str) -> int:
    """The least a reader does: every line parted into tokens, numbers made numbers, marks and words kept."""
    made = 0
    for line in text.split("\n"):
        row: list[tuple[str, object]] = []
        for found in _TOKEN.finditer(line):
            word = found.group()
            if word.isdigit():
                row.append(("number", int(word)))
            elif not word.isspace():
                row.append(("word", word.lower()))
        made += len(row)
    return made


def throughput(rounds: int = 400) -> None:
    """Lines of shorthand read, and read and proofed, against a bare tokenizer."""
    bench = Workbench()
    text = shorthand(rounds)
    lines = text.count("\n")
    bench.read(Source(SMALL), "shorthand", "en")

    def read() -> object:
        return bench.read(Source(text), "shorthand", "en")

    bare = best(lambda: tokenize(text), 5)
    reading = best(read, 3)
    proofing = best(lambda: lint(bench, bench.read(Source(text), "shorthand", "en")), 3)
    print(f"shorthand, {lines} lines")
    for name, took in (("bare tokenizer", bare), ("reading", reading), ("reading and proofing", proofing)):
        print(f"  {name:24} {lines / took:10,.0f} lines a second {took / bare:8.1f} times the tokenizer")


def growth(most: int = 6) -> None:
    """Time a step to read, work and proof patterns that are each ten times as long as the one before."""
    bench = Workbench()
    print("growth, microseconds a step as worked (and times the one before)")
    for what, act in (
        ("a repeat worked out", lambda steps: work(repeated(bench, steps), Limits())),
        ("read from a step list", lambda steps: bench.read(Source("R 4 p 4 p 4\nTURN\n" * (steps // 2)), "steplist")),
        ("a repeat proofed", lambda steps: lint(bench, repeated_reading(bench, steps))),
    ):
        before = 0.0
        for power in range(3, most + 1):
            steps = 10**power
            gc.collect()
            took = best(lambda act=act, steps=steps: act(steps), 3 if power < 5 else 1) / steps * 1e6
            print(f"  {what:24} {steps:>9,} steps {took:8.2f}" + (f" ({took / before:.2f})" if before else ""))
            before = took


def repeated_reading(bench: Workbench, steps: int) -> object:
    """A pattern of one repeat that comes to so many steps as worked."""
    passes = steps // 4
    first = "R 4 p 4 p 4\nTURN\nC 6 p 6\nTURN\n"
    text = f"{first}REP {passes - 1} {{\nR 4 j 4 p 4 -> previous ring, last picot\nTURN\nC 6 p 6\nTURN\n}}\n"
    return bench.read(Source(text), "steplist")


def repeated(bench: Workbench, steps: int) -> object:
    """The same as a pattern."""
    return repeated_reading(bench, steps).pattern


def memory(steps: int = 100_000) -> None:
    """Memory of a pattern as worked, a worked element (half of the steps are turns)."""
    bench = Workbench()
    pattern = repeated(bench, steps)
    work(repeated(bench, 1000), Limits())
    gc.collect()
    tracemalloc.start()
    worked = work(pattern, Limits())
    held, _ = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    elements = len(worked.elements)
    print(f"memory: {held / elements:.0f} bytes a worked element, {elements:,} elements  (at most 1500)")


def main() -> None:
    """Print all measures, or those named."""
    # As the command line has it.
    gc.set_threshold(100_000, 20, 50)
    measures = {"cold": cold_start, "throughput": throughput, "growth": growth, "memory": memory}
    for name in sys.argv[1:] or measures:
        measures[name]()


if __name__ == "__main__":
    main()
