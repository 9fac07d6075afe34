"""The one path: text to reader to pattern to worked to rules to findings, and pattern to writer to text and losses."""

from __future__ import annotations

import importlib
import os
from typing import TYPE_CHECKING, Any

from larkshead.app.choose import choose_convention, choose_style
from larkshead.app.depth import too_deep, too_long
from larkshead.app.errors import CannotRun, choice
from larkshead.app.files import read_source
from larkshead.app.mixed import read_mixed
from larkshead.conventions import Convention, load_convention
from larkshead.garbage import NoCollecting
from larkshead.host.registry import PluginFailure, Provided, Registry, describe
from larkshead.model import Pattern
from larkshead.reading import Notice, Reading, Source
from larkshead.settings import Settings

if TYPE_CHECKING:
    from larkshead.host.specs import NotationSpec
    from larkshead.working import Worked
    from larkshead.writing import Written


class Workbench:
    """Everything one run needs: what the plugins offer, the settings, and what has been loaded already."""

    def __init__(self, settings: Settings | None = None, registry: Registry | None = None) -> None:
        self.settings = settings or Settings()
        self._registry = registry
        self._conventions: dict[str, Convention] = {}
        self._bodies: dict[str, Any] = {}

    @property
    def registry(self) -> Registry:
        """What the plugins offer, found when first asked for."""
        if self._registry is None:
            from larkshead.host.manager import load_plugins

            self._registry = load_plugins()
        return self._registry

    # Reading

    def read_file(self, name: str, style: str | None = None, convention: str | None = None) -> Reading:
        """The pattern in a file, in standard input (``-``) or in a bundled sample (``sample:NAME``).

        Raises CannotRun for what cannot be read at all, and as ``read`` does.
        """
        if name.startswith("sample:"):
            from larkshead.app.samples import find_sample

            path, usual = find_sample(self.registry, name)
            source, notices = read_source(path, self.settings.limits, self.registry)
            source, style = Source(source.text, name), style or usual
        else:
            source, notices = read_source(name, self.settings.limits, self.registry)
        reading = self.read(source, style, convention)
        reading.notices[:0] = notices
        return reading

    def read(self, source: Source, style: str | None = None, convention: str | None = None) -> Reading:
        """The pattern in a text. What is not told (style, convention) is recognised, and the guess is a notice.

        Raises CannotRun for an unknown style or convention and for a plugin that fails.
        """
        style = style or self.settings.style
        if style is not None:
            return self._read_in(style, source, convention)
        style, guesses = choose_style(self, source)
        reading = self._read_in(style, source, convention)
        mixed = read_mixed(self, reading)
        if mixed is not None:
            return mixed
        reading.notices[:0] = guesses
        return reading

    def _read_in(self, style: str, source: Source, convention: str | None) -> Reading:
        notation = self.notation(style, "reader")
        habits = Convention(name=convention or "")
        guesses: list[Notice] = []
        if notation.spec.worded:
            convention = convention or self.settings.read_as
            if convention is None:
                convention, guesses = choose_convention(self, source)
            habits = self.convention(convention)
        reader = self.body(notation, notation.spec.reader)
        if notation.spec.worded:
            beyond = too_deep(source) or too_long(source, self.settings.limits.line_characters)
            if beyond is not None:
                return Reading(source, Pattern(), notices=[*guesses, beyond], style=style, convention=habits.name)
        reading = self._call(notation, lambda: reader(source, habits))
        if not isinstance(reading, Reading):
            raise CannotRun(
                f"{notation.plugin}: the reader of {style} gave back no reading", source.name, "plugin-failed"
            )
        reading.style = style
        reading.convention = habits.name
        reading.notices[:0] = guesses
        return reading

    # Writing

    def write(
        self, pattern: Pattern, style: str, convention: str | None = None, standing: str | None = None
    ) -> Written:
        """The pattern in another style, with what was lost; CannotRun for an unknown style or a failing plugin.

        ``standing`` is the text of this style that the new one replaces: its comments are kept where the notation can.
        """
        from larkshead.writing import Written

        notation = self.notation(style, "writer")
        habits = self.convention_for(notation, convention)
        writer = self.body(notation, notation.spec.writer)
        written = self._call(notation, lambda: writer(pattern, habits))
        if not isinstance(written, Written):
            raise CannotRun(f"{notation.plugin}: the writer of {style} gave back nothing", kind="plugin-failed")
        if standing is not None and notation.spec.rewriter is not None:
            rewriter = self.body(notation, notation.spec.rewriter)
            written.text = self._call(notation, lambda: rewriter(standing, pattern))
        return written

    def convention_for(self, notation: Provided[NotationSpec], convention: str | None) -> Convention:
        """The convention a notation writes in: the one asked for, or the usual one; a bare one where it needs none."""
        if not notation.spec.worded:
            return Convention(name=convention or "")
        return self.convention(convention or self.settings.write_as or self.usual_convention())

    # Working

    def work(self, pattern: Pattern) -> Worked:
        """The pattern as worked, within the limits the settings give."""
        from larkshead.working import Limits, work

        most = self.settings.limits
        return work(pattern, Limits(most.worked_steps, most.nesting, most.worked_picots))

    # What the plugins offer

    def notation(self, style: str, role: str) -> Provided[NotationSpec]:
        """The notation of that name that has a reader (or writer); CannotRun where there is none."""
        known = self.registry.notations
        found = known.get(style)
        if found is None or getattr(found.spec, role) is None:
            able = sorted(n for n, p in known.items() if getattr(p.spec, role) is not None)
            verb = "read" if role == "reader" else "write"
            if found is not None:
                raise CannotRun(f"larkshead cannot {verb} {style} (it can: {', '.join(able)})", kind="unknown-style")
            raise CannotRun(choice(f"style to {verb}", style, able), kind="unknown-style")
        return found

    def convention(self, name: str) -> Convention:
        """A convention by name, or from a file of the user's own; CannotRun where there is none or it is faulty."""
        loaded = self._conventions.get(name)
        if loaded is None:
            try:
                loaded = load_convention(self.convention_path(name), self.convention_path)
            except ValueError as fault:
                raise CannotRun(str(fault), kind="faulty-convention") from None
            except OSError as fault:
                raise CannotRun(
                    f"the convention {name} cannot be read: {fault.strerror}", kind="unknown-convention"
                ) from None
            self._conventions[name] = loaded
            if loaded.name not in self.registry.conventions:
                # A file of the user's own: from here on its name will do.
                self._conventions.setdefault(loaded.name, loaded)
        return loaded

    def loaded_convention(self, name: str) -> Convention | None:
        """The convention a pattern was read with, None where it was read without vocabulary."""
        return self._conventions.get(name)

    def convention_path(self, name: str) -> str:
        """The file of a convention: a shipped one by name, one the settings list, or a path to a YAML file."""
        found = self.registry.conventions.get(name)
        if found is not None:
            package = importlib.import_module(found.spec.package)
            return os.path.join(os.path.dirname(package.__file__ or ""), found.spec.resource)
        for path in self.settings.conventions:
            if _stem(path) == name:
                return path
        if name.endswith((".yaml", ".yml")):
            return name
        known = sorted({*self.registry.conventions, *map(_stem, self.settings.conventions)})
        raise CannotRun(choice("convention", name, known), kind="unknown-convention")

    def usual_convention(self) -> str:
        """The convention used where nothing says which: the first that a plugin offers."""
        known = self.registry.conventions
        if not known:
            raise CannotRun("no plugin offers a convention to read or write with", kind="unknown-convention")
        return next(iter(known))

    def body(self, provided: Provided[Any], target: str | None) -> Any:
        """The loaded body of a spec's target; CannotRun where the plugin fails."""
        assert target is not None
        if target not in self._bodies:
            try:
                self._bodies[target] = provided.load(target)
            except PluginFailure as fault:
                raise CannotRun(str(fault), kind="plugin-failed") from fault
        return self._bodies[target]

    def _call(self, provided: Provided[Any], call: Any) -> Any:
        """A plugin's answer; CannotRun naming the plugin where it raises."""
        try:
            with NoCollecting():
                return call()
        except CannotRun:
            raise
        except RecursionError:
            raise CannotRun("what is written here is nested too deep to be followed", kind="too-deep") from None
        except Exception as fault:
            raise CannotRun(
                f"{provided.plugin}: {provided.spec.name} failed ({describe(fault)})", kind="plugin-failed"
            ) from fault


def _stem(path: str) -> str:
    return os.path.splitext(os.path.basename(path))[0]
