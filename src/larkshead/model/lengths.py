"""Measured lengths, kept as printed: bare thread, picots, tails, finished sizes."""

from __future__ import annotations

import re

from larkshead.records import dataclass

MILLIMETRES = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, "yd": 914.4}
_AMOUNT = re.compile(r"(?:(\d+)[ -])?(\d+)/(\d+)|(\d+(?:[.,]\d+)?)")


@dataclass(slots=True)
class Length:
    """A length as printed: ``value`` and ``unit`` as in the text, ``upto`` the far end of a range.

    ``value`` is a number, a fraction or a mixed number as text (``2.5``, ``1/4``, ``1 1/2``);
    ``unit`` one of mm, cm, m, in, yd, or empty where the text gives none.
    """

    value: str
    unit: str = "mm"
    upto: str | None = None
    about: bool = False

    @property
    def mm(self) -> float | None:
        """The length in millimetres, the middle of a range; None without a unit."""
        scale = MILLIMETRES.get(self.unit)
        if scale is None:
            return None
        low = amount(self.value)
        return scale * (low if self.upto is None else (low + amount(self.upto)) / 2)

    def __str__(self) -> str:
        reach = f"..{self.upto}" if self.upto else ""
        return f"{self.value}{reach}{self.unit}"


def amount(text: str) -> float:
    """The value of a number, fraction or mixed number as printed; ValueError for anything else."""
    found = _AMOUNT.fullmatch(text.strip())
    if not found:
        raise ValueError(f"not a number: {text!r}")
    whole, top, bottom, plain = found.groups()
    if plain:
        return float(plain.replace(",", "."))
    if int(bottom) == 0:
        raise ValueError(f"a fraction of nothing: {text!r}")
    return int(whole or 0) + int(top) / int(bottom)


def parse_length(text: str) -> Length:
    """``3mm``, ``1/4 in``, ``5..10mm`` as a Length; ValueError for anything else."""
    found = re.fullmatch(r"\s*([\d.,/ -]*?\d)(?:\.\.([\d.,/]+))?\s*(mm|cm|m|in|yd)?\s*", text)
    if not found:
        raise ValueError(f"not a length: {text!r}")
    value, upto, unit = found.groups()
    spread = re.fullmatch(r"([\d.,]+)-([\d.,]+)", value)
    if spread and not upto:
        value, upto = spread.groups()
    amount(value)
    if upto:
        amount(upto)
    return Length(value, unit or "", upto)
