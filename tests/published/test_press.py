"""A press file against the rules of PDF/X-4, read back by pikepdf; its profile by LittleCMS, through Pillow.

The rules are those of ISO 15930-7:2010, written from memory, each named where it is checked; where ISO 32000-1
defines the key, its section stands there too. What the standard says of pictures, layers, spot colours and
transparency does not arise: a book has none of them, which is checked.
"""

from __future__ import annotations

import io
import re
import xml.etree.ElementTree as ET

import pikepdf
import pytest
from PIL import Image, ImageCms

from tests.published.printed import box, built_in, fonts_of, instructions, opened, reached
from typeset.pdf.output import Kind, Output

STYLE = "based-on: a5-pocket\npress: {bleed: 3, crop-marks: yes, pages-multiple: 4}\n"

RDF = "{http://www.w3.org/1999/02/22-rdf-syntax-ns#}"
NAMES = {
    "dc": "{http://purl.org/dc/elements/1.1/}",
    "xmp": "{http://ns.adobe.com/xap/1.0/}",
    "xmpMM": "{http://ns.adobe.com/xap/1.0/mm/}",
    "pdf": "{http://ns.adobe.com/pdf/1.3/}",
    "pdfxid": "{http://www.npes.org/pdfx/ns/id/}",
}


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    return built_in(tmp_path_factory.mktemp("press"), "own", Output(Kind.PRESS), own_style=STYLE)


@pytest.fixture(scope="module")
def press(written: bytes) -> pikepdf.Pdf:
    return opened(written)


@pytest.fixture(scope="module")
def profile(press: pikepdf.Pdf) -> bytes:
    return bytes(press.Root.OutputIntents[0].DestOutputProfile.read_bytes())


def told(press: pikepdf.Pdf, prefix: str, name: str) -> str:
    """What the XMP packet says under a name, through whatever lists stand around it."""
    tree = ET.fromstring(press.Root.Metadata.read_bytes())
    (found,) = tree.iter(NAMES[prefix] + name)
    return "".join(found.itertext()).strip()


def test_the_file_is_pdf_1_6(written: bytes) -> None:
    """PDF/X-4 is made of what PDF 1.6 has; a later header would promise more."""
    assert written.startswith(b"%PDF-1.6\n")


def test_the_file_says_what_it_is(press: pikepdf.Pdf) -> None:
    """The version identifier stands in XMP, as GTS_PDFXVersion."""
    assert told(press, "pdfxid", "GTS_PDFXVersion") == "PDF/X-4"


def test_the_metadata_can_be_read_without_unpacking(press: pikepdf.Pdf, written: bytes) -> None:
    """ISO 32000-1, 14.3.2: a stream of type Metadata and subtype XML; here without a filter."""
    stream = press.Root.Metadata
    assert (stream.Type, stream.Subtype) == ("/Metadata", "/XML")
    assert "/Filter" not in stream
    assert b"PDF/X-4</pdfxid:GTS_PDFXVersion>" in written


def test_title_dates_and_trapping_are_told_and_told_alike_twice(press: pikepdf.Pdf) -> None:
    """Title, CreationDate, ModDate; Trapped is True or False, never unknown; both places agree."""
    info = press.docinfo
    assert str(info.Title) == told(press, "dc", "title") == "Two Doors"
    assert info.Trapped == "/False"
    assert told(press, "pdf", "Trapped") == "False"
    for entry, name in ((info.CreationDate, "CreateDate"), (info.ModDate, "ModifyDate")):
        assert re.sub(r"\D", "", str(entry)) == told(press, "xmp", name).replace("-", "") == "20260901"
    assert told(press, "xmp", "MetadataDate")


def test_the_document_is_identified(press: pikepdf.Pdf) -> None:
    """DocumentID, VersionID and RenditionClass in XMP, and the trailer's ID (ISO 32000-1, 14.4)."""
    assert told(press, "xmpMM", "DocumentID").startswith("uuid:")
    assert told(press, "xmpMM", "VersionID")
    assert told(press, "xmpMM", "RenditionClass") == "default"
    assert len(press.trailer.ID) == 2


def test_there_is_one_intent_with_its_profile_inside(press: pikepdf.Pdf) -> None:
    """ISO 32000-1, 14.11.5: one GTS_PDFX intent; a condition out of no registry is Custom and has Info."""
    (intent,) = press.Root.OutputIntents
    assert (intent.Type, intent.S) == ("/OutputIntent", "/GTS_PDFX")
    assert str(intent.OutputConditionIdentifier) == "Custom"
    assert str(intent.Info)
    assert intent.DestOutputProfile.N == 1


def test_the_profile_is_one_of_a_printing_condition_in_grey(profile: bytes) -> None:
    """Class prtr; DeviceGray may be used where the intent is grey or CMYK."""
    read = ImageCms.ImageCmsProfile(io.BytesIO(profile)).profile
    assert (read.device_class, read.xcolor_space.strip()) == ("prtr", "GRAY")
    assert float(read.version) < 4.3  # PDF 1.6 knows ICC profiles up to that version


