"""Whether two words are one name, in whatever number they stand."""

from __future__ import annotations


def same_name(one: str, other: str) -> bool:
    """A word and its plural, whatever the language adds to it: ``daisy`` and ``daisies``, ``leaf`` and ``leaves``."""
    short, long = sorted((one, other), key=len)
    if _vowel_changes(short, long):
        return True
    stem = max(3, len(short) - 1)
    return long[:stem] == short[:stem] and (
        len(long) - len(short) < 3 if len(short) > 3 else long.startswith(short) and len(long) - len(short) < 2
    )


def _vowel_changes(one: str, other: str) -> bool:
    """``tooth`` and ``teeth``: a doubled vowel is another in the plural."""
    if len(one) != len(other):
        return False
    apart = [i for i, (a, b) in enumerate(zip(one, other, strict=True)) if a != b]
    return len(apart) == 2 and apart[1] == apart[0] + 1 and all(len({w[i] for i in apart}) == 1 for w in (one, other))
