"""Binding: engraved blocks go into the pages, and the pages into one PDF that finds its way."""

from __future__ import annotations

import hashlib
import io
from collections import defaultdict
from collections.abc import Mapping, Sequence
from typing import cast

from pypdf import PdfReader, PdfWriter
from pypdf.generic import ArrayObject, DictionaryObject, NameObject, NumberObject

from ..compose.engraving import Engraving
from ..engrave.block import Block
from ..page.pages import Crossing, Pages, Placement
from ..style.paper import Press
from .boxes import crop_marks, set_boxes
from .finding import add_links, add_outline, label_pages
from .forms import Form, FormShelf
from .metadata import Facts, describe
from .ready import reserved
from .streams import stream_of, written
from .structure import FIGURE, Said, Say, StructureTree

_VERSION = "1.7"


def bind(pages: Pages, blocks: Mapping[Engraving, Block], press: Press, say: Say) -> bytes:
    """The finished PDF: blocks placed by reference, outline, page labels, page boxes, title and language.

    `press` says what stands around the trimmed page, `say` what is read aloud in place of music. The same
    pages and blocks give the same bytes.
    """
    writer, leaves = assembled(pages, blocks, press)
    links = dict(zip(reserved(writer, len(pages.links)), pages.links, strict=True))
    on_page = _sorted(links)
    placed = by_page(pages.placements)
    tree = StructureTree(writer, say)
    keys: dict[int, int] = {}
    for number, leaf in enumerate(leaves):
        keys |= tree.add(leaf, Said(pages.sections[number], placed[number], on_page[number]))
    tree.close()
    add_links(writer, leaves, links, keys)
    add_outline(writer, leaves, pages.headings)
    label_pages(writer, pages.labels)
    describe(writer, facts_of(pages, blocks))
    return written(writer, _VERSION)


def assembled(
    pages: Pages, blocks: Mapping[Engraving, Block], press: Press
) -> tuple[PdfWriter, list[DictionaryObject]]:
    """A file of the pages with their music and crop marks, and their boxes set; and these pages.

    Blocks are marked content, numbered on from a page's sections in the order of `by_page`.
    """
    writer = PdfWriter(clone_from=PdfReader(io.BytesIO(pages.fonts)))
    leaves = _blank_pages(writer, len(pages.contents))
    marks = crop_marks(pages.width, pages.height, press)
    shelf = FormShelf(writer)
    placed = by_page(pages.placements)
    for number, (page, drawn) in enumerate(zip(leaves, pages.contents, strict=True)):
        shown = [(shelf.form(blocks[one.engraving].pdf), one) for one in placed[number]]
        if shown:
            _name(page, [form for form, _ in shown])
        operators = "".join(
            _show(form, placement, mark)
            for mark, (form, placement) in enumerate(shown, start=len(pages.sections[number]))
        )
        operators += marks
        content = b"q\n%s\nQ\n%s" % (drawn, operators.encode("ascii")) if operators else drawn
        page[NameObject("/Contents")] = writer._add_object(stream_of(content))
        set_boxes(page, pages.width, pages.height, press)
    return writer, leaves


def _blank_pages(writer: PdfWriter, count: int) -> list[DictionaryObject]:
    """So many pages like the one that a file has, in its place."""
    (page,) = writer.pages
    leaves = [DictionaryObject({name: page.raw_get(name) for name in page}) for _ in range(count)]
    tree = cast(DictionaryObject, page["/Parent"])
    tree[NameObject("/Kids")] = ArrayObject(map(writer._add_object, leaves))
    tree[NameObject("/Count")] = NumberObject(count)
    return leaves


def by_page(placements: Sequence[Placement]) -> Mapping[int, Sequence[Placement]]:
    """The placements on each page, in their order."""
    found: dict[int, list[Placement]] = defaultdict(list)
    for placement in placements:
        found[placement.page].append(placement)
    return found


def _sorted(links: Mapping[int, Crossing]) -> Mapping[int, Sequence[tuple[int, int]]]:
    """The links on each page: the number of each one's annotation, and its section."""
    found: dict[int, list[tuple[int, int]]] = defaultdict(list)
    for annotation, link in links.items():
        found[link.page].append((annotation, link.section))
    return found


def _show(form: Form, placement: Placement, mark: int) -> str:
    scale = f"{placement.scale:.5f}".rstrip("0").rstrip(".")
    place = f"{scale} 0 0 {scale} {placement.x:.3f} {placement.y:.3f} cm"
    return f"/{FIGURE} <</MCID {mark}>> BDC q {place} {form.name} Do Q EMC\n"


def _name(page: DictionaryObject, forms: Sequence[Form]) -> None:
    """Name forms in a page's resources, which pages share until then."""
    resources = DictionaryObject(cast(DictionaryObject, page["/Resources"]))
    named = {NameObject(form.name): form.reference for form in forms}
    resources[NameObject("/XObject")] = DictionaryObject(named)
    page[NameObject("/Resources")] = resources


def facts_of(pages: Pages, blocks: Mapping[Engraving, Block]) -> Facts:
    """What is told of a book, with an identifier made from what is in it, the same for the same book."""
    digest = hashlib.md5(pages.fonts, usedforsecurity=False)
    for content in pages.contents:
        digest.update(content)
    for placement in pages.placements:
        digest.update(repr((placement.page, placement.x, placement.y, placement.scale)).encode())
        digest.update(blocks[placement.engraving].pdf)
    return Facts(pages.title, pages.author, pages.language, pages.date, digest.digest())
