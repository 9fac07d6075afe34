"""What a form says beyond its kind is told by the convention: several, tied, a number that multiplies."""

from __future__ import annotations

from pathlib import Path

from larkshead.conventions import load_convention
from larkshead.conventions.convention import SEVERAL, Convention
from larkshead.reading.grammar.lexer import tokenize

HOUSE = """\
name: house
title: A house of its own
language: nl
terms:
  picot: {say: [oogje, oogjes], short: o, source: memory}
  cut: {say: [knip, knip], source: memory}
words:
  picot/several: [ogen]
  cut/tied: [knoop en knip]
numbers: {drie: 3}
multiples: {dozijn: 12}
"""


def house(folder: Path) -> Convention:
    path = folder / "house.yaml"
    path.write_text(HOUSE, encoding="utf-8")
    return load_convention(path, lambda name: folder / f"{name}.yaml")


def test_a_shade_stands_behind_the_kind(tmp_path: Path) -> None:
    tokens = tokenize("oogje, oogjes, ogen, knip, knoop en knip", house(tmp_path))
    told = [(token.kind, token.value) for token in tokens if token.kind != "COMMA"]
    assert told == [("picot", None), ("picot", SEVERAL), ("picot", SEVERAL), ("cut", None), ("cut", "tied")]


def test_a_number_that_multiplies(tmp_path: Path) -> None:
    tokens = tokenize("drie dozijn oogjes", house(tmp_path))
    assert [(token.kind, token.value) for token in tokens] == [("NUM", 36), ("picot", SEVERAL)]
