"""What a file says about itself, as XMP."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from dataclasses import replace

import pytest

from typeset.pdf.metadata import Facts, xmp

DC = "{http://purl.org/dc/elements/1.1/}"
XMP = "{http://ns.adobe.com/xap/1.0/}"
FACTS = Facts("Quiet Doors", "Lantern Yard Studio", "en", "2026-09-01", bytes(16))


def words_of(facts: Facts, name: str) -> list[str]:
    return ["".join(found.itertext()) for found in ET.fromstring(xmp(facts)).iter(name)]


def test_title_author_language_and_date_are_told() -> None:
    assert words_of(FACTS, DC + "title") == ["Quiet Doors"]
    assert words_of(FACTS, DC + "creator") == ["Lantern Yard Studio"]
    assert words_of(FACTS, DC + "language") == ["en"]
    assert words_of(FACTS, XMP + "CreateDate") == ["2026-09-01"]


@pytest.mark.parametrize("title", ["<b>loud</b> & ]]>", "Größe, 太鼓, 🥁", "{} %s {0}"])
def test_any_title_is_told_as_it_is(title: str) -> None:
    assert words_of(replace(FACTS, title=title), DC + "title") == [title]


def test_what_xml_cannot_write_is_left_out() -> None:
    assert words_of(replace(FACTS, title="a\x00b\x0bc\ufffe"), DC + "title") == ["abc"]


@pytest.mark.parametrize("date", [None, "in the autumn", "2026-09-01x"])
def test_what_is_no_date_is_not_told_as_one(date: str | None) -> None:
    assert words_of(replace(FACTS, date=date), XMP + "CreateDate") == []


def test_a_book_without_an_author_has_none() -> None:
    assert words_of(replace(FACTS, author=None), DC + "creator") == []


def test_a_book_to_read_claims_no_conformance() -> None:
    assert b"GTS_PDFXVersion" not in xmp(FACTS)
    assert b"GTS_PDFXVersion>PDF/X-4<" in xmp(FACTS, "PDF/X-4")