def test_the_profile_makes_of_each_grey_a_lighter_one_from_ink_to_paper(profile: bytes) -> None:
    """LittleCMS agrees: solid black is L* 16 and the paper L* 95, as the profile means them."""
    ours = ImageCms.ImageCmsProfile(io.BytesIO(profile))
    absolute = ImageCms.Intent.ABSOLUTE_COLORIMETRIC
    lab = ImageCms.createProfile("LAB")
    seen = ImageCms.buildTransform(ours, lab, "L", "LAB", renderingIntent=absolute)
    ramp = Image.new("L", (256, 1))
    ramp.putdata(range(256))
    lightness = list(ImageCms.applyTransform(ramp, seen).tobytes()[::3])
    assert lightness == sorted(lightness)
    assert lightness[0] * 100 / 255 == pytest.approx(16, abs=0.5)
    assert lightness[255] * 100 / 255 == pytest.approx(95, abs=0.5)
    assert len(set(lightness)) > 150


def test_each_page_has_a_trim_box_and_no_art_box_and_its_boxes_lie_in_each_other(press: pikepdf.Pdf) -> None:
    for page in press.pages:
        assert "/ArtBox" not in page.obj
        trim, bleed, medium = box(page.obj.TrimBox), box(page.obj.BleedBox), box(page.obj.MediaBox)
        for inner, outer in ((trim, bleed), (bleed, medium)):
            assert outer[0] <= inner[0] and outer[1] <= inner[1] and inner[2] <= outer[2] and inner[3] <= outer[3]


def test_every_font_is_embedded(press: pikepdf.Pdf) -> None:
    fonts = fonts_of(press)
    assert len(fonts) >= 8
    assert all(font.FontDescriptor.keys() & {"/FontFile", "/FontFile2", "/FontFile3"} for font in fonts)


def test_black_is_one_ink_and_every_grey_is_a_device_grey(press: pikepdf.Pdf) -> None:
    """No RGB, no CMYK and so no rich black, no spot colour, no shading, no picture."""
    colours = {"rg", "RG", "k", "K", "cs", "CS", "sc", "SC", "scn", "SCN", "sh", "BI"}
    used = list(instructions(press))
    assert not colours & {operator for operator, _ in used}
    levels = [float(operands[0]) for operator, operands in used if operator in ("g", "G")]
    assert 0 in levels and all(0 <= level <= 1 for level in levels)


def test_nothing_is_transparent_and_no_state_bends_tones(press: pikepdf.Pdf) -> None:
    """No transfer functions, halftones, soft masks or groups: there is no graphics state dictionary at all."""
    for thing in reached(press):
        assert not thing.keys() & {"/ExtGState", "/Group", "/SMask", "/TR", "/TR2", "/HTP", "/OPI", "/Alternates"}


def test_there_is_nothing_to_click_on_and_nothing_that_acts(press: pikepdf.Pdf) -> None:
    """No annotations on the page, no actions, no scripts, no forms to fill in, no embedded files."""
    forbidden = {
        "/Annots",
        "/AA",
        "/A",
        "/OpenAction",
        "/JavaScript",
        "/JS",
        "/AcroForm",
        "/EmbeddedFiles",
        "/Names",
    }
    for thing in reached(press):
        assert not thing.keys() & forbidden


def test_there_are_no_postscript_objects_and_no_references_to_other_files(press: pikepdf.Pdf) -> None:
    for thing in reached(press):
        assert thing.get("/Subtype") not in ("/PS", "/Image")
        assert not thing.keys() & {"/F", "/Ref", "/PS"}


def test_streams_are_packed_by_flate_alone_and_nothing_is_encrypted(press: pikepdf.Pdf) -> None:
    """LZW is not allowed; neither is encryption."""
    assert not press.is_encrypted
    for thing in reached(press):
        if "/Filter" in thing:
            listed = thing.Filter if isinstance(thing.Filter, pikepdf.Array) else [thing.Filter]
            assert [str(one) for one in listed] == ["/FlateDecode"]  # type: ignore[attr-defined]


def test_there_are_no_layers_and_no_view_that_shows_other_boxes(press: pikepdf.Pdf) -> None:
    assert "/OCProperties" not in press.Root
    preferences = press.Root.ViewerPreferences
    assert not preferences.keys() & {"/ViewArea", "/ViewClip", "/PrintArea", "/PrintClip"}


def test_the_file_is_sound_and_the_same_every_time(
    press: pikepdf.Pdf, written: bytes, tmp_path_factory: pytest.TempPathFactory
) -> None:
    assert (getattr(press, "check_pdf_syntax", None) or press.check)() == []
    again = built_in(tmp_path_factory.mktemp("press"), "own", Output(Kind.PRESS), own_style=STYLE)
    assert again == written
