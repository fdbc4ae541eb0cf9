"""How a reader finds the way: links, the outline, the labels of pages."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from urllib.parse import quote

from pypdf import PdfWriter
from pypdf.generic import ArrayObject, DictionaryObject, IndirectObject, NameObject, NumberObject, TextStringObject

from ..page.pages import Crossing, Heading, Place
from .ready import Ready, array, put, real, reference, reserved, string, text

_PRINTABLE = "".join(map(chr, range(0x21, 0x7F)))


def add_links(
    writer: PdfWriter, pages: Sequence[DictionaryObject], links: Mapping[int, Crossing], keys: Mapping[int, int]
) -> None:
    """Boxes to click on, which lead to a place in the book or to an address on the web.

    `links` are told by the numbers reserved for their annotations, and so are their `keys` in the parent tree of
    the structure, which those lack that are not read.
    """
    leaves = _numbers(pages)
    on_page: dict[int, list[bytes]] = defaultdict(list)
    for number, link in links.items():
        put(writer, number, _annotation(link, keys.get(number), leaves))
        on_page[link.page].append(reference(number))
    for page, boxes in on_page.items():
        pages[page][NameObject("/Annots")] = Ready(array(boxes))


def _numbers(pages: Sequence[DictionaryObject]) -> list[int]:
    """The numbers of pages as objects."""
    references = (page.indirect_reference for page in pages)
    return [one.idnum for one in references if one is not None]  # pages of a writer are its objects


def _annotation(link: Crossing, key: int | None, leaves: Sequence[int]) -> bytes:
    box, leading = array(map(real, link.box)), _leading(link.to, leaves)
    belongs = b"" if key is None else b" /StructParent %d" % key
    # With the flag 4 it is printed, which is to say: nothing is hidden.
    parts = (box, leading, belongs)
    return b"<</Type /Annot /Subtype /Link /Rect %s /Border [0 0 0] /F 4 %s%s>>" % parts


def _leading(to: Place | str, leaves: Sequence[int]) -> bytes:
    if isinstance(to, Place):
        return b"/Dest " + _destination(leaves[to.page], to.y)
    return b"/A <</S /URI /URI %s>>" % string(quote(to, safe=_PRINTABLE).encode("ascii"))


def _destination(leaf: int, height: float) -> bytes:
    return b"[%d 0 R /XYZ 0 %s null]" % (leaf, real(height))


def add_outline(writer: PdfWriter, pages: Sequence[DictionaryObject], headings: Sequence[Heading]) -> None:
    """Chapters and the parts of front and back, with the exercises under their chapters (ISO 32000-1, 12.3.3)."""
    if not headings:
        return
    leaves = _numbers(pages)
    root, *numbers = reserved(writer, 1 + len(headings))
    above = _above(headings, numbers, root)
    below: dict[int, list[int]] = defaultdict(list)
    for number, parent in above.items():
        below[parent].append(number)
    beside = dict(_beside(below.values()))
    for number, heading in zip(numbers, headings, strict=True):
        leading = b"/Dest " + _destination(leaves[heading.page], heading.y)
        # What is below an item is not shown until one asks for it, hence its negative count.
        parts = (text(heading.words), above[number], beside[number], _ends(below.get(number, ()), -1), leading)
        put(writer, number, b"<</Title %s /Parent %d 0 R%s%s %s>>" % parts)
    put(writer, root, b"<</Type /Outlines%s>>" % _ends(below[root], 1))
    writer.root_object[NameObject("/Outlines")] = IndirectObject(root, 0, writer)


def _above(headings: Sequence[Heading], numbers: Sequence[int], root: int) -> dict[int, int]:
    """What each item of the outline is under: the last chapter before it, or the root."""
    above, last = {}, root
    for number, heading in zip(numbers, headings, strict=True):
        above[number] = last if heading.depth else root
        last = last if heading.depth else number
    return above


def _beside(rows: Iterable[Sequence[int]]) -> Iterator[tuple[int, bytes]]:
    """Each item with what refers to the one before it and the one after it in its row."""
    for row in rows:
        for before, number, after in zip([0, *row], row, [*row[1:], 0], strict=False):
            yield (
                number,
                (b" /Prev %d 0 R" % before if before else b"") + (b" /Next %d 0 R" % after if after else b""),
            )


def _ends(row: Sequence[int], sign: int) -> bytes:
    """What refers to the first and the last item of a row, and tells how many there are."""
    return b" /First %d 0 R /Last %d 0 R /Count %d" % (row[0], row[-1], sign * len(row)) if row else b""


def label_pages(writer: PdfWriter, labels: Sequence[str]) -> None:
    """Page labels: decimal numbers that run on are one range, everything else is a range of its own."""
    numbers = ArrayObject()
    for page, label in _ranges(labels):
        kind = DictionaryObject()
        if label.isdecimal():
            kind[NameObject("/S")] = NameObject("/D")
            kind[NameObject("/St")] = NumberObject(int(label))
        else:
            kind[NameObject("/P")] = TextStringObject(label)
        numbers += [NumberObject(page), kind]
    writer.root_object[NameObject("/PageLabels")] = DictionaryObject({NameObject("/Nums"): numbers})


def _ranges(labels: Sequence[str]) -> Iterator[tuple[int, str]]:
    """The pages at which labels stop running on by one, and the label there."""
    for page, label in enumerate(labels):
        before = labels[page - 1] if page else ""
        runs_on = label.isdecimal() and before.isdecimal() and int(label) == int(before) + 1
        if not runs_on:
            yield page, label
