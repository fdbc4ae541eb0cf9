"""Writing a PDF small: read back by pikepdf and pypdf, and against pypdf's own way of writing."""

from __future__ import annotations

import io

import pikepdf
from pypdf import PdfReader, PdfWriter
from pypdf.generic import ArrayObject, DictionaryObject, NameObject, NumberObject, TextStringObject

from typeset.pdf.streams import stream_of, written


def a_writer(pages: int = 3, things: int = 500) -> PdfWriter:
    """A file with pages, and many small objects that the catalog leads to."""
    writer = PdfWriter()
    for number in range(pages):
        page = writer.add_blank_page(200 + number, 100)
        page[NameObject("/Contents")] = writer._add_object(stream_of(b"0 g %d 0 m" % number))
    many = ArrayObject(
        writer._add_object(DictionaryObject({NameObject("/Number"): NumberObject(number)}))
        for number in range(things)
    )
    writer.root_object[NameObject("/Many")] = many
    writer.metadata = {"/Title": "Größe"}
    return writer


def test_everything_is_there_again() -> None:
    with pikepdf.open(io.BytesIO(written(a_writer(), "1.7"))) as pdf:
        assert (getattr(pdf, "check_pdf_syntax", None) or pdf.check)() == []
        assert [float(page.mediabox[2]) for page in pdf.pages] == [200, 201, 202]
        assert pdf.pages[2].Contents.read_bytes() == b"0 g 2 0 m"
        assert [one.Number for one in pdf.Root.Many] == list(range(500))
        assert str(pdf.docinfo.Title) == "Größe"
        assert pdf.pdf_version == "1.7"


def test_pypdf_reads_it_too() -> None:
    reader = PdfReader(io.BytesIO(written(a_writer(), "1.6")), strict=True)
    assert len(reader.pages) == 3
    assert reader.metadata is not None and reader.metadata.title == "Größe"


def test_small_objects_are_packed() -> None:
    plain = io.BytesIO()
    a_writer().write(plain)
    assert len(written(a_writer(), "1.7")) < 0.2 * len(plain.getvalue())


def test_what_nothing_leads_to_is_left_out() -> None:
    writer = a_writer()
    writer._add_object(TextStringObject("an orphan"))
    writer._add_object(stream_of(b"another orphan"))
    with pikepdf.open(io.BytesIO(written(writer, "1.7"))) as pdf:
        streams = [one.read_bytes() for one in pdf.objects if isinstance(one, pikepdf.Stream)]
        assert b"another orphan" not in streams


def test_the_same_objects_have_the_same_bytes() -> None:
    assert written(a_writer(), "1.7") == written(a_writer(), "1.7")
