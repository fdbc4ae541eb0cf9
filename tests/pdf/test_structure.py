"""What is heard of a book that is read aloud: its structure tree, read back by pikepdf and pdfplumber."""

from __future__ import annotations

import io
from collections.abc import Iterator
from functools import cache

import pdfplumber
import pikepdf

from tests.page.made import a_book, a_chapter, a_style, a_task, an_exercise, blocks_of, say
from typeset.page import lay_out
from typeset.page.pages import Pages
from typeset.pdf import bind

ONE = an_exercise("1.1", "R L R K L", title="As a groove")
BOOK = a_book(
    a_chapter(
        1,
        [
            ONE,
            an_exercise(
                "1.2", "R L", bars=1, quarter=14.0, parent="no-1.1", parent_number="1.1", title="As a fill"
            ),
            an_exercise("1.3", "L R", bars=1, quarter=14.0),
            a_task("write-the-sticking", [ONE]),
        ],
    )
)


@cache
def the_pages() -> Pages:
    return lay_out(BOOK, a_style(), blocks_of(BOOK))


@cache
def the_pdf() -> bytes:
    return bind(the_pages(), blocks_of(BOOK), a_style(), say)


def elements(pdf: pikepdf.Pdf) -> Iterator[pikepdf.Object]:
    """All elements under the document, in the order in which they are read."""
    waiting = [pdf.Root.StructTreeRoot.K]
    while waiting:
        element = waiting.pop(0)
        if isinstance(element, pikepdf.Dictionary) and "/S" in element:
            yield element
            kids = element.get("/K", [])
            waiting = [*(kids if isinstance(kids, pikepdf.Array) else [kids]), *waiting]  # type: ignore[attr-defined]


def heard(tag: str) -> list[str]:
    """The words of all elements with a tag, as pdfplumber puts pages' characters together by their identifiers."""
    found = []
    with pdfplumber.open(io.BytesIO(the_pdf())) as read, pikepdf.open(io.BytesIO(the_pdf())) as pdf:
        numbers = {page.obj.objgen: index for index, page in enumerate(pdf.pages)}
        for element in elements(pdf):
            if tag == element.S:
                marks = [int(kid) for kid in element.K if isinstance(kid, int)]
                chars = [char for char in read.pages[numbers[element.Pg.objgen]].chars if char["mcid"] in marks]
                found.append("".join(char["text"] for char in chars).strip())
    return found


def test_the_document_is_tagged_in_its_language() -> None:
    with pikepdf.open(io.BytesIO(the_pdf())) as pdf:
        assert pdf.Root.MarkInfo.Marked
        assert pdf.Root.Lang == "en"
        assert pdf.Root.StructTreeRoot.K.S == "/Document"


def test_headings_are_told_from_text() -> None:
    assert heard("/H1")[:2] == ["Quiet Doors", "Contents"]
    assert "Chapter 1 First steps 1" in heard("/H1")
    exercises = [words for words in heard("/H2") if words.startswith(("1.", "Task"))]
    assert [words.split()[0] for words in exercises] == ["1.1", "1.2", "1.3", "Task"]
    assert exercises[0] == "1.1 As a groove"


def test_sentences_are_read_with_their_words_apart() -> None:
    assert any("Move the strokes on 3& and 3a to the toms." in words for words in heard("/P"))


def test_every_block_has_its_reading_in_place_of_its_letters() -> None:
    with pikepdf.open(io.BytesIO(the_pdf())) as pdf:
        figures = [one for one in elements(pdf) if one.S == "/Figure"]
        drawn = [begins for page in the_pages().sections for begins in page if begins.says]
        assert len(figures) == len(the_pages().placements) + len(drawn)
        assert all(str(figure.Alt) for figure in figures)
        systems = [figure for figure in figures if str(figure.Alt).startswith("System")]
        assert all(len(figure.K) == 2 for figure in systems)


def test_what_a_task_asks_for_is_not_read_out() -> None:
    with pikepdf.open(io.BytesIO(the_pdf())) as pdf:
        said = [str(one.Alt) for one in elements(pdf) if one.S == "/Figure"]
    assert said.count("System without sticking") == len(ONE.systems)
    assert said.count("System without None") >= len(ONE.systems) + 2


def test_what_is_drawn_belongs_to_one_element_or_is_passed_over() -> None:
    """Each identifier on a page leads to its element, and only running heads and their like lead nowhere."""
    with pikepdf.open(io.BytesIO(the_pdf())) as pdf:
        numbers = pdf.Root.StructTreeRoot.ParentTree.Nums
        parents = {int(numbers[index]): numbers[index + 1] for index in range(0, len(numbers), 2)}
        for page in pdf.pages:
            of_page = parents[int(page.obj.StructParents)]
            depth = 0
            for one in pikepdf.parse_content_stream(page):
                operator = str(one.operator)
                if operator == "BDC":
                    tag, mark = str(one.operands[0]), int(one.operands[1].MCID)
                    assert tag == "/Artifact" or mark in [kid for kid in of_page[mark].K if isinstance(kid, int)]
                depth += {"BDC": 1, "BMC": 1, "EMC": -1}.get(operator, 0)
                assert 0 <= depth <= 1
                assert depth == 1 or operator not in ("Tj", "TJ", "S", "f", "Do")


def test_page_numbers_and_running_heads_are_passed_over() -> None:
    with pdfplumber.open(io.BytesIO(the_pdf())) as read:
        for page in read.pages[2:]:
            printed = [char for char in page.chars if char["text"].strip()]
            at_foot = [char for char in printed if char["bottom"] > page.height - 50]
            assert at_foot and {char["tag"] for char in at_foot} == {"Artifact"}
            passed_over = [char for char in printed if char["tag"] == "Artifact"]
            assert all(char["top"] < 60 or char["bottom"] > page.height - 50 for char in passed_over)


def test_links_are_read_where_they_stand() -> None:
    with pikepdf.open(io.BytesIO(the_pdf())) as pdf:
        links = [one for one in elements(pdf) if one.S == "/Link"]
        assert len(links) == len(the_pages().links) > 4
        for link in links:
            annotation = link.K[0].Obj
            assert annotation.Subtype == "/Link"
            numbers = pdf.Root.StructTreeRoot.ParentTree.Nums
            assert numbers[2 * int(annotation.StructParent) + 1].objgen == link.objgen
