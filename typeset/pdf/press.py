"""A file for a printing house: PDF/X-4 (ISO 15930-7), in greys."""

from __future__ import annotations

from collections.abc import Mapping

from pypdf import PdfWriter
from pypdf.generic import ArrayObject, DictionaryObject, NameObject, NumberObject, TextStringObject

from ..compose.engraving import Engraving
from ..engrave.block import Block
from ..page.pages import Pages
from ..style.paper import Press
from .binding import assembled, facts_of
from .finding import label_pages
from .metadata import describe
from .output import NotForPress
from .profile import components_of, description_of, grey_profile
from .streams import stream_of, written

_VERSION = "1.6"
CONFORMANCE = "PDF/X-4"


def bind_for_press(pages: Pages, blocks: Mapping[Engraving, Block], press: Press, profile: bytes | None) -> bytes:
    """The book as PDF/X-4: its pages alone, with nothing to click on, and the printing condition they are for.

    Without a `profile` that is black ink on white paper. Raises NotForPress where the book has no date, and
    for a profile that says nothing of greys.
    """
    facts = facts_of(pages, blocks)
    if not facts.day:
        raise NotForPress("a file for a printing house tells its date; say it in the book, as `date: 2026-09-01`")
    writer, _ = assembled(pages, blocks, press)
    label_pages(writer, pages.labels)
    _intend(writer, profile or grey_profile())
    describe(writer, facts, CONFORMANCE)
    return written(writer, _VERSION)


def _intend(writer: PdfWriter, profile: bytes) -> None:
    """Say which printing condition the file is for, the profile of it included."""
    try:
        components = components_of(profile)
    except ValueError as error:
        raise NotForPress(str(error)) from error
    stream = stream_of(profile)
    stream[NameObject("/N")] = NumberObject(components)
    intent = DictionaryObject(
        {
            NameObject("/Type"): NameObject("/OutputIntent"),
            NameObject("/S"): NameObject("/GTS_PDFX"),
            NameObject("/OutputConditionIdentifier"): TextStringObject("Custom"),
            NameObject("/Info"): TextStringObject(description_of(profile)),
            NameObject("/DestOutputProfile"): writer._add_object(stream),
        }
    )
    writer.root_object[NameObject("/OutputIntents")] = ArrayObject([writer._add_object(intent)])
