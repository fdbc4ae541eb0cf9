"""The bound book, read back with other tools than those that made it."""

import io
import re
from dataclasses import replace
from functools import cache

import pdfplumber
import pikepdf
import pytest

from tests.page.made import a_book, a_chapter, a_style, an_exercise, blocks_of, say
from typeset.compose.book import Book, Text
from typeset.compose.engraving import System
from typeset.page import lay_out
from typeset.page.pages import Pages
from typeset.page.setting import points
from typeset.pdf import bind

HOSTILE = 'Say <b>loud</b> & "never" {this} * that ]] > <img src="x"/> %s \\n'


@cache
def the_book() -> Book:
    exercises = [
        an_exercise("1.1", "R L R K L", title="As a groove"),
        an_exercise("1.2", "R L K", grid=["triplets"], bars=2, parent="no-1.1", parent_number="1.1"),
        an_exercise("1.3", "R+K L . R+H", bars=1, quarter=14.0),
        an_exercise("1.4", "R L", bars=1, quarter=14.0, meter="4/4", grid=["8ths"]),
        Text(HOSTILE),
        an_exercise("1.5", "R L R L L", grid=["quintuplets"], title=HOSTILE),
    ]
    return a_book(a_chapter(1, exercises), a_chapter(2, [an_exercise("2.1", "R L K K", systems=14)]))


@cache
def the_pages() -> Pages:
    return lay_out(the_book(), a_style(), blocks_of(the_book()))


@cache
def the_pdf() -> bytes:
    return bind(the_pages(), blocks_of(the_book()), a_style(), say)


@cache
def the_text() -> str:
    with pdfplumber.open(io.BytesIO(the_pdf())) as pdf:
        return "\n".join(page.extract_text() for page in pdf.pages)


def test_letters_and_counts_stand_in_the_middle_under_their_slots() -> None:
    """Every sticking letter and count within 1 mm of its slot's middle, read from the finished pages."""
    blocks = blocks_of(the_book())
    checked = 0
    with pdfplumber.open(io.BytesIO(the_pdf())) as pdf:
        for placement in the_pages().placements:
            if not isinstance(placement.engraving, System) or placement.page < 7:
                continue
            block, page = blocks[placement.engraving], pdf.pages[placement.page]
            foot = float(page.height) - placement.y - block.bottom
            words = page.crop((0, foot, page.width, foot + 45)).extract_words(x_tolerance=0.2, y_tolerance=1)
            left = placement.x + block.left - 2
            right = placement.x + block.right
            words = [word for word in words if left < word["x0"] < right and word["top"] < foot + 42]
            middles = [placement.x + slot for slot in block.slots]
            rows = sorted({round(word["top"]) for word in words})[:2]
            for word in words:
                if round(word["top"]) in rows:
                    middle = (word["x0"] + word["x1"]) / 2
                    assert min(abs(middle - slot) for slot in middles) < points(1)
                    checked += 1
    assert checked > 200


def test_an_author_s_text_prints_as_itself() -> None:
    for piece in ("<b>loud</b>", "&", '"never"', "{this}", "* that", "]] >", '<img src="x"/>', "%s", "\\n"):
        assert the_text().count(piece) >= 2


def test_contents_lead_to_their_pages_and_print_their_numbers() -> None:
    with pikepdf.open(io.BytesIO(the_pdf())) as pdf:
        page = pdf.pages[2]
        ids = {other.objgen: number for number, other in enumerate((one.obj for one in pdf.pages), start=1)}
        links = [ids[link.Dest[0].objgen] for link in page.Annots]
    with pdfplumber.open(io.BytesIO(the_pdf())) as plain:
        lines = plain.pages[2].extract_text().splitlines()
    printed = [int(found[1]) for line in lines[1:] if (found := re.search(r"(\d+)$", line))]
    assert printed[:-1] == sorted(links)
    assert printed[-1] == 3  # the contents' own page number at its foot


