"""Every plugin that ships is packaged and registered."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).parents[2]
PLUGINS = sorted(p.name for p in (ROOT / "plugins").iterdir() if p.is_dir() and not p.name.startswith((".", "__")))


@pytest.fixture(scope="module")
def project() -> dict[str, Any]:
    """The project's own description."""
    return tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))


def test_there_are_plugins() -> None:
    assert {"larkshead_english", "larkshead_rules", "larkshead_shorthand"} <= set(PLUGINS)


def test_every_plugin_folder_is_packaged(project: dict[str, Any]) -> None:
    packages = project["tool"]["hatch"]["build"]["targets"]["wheel"]["packages"]
    assert sorted(packages) == sorted(
        ["src/larkshead", "schemas/larkshead_schemas", *(f"plugins/{name}" for name in PLUGINS)]
    )


def test_every_plugin_folder_is_an_entry_point(project: dict[str, Any]) -> None:
    entry_points = project["project"]["entry-points"]["larkshead"]
    assert entry_points == {name.removeprefix("larkshead_"): name for name in PLUGINS}


def test_every_plugin_is_under_the_contracts_on_imports(project: dict[str, Any]) -> None:
    linter = project["tool"]["importlinter"]
    assert sorted(linter["root_packages"]) == sorted(["larkshead", *PLUGINS])
    assert len(linter["contracts"]) >= 4
    for contract in linter["contracts"][1:]:
        named = contract.get("modules") or [*contract["source_modules"], *contract["forbidden_modules"]]
        assert set(PLUGINS) <= set(named), contract["name"]


def test_the_top_level_holds_only_what_belongs_there() -> None:
    expected = {"README.md", "DEVELOPERS.md", "LICENSE", "pyproject.toml", "src", "plugins", "schemas", "tests"}
    leftovers = {"dist", "build"}
    found = {p.name for p in ROOT.iterdir() if not p.name.startswith(".") and not (p / "pyvenv.cfg").exists()}
    assert found - leftovers == expected
