"""A long run with a fuzzer that follows the code: ``python tests/fuzzing/fuzz_reading.py [options of the fuzzer]``.

Needs ``pip install -e '.[fuzz]'``. Without options it runs until stopped or until something does not hold; what then
failed is kept in a file named ``crash-...`` that the same command takes as its argument. ``-max_total_time=600`` ends
after ten minutes, a folder named as argument keeps what reached new code for the next run.
"""

from __future__ import annotations

import sys

import atheris

with atheris.instrument_imports(include=["larkshead"]):
    from holds import BENCH, WORDED, hold

_FORMS = sorted(BENCH.convention("en").forms)
_MARKS = [*"-+.,:;()[]*/x×·…|\n\t^<>=&#", " ", "\n\n", ". ", ", "]


def one(data: bytes) -> None:
    """A text made of the convention's own words, of figures and marks, and of a little of anything."""
    given = atheris.FuzzedDataProvider(data)
    style = given.PickValueInList(list(WORDED))
    pieces: list[str] = []
    while given.remaining_bytes() > 1 and len(pieces) < 200:
        kind = given.ConsumeIntInRange(0, 7)
        if kind < 3:
            pieces.append(" " + given.PickValueInList(_FORMS))
        elif kind < 5:
            pieces.append(f" {given.ConsumeIntInRange(0, 25)}")
        elif kind < 7:
            pieces.append(given.PickValueInList(_MARKS))
        else:
            pieces.append(given.ConsumeUnicodeNoSurrogates(5))
    hold("".join(pieces), style)


if __name__ == "__main__":
    atheris.Setup(sys.argv, one)
    atheris.Fuzz()
