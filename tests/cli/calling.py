"""Calling the command line from tests."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest
from click.testing import CliRunner, Result

from larkshead.cli.group import commands

Call = Callable[..., Result]


@pytest.fixture
def call(tmp_path: Any, monkeypatch: pytest.MonkeyPatch) -> Call:
    """Runs a command in an empty folder; the result has ``stdout``, ``stderr`` and ``exit_code``."""
    monkeypatch.chdir(tmp_path)

    def run(*arguments: str, text: str | bytes | None = None) -> Result:
        result = CliRunner().invoke(commands, list(arguments), input=text, prog_name="larkshead")
        # A traceback never reaches a user; here it should not even arise.
        if result.exception is not None and not isinstance(result.exception, SystemExit):
            raise result.exception
        return result

    return run


def notices(result: Result) -> list[dict[str, Any]]:
    """What ``--notices json`` printed."""
    return [json.loads(line) for line in result.stderr.splitlines()]
