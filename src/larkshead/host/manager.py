"""Loading plugins: each is imported, registered and asked once for its specs; one that breaks is named and left out."""

from __future__ import annotations

import importlib
from collections.abc import Iterable
from types import ModuleType
from typing import Any

import pluggy

from larkshead.host import hookspecs
from larkshead.host.discovery import EntryPoint, discover
from larkshead.host.registry import Plugin, Provided, Registry, describe
from larkshead.host.specs import (
    API_VERSION,
    ConventionSpec,
    DocumentSpec,
    NotationSpec,
    ReportSpec,
    RuleSpec,
    SampleSpec,
)

# Hook, the kind of spec it gives, and the registry's table for it.
_HOOKS: tuple[tuple[str, type, str], ...] = (
    ("larkshead_notations", NotationSpec, "notations"),
    ("larkshead_conventions", ConventionSpec, "conventions"),
    ("larkshead_rules", RuleSpec, "rules"),
    ("larkshead_reports", ReportSpec, "reports"),
    ("larkshead_samples", SampleSpec, "samples"),
    ("larkshead_documents", DocumentSpec, "documents"),
)
_SEVERITIES = ("error", "warning", "note")


def load_plugins(entry_points: Iterable[EntryPoint] | None = None) -> Registry:
    """Everything that the installed plugins (or those given) offer."""
    registry = Registry()
    manager = pluggy.PluginManager(hookspecs.GROUP)
    manager.add_hookspecs(hookspecs)
    loaded: dict[str, Plugin] = {}
    for entry in discover() if entry_points is None else entry_points:
        plugin = Plugin(entry.name, entry.target, entry.distribution, entry.version)
        trouble = _register(manager, plugin, loaded)
        if trouble:
            registry.warnings.append(f"{plugin} was left out: {trouble}")
    registry.plugins.extend(loaded.values())
    for hook, kind, table in _HOOKS:
        implementations = {impl.plugin_name: impl for impl in getattr(manager.hook, hook).get_hookimpls()}
        for name, plugin in loaded.items():
            if name in implementations:
                _collect(registry, plugin, implementations[name].function, hook, kind, getattr(registry, table))
    return registry


def _register(manager: pluggy.PluginManager, plugin: Plugin, loaded: dict[str, Plugin]) -> str:
    """Import and register one plugin; what is wrong with it, or nothing."""
    if plugin.name in loaded:
        return f"the name {plugin.name} is already taken by {loaded[plugin.name]}"
    try:
        module = importlib.import_module(plugin.module)
    except (Exception, SystemExit) as fault:
        return f"it could not be imported ({describe(fault)})"
    version = getattr(module, "LARKSHEAD_API", API_VERSION)
    if version != API_VERSION:
        return f"it was written for version {version!r} of the plugin interface, and this is version {API_VERSION}"
    unknown = _unknown_hooks(module)
    if unknown:
        return f"it implements {', '.join(unknown)}, which this version does not know"
    try:
        manager.register(module, plugin.name)
    except Exception as fault:
        return f"it could not be registered ({describe(fault)})"
    loaded[plugin.name] = plugin
    return ""


def _unknown_hooks(module: ModuleType) -> list[str]:
    """Functions marked as hooks that are none."""
    known = {hook for hook, _, _ in _HOOKS}
    marked = f"{hookspecs.GROUP}_impl"
    return [n for n, thing in vars(module).items() if n not in known and hasattr(thing, marked) and callable(thing)]


def _collect(registry: Registry, plugin: Plugin, hook: Any, name: str, kind: type, table: dict[str, Any]) -> None:
    """Ask one plugin for its specs and enter those that are sound."""
    warn = registry.warnings.append
    try:
        specs = list(hook())
    except (Exception, SystemExit) as fault:
        warn(f"{plugin}: {name} failed ({describe(fault)}), what it offers there was left out")
        return
    for spec in specs:
        trouble = _trouble(spec, kind)
        if trouble:
            warn(f"{plugin}: {name} gave {trouble}, which was left out")
        elif spec.name in table:
            warn(
                f"{plugin}: the {kind.__name__[:-4].lower()} {spec.name} was left out, {table[spec.name].plugin} has it"
            )
        else:
            table[spec.name] = Provided(spec, plugin)


def _trouble(spec: Any, kind: Any) -> str:
    """What is wrong with a spec as a plugin gave it, or nothing."""
    if not isinstance(spec, kind):
        return f"a {type(spec).__name__} where a {kind.__name__} was expected"
    wanted = {"reader", "writer", "recogniser", "rewriter"} if kind is not DocumentSpec else set()
    for slot in kind.__slots__:
        value = getattr(spec, slot)
        if slot in ("suffixes", "files"):
            if not isinstance(value, tuple):
                return f"a {kind.__name__} whose {slot} are no tuple"
        elif slot == "worded":
            if not isinstance(value, bool):
                return f"a {kind.__name__} whose {slot} is neither true nor false"
        elif not isinstance(value, str) and not (slot in wanted and value is None):
            return f"a {kind.__name__} whose {slot} is no text"
    if not spec.name:
        return f"a {kind.__name__} without a name"
    if isinstance(spec, RuleSpec) and spec.severity not in _SEVERITIES:
        return f"a RuleSpec of the severity {spec.severity!r} (expected {', '.join(_SEVERITIES)})"
    return ""
