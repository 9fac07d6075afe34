"""The plugin host. A plugin needs ``hookimpl`` and the specs; the rest of the program needs the registry."""

from larkshead.host.hookspecs import hookimpl
from larkshead.host.specs import (
    API_VERSION,
    ConventionSpec,
    DocumentSpec,
    NotationSpec,
    ReportSpec,
    RuleSpec,
    SampleSpec,
)

__all__ = [
    "API_VERSION",
    "ConventionSpec",
    "DocumentSpec",
    "NotationSpec",
    "ReportSpec",
    "RuleSpec",
    "SampleSpec",
    "hookimpl",
]
