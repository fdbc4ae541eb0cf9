"""The structure tree: what one hears who has the book read aloud (ISO 32000-1, 14.7 and 14.8).

Text is read as it stands. Of music, letters and counts say too little, so an alternative text takes the place of
all that belongs to a system.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from pypdf import PdfWriter
from pypdf.generic import BooleanObject, DictionaryObject, IndirectObject, NameObject, NumberObject

from ..compose.engraving import Engraving
from ..page.marks import Begins, Role
from ..page.pages import Placement
from .ready import array, put, reference, reserved, text

Say = Callable[[Engraving, str | None], str]
"""What is said of an engraving that is not seen, without what a task has withheld."""

FIGURE, _DOCUMENT, _LINK = "Figure", "Document", "Link"


@dataclass(frozen=True, slots=True)
class Said:
    """What a page says: its sections, the blocks on it, and its links: each one's annotation and section."""

    sections: Sequence[Begins]
    blocks: Sequence[Placement]
    links: Sequence[tuple[int, int]]


@dataclass(slots=True)
class _Element:
    """An element while what comes under it is gathered; its parent and its page are told by their numbers."""

    number: int
    tag: str
    parent: int
    page: int | None = None
    kids: list[bytes] = field(default_factory=list)
    says: str | None = None

    def written(self) -> bytes:
        page = b"" if self.page is None else b" /Pg %d 0 R" % self.page
        says = b"" if self.says is None else b" /Alt " + text(self.says)
        return b"<</S /%s /P %d 0 R /K %s%s%s>>" % (self.tag.encode(), self.parent, array(self.kids), page, says)


class StructureTree:
    """The structure of a book, built page by page in the order in which it is read, and closed in the end."""

    def __init__(self, writer: PdfWriter, say: Say) -> None:
        self._writer = writer
        self._say = say
        self._root, self._numbers, document = reserved(writer, 3)
        self._document = _Element(document, _DOCUMENT, self._root)
        self._parents: list[bytes] = []

    def add(self, page: DictionaryObject, said: Said) -> dict[int, int]:
        """Add what a page says. Its blocks are marked content too, numbered on from its sections.

        Gives the key in the parent tree of each link that is read, by its annotation.
        """
        assert page.indirect_reference is not None  # pages of a writer are its objects
        parents = [b"null"] * (len(said.sections) + len(said.blocks))
        keys: dict[int, int] = {}
        for number, section in enumerate(said.sections):
            if section.role is not Role.FURNITURE:
                element = self._begun(section.role.value, self._document, page.indirect_reference.idnum)
                element.says = section.says
                parents[number] = reference(element.number)
                self._add_blocks(element, number, section, said, parents)
                element.kids.append(b"%d" % number)
                keys |= {link: self._linked(link, element) for link, of in said.links if of == number}
                self._put(element)
        page[NameObject("/StructParents")] = NumberObject(self._belongs(array(parents)))
        page[NameObject("/Tabs")] = NameObject("/S")
        return keys

    def close(self) -> None:
        """Put down what all elements belong to."""
        self._put(self._document)
        parents = (b"%d %s" % each for each in enumerate(self._parents))
        put(self._writer, self._numbers, b"<</Nums %s>>" % array(parents))
        tree = (reference(self._document.number), reference(self._numbers))
        put(self._writer, self._root, b"<</Type /StructTreeRoot /K %s /ParentTree %s>>" % tree)
        catalog = self._writer.root_object
        catalog[NameObject("/StructTreeRoot")] = IndirectObject(self._root, 0, self._writer)
        catalog[NameObject("/MarkInfo")] = DictionaryObject({NameObject("/Marked"): BooleanObject(True)})

    def _add_blocks(
        self, element: _Element, number: int, section: Begins, said: Said, parents: list[bytes]
    ) -> None:
        """Music is one with the section of its letters; other blocks are figures before the words beside them."""
        for mark, block in enumerate(said.blocks, start=len(said.sections)):
            if block.section == number:
                is_music = section.role is Role.FIGURE
                figure = element if is_music else self._begun(FIGURE, element, element.page)
                figure.kids.append(b"%d" % mark)
                figure.says = self._say(block.engraving, section.withheld)
                parents[mark] = reference(figure.number)
                if not is_music:
                    self._put(figure)

    def _linked(self, annotation: int, parent: _Element) -> int:
        """Add a link under what it stands in; gives its key."""
        element = self._begun(_LINK, parent, parent.page)
        element.kids.append(b"<</Type /OBJR /Obj %d 0 R>>" % annotation)
        self._put(element)
        return self._belongs(reference(element.number))

    def _begun(self, tag: str, parent: _Element, page: int | None) -> _Element:
        """A new element, the last so far under its parent."""
        (number,) = reserved(self._writer)
        parent.kids.append(reference(number))
        return _Element(number, tag, parent.number, page)

    def _put(self, element: _Element) -> None:
        put(self._writer, element.number, element.written())

    def _belongs(self, parents: bytes) -> int:
        """A new key of the parent tree, under which the elements are found that something belongs to."""
        self._parents.append(parents)
        return len(self._parents) - 1
