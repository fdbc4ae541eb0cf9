"""How a reader finds the way, read back by pikepdf."""

from __future__ import annotations

import io

import pikepdf
from pypdf import PdfWriter

from typeset.page.pages import Crossing, Heading, Place
from typeset.pdf.finding import add_links, add_outline
from typeset.pdf.ready import reserved
from typeset.pdf.streams import written

HEADINGS = (
    Heading(0, "Contents", 0, 700.0),
    Heading(0, "1  Größe", 1, 700.0),
    Heading(1, "1.1  First", 1, 600.0),
    Heading(1, "1.2  Second", 2, 500.1234),
    Heading(0, "Index", 2, 700.0),
)


def three_pages() -> PdfWriter:
    writer = PdfWriter()
    for _ in range(3):
        writer.add_blank_page(100, 100)
    return writer


def read(writer: PdfWriter) -> pikepdf.Pdf:
    return pikepdf.open(io.BytesIO(written(writer, "1.7")))


def test_exercises_stand_under_their_chapter_and_are_folded_away() -> None:
    writer = three_pages()
    add_outline(writer, list(writer.pages), HEADINGS)
    pdf = read(writer)
    root = pdf.Root.Outlines
    chapter = root.First.Next
    assert [str(one.Title) for one in (root.First, chapter, chapter.First, chapter.Last, root.Last)] == [
        heading.words for heading in HEADINGS
    ]
    assert (root.Count, chapter.Count) == (3, -2)
    assert chapter.First.Next.objgen == chapter.Last.objgen
    assert chapter.Last.Prev.objgen == chapter.First.objgen
    assert "/Prev" not in root.First and "/Next" not in root.Last and "/First" not in root.Last


def test_each_line_of_the_outline_leads_to_its_place() -> None:
    writer = three_pages()
    add_outline(writer, list(writer.pages), HEADINGS)
    pdf = read(writer)
    leaf, kind, left, height, zoom = pdf.Root.Outlines.First.Next.Last.Dest
    assert leaf.objgen == pdf.pages[2].obj.objgen
    assert (kind, left, float(height), zoom) == ("/XYZ", 0, 500.123, None)


def test_a_book_without_headings_has_no_outline() -> None:
    writer = three_pages()
    add_outline(writer, list(writer.pages), ())
    pdf = read(writer)
    assert "/Outlines" not in pdf.Root


def test_links_lead_into_the_book_and_to_the_web() -> None:
    writer = three_pages()
    inside, outside = reserved(writer, 2)
    links = {
        inside: Crossing(0, (1.0, 2.0, 3.0, 4.00049), Place(2, 50.0)),
        outside: Crossing(0, (1.0, 2.0, 3.0, 4.0), "https://lantern-yard.example/a b(c)"),
    }
    add_links(writer, list(writer.pages), links, {inside: 7})
    pdf = read(writer)
    into, web = pdf.pages[0].Annots
    assert into.Dest[0].objgen == pdf.pages[2].obj.objgen
    assert [float(side) for side in into.Rect] == [1, 2, 3, 4]
    assert into.StructParent == 7 and "/StructParent" not in web
    assert str(web.A.URI) == "https://lantern-yard.example/a%20b(c)"
