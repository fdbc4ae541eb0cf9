"""Blocks in a book: grey, by reference, with one copy of each font program."""

from __future__ import annotations

import io
from concurrent.futures import ThreadPoolExecutor

import pikepdf
import pytest
from pypdf import PdfReader, PdfWriter
from pypdf.generic import DecodedStreamObject, DictionaryObject, NameObject

from tests.engrave.shown import SHOWN, SPLIT
from typeset.engrave.lilypond import set_sheets
from typeset.engrave.sheet import sheet_of
from typeset.engrave.workers import engrave_batch
from typeset.pdf.forms import FormError, FormShelf, finish, grey, rounded
from typeset.style.music import Staff


@pytest.fixture(scope="module")
def finished() -> list[bytes]:
    """Blocks of two runs of LilyPond with different music."""
    plain = engrave_batch(SHOWN, Staff(), finish)
    split = engrave_batch(SPLIT, Staff(stems="split", repeated_bars=True), finish)
    return [block.pdf for block in (*plain, *split)]


def programs(pdf: bytes) -> dict[str, set[bytes]]:
    """The font programs in a PDF, unpacked, by the font's name without its subset's tag."""
    found: dict[str, set[bytes]] = {}
    for name, program in font_files(pdf):
        found.setdefault(name.partition("+")[2], set()).add(program)
    return found


def font_files(pdf: bytes) -> list[tuple[str, bytes]]:
    """Each font program in a PDF with the font's full name and the program's kind."""
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        return [
            (f"{thing.FontName} {thing.FontFile3.Subtype}", thing.FontFile3.read_bytes())
            for thing in opened.objects
            if isinstance(thing, pikepdf.Dictionary) and "/FontFile3" in thing
        ]


def test_a_finished_block_is_one_page(finished: list[bytes]) -> None:
    assert {len(pikepdf.open(io.BytesIO(pdf)).pages) for pdf in finished} == {1}


def test_a_finished_block_is_grey_and_opaque(finished: list[bytes]) -> None:
    for pdf in finished:
        opened = pikepdf.open(io.BytesIO(pdf))
        page = opened.pages[0]
        assert "/Group" not in page
        assert set(page.Resources.keys()) <= {"/Font"}
        operators = {str(operator) for _, operator in pikepdf.parse_content_stream(page)}
        assert operators & {"g", "G"}
        assert not operators & {"rg", "RG", "k", "K", "cs", "CS", "sc", "SC", "scn", "SCN", "gs", "sh", "Do"}


def test_runs_with_different_music_have_the_same_font_programs(finished: list[bytes]) -> None:
    together: dict[str, set[bytes]] = {}
    for pdf in finished:
        for name, found in programs(pdf).items():
            together.setdefault(name, set()).update(found)
    assert len(together) >= 3
    assert {name: len(found) for name, found in together.items()} == dict.fromkeys(together, 1)


def test_a_book_holds_each_font_program_once(finished: list[bytes]) -> None:
    writer = PdfWriter()
    shelf = FormShelf(writer)
    page = writer.add_blank_page(600, 800)
    forms = [shelf.form(pdf) for pdf in finished]
    listed = DictionaryObject({NameObject(form.name): form.reference for form in forms})
    page[NameObject("/Resources")] = DictionaryObject({NameObject("/XObject"): listed})
    out = io.BytesIO()
    writer.write(out)
    names = [name for name, _ in font_files(out.getvalue())]
    assert len(names) == len(set(names)) >= 3


def test_a_form_has_the_block_as_its_box_and_its_fonts_with_it(finished: list[bytes]) -> None:
    writer = PdfWriter()
    form = FormShelf(writer).form(finished[0]).reference.get_object()
    page = PdfReader(io.BytesIO(finished[0])).pages[0]
    assert form["/Subtype"] == "/Form"
    assert [float(side) for side in form["/BBox"]] == [0, 0, page.mediabox.width, page.mediabox.height]
    assert set(form["/Resources"]["/Font"]) == set(page["/Resources"]["/Font"])


def test_a_block_that_is_shown_twice_is_one_form(finished: list[bytes]) -> None:
    shelf = FormShelf(PdfWriter())
    assert shelf.form(finished[0]) == shelf.form(finished[0])
    assert shelf.form(finished[0]) != shelf.form(finished[1])


def test_colours_become_as_bright_greys() -> None:
    assert grey(b"0 0 0 rg 1 1 1 RG\n") == b"0 g 1 G\n"
    assert grey(b"/a0 gs 1 0 0 rg") == b"0.2126 g"
    assert grey(b"q 12 0 0\n0 rg\n0 1 0 RG 5 w") == b"q 12 0 g\n0.7152 G 5 w"


@pytest.mark.parametrize("content", [b"/Im0 Do", b"0 0 0 1 k", b"/Pattern cs", b"0 0 rg", b"/a0 gs\nBI"])
def test_what_cannot_be_made_grey_is_refused(content: bytes) -> None:
    with pytest.raises(FormError, match="cannot be made grey"):
        grey(content)


def test_numbers_are_as_fine_as_they_can_be_printed() -> None:
    assert rounded(b"469.031999 5.9061 m -0.001 10 l S") == b"469.03 5.91 m 0 10 l S"


def test_steps_from_glyph_to_glyph_stay_fine_for_they_count_in_sizes_of_the_font() -> None:
    assert rounded(b"17.574803 0 0 -17.574803 1.2345 2 Tm 0.162921 1.29357\nTd") == (
        b"17.57 0 0 -17.57 1.23 2 Tm 0.16292 1.29357 Td"
    )
    assert rounded(b"0 -0.250047 Td 0.162921 2 Td 1.2345 w") == b"0 -0.25005 Td 0.16292 2 Td 1.23 w"


def test_a_block_that_was_not_finished_is_refused() -> None:
    out = io.BytesIO()
    writer = PdfWriter()
    writer.add_blank_page(100, 50)
    writer.write(out)
    with pytest.raises(FormError, match="does not end with its index"):
        FormShelf(PdfWriter()).form(out.getvalue())


def test_finishing_keeps_one_page_alone_and_of_that_what_belongs_to_the_block() -> None:
    writer = PdfWriter()
    for width in (100, 200):
        page = writer.add_blank_page(width, 50)
        content = DecodedStreamObject()
        content.set_data(b"0 0 0 rg 0 0 10 10 re f")
        page[NameObject("/Contents")] = writer._add_object(content)
    out = io.BytesIO()
    writer.write(out)
    pages = PdfReader(io.BytesIO(finish(out.getvalue(), 1, (150, 50)))).pages
    assert [page.mediabox.width for page in pages] == [150]
    assert pages[0].get_contents().get_data() == b"0 g 0 0 10 10 re f"  # type: ignore[union-attr]


def test_the_same_pdf_is_finished_in_several_threads_at_once() -> None:
    (proof,) = set_sheets([sheet_of(SHOWN[0], Staff())], Staff().height).proofs
    assert proof is not None
    for number in range(20):
        pdf = proof.pdf + b"\n" * number
        with ThreadPoolExecutor(8) as executor:
            made = executor.map(lambda _, pdf=pdf: finish(pdf, -1, (300.0, 100.0)), range(8))
            assert len(set(made)) == 1
