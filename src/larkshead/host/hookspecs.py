"""The hooks a plugin may implement. Each is called once and only registers specs."""

from __future__ import annotations

from collections.abc import Sequence

import pluggy

from larkshead.host.specs import ConventionSpec, DocumentSpec, NotationSpec, ReportSpec, RuleSpec, SampleSpec

GROUP = "larkshead"
hookspec = pluggy.HookspecMarker(GROUP)
hookimpl = pluggy.HookimplMarker(GROUP)


@hookspec
def larkshead_notations() -> Sequence[NotationSpec]:  # type: ignore[empty-body]
    """Notations this plugin reads or writes."""


@hookspec
def larkshead_conventions() -> Sequence[ConventionSpec]:  # type: ignore[empty-body]
    """Conventions this plugin ships."""


@hookspec
def larkshead_rules() -> Sequence[RuleSpec]:  # type: ignore[empty-body]
    """Rules this plugin checks."""


@hookspec
def larkshead_reports() -> Sequence[ReportSpec]:  # type: ignore[empty-body]
    """Reports of findings this plugin prints."""


@hookspec
def larkshead_samples() -> Sequence[SampleSpec]:  # type: ignore[empty-body]
    """Sample patterns this plugin ships."""


@hookspec
def larkshead_documents() -> Sequence[DocumentSpec]:  # type: ignore[empty-body]
    """Kinds of documents this plugin takes the text from."""
