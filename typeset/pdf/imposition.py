"""Imposing: a book's pages, two on each side of a sheet."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from pypdf import PdfWriter
from pypdf.generic import (
    ArrayObject,
    DictionaryObject,
    FloatObject,
    IndirectObject,
    NameObject,
    NumberObject,
    StreamObject,
)

from ..compose.engraving import Engraving
from ..engrave.block import Block
from ..page.pages import Pages
from ..style.paper import PAPERS, Booklet, Press
from .binding import assembled, facts_of
from .booklet import Side, creep, saddle_stitched, side_by_side
from .metadata import describe
from .output import Flip, Kind, Output
from .streams import stream_of, written

_VERSION = "1.7"
_POINTS = 72 / 25.4


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet on its long side, and how a page of `width` by `height` is scaled to half of it; in points."""

    width: float
    height: float
    page_width: float
    page_height: float

    @property
    def scale(self) -> float:
        """No page is made larger."""
        return min(1.0, self.width / 2 / self.page_width, self.height / self.page_height)

    def left(self, on_right: bool, folded: bool, shift: float) -> float:
        """Where a page's left edge goes: against the fold, `shift` over it, or in the middle of its half."""
        middle, wide = self.width / 2, self.page_width * self.scale
        if folded:
            return middle - shift if on_right else middle - wide + shift
        return (middle - wide) / 2 + (middle if on_right else 0)

    @property
    def bottom(self) -> float:
        """Where a page's foot goes, half of what is free under it."""
        return (self.height - self.page_height * self.scale) / 2


def impose(pages: Pages, blocks: Mapping[Engraving, Block], booklet: Booklet, output: Output) -> bytes:
    """The book's pages two on each side of a sheet, as a booklet or in the order in which they are read.

    Nothing stands outside of the trimmed pages. Outline and links are left out: they would lead to halves.
    """
    writer, leaves = assembled(pages, blocks, Press())
    forms = [_form(writer, page, pages) for page in leaves]
    folded = output.kind is Kind.BOOKLET
    sides = saddle_stitched(len(forms)) if folded else side_by_side(len(forms))
    width, height = sorted(PAPERS[output.sheet or booklet.sheet], reverse=True)
    sheet = Sheet(width * _POINTS, height * _POINTS, pages.width, pages.height)
    thickness = booklet.thickness * _POINTS if folded else 0.0
    _replace_pages(
        writer,
        [
            (_drawn(side, sheet, folded, creep(side.sheet, thickness), output.flip), _named(side, forms))
            for side in sides
        ],
        sheet,
    )
    describe(writer, facts_of(pages, blocks))
    return written(writer, _VERSION)


def _form(writer: PdfWriter, page: DictionaryObject, pages: Pages) -> IndirectObject:
    """A page as a form, cut to its trim."""
    content = page["/Contents"].get_object()
    assert isinstance(content, StreamObject)  # each page was drawn as one
    form = StreamObject()
    form._data = content._data
    form.update({name: value for name, value in content.items() if name in ("/Filter", "/DecodeParms")})
    form.update(
        {
            NameObject("/Type"): NameObject("/XObject"),
            NameObject("/Subtype"): NameObject("/Form"),
            NameObject("/BBox"): _box(pages.width, pages.height),
            NameObject("/Resources"): page["/Resources"],
        }
    )
    return writer._add_object(form)


def _named(side: Side, forms: Sequence[IndirectObject]) -> dict[str, IndirectObject]:
    return {_name(page): forms[page - 1] for page in (side.left, side.right) if page is not None}


def _name(page: int) -> str:
    return f"/Page{page}"


def _drawn(side: Side, sheet: Sheet, folded: bool, shift: float, flip: Flip) -> str:
    """What draws one side; a page that is moved over the fold is cut there."""
    turned = side.is_back and flip is Flip.LONG
    drawn = f"-1 0 0 -1 {sheet.width:.3f} {sheet.height:.3f} cm\n" if turned else ""
    for page, on_right in ((side.left, False), (side.right, True)):
        if page is not None:
            half = sheet.width / 2
            x, scale = sheet.left(on_right, folded, shift), sheet.scale
            drawn += f"q {half if on_right else 0:.3f} 0 {half:.3f} {sheet.height:.3f} re W n\n"
            drawn += f"{scale:.6f} 0 0 {scale:.6f} {x:.3f} {sheet.bottom:.3f} cm {_name(page)} Do Q\n"
    return drawn


def _replace_pages(
    writer: PdfWriter, drawn: Sequence[tuple[str, Mapping[str, IndirectObject]]], sheet: Sheet
) -> None:
    """Make these the writer's pages."""
    tree = writer.root_object["/Pages"].get_object()
    assert isinstance(tree, DictionaryObject) and tree.indirect_reference is not None  # as every PDF has it
    made = ArrayObject(_page(writer, tree.indirect_reference, sheet, *one) for one in drawn)
    tree[NameObject("/Kids")] = made
    tree[NameObject("/Count")] = NumberObject(len(made))


def _page(
    writer: PdfWriter,
    tree: IndirectObject,
    sheet: Sheet,
    operators: str,
    forms: Mapping[str, IndirectObject],
) -> IndirectObject:
    named = DictionaryObject({NameObject(name): form for name, form in forms.items()})
    page = {
        NameObject("/Type"): NameObject("/Page"),
        NameObject("/Parent"): tree,
        NameObject("/MediaBox"): _box(sheet.width, sheet.height),
        NameObject("/TrimBox"): _box(sheet.width, sheet.height),
        NameObject("/Resources"): DictionaryObject({NameObject("/XObject"): named}),
        NameObject("/Contents"): writer._add_object(stream_of(operators.encode("ascii"))),
    }
    return writer._add_object(DictionaryObject(page))


def _box(width: float, height: float) -> ArrayObject:
    return ArrayObject(FloatObject(round(side, 3)) for side in (0, 0, width, height))
