"""A page of a PDF as a picture."""

from __future__ import annotations

import io

POINTS_IN_INCH = 72


def first_page(pdf: bytes, dots: int = 200) -> bytes:
    """The first page as a PNG, at so many dots an inch."""
    import pypdfium2

    document = pypdfium2.PdfDocument(pdf)
    picture = document[0].render(scale=dots / POINTS_IN_INCH).to_pil()
    written = io.BytesIO()
    picture.save(written, format="PNG", optimize=True)
    return written.getvalue()
