"""Wheels built from the tree, and an environment they are installed into."""

from __future__ import annotations

import subprocess
import sys
import sysconfig
from pathlib import Path

import pytest
from wheels import ROOT, STRANGER, Run, build_wheel


@pytest.fixture(scope="session")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel of larkshead."""
    return build_wheel(ROOT, tmp_path_factory.mktemp("wheel"))


@pytest.fixture(scope="session")
def stranger_wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel of somebody else's plugin."""
    return build_wheel(STRANGER, tmp_path_factory.mktemp("stranger"))


@pytest.fixture(scope="session")
def broken_wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel of a plugin that cannot be imported."""
    source = tmp_path_factory.mktemp("broken-source")
    project = (STRANGER / "pyproject.toml").read_text("utf-8")
    for name, other in (("larkshead-outline", "larkshead-frayed"), ("larkshead_outline", "larkshead_frayed")):
        project = project.replace(name, other)
    project = project.replace("outline = ", "frayed = ").replace('version = "3.2"', 'version = "0.4"')
    (source / "pyproject.toml").write_text(project, "utf-8")
    (source / "larkshead_frayed").mkdir()
    (source / "larkshead_frayed" / "__init__.py").write_text("raise RuntimeError('the thread is frayed')\n", "utf-8")
    return build_wheel(source, tmp_path_factory.mktemp("broken"))


@pytest.fixture(scope="session")
def fresh(tmp_path_factory: pytest.TempPathFactory, wheel: Path, stranger_wheel: Path, broken_wheel: Path) -> Run:
    """A new environment with the three wheels in it; calls its own ``larkshead`` command.

    What larkshead depends on is taken from the environment the tests run in, so that nothing has to be fetched; its own
    wheel stands before that.
    """
    home = tmp_path_factory.mktemp("fresh")
    subprocess.run([sys.executable, "-m", "venv", "--without-pip", str(home)], check=True)
    scheme = {"base": str(home), "platbase": str(home)}
    scripts = Path(sysconfig.get_path("scripts", "venv", scheme))
    packages = Path(sysconfig.get_path("purelib", "venv", scheme))
    (packages / "borrowed.pth").write_text(f"{sysconfig.get_path('purelib')}\n", "utf-8")
    python = next(path for path in (scripts / "python", scripts / "python.exe") if path.exists())
    wheels = [str(path) for path in (wheel, stranger_wheel, broken_wheel)]
    install = [sys.executable, "-m", "pip", "--python", str(python), "install", "--quiet", "--no-index", "--no-deps"]
    done = subprocess.run([*install, "--ignore-installed", *wheels], capture_output=True, text=True)
    assert done.returncode == 0, done.stdout + done.stderr

    def run(*arguments: str, text: str = "", command: str = "larkshead") -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [str(scripts / command), *arguments], input=text, capture_output=True, text=True, cwd=home
        )

    return run