def test_every_font_is_embedded_in_part() -> None:
    with pikepdf.open(io.BytesIO(the_pdf())) as pdf:
        fonts = [one for one in pdf.objects if isinstance(one, pikepdf.Dictionary) and one.get("/Type") == "/Font"]
        ours = [font for font in fonts if font.BaseFont != "/Helvetica"]  # the fake blocks' own
        assert len(ours) >= 5
        for font in ours:
            assert re.match(r"/[A-Z]{6}\+", str(font.BaseFont))
            assert "/FontFile2" in font.FontDescriptor


def test_there_are_greys_and_nothing_else() -> None:
    colours = set()
    with pikepdf.open(io.BytesIO(the_pdf())) as pdf:
        streams = [page.obj for page in pdf.pages]
        streams += [
            one for one in pdf.objects if isinstance(one, pikepdf.Stream) and one.get("/Subtype") == "/Form"
        ]
        for stream in streams:
            for instruction in pikepdf.parse_content_stream(stream):
                colours.add(str(instruction.operator))
    assert "g" in colours
    assert not colours & {"rg", "RG", "k", "K", "cs", "CS", "sc", "SC", "scn", "SCN", "sh", "gs"}


def test_each_engraving_is_kept_once_and_placed_by_reference() -> None:
    placed = {placement.engraving for placement in the_pages().placements}
    shown = 0
    with pikepdf.open(io.BytesIO(the_pdf())) as pdf:
        forms = [one for one in pdf.objects if isinstance(one, pikepdf.Stream) and one.get("/Subtype") == "/Form"]
        for page in pdf.pages:
            shown += sum(str(one.operator) == "Do" for one in pikepdf.parse_content_stream(page))
    assert len(forms) <= len(placed)
    assert shown == len(the_pages().placements) > len(forms)


def test_outline_labels_title_language_and_boxes() -> None:
    with pikepdf.open(io.BytesIO(the_pdf())) as pdf:
        with pdf.open_outline() as outline:
            titles = [item.title for item in outline.root]
            below = [item.title for item in outline.root[titles.index("1  First steps 1")].children]
        assert below[0] == "1.1  As a groove"
        assert [page.label for page in pdf.pages] == [str(number + 1) for number in range(len(pdf.pages))]
        assert pdf.Root.Lang == "en"
        assert pdf.Root.ViewerPreferences.DisplayDocTitle
        assert str(pdf.docinfo.Title) == "Quiet Doors"
        assert str(pdf.docinfo.Author) == "Lantern Yard Studio"
        assert str(pdf.docinfo.CreationDate).startswith("D:20260901")
        for page in pdf.pages:
            # ISO 216: A4 is 210 by 297 mm.
            assert [float(one) for one in page.mediabox] == pytest.approx([0, 0, 595.276, 841.89], abs=0.01)
            assert page.trimbox == page.mediabox


def test_pages_that_stand_apart_are_labelled_apart() -> None:
    labels = ("i", "ii", *(str(number) for number in range(1, len(the_pages().labels) - 1)))
    bound = bind(replace(the_pages(), labels=labels), blocks_of(the_book()), a_style(), say)
    with pikepdf.open(io.BytesIO(bound)) as pdf:
        assert [page.label for page in pdf.pages] == list(labels)


def test_a_sound_file_and_the_same_bytes_every_time() -> None:
    assert bind(the_pages(), blocks_of(the_book()), a_style(), say) == the_pdf()
    with pikepdf.open(io.BytesIO(the_pdf())) as pdf:
        check = getattr(pdf, "check_pdf_syntax", None) or pdf.check
        assert check() == []


def test_running_heads_and_page_numbers_are_mirrored() -> None:
    with pdfplumber.open(io.BytesIO(the_pdf())) as pdf:
        last = len(pdf.pages) - 1
        for index in range(2, last):
            page = pdf.pages[index]
            (folio,) = [word for word in page.extract_words() if word["top"] > page.height - points(20)]
            assert folio["text"] == str(index + 1)
            assert (folio["x0"] > page.width / 2) == (index % 2 == 0)
