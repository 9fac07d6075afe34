"""Web pages and word-processor documents: what they show is read, in order, with the numbers of their lists."""

from __future__ import annotations

import sys
import zipfile
from io import BytesIO
from pathlib import Path

import docx
import odfdo
import pytest
from docx.oxml import parse_xml
from docx.oxml.ns import nsdecls
from hypothesis import given
from hypothesis import strategies as st
from larkshead_documents import html, opendocument, word
from larkshead_documents.lines import number_text
from larkshead_documents.recognise import is_opendocument, is_web_page, is_word

from larkshead.app.errors import CannotRun
from larkshead.app.workbench import Workbench

MOST = 20_000_000
SAID = "Quoin edging\n\n1. Ring: 4 ds, picot, 4 ds, close.\n2. Chain: 6 ds. Turn.\n3. Repeat steps 1 and 2 five more times.\n"
TABLE = [["Step", "Element", "Stitches"], ["1", "Ring", "4-4"], ["2", "Chain", "6"]]
STEPS = ["Ring: 4 ds, picot, 4 ds, close.", "Chain: 6 ds. Turn.", "Repeat steps 1 and 2 five more times."]


def word_file() -> bytes:
    document = docx.Document()
    document.add_heading("Quoin edging", 1)
    for step in STEPS:
        document.add_paragraph(step, style="List Number")
    out = BytesIO()
    document.save(out)
    return out.getvalue()


def opendocument_file() -> bytes:
    document = odfdo.Document("text")
    document.body.clear()
    document.body.append(odfdo.Header(1, "Quoin edging"))
    for number, step in enumerate(STEPS, 1):
        document.body.append(odfdo.Paragraph(f"{number}. {step}"))
    out = BytesIO()
    document.save(out)
    return out.getvalue()


def page() -> bytes:
    steps = "".join(f"<li>{step}" for step in STEPS)
    return f"<!DOCTYPE html><html><head><title>x</title><style>p {{}}</style></head><body><nav>Home 7</nav><h1>Quoin edging</h1><ol>{steps}</ol><script>var p = 4</script></body></html>".encode()


@pytest.mark.parametrize("name", ["quoin.docx", "quoin.odt", "quoin.html"])
def test_a_document_reads_as_its_text_does(tmp_path: Path, name: str) -> None:
    bench = Workbench()
    plain = tmp_path / "quoin.txt"
    plain.write_text(SAID, "utf-8")
    given_file = tmp_path / name
    given_file.write_bytes({"docx": word_file, "odt": opendocument_file, "html": page}[name.split(".")[1]]())
    reading = bench.read_file(str(given_file))
    steps = bench.write(reading.pattern, "steplist").text
    assert steps == bench.write(bench.read_file(str(plain)).pattern, "steplist").text
    assert "REP 6 {" in steps
    assert reading.notices[0].kind == "document-read"


def test_the_name_does_not_matter(tmp_path: Path) -> None:
    file = tmp_path / "quoin.txt"
    file.write_bytes(word_file())
    assert "C 6" in Workbench().write(Workbench().read_file(str(file)).pattern, "steplist").text


def test_a_word_document_in_detail() -> None:
    document = docx.Document()
    document.add_paragraph("Before")
    table = document.add_table(rows=3, cols=3)
    for row, texts in zip(table.rows, TABLE, strict=True):
        for cell, text in zip(row.cells, texts, strict=True):
            cell.text = text
    changed = document.add_paragraph("R 4-")
    changed._p.append(parse_xml(f"<w:ins {nsdecls('w')} w:id='1' w:author='a'><w:r><w:t>5-5</w:t></w:r></w:ins>"))
    changed._p.append(
        parse_xml(f"<w:del {nsdecls('w')} w:id='2' w:author='a'><w:r><w:delText>9-9</w:delText></w:r></w:del>")
    )
    document.add_paragraph("loose", style="List Bullet")
    out = BytesIO()
    document.save(out)
    assert word.text_of(out.getvalue(), MOST) == (
        "Before\n\n| Step | Element | Stitches |\n|---|---|---|\n| 1 | Ring | 4-4 |\n| 2 | Chain | 6 |\n\nR 4-5-5\n\nloose\n"
    )


def test_cells_merged_in_a_word_document_have_their_words_once() -> None:
    document = docx.Document()
    table = document.add_table(rows=2, cols=2)
    table.cell(0, 0).merge(table.cell(1, 0)).text = "A"
    table.cell(0, 1).text, table.cell(1, 1).text = "1", "2"
    out = BytesIO()
    document.save(out)
    assert word.text_of(out.getvalue(), MOST) == "| A | 1 |\n|---|---|\n|  | 2 |\n"


def test_an_opendocument_in_detail() -> None:
    document = odfdo.Document("text")
    document.body.clear()
    document.body.append(odfdo.Paragraph("R 4-4"))
    document.body.append(odfdo.List(["one", "two"]))
    table = odfdo.Table("T", width=3, height=3)
    for at, row in enumerate(TABLE):
        table.set_row_values(at, row)
    document.body.append(table)
    out = BytesIO()
    document.save(out)
    assert opendocument.text_of(out.getvalue(), MOST) == (
        "R 4-4\n\none\ntwo\n\n| Step | Element | Stitches |\n|---|---|---|\n| 1 | Ring | 4-4 |\n| 2 | Chain | 6 |\n"
    )


