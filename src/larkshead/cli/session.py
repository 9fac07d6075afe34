"""One run of a command: what it reads, what it says, and how it ends."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterable, Iterator, Sequence

from larkshead.app.errors import CannotRun
from larkshead.app.remarks import of_failure, of_notice, of_warning
from larkshead.app.shown import account, shown_remarks, shown_text
from larkshead.app.workbench import Workbench
from larkshead.host.registry import PluginFailure
from larkshead.model import Note
from larkshead.reading import Notice, Reading, Source
from larkshead.reports import FileReport, Remark, Report, printable
from larkshead.settings import SettingsError, find_settings, load_settings

CLEAN, FOUND, COULD_NOT_RUN = 0, 1, 2


class Session:
    """Reads the inputs one after the other, prints notices as they come, and keeps the exit code."""

    def __init__(self, settings_path: str | None, notices_format: str = "text") -> None:
        self.code = CLEAN
        self._notices = "json-lines" if notices_format == "json" else "text"
        self._warned = 0
        ready_streams()
        self.bench = Workbench()
        try:
            self.bench.settings = load_settings(settings_path or find_settings())
        except SettingsError as fault:
            self.fail(CannotRun(str(fault), kind="faulty-settings"))
            self.end()

    # Reading

    def readings(self, files: Sequence[str], style: str | None, convention: str | None) -> Iterator[Reading]:
        """A reading of every input that can be read; what cannot is reported and the rest goes on.

        Raises CannotRun for what would stop every file: no file, an unknown style, an unknown convention.
        """
        if not files:
            raise CannotRun("no file is named; name files or folders, or - for standard input")
        if style is not None:
            self.bench.notation(style, "reader")
        if convention is not None:
            self.bench.convention(convention)
        for name in self.expand(files):
            reading = self.read(name, style, convention)
            if reading is not None:
                yield reading

    def read(self, name: str, style: str | None, convention: str | None) -> Reading | None:
        """One input as a reading; None, and said why, where nothing in it reads as a pattern."""
        try:
            reading = self.bench.read_file(name, style, convention)
        except CannotRun as failure:
            failure.file = failure.file or name
            self.fail(failure)
            return None
        if any(not isinstance(step, Note) for part in reading.pattern.parts for step in part.steps):
            return reading
        if not any(notice.severity == "error" for notice in reading.notices):
            reading.notices.append(Notice("no-steps", "error", "nothing in this text reads as a step of a pattern"))
        self.say_notices(reading)
        self.code = COULD_NOT_RUN
        return None

    def expand(self, names: Iterable[str]) -> Iterator[str]:
        """The inputs with each folder replaced by the patterns in it, told by the ends of their names."""
        for name in names:
            if not os.path.isdir(name):
                yield name
                continue
            inside = list(self._inside(name))
            if not inside:
                self.fail(CannotRun("there is no pattern in this folder", name, "empty-folder"))
            yield from inside

    def _inside(self, folder: str) -> Iterator[str]:
        registry = self.bench.registry
        suffixes = {s for n in registry.notations.values() if n.spec.reader for s in n.spec.suffixes}
        suffixes |= {s for d in registry.documents.values() for s in d.spec.suffixes}
        for here, folders, files in os.walk(folder):
            folders[:] = sorted(f for f in folders if not f.startswith("."))
            for file in sorted(files):
                if os.path.splitext(file)[1].lower() in suffixes and not file.startswith("."):
                    yield os.path.join(here, file)

    # Saying

    def say_notices(self, reading: Reading, notices: list[Notice] | None = None) -> list[Remark]:
        """Print the notices of a reading, or those of them that are given; give them back as remarks."""
        told = reading.notices if notices is None else notices
        remarks = [of_notice(notice, reading.source) for notice in told]
        self.say(remarks, reading.source.name)
        return remarks

    def say(self, remarks: list[Remark], file: str = "", coverage: tuple[int, int, int] | None = None) -> None:
        """Print remarks to standard error, with how much of the text was understood."""
        self.warn()
        if remarks or coverage is not None:
            sys.stderr.write(self.render([FileReport(file, remarks, coverage)]))

    def coverage(self, reading: Reading) -> tuple[int, int, int] | None:
        """How many words were understood, kept as notes, not read; None where nothing is left to understand."""
        found = account(self.bench, reading)
        return None if found is None else (found.understood, found.noted, found.unread)

    def show_reading(self, reading: Reading) -> None:
        """Print the text to standard error, each stretch with what it became, in the form notices are asked for."""
        if self._notices == "text":
            sys.stderr.write(shown_text(self.bench, reading))
        else:
            self.say(shown_remarks(self.bench, reading), reading.source.name)

    def warn(self) -> None:
        """Tell of plugins that were left out, once."""
        warnings = self.bench.registry.warnings
        fresh, self._warned = warnings[self._warned :], len(warnings)
        if fresh:
            sys.stderr.write(self.render([FileReport("", [of_warning(message) for message in fresh])]))

    def fail(self, failure: CannotRun) -> None:
        """Report what stopped a file or the run."""
        self.code = COULD_NOT_RUN
        self.say([of_failure(failure)])

    def render(self, files: list[FileReport]) -> str:
        """Remarks in the form notices are asked for; plainly where no report can be had."""
        try:
            provided = self.bench.registry.reports[self._notices]
            text: str = provided.load(provided.spec.target)(Report(files, color=shows_color(sys.stderr)))
            return text
        except (KeyError, PluginFailure):
            lines = []
            for remark in (r for file in files for r in file.remarks):
                where = f"{remark.file}:{remark.place.line}: " if remark.place else f"{remark.file or 'larkshead'}: "
                lines.append(printable(f"{where}{remark.severity}: {remark.message}") + "\n")
            return "".join(lines)

    # Ending

    def count(self, remarks: Iterable[Remark], level: str) -> None:
        """End with 1 where a remark weighs as much as ``level``, unless something worse is known already."""
        if self.code == CLEAN and any(remark.at_least(level) for remark in remarks):
            self.code = FOUND

    def end(self) -> None:
        """End the process with what the run came to."""
        sys.stdout.flush()
        sys.exit(self.code)


def name_of(source: Source) -> str:
    """What a text is called for files made from it: the stem of its name."""
    if source.name == "-":
        return "pattern"
    return os.path.splitext(os.path.basename(source.name.removeprefix("sample:")))[0]


def ready_streams() -> None:
    """Let the streams take any text: what they cannot show is shown as an escape rather than stopping the run."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="backslashreplace")


def shows_color(stream: object) -> bool:
    """True on a terminal, unless NO_COLOR is set."""
    isatty = getattr(stream, "isatty", None)
    return not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb" and bool(isatty and isatty())
