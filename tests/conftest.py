"""Shared by all tests: the folder on the path, so that ``strategies`` can be imported, and a quick, steady profile."""

from __future__ import annotations

from hypothesis import HealthCheck, settings

settings.register_profile(
    "quick", max_examples=100, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("quick")
