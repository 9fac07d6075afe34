"""Plugins are found as Python's own machinery finds them, without its cost."""

from __future__ import annotations

import importlib.metadata
import subprocess
import sys
from pathlib import Path

from larkshead.host.discovery import discover


def distribution(folder: Path, name: str, version: str, entry_points: str, suffix: str = ".dist-info") -> None:
    """A folder of metadata as an installer leaves it."""
    where = folder / f"{name}-{version}{suffix}"
    where.mkdir(parents=True)
    text = f"Metadata-Version: 2.1\nName: {name}\nVersion: {version}\n\nabout it\n"
    (where / ("METADATA" if suffix == ".dist-info" else "PKG-INFO")).write_text(text, "utf-8")
    (where / "entry_points.txt").write_text(entry_points, "utf-8")


def told_by_python(path: list[str] | None = None) -> set[tuple[str, str, str, str]]:
    """Name, target, distribution and version of each entry point of the group, by the standard library."""
    found = set()
    seen = set()
    distributions = importlib.metadata.distributions(**({} if path is None else {"path": path}))
    for dist in distributions:
        name = dist.metadata["Name"]
        if name.lower() in seen:
            continue
        seen.add(name.lower())
        for entry in dist.entry_points:
            if entry.group == "larkshead":
                found.add((entry.name, entry.module, name.replace("_", "-"), dist.version))
    return found


def test_same_answer_as_the_standard_library_here() -> None:
    found = {tuple(entry) for entry in discover()}
    assert found == told_by_python()
    assert {entry[0] for entry in found} >= {"english", "native", "prose", "rules", "shorthand", "steplist", "table"}


def test_same_answer_for_awkward_metadata(tmp_path: Path) -> None:
    first, second = tmp_path / "first", tmp_path / "second"
    distribution(
        first, "lace_extra", "2.0.1", "[console_scripts]\nlace = lace:main\n\n[larkshead]\nlace = lace_extra\n"
    )
    distribution(first, "quiet", "1.0", "[console_scripts]\nquiet = quiet:main\n")
    distribution(first, "old_style", "0.3", "[larkshead]\n# a comment\nold=old_style [extra]\n", ".egg-info")
    distribution(first, "two", "1.0", "[larkshead]\nb = two.b\na = two.a\n[other]\nc = two.c\n")
    # The same distribution again, further back on the path: the first one counts.
    distribution(second, "lace_extra", "1.0", "[larkshead]\nlace = lace_before\n")
    path = [str(first), str(second), str(tmp_path / "nowhere")]
    found = {tuple(entry) for entry in discover(path)}
    assert found == told_by_python(path)
    assert ("lace", "lace_extra", "lace-extra", "2.0.1") in found
    assert len(found) == 4


def test_own_plugins_come_first_and_the_order_is_stable(tmp_path: Path) -> None:
    distribution(tmp_path, "aardvark", "1", "[larkshead]\naa = aardvark\n")
    distribution(tmp_path, "larkshead", "1", "[larkshead]\nzz = larkshead_zz\nbb = larkshead_bb\n")
    assert [entry.name for entry in discover([str(tmp_path)])] == ["bb", "zz", "aa"]


def test_metadata_without_a_version_in_its_name(tmp_path: Path) -> None:
    where = tmp_path / "bare.egg-info"
    where.mkdir()
    (where / "PKG-INFO").write_text("Name: bare\nVersion: 4.2\n", "utf-8")
    (where / "entry_points.txt").write_text("[larkshead]\nbare = bare\n", "utf-8")
    assert [(e.distribution, e.version) for e in discover([str(tmp_path)])] == [("bare", "4.2")]


def test_loading_plugins_imports_no_costly_modules() -> None:
    code = (
        "import sys; from larkshead.host.manager import load_plugins; r = load_plugins(); assert r.notations; "
        "print(*[m for m in ('importlib.metadata', 'jsonschema', 'ruamel.yaml', 'click', 'json') if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == ""
