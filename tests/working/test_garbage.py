"""The collector rests while a pattern is read, worked and proofed, and nothing thrown away stays for ever."""

from __future__ import annotations

import gc
import weakref

import pytest

from larkshead import garbage
from larkshead.garbage import NoCollecting


class Knot:
    """What only a search finds once it is thrown away: it holds itself."""

    def __init__(self) -> None:
        self.itself = self


def test_the_collector_goes_on_after_the_outermost() -> None:
    with NoCollecting():
        with NoCollecting():
            pass
        assert not gc.isenabled()
    assert gc.isenabled()


def test_what_is_thrown_away_is_found_before_the_next_work(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(garbage, "_MOST", 1000)
    gc.collect()
    with NoCollecting():
        knots = [Knot() for _ in range(2000)]
    thrown_away = weakref.ref(knots[0])
    del knots
    gc.collect(0)
    assert thrown_away() is not None, "laid by with what lives long"
    with NoCollecting():
        assert thrown_away() is None


def test_what_others_have_frozen_stays_frozen() -> None:
    gc.freeze()
    try:
        with NoCollecting():
            kept = [Knot() for _ in range(100)]
        assert gc.get_freeze_count() > 0
        assert kept
    finally:
        gc.unfreeze()
