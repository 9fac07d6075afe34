"""The rule undefined-abbreviation."""

from __future__ import annotations

from collections.abc import Iterator

from larkshead.linting import Context, Finding
from larkshead.reading import Severity

# So many entries make a list, however many other forms are used.
LIST = 4


def check(context: Context) -> Iterator[Finding]:
    """An abbreviation or mark is used and not explained.

    Defect: the pattern explains its abbreviations, in a list or where they stand, and uses one it does not
        explain; or it explains none and uses one beyond the handful that everyone knows.
    Why: there is no one standard; a reader from another house cannot tell what the letters stand for.
    Exempt: what is explained where it stands; what everyone knows, in a pattern without a list.
    Fix: none; the first use of each is told.
    Good:
        Shuttle and ball. Abbreviations: R ring, C chain, - picot, RW reverse work, cl close.
        R 5-5-5 cl RW
        C 6-6
    Bad:
        Shuttle and ball. Abbreviations: R ring, C chain, - picot, cl close.
        R 5-5-5 cl RW
        C 6-6
    Source: [TT-TE], [JK-TE], [SN-GOOD]; no one standard exists [BO-READ].
    """
    if context.reading is None:
        return
    explained = {form.casefold() for form in context.reading.abbreviations_defined}
    explained |= {entry.form.casefold() for entry in context.pattern.abbreviations}
    used = {form.casefold() for form, _ in context.reading.abbreviations_used}
    listed = len(explained) >= LIST or len(explained & used) * 2 >= len(used)
    if not listed:
        # One or two odd ones explained on the way are no list.
        known = context.common_forms() | explained
        explained = set()
    else:
        known = set()
    if not explained and not (known and (context.pattern.title or context.pattern.threads)):
        return
    seen: set[str] = set()
    for form, span in context.reading.abbreviations_used:
        plain = form.casefold()
        if plain in explained or plain in known or plain in seen:
            continue
        seen.add(plain)
        where = "in the pattern's list" if explained else "anywhere, and there is no list"
        severity: Severity | None = None if explained else "note"
        yield context.finding(f"{form} is used here and not explained {where}", span=span, severity=severity)
