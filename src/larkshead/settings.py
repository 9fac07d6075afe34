"""Settings: limits on hostile input, usual styles and conventions, and what each rule counts for.

A settings file is TOML named ``larkshead.toml``, looked for in the current folder and those above it. Its contract is
``settings.json`` among the schemas; the check here is by hand because a cold start cannot afford a schema validator.
"""

from __future__ import annotations

import os
from typing import Any

from larkshead.records import dataclass, field

FILE_NAME = "larkshead.toml"
RULE_LEVELS = ("off", "note", "warning", "error")


class SettingsError(Exception):
    """A settings file that cannot be used; the message names the file and the key."""


@dataclass(slots=True)
class Limits:
    """What the tool will take on: bytes of one file, characters of one line of words, steps as worked, repeats
    within repeats, picots and joins.
    """

    file_bytes: int = 20_000_000
    line_characters: int = 100_000
    worked_steps: int = 1_000_000
    nesting: int = 1000
    worked_picots: int = 8_000_000


@dataclass(slots=True)
class Settings:
    """Everything a settings file may say. ``conventions`` are files of the user's own, beside the shipped ones."""

    style: str | None = None
    write_style: str | None = None
    read_as: str | None = None
    write_as: str | None = None
    fail_on: str = "warning"
    conventions: list[str] = field(default_factory=list)
    rules: dict[str, str] = field(default_factory=dict)
    limits: Limits = field(default_factory=Limits)
    path: str | None = None


# The keys of the file and the settings they set.
_TEXTS = {"from": "style", "to": "write_style", "read-as": "read_as", "write-as": "write_as"}
_LIMITS = {
    name.replace("_", "-"): name
    for name in ("file_bytes", "line_characters", "worked_steps", "nesting", "worked_picots")
}


def find_settings(folder: str | None = None) -> str | None:
    """The nearest settings file in ``folder`` (the current one when None) or above it."""
    here = os.path.abspath(folder or os.curdir)
    while True:
        path = os.path.join(here, FILE_NAME)
        if os.path.isfile(path):
            return path
        above = os.path.dirname(here)
        if above == here:
            return None
        here = above


def load_settings(path: str | None) -> Settings:
    """The settings in the file at ``path``, the usual ones when None.

    Raises SettingsError for a file that is not there, is not TOML, or says what no setting is.
    """
    if path is None:
        return Settings()
    import tomllib

    try:
        with open(path, "rb") as file:
            document = tomllib.load(file)
    except OSError as fault:
        raise SettingsError(f"{path}: the settings cannot be read: {fault.strerror}") from None
    except UnicodeDecodeError:
        raise SettingsError(f"{path}: the settings are not UTF-8 text") from None
    except tomllib.TOMLDecodeError as fault:
        raise SettingsError(f"{path}: the settings are not TOML: {fault}") from None
    settings = _settings(document, path)
    settings.path = path
    return settings


def _settings(document: dict[str, Any], path: str) -> Settings:
    settings = Settings()
    known = [*_TEXTS, "fail-on", "conventions", "rules", "limits"]
    for key, value in document.items():
        if key in _TEXTS:
            setattr(settings, _TEXTS[key], _text(value, key, path))
        elif key == "fail-on":
            settings.fail_on = _one_of(value, key, ("note", "warning", "error", "never"), path)
        elif key == "conventions":
            if not isinstance(value, list):
                raise SettingsError(f"{path}: conventions: expected a list of file names, found {_shown(value)}")
            beside = os.path.dirname(path)
            settings.conventions = [os.path.join(beside, _text(v, key, path)) for v in value]
        elif key == "rules":
            for rule, level in _table(value, key, path).items():
                settings.rules[rule] = _one_of(level, f"rules.{rule}", RULE_LEVELS, path)
        elif key == "limits":
            for limit, number in _table(value, key, path).items():
                if limit not in _LIMITS:
                    raise SettingsError(f"{path}: limits.{limit}: no such limit (known: {', '.join(_LIMITS)})")
                if isinstance(number, bool) or not isinstance(number, int) or number < 1:
                    raise SettingsError(
                        f"{path}: limits.{limit}: expected a whole number from 1, found {_shown(number)}"
                    )
                setattr(settings.limits, _LIMITS[limit], number)
        else:
            raise SettingsError(f"{path}: {key}: no such setting (known: {', '.join(known)})")
    return settings


def _text(value: Any, key: str, path: str) -> str:
    if not isinstance(value, str):
        raise SettingsError(f"{path}: {key}: expected text, found {_shown(value)}")
    return value


def _one_of(value: Any, key: str, choices: tuple[str, ...], path: str) -> str:
    if value not in choices:
        raise SettingsError(f"{path}: {key}: expected {' or '.join(choices)}, found {_shown(value)}")
    return str(value)


def _table(value: Any, key: str, path: str) -> dict[str, Any]:
    if not isinstance(value, dict):
        raise SettingsError(f"{path}: {key}: expected a table, found {_shown(value)}")
    return value


def _shown(value: Any) -> str:
    text = repr(value)
    return text if len(text) <= 40 else text[:37] + "..."