@pytest.mark.parametrize(
    ("markup", "text"),
    [
        ("<p>Ring: 4&nbsp;ds,<br>close &amp; turn</p>", "Ring: 4 ds,\nclose & turn\n"),
        ("<p>one<p>two", "one\n\ntwo\n"),
        ("<ol type=a start=2><li>x<li>y</ol>", "b. x\nc. y\n"),
        ("<ol><li value='5'>x</ol><ul><li>z</ul>", "5. x\nz\n"),
        ("<table><tr><th>a<th>b<tr><td>1 | 2<td><p>x</p><p>y</p></table>", "| a | b |\n|---|---|\n| 1 \\| 2 | x y |\n"),
        (
            "<table><tr><td rowspan=2>A<td>1<tr><td>2<tr><td>B<td>3</table>",
            "| A | 1 |\n|---|---|\n|  | 2 |\n| B | 3 |\n",
        ),
        ("<table><tr><td>a<td>b<tr><td colspan=2>c</table>", "| a | b |\n|---|---|\n|  | c |\n"),
        ("<pre>R 4-4\nC 6</pre>", "R 4-4\nC 6\n"),
        ("<div>kept<script>4 p 4</script></div>", "kept\n"),
        ("<p>R 4&ndash;4 &lt;R 3&gt;</p>", "R 4–4 <R 3>\n"),
    ],
)
def test_a_page_in_detail(markup: str, text: str) -> None:
    assert html.text_of(markup.encode(), MOST) == text


def test_a_page_says_its_encoding() -> None:
    assert html.text_of('<meta charset="latin-1"><p>café</p>'.encode("latin-1"), MOST) == "café\n"
    assert html.text_of("<p>café</p>".encode("cp1252"), MOST) == "café\n"


@given(st.text(alphabet="<>/abdhlopqrtu1234 \n\"'=&;!-", max_size=200))
def test_any_page_is_read(markup: str) -> None:
    html.text_of(markup.encode(), MOST)


@pytest.mark.parametrize(
    ("text", "known"),
    [
        ("<R 4-4> x 5\n", False),
        ("< p > 4 < p > 5", False),
        ("<p>R 4-4</p>", True),
        ("\n<!doctype html><body>x</body>", True),
        ("< R 5 p 5 >", False),
        ("R 4-4 <p> 5 </p>", False),
    ],
)
def test_what_is_a_page(text: str, known: bool) -> None:
    assert is_web_page(text.encode()) is known


def test_archives_are_told_apart() -> None:
    assert is_word(word_file()) and not is_opendocument(word_file())
    assert is_opendocument(opendocument_file()) and not is_word(opendocument_file())
    assert not is_word(b"PK\x03\x04 no archive")


@pytest.mark.parametrize(
    ("number", "style", "shown"),
    [
        (3, "decimal", "3."),
        (28, "lower letter", "ab."),
        (2, "upper letter", "B."),
        (14, "lower roman", "xiv."),
        (2, "", ""),
    ],
)
def test_numbers_as_they_are_shown(number: int, style: str, shown: str) -> None:
    assert number_text(number, style) == shown


def test_what_unpacks_to_too_much_is_refused(tmp_path: Path) -> None:
    file = tmp_path / "bomb.docx"
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("word/document.xml", b"0" * (MOST + 1))
    with pytest.raises(CannotRun, match="this is a Word document, but it unpacks to more than 20,000,000 bytes"):
        Workbench().read_file(str(file))


def test_entities_that_multiply_are_not_followed(tmp_path: Path) -> None:
    lol = "".join(f'<!ENTITY l{n} "{f"&l{n - 1};" * 10}">' for n in range(1, 12))
    xml = f'<?xml version="1.0"?><!DOCTYPE x [<!ENTITY l0 "lol">{lol}]><w:document {nsdecls("w")}><w:body><w:p><w:r><w:t>&l11;</w:t></w:r></w:p></w:body></w:document>'
    file = tmp_path / "lol.docx"
    with zipfile.ZipFile(BytesIO(word_file())) as sound, zipfile.ZipFile(file, "w") as archive:
        for entry in sound.namelist():
            archive.writestr(entry, xml if entry == "word/document.xml" else sound.read(entry))
    with pytest.raises(CannotRun) as stopped:
        Workbench().read_file(str(file))
    assert stopped.value.kind in ("not-text", "empty-file")


def test_a_damaged_document_is_told(tmp_path: Path) -> None:
    file = tmp_path / "torn.docx"
    sound = word_file()
    at = sound.index(b"word/document.xml") + 40
    file.write_bytes(sound[:at] + bytes(60) + sound[at + 60 :])
    with pytest.raises(CannotRun) as stopped:
        Workbench().read_file(str(file))
    assert stopped.value.kind == "not-text"


def test_a_missing_library_is_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file = tmp_path / "quoin.docx"
    file.write_bytes(word_file())
    monkeypatch.delitem(sys.modules, "larkshead_documents.word", raising=False)
    monkeypatch.setitem(sys.modules, "docx", None)
    with pytest.raises(CannotRun, match=r"this is a Word document; to read it, install larkshead\[documents\]"):
        Workbench().read_file(str(file))


def test_a_page_too_large_to_be_one_is_refused() -> None:
    with pytest.raises(ValueError, match="larger than"):
        html.text_of(b"<p>" + b"x" * 2_000_001, MOST)
