"""ICC profiles: ours, and which others can be used. That ours is sound: tests/published/test_press.py."""

from __future__ import annotations

import struct

import pytest
from PIL import ImageCms

from typeset.pdf.profile import NAME, components_of, description_of, grey_profile


def made(kind: bytes, space: bytes, tag: bytes = b"") -> bytes:
    """As much of a profile as is looked at."""
    head = bytes(12) + kind + space + bytes(16) + b"acsp" + bytes(88)
    return head + struct.pack(">I4sII", 1, b"desc", 144, len(tag)) + tag


def test_ours_has_one_ink_and_a_name() -> None:
    assert components_of(grey_profile()) == 1
    assert description_of(grey_profile()) == NAME


def test_ours_is_as_long_as_it_says() -> None:
    assert struct.unpack(">I", grey_profile()[:4]) == (len(grey_profile()),)


def test_one_of_a_press_in_four_inks_can_be_used() -> None:
    assert components_of(made(b"prtr", b"CMYK")) == 4


@pytest.mark.parametrize(
    ("profile", "why"),
    [
        (b"no profile", "no ICC profile"),
        (made(b"prtr", b"RGB "), "is for RGB"),
        (made(b"mntr", b"GRAY"), "none of a printing condition"),
        (ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes(), "none of a printing condition"),
    ],
)
def test_any_other_is_refused_and_told_why(profile: bytes, why: str) -> None:
    with pytest.raises(ValueError, match=why):
        components_of(profile)


def test_names_are_read_in_the_older_and_in_the_newer_way() -> None:
    older = b"desc" + bytes(4) + struct.pack(">I", 7) + b"Matt 3\0"
    words = "Matt 4".encode("utf-16-be")
    newer = b"mluc" + bytes(4) + struct.pack(">II2s2sII", 1, 12, b"en", b"GB", len(words), 28) + words
    assert description_of(made(b"prtr", b"GRAY", older)) == "Matt 3"
    assert description_of(made(b"prtr", b"GRAY", newer)) == "Matt 4"


def test_a_profile_without_a_name_is_custom() -> None:
    assert description_of(made(b"prtr", b"GRAY", b"what")) == "custom"
    assert description_of(made(b"prtr", b"GRAY")[:128] + bytes(4)) == "custom"
