"""XML from anywhere: what could grow, or reach outside, is refused."""

from __future__ import annotations

import io
import zipfile

import pytest

from typeset.taking.piece import MOST_BYTES, NotRead
from typeset.taking.tree import parse, unpacked


def refusal(content: bytes) -> tuple[str, int]:
    with pytest.raises(NotRead) as refused:
        parse(content)
    return str(refused.value), refused.value.line


def test_elements_know_their_lines() -> None:
    document = parse(b"<a>\n <b/>\n <c>\n  <d/></c></a>")
    assert [document.line(element) for element in document.root.iter()] == [1, 2, 3, 4]


def test_a_document_type_may_be_named_and_is_not_fetched() -> None:
    text = b'<!DOCTYPE a PUBLIC "-//x//y" "http://nowhere.invalid/a.dtd"><a/>'
    assert parse(text).root.tag == "a"


@pytest.mark.parametrize(
    "declared",
    [
        b'<!ENTITY x "y">',
        b'<!ENTITY x SYSTEM "file:///etc/passwd">',
        b'<!ENTITY % x SYSTEM "http://nowhere.invalid/x.dtd"> %x;',
        b'<!ENTITY a "&b;&b;"><!ENTITY b "xxxx">',
    ],
)
def test_entities_are_refused_where_they_are_declared(declared: bytes) -> None:
    what, line = refusal(b"<!DOCTYPE a [\n" + declared + b"\n]><a/>")
    assert "declares XML entities" in what
    assert line == 2


def test_a_fault_is_told_with_its_line() -> None:
    assert refusal(b"<a>\n<b></a>") == ("this is no sound XML: mismatched tag", 2)
    assert "no element found" in refusal(b"")[0]
    assert "unknown encoding" in refusal(b'<?xml version="1.0" encoding="klingon"?><a/>')[0]


def test_what_is_deeper_than_any_score_is_refused() -> None:
    assert "deeper or larger" in refusal(b"<a>" * 1000)[0]


def test_what_is_larger_than_any_score_is_refused() -> None:
    assert "is not read" in refusal(b"<a>" + b" " * MOST_BYTES + b"</a>")[0]


def packed(**files: bytes) -> bytes:
    content = io.BytesIO()
    with zipfile.ZipFile(content, "w", zipfile.ZIP_DEFLATED) as made:
        for name, inside in files.items():
            made.writestr(name.replace("__", "/").replace("_", "."), inside)
    return content.getvalue()


CONTAINER = b'<container><rootfiles><rootfile full-path="score.musicxml"/></rootfiles></container>'


def test_a_packed_score_is_found_by_its_container() -> None:
    made = packed(**{"META-INF__container_xml": CONTAINER, "score_musicxml": b"<a/>"})
    assert unpacked(made) == b"<a/>"


@pytest.mark.parametrize(
    ("files", "what"),
    [
        ({"score_musicxml": b"<a/>"}, "lacks the score"),
        ({"META-INF__container_xml": CONTAINER}, "lacks the score"),
        ({"META-INF__container_xml": b"<container/>"}, "does not say where"),
        ({"META-INF__container_xml": CONTAINER.replace(b"score.", b"../../etc/")}, "lacks the score"),
        (
            {"META-INF__container_xml": CONTAINER, "score_musicxml": b" " * (MOST_BYTES + 1)},
            "unpacked, this is more",
        ),
    ],
)
def test_a_packed_file_that_is_no_score_is_refused(files: dict[str, bytes], what: str) -> None:
    with pytest.raises(NotRead, match=what):
        unpacked(packed(**files))


def test_a_damaged_packed_file_is_refused() -> None:
    made = bytearray(packed(**{"META-INF__container_xml": CONTAINER, "score_musicxml": b"<a>hello</a>" * 50}))
    made[60:70] = b"0123456789"
    for content in (bytes(made), bytes(made[:80]), b"PK\x03\x04"):
        with pytest.raises(NotRead):
            unpacked(content)
