"""What a PDF says about itself: title, author, language, date and identifier, once more as XMP."""

from __future__ import annotations

import re
from dataclasses import dataclass
from html import escape

from pypdf import PdfWriter
from pypdf.generic import (
    ArrayObject,
    BooleanObject,
    ByteStringObject,
    DecodedStreamObject,
    DictionaryObject,
    NameObject,
    TextStringObject,
)

from .. import __version__

PRODUCER = "shedbook"
_DATE = re.compile(r"^(\d{4})(?:-(\d{2})(?:-(\d{2}))?)?$")

# What XML 1.0 has no way to write, section 2.2.
_UNWRITABLE = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


@dataclass(frozen=True, slots=True)
class Facts:
    """What a reader's program is told. `identifier` is 16 bytes; `date` is as the author wrote it."""

    title: str
    author: str | None
    language: str
    date: str | None
    identifier: bytes

    @property
    def day(self) -> tuple[str, ...]:
        """The date's year, month and day, or as much of it as there is; nothing where it is no date."""
        found = _DATE.match(self.date or "")
        return tuple(part for part in found.groups() if part) if found else ()


def describe(writer: PdfWriter, facts: Facts, conformance: str | None = None) -> None:
    """Say all of it in the catalog, the information dictionary, the trailer and an XMP packet.

    `conformance` is the part of ISO 15930 that the file keeps to, as `PDF/X-4`.
    """
    told = {"/Title": facts.title, "/Creator": f"{PRODUCER} {__version__}", "/Producer": PRODUCER}
    if facts.author:
        told["/Author"] = facts.author
    if facts.day:
        told["/CreationDate"] = told["/ModDate"] = f"D:{''.join(facts.day)}"
    writer.metadata = told
    if conformance:
        assert writer._info is not None  # it was set above
        writer._info[NameObject("/Trapped")] = NameObject("/False")
    root = writer.root_object
    root[NameObject("/Lang")] = TextStringObject(facts.language)
    root[NameObject("/ViewerPreferences")] = DictionaryObject({NameObject("/DisplayDocTitle"): BooleanObject(True)})
    packet = DecodedStreamObject()
    packet.set_data(xmp(facts, conformance))
    packet[NameObject("/Type")] = NameObject("/Metadata")
    packet[NameObject("/Subtype")] = NameObject("/XML")
    root[NameObject("/Metadata")] = writer._add_object(packet)
    name = ByteStringObject(facts.identifier)
    writer._ID = ArrayObject((name, name))


def xmp(facts: Facts, conformance: str | None = None) -> bytes:
    """The XMP packet (ISO 16684-1) that says the same; it stands in the file as it is, for any tool to find."""
    identifier = f"uuid:{facts.identifier.hex()}"
    lines = [
        f'<dc:title><rdf:Alt><rdf:li xml:lang="x-default">{_text(facts.title)}</rdf:li></rdf:Alt></dc:title>',
        f"<dc:language><rdf:Bag><rdf:li>{_text(facts.language)}</rdf:li></rdf:Bag></dc:language>",
        "<dc:format>application/pdf</dc:format>",
        f"<xmp:CreatorTool>{PRODUCER} {__version__}</xmp:CreatorTool>",
        f"<pdf:Producer>{PRODUCER}</pdf:Producer>",
        f"<xmpMM:DocumentID>{identifier}</xmpMM:DocumentID>",
        f"<xmpMM:InstanceID>{identifier}</xmpMM:InstanceID>",
    ]
    if facts.author:
        lines.append(f"<dc:creator><rdf:Seq><rdf:li>{_text(facts.author)}</rdf:li></rdf:Seq></dc:creator>")
    if facts.day:
        day = "-".join(facts.day)
        lines += [f"<xmp:{name}>{day}</xmp:{name}>" for name in ("CreateDate", "ModifyDate", "MetadataDate")]
    if conformance:
        lines += [
            "<xmpMM:RenditionClass>default</xmpMM:RenditionClass>",
            "<xmpMM:VersionID>1</xmpMM:VersionID>",
            "<pdf:Trapped>False</pdf:Trapped>",
            f"<pdfxid:GTS_PDFXVersion>{conformance}</pdfxid:GTS_PDFXVersion>",
        ]
    return _PACKET.format("\n".join(lines)).encode()


def _text(words: str) -> str:
    return escape(_UNWRITABLE.sub("", words), quote=False)


_PACKET = """\
<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>
<x:xmpmeta xmlns:x="adobe:ns:meta/">
<rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
<rdf:Description rdf:about=""
 xmlns:dc="http://purl.org/dc/elements/1.1/"
 xmlns:xmp="http://ns.adobe.com/xap/1.0/"
 xmlns:xmpMM="http://ns.adobe.com/xap/1.0/mm/"
 xmlns:pdf="http://ns.adobe.com/pdf/1.3/"
 xmlns:pdfxid="http://www.npes.org/pdfx/ns/id/">
{}
</rdf:Description>
</rdf:RDF>
</x:xmpmeta>
<?xpacket end="r"?>"""
