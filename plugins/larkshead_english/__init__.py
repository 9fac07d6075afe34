"""English: the conventions ``en`` (modern) and ``en-vintage`` (books of about 1850 to 1915)."""

from larkshead.host.hookspecs import hookimpl
from larkshead.host.specs import ConventionSpec


@hookimpl
def larkshead_conventions() -> list[ConventionSpec]:
    """The conventions of this plugin."""
    return [
        ConventionSpec("en", "English, modern", "larkshead_english", "en.yaml"),
        ConventionSpec(
            "en-vintage",
            "English, books of 1850 to 1915",
            "larkshead_english",
            "en-vintage.yaml",
            recogniser="larkshead_english.recogniser:recognise_vintage",
        ),
    ]
