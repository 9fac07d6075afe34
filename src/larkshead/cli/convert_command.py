"""``larkshead convert``."""

from __future__ import annotations

import os
import sys

from larkshead.app.convert import Converted, convert
from larkshead.app.errors import CannotRun
from larkshead.app.remarks import of_losses, of_notice
from larkshead.cli.options import FILES, INPUTS, SHOW_READING, Command, Option
from larkshead.cli.output import make_folder, safe_name, standing_text, write_file
from larkshead.cli.session import Session, name_of
from larkshead.reading import Reading

TEXT = """Write patterns in another style.

The result goes to standard output, to the file named with -o, or, one file for each pattern, into the folder
named with --into. What had to be assumed or left out is told on standard error, with its line and column in your
file. What is written is read back and compared, so that nothing is lost unsaid.

\b
Examples:
  larkshead convert collar.txt --to shorthand
  larkshead convert collar.txt --to table -o collar.md
  larkshead convert patterns/ --to prose --into prose/
  larkshead convert - --from shorthand --to steplist < collar.txt

Ends with 0 when all went well, 1 when what was read cannot be trusted (with --strict: when anything was lost),
and 2 when a file could not be read or written.
"""


def run(
    files: tuple[str, ...],
    style: str | None,
    read_as: str | None,
    notices_format: str,
    settings_path: str | None,
    to_style: str | None,
    write_as: str | None,
    output: str | None,
    into: str | None,
    force: bool,
    strict: bool,
    show: bool,
) -> None:
    """Write patterns in another style."""
    session = Session(settings_path, notices_format)
    try:
        target = _target(session, to_style, output)
        if into is not None and output is not None:
            raise CannotRun("-o and --into cannot both be used")
        if into is not None:
            make_folder(into)
        _convert_all(session, files, (style, read_as), (target, write_as), (output, into, force), strict, show)
    except CannotRun as failure:
        session.fail(failure)
    session.end()


def _convert_all(
    session: Session,
    files: tuple[str, ...],
    read: tuple[str | None, str | None],
    write: tuple[str, str | None],
    place: tuple[str | None, str | None, bool],
    strict: bool,
    show: bool,
) -> None:
    target, write_as = write
    output, into, force = place
    session.bench.notation(target, "writer")
    if into is None:
        files = tuple(session.expand(files))
        if len(files) > 1:
            raise CannotRun("several files are converted into a folder: name it with --into")
    taken: set[str] = set()
    for reading in session.readings(files, *read):
        if show:
            session.show_reading(reading)
        try:
            path = output
            if into is not None:
                suffix = next(iter(session.bench.registry.notations[target].spec.suffixes), ".txt")
                path = os.path.join(into, safe_name(name_of(reading.source), suffix))
                if path in taken:
                    raise CannotRun(
                        f"{path} was just written from another file of the same name",
                        reading.source.name,
                        "file-exists",
                    )
                taken.add(path)
            standing = standing_text(path) if path is not None and force else None
            converted = convert(session.bench, reading, target, write_as, standing)
            if path is not None:
                write_file(path, converted.text, force)
            else:
                sys.stdout.write(converted.text)
        except CannotRun as failure:
            session.say_notices(reading)
            failure.file = failure.file or reading.source.name
            session.fail(failure)
            continue
        _say(session, reading, converted, strict)


def _say(session: Session, reading: Reading, converted: Converted, strict: bool) -> None:
    """Tell of everything there is to tell about one conversion, in the order of the text."""
    losses = of_losses(converted)
    remarks = [*(of_notice(notice, reading.source) for notice in reading.notices), *losses]
    session.say(remarks, reading.source.name, session.coverage(reading))
    session.count(remarks, "warning" if strict else "error")
    if strict:
        session.count(losses, "note")


def _target(session: Session, to_style: str | None, output: str | None) -> str:
    """The style to write: as told, as the settings say, or as the name of the file to write tells."""
    style = to_style or session.bench.settings.write_style
    if style is not None:
        return style
    suffix = os.path.splitext(output or "")[1].lower()
    able = {n: p for n, p in session.bench.registry.notations.items() if p.spec.writer is not None}
    fitting = [name for name, provided in able.items() if suffix and suffix in provided.spec.suffixes]
    if len(fitting) == 1:
        return fitting[0]
    raise CannotRun(f"say the style to write with --to ({', '.join(sorted(able))})", kind="unknown-style")


COMMAND = Command(
    "convert",
    TEXT,
    run,
    (
        *INPUTS,
        Option(("--to",), "to_style", "Style to write; else told by the name given with -o.", "STYLE"),
        Option(("--write-as",), "write_as", "Whose words to write in; else as it was read.", "CONVENTION"),
        Option(("-o", "--output"), "output", "File to write; else standard output.", "FILE"),
        Option(("--into",), "into", "Folder to write to, one file for each that is read.", "FOLDER"),
        Option(("--force",), "force", "Write over files that are there already.", flag=True),
        Option(("--strict",), "strict", "End with 1 when anything was lost, or a warning was given.", flag=True),
        SHOW_READING,
    ),
    FILES,
)
