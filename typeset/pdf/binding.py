"""Binding: engraved blocks go into the pages, and the pages into one PDF that finds its way."""

from __future__ import annotations

import hashlib
import io
from collections.abc import Mapping, Sequence
from itertools import groupby
from typing import cast

from pypdf import PdfReader, PdfWriter
from pypdf.generic import (
    DictionaryObject,
    NameObject,
    StreamObject,
)

from ..compose.book import Engraving
from ..engrave.block import Block
from ..page.pages import Pages, Placement
from ..style.model import Press
from .boxes import crop_marks, set_boxes
from .finding import add_links, add_outline, label_pages
from .forms import Form, FormShelf
from .metadata import Facts, describe
from .streams import stream_of, written

_VERSION = "1.7"


def bind(pages: Pages, blocks: Mapping[Engraving, Block], press: Press) -> bytes:
    """The finished PDF: blocks placed by reference, outline, page labels, page boxes, title and language.

    `press` says what stands around the trimmed page. The same pages and blocks give the same bytes.
    """
    writer = assembled(pages, blocks, press)
    add_links(writer, pages.links)
    add_outline(writer, pages.headings)
    label_pages(writer, pages.labels)
    describe(writer, facts_of(pages, blocks))
    return written(writer, _VERSION)


def assembled(pages: Pages, blocks: Mapping[Engraving, Block], press: Press) -> PdfWriter:
    """The pages with their music and crop marks, and their boxes set."""
    writer = PdfWriter(clone_from=PdfReader(io.BytesIO(pages.pdf)))
    marks = crop_marks(pages.width, pages.height, press)
    shelf = FormShelf(writer)
    placed = _by_page(pages.placements)
    # Asking a writer for one page makes it walk through all of them.
    for number, page in enumerate(list(writer.pages)):
        shown = [(shelf.form(blocks[one.engraving].pdf), one) for one in placed.get(number, ())]
        if shown:
            _name(page, [form for form, _ in shown])
        operators = "".join(_show(form, placement) for form, placement in shown) + marks
        if operators:
            _append(writer, page, operators)
        set_boxes(page, pages.width, pages.height, press)
    return writer


def _by_page(placements: Sequence[Placement]) -> dict[int, list[Placement]]:
    in_order = sorted(placements, key=lambda placement: placement.page)
    return {number: list(on_page) for number, on_page in groupby(in_order, key=lambda placement: placement.page)}


def _show(form: Form, placement: Placement) -> str:
    scale = f"{placement.scale:.5f}".rstrip("0").rstrip(".")
    return f"q {scale} 0 0 {scale} {placement.x:.3f} {placement.y:.3f} cm {form.name} Do Q\n"


def _name(page: DictionaryObject, forms: Sequence[Form]) -> None:
    """Name forms in a page's resources, which pages share until then."""
    resources = DictionaryObject(cast(DictionaryObject, page["/Resources"]))
    named = {NameObject(form.name): form.reference for form in forms}
    resources[NameObject("/XObject")] = DictionaryObject(named)
    page[NameObject("/Resources")] = resources


def _append(writer: PdfWriter, page: DictionaryObject, operators: str) -> None:
    """Add to what a page draws."""
    before = cast(StreamObject, page["/Contents"].get_object())
    content = stream_of(b"q\n" + before.get_data() + b"\nQ\n" + operators.encode("ascii"))
    page[NameObject("/Contents")] = writer._add_object(content)


def facts_of(pages: Pages, blocks: Mapping[Engraving, Block]) -> Facts:
    """What is told of a book, with an identifier made from what is in it, the same for the same book."""
    digest = hashlib.md5(pages.pdf, usedforsecurity=False)
    for placement in pages.placements:
        digest.update(repr((placement.page, placement.x, placement.y, placement.scale)).encode())
        digest.update(blocks[placement.engraving].pdf)
    return Facts(pages.title, pages.author, pages.language, pages.date, digest.digest())
