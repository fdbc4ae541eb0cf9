"""A page of a PDF as a picture."""

from __future__ import annotations

import io

POINTS_IN_INCH = 72


def picture_of(pdf: bytes, page: int = 0, dots: int = 200) -> bytes:
    """A page, from 0, as a PNG, at so many dots an inch."""
    import pypdfium2

    document = pypdfium2.PdfDocument(pdf)
    picture = document[page].render(scale=dots / POINTS_IN_INCH).to_pil()
    written = io.BytesIO()
    picture.save(written, format="PNG", optimize=True)
    return written.getvalue()


def quick_picture_of(pdf: bytes, dots: int) -> bytes:
    """The first page as a PNG in greys, made for a screen and in a hurry: hardly compressed."""
    import pypdfium2

    document = pypdfium2.PdfDocument(pdf)
    try:
        picture = document[0].render(scale=dots / POINTS_IN_INCH, grayscale=True).to_pil()
    finally:
        document.close()
    written = io.BytesIO()
    picture.save(written, format="PNG", compress_level=1)
    return written.getvalue()
