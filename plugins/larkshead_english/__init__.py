"""English: the conventions ``en`` (modern) and, in time, its older sisters."""

from larkshead.host.hookspecs import hookimpl
from larkshead.host.specs import ConventionSpec


@hookimpl
def larkshead_conventions() -> list[ConventionSpec]:
    """The conventions of this plugin."""
    return [ConventionSpec("en", "English, modern", "larkshead_english", "en.yaml")]
