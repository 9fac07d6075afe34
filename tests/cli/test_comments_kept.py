"""Comments in a native file are kept when it is written over, and when it is converted to itself."""

from __future__ import annotations

from pathlib import Path

from calling import Call

PROSE = "Little edging\n\nRing: 5 ds, p, 5 ds, close, turn. Chain: 6 ds, p, 6 ds, turn.\n"
COMMENT = "# the chain may want a longer picot"


def test_comments_stay_where_a_file_is_written_over(call: Call) -> None:
    prose, native = Path("edging.txt"), Path("edging.yaml")
    prose.write_text(PROSE, encoding="utf-8")
    assert call("convert", "edging.txt", "--from", "prose", "-o", "edging.yaml").exit_code == 0
    lines = native.read_text(encoding="utf-8").splitlines()
    at = next(i for i, line in enumerate(lines) if "chain" in line)
    lines[at] += f"  {COMMENT}"
    native.write_text("\n".join(lines) + "\n", encoding="utf-8")
    prose.write_text(PROSE.replace("5 ds, p, 5 ds", "7 ds, p, 7 ds"), encoding="utf-8")
    assert call("convert", "edging.txt", "--from", "prose", "-o", "edging.yaml", "--force").exit_code == 0
    after = native.read_text(encoding="utf-8").splitlines()
    assert after == [line.replace("[5, p, 5]", "[7, p, 7]") for line in lines]
    assert after != lines
    itself = call("convert", "edging.yaml", "--to", "native")
    assert itself.stdout.splitlines() == after
