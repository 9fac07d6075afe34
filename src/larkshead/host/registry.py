"""What all plugins together offer: notations, conventions, rules, reports, samples and documents by name."""

from __future__ import annotations

from typing import Any, Generic, TypeVar

from larkshead.host.specs import (
    ConventionSpec,
    DocumentSpec,
    NotationSpec,
    ReportSpec,
    RuleSpec,
    SampleSpec,
    load_target,
)
from larkshead.records import dataclass, field

Spec = TypeVar("Spec", ConventionSpec, DocumentSpec, NotationSpec, ReportSpec, RuleSpec, SampleSpec)


class PluginFailure(Exception):
    """A part of a plugin that cannot be loaded or used; the message names the plugin and its version."""


@dataclass(frozen=True, slots=True)
class Plugin:
    """One plugin: the entry point's name, the module, and the distribution that brought it."""

    name: str
    module: str
    distribution: str
    version: str

    def __str__(self) -> str:
        return f"plugin {self.name} of {self.distribution} {self.version}"


@dataclass(frozen=True, slots=True)
class Provided(Generic[Spec]):
    """A spec and the plugin that gave it."""

    spec: Spec
    plugin: Plugin

    def load(self, target: str) -> Any:
        """The body behind one of the spec's targets; PluginFailure where it cannot be had."""
        try:
            return load_target(target)
        except Exception as fault:
            raise PluginFailure(
                f"{self.plugin}: {self.spec.name} could not be loaded from {target}: {describe(fault)}"
            ) from fault


@dataclass(slots=True)
class Registry:
    """Everything the plugins offer. ``warnings`` tell which plugins, or parts of them, were left out and why."""

    notations: dict[str, Provided[NotationSpec]] = field(default_factory=dict)
    conventions: dict[str, Provided[ConventionSpec]] = field(default_factory=dict)
    rules: dict[str, Provided[RuleSpec]] = field(default_factory=dict)
    reports: dict[str, Provided[ReportSpec]] = field(default_factory=dict)
    samples: dict[str, Provided[SampleSpec]] = field(default_factory=dict)
    documents: dict[str, Provided[DocumentSpec]] = field(default_factory=dict)
    plugins: list[Plugin] = field(default_factory=list)
    warnings: list[str] = field(default_factory=list)


def describe(fault: BaseException) -> str:
    """A fault in one line: what it is and what it says."""
    said = " ".join(str(fault).split())
    return f"{type(fault).__name__}: {said}" if said else type(fault).__name__
