"""The address at which an author puts recordings, with a place for an exercise's number."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

from .plain import Wrong, read_line

PLACE = "{number}"

_LONGEST = 120
"""Characters of an address with its number, which a code of 18 mm still holds (ISO/IEC 18004, version 7-M)."""

_LONGEST_NUMBER = "99.9999"
_PLACES = re.compile(r"\{[^{}]*\}|[{}]")
_STRANGE = re.compile(r"[^A-Za-z0-9\-._~:/?#\[\]@!$&'()*+,;=%]|%(?![0-9A-Fa-f]{2})")
"""What no address has (RFC 3986, section 2)."""


@dataclass(frozen=True, slots=True)
class Recordings:
    """Where a book's recordings are: `address` has a place for an exercise's number."""

    address: str

    def of(self, number: str) -> str:
        """The address of one exercise's recording; nothing in its number can lead elsewhere."""
        from urllib.parse import quote

        return self.address.replace(PLACE, quote(number, safe=""))


def read_recordings(value: Any) -> Recordings:
    """An address that begins with http:// or https:// and says where an exercise's number goes.

    Raises Wrong.
    """
    text = read_line(value)
    for found in _PLACES.findall(text):
        if found != PLACE:
            raise Wrong(f"'{found}' stands for nothing in this address; there is {PLACE} alone")
    if PLACE not in text:
        raise Wrong(f"say where an exercise's number goes, as in https://recordings.example/{PLACE}.opus")
    strange = _STRANGE.search(text.replace(PLACE, ""))
    if strange:
        raise Wrong(f"'{strange[0]}' cannot stand in an address; copy it from a browser, which writes it as %...")
    _lead_to_a_page(text)
    length = len(text.replace(PLACE, _LONGEST_NUMBER))
    if length > _LONGEST:
        raise Wrong(
            f"with a number this address has {length} characters, and its code would be too fine to read; "
            f"find one of at most {_LONGEST}"
        )
    return Recordings(text)


def _lead_to_a_page(text: str) -> None:
    """Raise Wrong where an address is none of the web, or the number is not after the name of the site."""
    from urllib.parse import urlsplit

    try:
        parts = urlsplit(text)
        site, _ = parts.hostname, parts.port
    except ValueError as error:
        raise Wrong(f"this is no address: {error}") from None
    if parts.scheme.lower() not in ("http", "https"):
        raise Wrong("an address begins with https:// or http://")
    if not site or "@" in parts.netloc:
        raise Wrong("after https:// comes the name of a site, as in https://recordings.example/")
    if PLACE in parts.netloc:
        raise Wrong(f"{PLACE} stands after the name of the site, as in https://recordings.example/{PLACE}.opus")
