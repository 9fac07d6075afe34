"""The ``call`` fixture for all tests of the command line."""

from __future__ import annotations

from calling import call

__all__ = ["call"]
