"""The same shorthand in other spellings says the same: marks, words, blanks, lines, bullets, numbers, what stands about it."""

from __future__ import annotations

import re

import pytest
from shorthand_tools import steps

PASSAGES = (
    "R 7-3-7 cl RW\nCh 9-9 RW\nR 7+3-7 cl (last p of prev R) RW\nCh 9-9, LJ to base of R1",
    "*R 7-7 cl RW, Ch 6 RW* x 5, cut",
    "Rnd 1: R 2-4-4-2 cl, cut.\nRnd 2: attach to any p. (Ch 5-5, LJ to next p) x 3. Cut.",
    "Sh1: R 7-7 cl RW\nSh1: Ch 4 DNR\nSh2: R 3-3 cl DNR\nSh1: Ch 4 RW",
    "[R 7-7 cl, RW, Ch 6, RW] twice, then (R 5-5 cl, RW, Ch 4, RW) x 3",
)


def _sub(pattern: str, new: str) -> tuple[str, str]:
    return pattern, new


SPELLINGS = {
    "blanks round marks": _sub(r"(?<=\d)-(?=\d)", " - "),
    "en dashes": _sub(r"(?<=\d)-(?=\d)", "–"),
    "minus signs": _sub(r"(?<=\d)-(?=\d)", " − "),
    "dots": _sub(r"(?<=\d)-(?=\d)", "·"),
    "letters": _sub(r"(?<=\d)-(?=\d)", "p"),
    "letters apart": _sub(r"(?<=\d)-(?=\d)", " p "),
    "stitches named": _sub(r"(?<=\d)-(?=\d)", " ds, p, "),
    "joins apart": _sub(r"\+", " + "),
    "joins by letter": _sub(r"\+", "j"),
    "rings written out": _sub(r"\bR(?= \d)", "Ring"),
    "rings of": _sub(r"\bR(?= \d)", "ring of"),
    "colons": _sub(r"\b(R|Ch)(?= \d)", r"\1:"),
    "dashes behind names": _sub(r"\b(R|Ch)(?= \d)", r"\1 -"),
    "chains written out": _sub(r"\bCh\b", "Chain"),
    "chains by letter": _sub(r"\bCh\b", "C"),
    "reverse work": _sub(r"\bRW\b", "reverse work"),
    "turn": _sub(r"\bRW\b", "turn"),
    "not closed": _sub(r" cl\b", ""),
    "closed otherwise": _sub(r" cl\b", ", close"),
    "closed alone": _sub(r" cl,? RW\b", ". Cl. RW"),
    "times": _sub(r"x (\d)", r"\1 times"),
    "signs of times": _sub(r"x (\d)", r"×\1"),
    "times behind": _sub(r"x (\d)", r"\1x"),
    "blank lines": _sub(r"\n", "\n\n"),
    "ends of lines": _sub(r"\n", "  \r\n"),
    "two blanks": _sub(r" ", "  "),
    "indented": _sub(r"(?m)^", "   "),
    "bullets": _sub(r"(?m)^", "• "),
    "quoted": _sub(r"(?m)^", "> "),
    "hash marks": _sub(r"\*", "#"),
    "a title": _sub(r"\A", "Autumn coaster\nSize 20 thread, one shuttle and ball.\n\n"),
    "a heading": _sub(r"\A", "Directions\n\n"),
    "a list": _sub(r"\A", "R = ring, Ch = chain, RW = reverse work, cl = close\n\n"),
    "a list in lines": _sub(r"\A", "R: ring\nCh: chain\nRW: reverse work\n\n"),
    "a list behind": _sub(r"\Z", "\n\nAbbreviations: R ring, Ch chain, RW reverse work, cl close."),
    "a remark": _sub(r"\Z", "\nMine is 7 cm across, thank you for 12 comments!"),
}


@pytest.mark.parametrize("passage", PASSAGES, ids=[re.sub(r"\W+", " ", text)[:24] for text in PASSAGES])
@pytest.mark.parametrize("spelling", SPELLINGS)
def test_another_spelling_says_the_same(passage: str, spelling: str) -> None:
    pattern, new = SPELLINGS[spelling]
    assert steps(re.sub(pattern, new, passage)) == steps(passage)
