"""The structure tree: what one hears who has the book read aloud (ISO 32000-1, 14.7 and 14.8).

Text is read as it stands. Of music, letters and counts say too little, so an alternative text takes the place of
all that belongs to a system.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from pypdf import PageObject, PdfWriter
from pypdf.generic import (
    ArrayObject,
    BooleanObject,
    DictionaryObject,
    IndirectObject,
    NameObject,
    NullObject,
    NumberObject,
    PdfObject,
    TextStringObject,
)

from ..compose.book import Engraving
from ..page.marks import Begins, Role
from ..page.pages import Placement

Say = Callable[[Engraving, str | None], str]
"""What is said of an engraving that is not seen, without what a task has withheld."""

FIGURE, _DOCUMENT, _LINK = "Figure", "Document", "Link"


@dataclass(frozen=True, slots=True)
class Said:
    """What a page says: its sections, the blocks on it, and its links, each link with its section."""

    sections: Sequence[Begins]
    blocks: Sequence[Placement]
    links: Sequence[tuple[IndirectObject, int]]


class StructureTree:
    """The structure of a book, built page by page in the order in which it is read."""

    def __init__(self, writer: PdfWriter, say: Say) -> None:
        self._writer = writer
        self._say = say
        self._parents = ArrayObject()
        root = DictionaryObject({NameObject("/Type"): NameObject("/StructTreeRoot")})
        reference = writer._add_object(root)
        self._document, self._parts = self._element(_DOCUMENT, reference)
        root[NameObject("/K")] = self._document
        numbers = DictionaryObject({NameObject("/Nums"): self._parents})
        root[NameObject("/ParentTree")] = writer._add_object(numbers)
        writer.root_object[NameObject("/StructTreeRoot")] = reference
        writer.root_object[NameObject("/MarkInfo")] = DictionaryObject({NameObject("/Marked"): BooleanObject(True)})

    def add(self, page: PageObject, said: Said) -> None:
        """Add what a page says. Its blocks are marked content too, numbered on from its sections."""
        assert page.indirect_reference is not None  # pages of a writer are its objects
        parents: list[PdfObject] = [NullObject()] * (len(said.sections) + len(said.blocks))
        for number, section in enumerate(said.sections):
            if section.role is not Role.FURNITURE:
                self._add_section(number, section, page.indirect_reference, said, parents)
        page[NameObject("/StructParents")] = self._belongs(ArrayObject(parents))
        page[NameObject("/Tabs")] = NameObject("/S")

    def _add_section(
        self, number: int, section: Begins, page: IndirectObject, said: Said, parents: list[PdfObject]
    ) -> None:
        """Add a section. Music is one with its block; other blocks are figures before the words beside them."""
        element, kids = self._element(section.role.value, self._document, page)
        self._parts.append(element)
        parents[number] = element
        if section.says:
            self._dictionary(element)[NameObject("/Alt")] = TextStringObject(section.says)
        for place, block in enumerate(said.blocks, start=len(said.sections)):
            if block.section != number:
                continue
            figure, own = element, kids
            if section.role is not Role.FIGURE:
                figure, own = self._element(FIGURE, element, page)
                kids.append(figure)
            own.append(NumberObject(place))
            alternative = TextStringObject(self._say(block.engraving, section.withheld))
            self._dictionary(figure)[NameObject("/Alt")] = alternative
            parents[place] = figure
        kids.append(NumberObject(number))
        for link, of in said.links:
            if of == number:
                kids.append(self._link(link, element, page))

    def _link(self, annotation: IndirectObject, parent: IndirectObject, page: IndirectObject) -> IndirectObject:
        element, kids = self._element(_LINK, parent, page)
        kids.append(DictionaryObject({NameObject("/Type"): NameObject("/OBJR"), NameObject("/Obj"): annotation}))
        self._dictionary(annotation)[NameObject("/StructParent")] = self._belongs(element)
        return element

    def _element(
        self, tag: str, parent: IndirectObject, page: IndirectObject | None = None
    ) -> tuple[IndirectObject, ArrayObject]:
        """A new element without kids, and the list they go to."""
        kids = ArrayObject()
        element = {NameObject("/S"): NameObject(f"/{tag}"), NameObject("/P"): parent, NameObject("/K"): kids}
        if page is not None:
            element[NameObject("/Pg")] = page
        return self._writer._add_object(DictionaryObject(element)), kids

    def _dictionary(self, reference: IndirectObject) -> DictionaryObject:
        found = self._writer._objects[reference.idnum - 1]
        assert isinstance(found, DictionaryObject)  # only elements and annotations are asked for
        return found

    def _belongs(self, parents: PdfObject) -> NumberObject:
        """A new key of the parent tree, under which the elements are found that something belongs to."""
        key = NumberObject(len(self._parents) // 2)
        self._parents += [key, parents]
        return key
