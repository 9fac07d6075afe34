"""A plugin that breaks is named with its distribution and version, and the rest goes on."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from larkshead.host.discovery import EntryPoint
from larkshead.host.manager import load_plugins
from larkshead.host.registry import PluginFailure, Registry

Load = Callable[..., Registry]

GOOD = """
from larkshead.host import NotationSpec, hookimpl
LARKSHEAD_API = 1
@hookimpl
def larkshead_notations():
    return [NotationSpec("knots", "by knots", writer="good_plugin_bodies:write")]
"""


@pytest.fixture
def load(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Load:
    """Loads plugins given as module name and source, each of a distribution of its own."""
    monkeypatch.syspath_prepend(str(tmp_path))

    def loader(**sources: str) -> Registry:
        for name, source in sources.items():
            (tmp_path / f"{name}.py").write_text(source, "utf-8")
            monkeypatch.delitem(sys.modules, name, raising=False)
        return load_plugins([EntryPoint(name, name, f"dist-{name}", "7.1") for name in sources])

    return loader


def test_a_good_plugin_is_registered_and_its_body_not_yet_loaded(load: Load) -> None:
    registry = load(good=GOOD)
    assert registry.warnings == []
    assert registry.notations["knots"].plugin.distribution == "dist-good"
    assert "good_plugin_bodies" not in sys.modules


@pytest.mark.parametrize(
    ("source", "said"),
    [
        ("import no_such_module_anywhere", "could not be imported (ModuleNotFoundError"),
        ("raise SystemExit(3)", "could not be imported (SystemExit"),
        ("def broken(:", "could not be imported (SyntaxError"),
        (GOOD.replace("LARKSHEAD_API = 1", "LARKSHEAD_API = 99"), "was written for version 99"),
        (GOOD.replace("LARKSHEAD_API = 1", "LARKSHEAD_API = 'one'"), "was written for version 'one'"),
        (GOOD.replace("def larkshead_notations()", "def larkshead_notations(more)"), "could not be registered"),
        (GOOD.replace("def larkshead_notations()", "def larkshead_doilies()"), "implements larkshead_doilies"),
    ],
)
def test_a_plugin_that_cannot_be_used_is_left_out_whole(load: Load, source: str, said: str) -> None:
    registry = load(bad=source, good=GOOD)
    assert [plugin.name for plugin in registry.plugins] == ["good"]
    assert "knots" in registry.notations
    (warning,) = registry.warnings
    assert "plugin bad of dist-bad 7.1 was left out" in warning
    assert said in warning


@pytest.mark.parametrize(
    ("body", "said"),
    [
        ("raise RuntimeError('no luck')", "failed (RuntimeError: no luck)"),
        ("return 5", "failed (TypeError"),
        ("return None", "failed (TypeError"),
        ("return ['knots']", "gave a str where a NotationSpec was expected"),
        ("return [NotationSpec('', 'nameless')]", "without a name"),
        ("return [NotationSpec(5, 'number')]", "whose name is no text"),
        ("return [NotationSpec('s', 'list of suffixes', ['.s'])]", "whose suffixes are no tuple"),
        ("return [RuleSpec('r', 'fatal', 'x', 'm:f')]", "gave a RuleSpec where a NotationSpec was expected"),
    ],
)
def test_a_hook_that_raises_or_gives_junk_costs_only_itself(load: Load, body: str, said: str) -> None:
    source = (
        "from larkshead.host import NotationSpec, ReportSpec, RuleSpec, hookimpl\n"
        f"@hookimpl\ndef larkshead_notations():\n    {body}\n"
        "@hookimpl\ndef larkshead_rules():\n    return [RuleSpec('sound-rule', 'note', 'x', 'm:f')]\n"
    )
    registry = load(half=source, good=GOOD)
    (warning,) = registry.warnings
    assert "plugin half of dist-half 7.1" in warning
    assert said in warning
    assert set(registry.notations) == {"knots"}
    assert set(registry.rules) == {"sound-rule"}


def test_a_rule_of_an_unknown_severity_is_left_out(load: Load) -> None:
    source = (
        "from larkshead.host import RuleSpec, hookimpl\n@hookimpl\n"
        "def larkshead_rules():\n    return [RuleSpec('r', 'fatal', 'x', 'm:f')]\n"
    )
    registry = load(harsh=source)
    assert registry.rules == {}
    assert "severity 'fatal'" in registry.warnings[0]


def test_a_name_taken_twice_goes_to_the_first_and_the_second_is_told(load: Load) -> None:
    registry = load(good=GOOD, second=GOOD)
    assert registry.notations["knots"].plugin.name == "good"
    (warning,) = registry.warnings
    assert "plugin second of dist-second 7.1" in warning
    assert "plugin good of dist-good 7.1 has it" in warning


def test_two_plugins_of_one_name(tmp_path: Path, load: Load) -> None:
    load(good=GOOD)
    registry = load_plugins([EntryPoint("good", "good", "a", "1"), EntryPoint("good", "good", "b", "2")])
    assert len(registry.plugins) == 1
    assert "the name good is already taken" in registry.warnings[0]


def test_a_body_that_cannot_be_loaded_names_the_plugin(load: Load) -> None:
    provided = load(good=GOOD).notations["knots"]
    with pytest.raises(
        PluginFailure, match=r"plugin good of dist-good 7\.1: knots could not be loaded from good_plugin"
    ):
        provided.load("good_plugin_bodies:write")
