"""Objects that are written as bytes, read back by pikepdf."""

from __future__ import annotations

import io

import pikepdf
import pytest
from pypdf import PdfWriter
from pypdf.generic import IndirectObject, NameObject

from typeset.pdf.ready import array, put, real, reference, reserved, string, text
from typeset.pdf.streams import written


def holding(data: bytes) -> pikepdf.Pdf:
    """A file that has an object under the name `/Ours`."""
    writer = PdfWriter()
    writer.add_blank_page(100, 100)
    (number,) = reserved(writer)
    put(writer, number, data)
    writer.root_object[NameObject("/Ours")] = IndirectObject(number, 0, writer)
    pdf = pikepdf.open(io.BytesIO(written(writer, "1.7")))
    assert (getattr(pdf, "check_pdf_syntax", None) or pdf.check)() == []
    return pdf


@pytest.mark.parametrize(
    "words", ["", "(((", "a \\ b", "one\ntwo", "one\rtwo", "Größe – “ça”", "Москва", "þÿ", "\x18", "tab\tbed"]
)
def test_words_are_read_as_they_were_written(words: str) -> None:
    with holding(text(words)) as pdf:
        assert str(pdf.Root.Ours) == words


def test_any_bytes_are_a_string() -> None:
    with holding(string(bytes(range(256)))) as pdf:
        assert bytes(pdf.Root.Ours) == bytes(range(256))  # type: ignore[call-overload]


def test_numbers_have_three_decimals_at_most() -> None:
    with holding(array([real(12.34567), real(2), real(-0.0004)])) as pdf:
        assert [float(number) for number in pdf.Root.Ours] == [12.346, 2, 0]


def test_one_object_leads_to_another() -> None:
    writer = PdfWriter()
    first, second = reserved(writer, 2)
    put(writer, first, b"<</Next %s>>" % reference(second))
    put(writer, second, b"<</Last true>>")
    writer.root_object[NameObject("/Ours")] = IndirectObject(first, 0, writer)
    with pikepdf.open(io.BytesIO(written(writer, "1.7"))) as pdf:
        assert pdf.Root.Ours.Next.Last
