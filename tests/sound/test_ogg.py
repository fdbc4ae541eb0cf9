import io

import numpy
import pytest
import soundfile

from typeset.sound.ogg import checksum, with_serial


def encoded() -> bytes:
    content = io.BytesIO()
    soundfile.write(content, numpy.zeros((48_000, 2)), 48_000, format="OGG", subtype="OPUS")
    return content.getvalue()


def test_two_encodings_of_the_same_sound_become_the_same_file() -> None:
    assert with_serial(encoded()) == with_serial(encoded())


def test_a_page_has_the_checksum_that_the_encoder_gave_it() -> None:
    content = encoded()
    page = content[: content.index(b"OggS", 4)]
    assert int.from_bytes(page[22:26], "little") == checksum(page[:22] + bytes(4) + page[26:])


def test_a_file_with_another_serial_is_still_read() -> None:
    samples, rate = soundfile.read(io.BytesIO(with_serial(encoded(), 77)))
    assert rate == 48_000 and len(samples) == 48_000


def test_what_is_no_ogg_file_is_refused() -> None:
    with pytest.raises(ValueError, match="row of pages"):
        with_serial(b"RIFF")
