"""Makes the pictures of docs/: one page in every shipped style, and what the lessons build. `make gallery`."""

from __future__ import annotations

import io
import re
import shutil
import tempfile
from pathlib import Path

import pypdfium2
from lessons import Lesson, lessons
from PIL import Image, ImageOps

from typeset import pipeline
from typeset.built import Run
from typeset.pdf.picture import picture_of
from typeset.style import style_names

DOCS = Path(__file__).parent
DEMO = DOCS.parent / "books" / "quiet-doors"
SHOWN = ("Chapter 2", "2.3")
"""What stands on the page that is shown."""

LESSON_DOTS = 90
"""Dots an inch in the pictures of lessons."""

AIR = 14
"""Dots of white that are left round a picture."""


def main() -> None:
    """Write docs/page.png, docs/gallery/STYLE.png and docs/gallery.md."""
    gallery = DOCS / "gallery"
    gallery.mkdir(exist_ok=True)
    rows = ["# One page in every style", ""]
    for style in style_names():
        pdf = _demo_in(style)
        page = _shown_page(pdf)
        (gallery / f"{style}.png").write_bytes(picture_of(pdf, page, dots=60))
        rows += [f"## {style}", "", f"![{style}](gallery/{style}.png)", ""]
        if style == "a4-workbook":
            (DOCS / "page.png").write_bytes(picture_of(pdf, page, dots=100))
    (DOCS / "gallery.md").write_text("\n".join(rows), encoding="utf-8")
    for lesson in lessons():
        if lesson.picture:
            (DOCS / "pictures" / f"{lesson.name}.png").write_bytes(_cropped(_first_music(lesson)))


def _demo_in(style: str) -> bytes:
    """The demo book's PDF in a style."""
    with tempfile.TemporaryDirectory() as name:
        book = shutil.copytree(DEMO, Path(name) / DEMO.name)
        about = book / "book.yaml"
        text = about.read_text(encoding="utf-8")
        about.write_text(re.sub(r"^style:.*$", f"style: {style}", text, flags=re.MULTILINE), encoding="utf-8")
        return pipeline.make(book, None, Run())[0].pdf


def _first_music(lesson: Lesson) -> bytes:
    """A picture of the page on which a lesson's first exercise stands, in the edition that it is about."""
    with tempfile.TemporaryDirectory() as name:
        book = lesson.written_to(Path(name))
        built = pipeline.make(book, lesson.edition, Run())[-1].pdf
    texts = [page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(built)]
    first = next(number for number, text in enumerate(texts) if re.search(r"^Chapter 1\b", text, re.MULTILINE))
    return picture_of(built, first, dots=LESSON_DOTS)


def _cropped(picture: bytes) -> bytes:
    """The picture without the white round what is printed, and without the page's number."""
    page = Image.open(io.BytesIO(picture)).convert("L")
    page = page.crop((0, 0, page.width, page.height * 13 // 14))
    left, top, right, bottom = ImageOps.invert(page).getbbox() or (0, 0, *page.size)
    cut = page.crop((max(left - AIR, 0), max(top - AIR, 0), right + AIR, bottom + AIR))
    kept = io.BytesIO()
    cut.save(kept, "PNG", optimize=True)
    return kept.getvalue()


def _shown_page(pdf: bytes) -> int:
    """The page, from 0, on which all that is shown stands; else that on which the first of it does."""
    document = pypdfium2.PdfDocument(pdf)
    texts = [page.get_textpage().get_text_bounded() for page in document]
    for wanted in (SHOWN, SHOWN[:1]):
        for number, text in enumerate(texts):
            if all(re.search(rf"^{re.escape(words)}\b", text, re.MULTILINE) for words in wanted):
                return number
    return 0


if __name__ == "__main__":
    main()
