"""Conventions as people edit them: YAML checked against the contract."""

from __future__ import annotations

import os
from typing import Any


class ConventionError(ValueError):
    """A convention that cannot be used: the message names file, line and column."""


def parse_convention(data: bytes, path: str | os.PathLike[str]) -> dict[str, Any]:
    """The document of a convention's YAML, checked; ConventionError names the place of what is wrong."""
    import json
    from importlib.resources import files

    from jsonschema import Draft202012Validator
    from ruamel.yaml import YAML
    from ruamel.yaml.error import MarkedYAMLError, YAMLError

    yaml = YAML(typ="rt", pure=True)
    try:
        document = yaml.load(data.decode("utf-8"))
    except UnicodeDecodeError as error:
        raise ConventionError(f"{path}: not UTF-8 text (byte {error.start})") from None
    except MarkedYAMLError as error:
        mark = error.problem_mark
        place = f"{path}:{mark.line + 1}:{mark.column + 1}" if mark else str(path)
        raise ConventionError(f"{place}: {error.problem or 'malformed YAML'}") from None
    except YAMLError as error:
        raise ConventionError(f"{path}: {str(error).splitlines()[0]}") from None
    schema = json.loads(files("larkshead_schemas").joinpath("convention.json").read_text("utf-8"))
    for fault in Draft202012Validator(schema).iter_errors(plain(document)):
        raise ConventionError(f"{_place(document, list(fault.absolute_path), path)}: {fault.message}")
    result: dict[str, Any] = plain(document)
    return result


def plain(value: Any) -> Any:
    """Round-trip YAML values as plain Python ones."""
    if isinstance(value, dict):
        return {str(k): plain(v) for k, v in value.items()}
    if isinstance(value, list):
        return [plain(v) for v in value]
    if isinstance(value, bool) or value is None:
        return value
    if isinstance(value, int):
        return int(value)
    if isinstance(value, float):
        return float(value)
    return str(value)


def _place(document: Any, keys: list[Any], path: str | os.PathLike[str]) -> str:
    """``file:line:column`` of the value the keys lead to."""
    line, column, here = 1, 1, document
    for key in keys:
        mark = getattr(here, "lc", None)
        if mark is not None:
            try:
                where = mark.key(key) if isinstance(here, dict) else mark.item(key)
                line, column = where[0] + 1, where[1] + 1
            except (KeyError, TypeError):
                pass
        try:
            here = here[key]
        except (KeyError, IndexError, TypeError):
            break
    return f"{path}:{line}:{column}"
