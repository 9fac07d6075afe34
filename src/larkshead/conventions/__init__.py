"""Conventions: vocabulary, marks and habits, as data."""

from larkshead.conventions.convention import Convention, Term
from larkshead.conventions.load import load_convention

__all__ = ["Convention", "Term", "load_convention"]
