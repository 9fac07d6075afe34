"""The look of a text: sentences, counts strung together, or rows of cells."""

from __future__ import annotations

import pytest

from larkshead.app.errors import CannotRun
from larkshead.app.workbench import Workbench
from larkshead.host.registry import Registry
from larkshead.reading import Source
from larkshead.reading.texture import counts, running, tabular, words_share

BENCH = Workbench()

PROSE = "Ring of five double stitches, picot, five more, and close. Turn the work and make a chain of seven.\n"
SHORTHAND = "R 5-5-5-5 cl RW\nCh 6-6 RW\nR 5+5-5-5 cl RW\n"
PIPES = "| No | What | Count |\n|----|------|-------|\n| 1 | ring | 5-5-5 |\n| 2 | chain | 7 |\n"
COMMAS = "no,what,count,turn\n1,ring,5-5-5,yes\n2,chain,7,yes\n"
QUOTED = 'no,what,count,turn\n1,ring,"5, p, 5",yes\n2,chain,"7, p, 7",yes\n'
TABS = "No\tWhat\tCount\n1\tring\t5-5-5\n2\tchain\t7\n"
COLUMNS = (
    "No   What    Count    Then\n1    ring    5-5-5    turn\n2    chain   7        turn\n3    ring    5+5-5    turn\n"
)
STEPS = "R 5 p 5 p 5\nTURN\nC 7\n"
NATIVE = "title: Fern\nsteps:\n- ring: [5, p, 5]\n- turn\n"
SPACED = "R 5-5-5   cl  RW\nCh 6   RW\nR 5+5-5   cl\n"


@pytest.mark.parametrize(
    ("text", "style"),
    [
        (PROSE, "prose"),
        (PROSE * 50, "prose"),
        (SHORTHAND, "shorthand"),
        (SHORTHAND * 50, "shorthand"),
        (SPACED, "shorthand"),
        ("Fern edging\nUse size 20 cotton and one shuttle.\n\n" + SHORTHAND, "shorthand"),
        (PIPES, "table"),
        ("A square motif\n\n" + PIPES + "\nCut and hide the ends.\n", "table"),
        (COMMAS, "csv"),
        (COMMAS.replace(",", ";"), "csv"),
        (QUOTED, "csv"),
        (TABS, "tsv"),
        (COLUMNS, "columns"),
        (STEPS, "steplist"),
        (NATIVE, "native"),
        ('{"steps": [{"ring": [5, "p", 5]}]}', "json"),
    ],
)
def test_a_style_is_told_by_its_look(text: str, style: str) -> None:
    reading = BENCH.read(Source(text, "given"), convention="en")
    assert reading.style == style
    assert "style-recognised" in [notice.kind for notice in reading.notices]


@pytest.mark.parametrize(
    "text",
    [
        "Little tassel for a reader who asked (it needs about three metres of thread)\n\nR [6 - 6 - 6] close\nCH [14]\nEnjoy!\n",
        "4 x 3 means four stitches three times with a picot between each of them.\n\nR 4 x 3 cl, DNR\nCh 5 x 2\n",
        "Marks to watch:\n-  (hyphen)  small\n–  (dash)    usual\n\nR 6-4–4-6 cl DNR\nR 6+4–4-6 cl DNR   (+ last p)\nCh 9–9\n",
    ],
)
def test_lines_headed_by_abbreviations_are_shorthand_whatever_is_told_about_them(text: str) -> None:
    assert BENCH.read(Source(text, "given"), convention="en").style == "shorthand"


def test_the_end_of_the_name_settles_it_without_a_word() -> None:
    reading = BENCH.read(Source(COMMAS, "given.csv"), convention="en")
    assert reading.style == "csv"
    assert "style-recognised" not in [notice.kind for notice in reading.notices]


def test_what_looks_like_nothing_is_not_guessed_at() -> None:
    bench = Workbench(registry=Registry())
    with pytest.raises(CannotRun, match="say it with --from"):
        bench.read(Source(PROSE, "given.xyz"))


def test_measures_stay_between_nothing_and_all() -> None:
    for text in ("", " \n", "-", "\n\n\n", "|", "a,b", "1-2", PROSE, SHORTHAND, PIPES, COLUMNS):
        for measure in (words_share, running, tabular):
            assert 0.0 <= measure(text) <= 1.0, (measure, text)


def test_counts_are_told_by_marks_of_every_kind() -> None:
    for text in ("5-5", "5 - 5", "5\u20135", "5\u00b75", "5+5", "5p5p5", "5 p 5 p 5"):
        assert counts(text) == 1, text
    for text in ("1/4 inch", "5 rings", "size 20, 2 balls", "5 p", "2nd"):
        assert counts(text) == 0, text
