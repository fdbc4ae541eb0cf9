"""Every hostile text that is accepted is printed as itself, and handed on as itself in every form."""

from __future__ import annotations

import csv
import io
import json
import re
import unicodedata
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from xml.etree import ElementTree

import mido
import pikepdf
import pypdfium2
import pytest

from typeset import pipeline
from typeset.built import Built, Run, SheetOrder
from typeset.compose.book import Book, Exercise
from typeset.exchange.hand_on import hand_on
from typeset.handouts import file_names, make_sheet
from typeset.page import missing_characters
from typeset.problem import BookError, NotThere
from typeset.style import load_style
from typeset.text_file import unseen

from .sound import chapter_of, quoted
from .strings import LETTERS, MARKUP, STRINGS

CODE = re.compile(r"[*\[\]()]|^- |^$|\{(right|left)\}")
"""What a running text says in marks; a text that holds any of it is tried in titles, which have no marks."""


@cache
def printable() -> tuple[str, ...]:
    """The texts that a title can hold and this style's faces can print."""
    style = load_style("a4-workbook")
    fits = (text for text in STRINGS if text.strip() and len(" ".join(text.split())) <= 300 and not unseen(text))
    return tuple(text for text in fits if not missing_characters(" ".join(text.split()), style))


def packed(text: str) -> str:
    """A text without what laying out or reading back may change: white space, hyphens at line ends, ligatures."""
    return re.sub(r"[\s\x02\ufffe\u2010-]", "", unicodedata.normalize("NFKC", text))


def read_back(pdf: bytes) -> str:
    """Everything that is printed in a PDF, packed."""
    document = pypdfium2.PdfDocument(pdf)
    return packed("".join(page.get_textpage().get_text_bounded() for page in document))


def book_of(folder: Path, entries: list[dict[str, str]], **about: str) -> Path:
    """A book with one chapter, made of entries."""
    (folder / "c.yaml").write_text(chapter_of(entries))
    said = {"title": "T", **about}
    keys = "".join(f"{key}: {quoted(value)}\n" for key, value in said.items())
    (folder / "book.yaml").write_text(f"{keys}editions: {{teacher: {{answers: inline}}}}\nchapters: c.yaml\n")
    return folder


@pytest.fixture(scope="module")
def titled(tmp_path_factory: pytest.TempPathFactory) -> tuple[Built, Book]:
    """A book in which every text that can be printed is the title of an exercise."""
    entries = [{"id": f"e{number}", "title": text, "start": "R L"} for number, text in enumerate(printable())]
    folder = book_of(tmp_path_factory.mktemp("titled"), entries)
    checked = pipeline.check(folder)
    (built,) = pipeline.make(folder, None, Run())
    return built, checked.sound_book()


def test_at_least_two_hundred_texts_are_tried_and_most_are_printed() -> None:
    assert len(STRINGS) >= 200 and len(printable()) >= 200


def test_every_title_is_printed_as_itself(titled: tuple[Built, Book]) -> None:
    printed = read_back(titled[0].pdf)
    lost = [text for text in printable() if len(text) < 90 and packed(text) not in printed]
    assert lost == []


def test_every_title_stands_in_the_outline_as_itself(titled: tuple[Built, Book]) -> None:
    with pikepdf.open(io.BytesIO(titled[0].pdf)) as pdf, pdf.open_outline() as outline:
        lines = [packed(line.title) for chapter in outline.root for line in (chapter, *chapter.children)]
    assert [text for text in printable() if not any(packed(text) in line for line in lines)] == []


def test_a_title_is_no_operator_and_no_action(titled: tuple[Built, Book]) -> None:
    with pikepdf.open(io.BytesIO(titled[0].pdf)) as pdf:
        assert pdf.check_pdf_syntax() == []
        kinds = {str(thing.get("/S")) for thing in pdf.objects if isinstance(thing, pikepdf.Dictionary)}
        assert not kinds & {"/JavaScript", "/Launch", "/URI", "/GoToR", "/SubmitForm", "/ImportData"}
        assert "/OpenAction" not in pdf.Root and "/AA" not in pdf.Root and "/Names" not in pdf.Root


@pytest.mark.parametrize("form", ["json", "text", "midi", "musicxml"])
def test_every_title_is_handed_on_as_itself(titled: tuple[Built, Book], form: str) -> None:
    for exercise in titled[1].exercises[:: 4 if form == "midi" else 1]:
        assert packed(exercise.title) in packed(_title_in(hand_on(titled[1], exercise, form), form, exercise))


def _title_in(content: bytes, form: str, exercise: Exercise) -> str:
    match form:
        case "json":
            return str(json.loads(content)["title"])
        case "text":
            return content.decode().split("\n")[0]
        case "midi":
            tracks = mido.MidiFile(file=io.BytesIO(content), charset="utf-8").tracks
            return str(tracks[0].name)
    return " ".join(ElementTree.fromstring(content).itertext())


def test_a_whole_book_of_them_is_one_sound_score(titled: tuple[Built, Book]) -> None:
    words = packed(" ".join(ElementTree.fromstring(hand_on(titled[1], titled[1], "musicxml")).itertext()))
    assert [text for text in printable() if packed(text) not in words] == []


def test_svg_of_one_is_sound_xml(tmp_path: Path) -> None:
    text = '<script>alert(1)</script> & "x" ]]> \\include %s {0} #(quit)'
    folder = book_of(tmp_path, [{"id": "e", "title": text, "start": "R L"}])
    root = ElementTree.fromstring(pipeline.show(folder, "e", "svg"))
    assert not any("script" in element.tag.lower() for element in root.iter())


@pytest.mark.parametrize("key", ["say", "note", "text"])
def test_every_running_text_is_printed_as_itself(tmp_path: Path, key: str) -> None:
    # A running text keeps its white space, of which faces print the usual kinds alone.
    plain = (text for text in printable() if text.isprintable() and not CODE.search(text))
    texts = [text for text in plain if len(text) < 90]
    assert len(texts) > 100
    if key == "text":
        entries = [{"text": text} for text in texts]
    else:
        entries = [{"id": f"e{number}", "start": "R L", key: text} for number, text in enumerate(texts)]
    (built,) = pipeline.make(book_of(tmp_path, entries), "teacher", Run())
    printed = read_back(built.pdf)
    assert [text for text in texts if packed(text) not in printed] == []


def test_marks_of_running_text_are_no_more_than_its_few(tmp_path: Path) -> None:
    entries = [{"text": text} for text in (*MARKUP, "<b>x</b> &amp; <br/> \\textbf{x}") if text.strip()]
    (built,) = pipeline.make(book_of(tmp_path, entries), None, Run())
    assert packed("<b>x</b> &amp; <br/> \\textbf{x}") in read_back(built.pdf)
    with pikepdf.open(io.BytesIO(built.pdf)) as pdf:
        actions = [thing for thing in pdf.objects if isinstance(thing, pikepdf.Dictionary) and "/URI" in thing]
        addresses = {str(action.URI) for action in actions if str(action.get("/S")) == "/URI"}
    assert all(address.startswith(("https://", "http://", "mailto:")) for address in addresses), addresses


def groups(texts: tuple[str, ...], longest: int = 250) -> Iterator[str]:
    """Texts one after the other, in pieces that fit on a title page."""
    piece = ""
    for text in texts:
        if piece and len(piece) + len(text) + 1 > longest:
            yield piece
            piece = ""
        piece = f"{piece} {text}".strip()
    yield piece


def test_a_book_s_own_texts_are_printed_as_themselves(tmp_path: Path) -> None:
    pieces = [piece for piece in groups(tuple(text for text in printable() if len(text) < 60)) if len(piece) <= 300]
    for number, piece in enumerate(pieces):
        key = ("title", "subtitle", "author", "edition")[number % 4]
        (built,) = pipeline.make(book_of(tmp_path, [], **{key: piece}), None, Run())
        # An edition begins with a capital letter.
        assert packed(piece)[1:] in read_back(built.pdf)
        with pikepdf.open(io.BytesIO(built.pdf)) as pdf:
            packet = ElementTree.fromstring(pdf.Root.Metadata.read_bytes())
        if key in ("title", "author"):
            assert packed(piece) in packed("".join(packet.itertext()))


@pytest.mark.parametrize("text", [text for text in LETTERS if text not in printable()])
@pytest.mark.parametrize("key", ["title", "say", "note"])
def test_a_letter_that_no_face_has_is_told_by_its_name(tmp_path: Path, key: str, text: str) -> None:
    folder = book_of(tmp_path, [{"id": "e", "start": "R L", key: text}])
    problems = pipeline.check(folder).problems
    assert {problem.mark.line for problem in problems} == {4}
    assert all("U+" in problem.what for problem in problems)


def test_a_letter_that_no_face_has_is_told_of_a_style_and_of_a_shared_name(tmp_path: Path) -> None:
    folder = book_of(tmp_path, [{"id": "e", "start": "own/a"}], style="own")
    (folder / "own.yaml").write_text("letters: {right: 日}\n")
    (folder / "sequences").mkdir()
    (folder / "sequences" / "own.yaml").write_text("a: R L\n")
    (problem,) = pipeline.check(folder).problems
    assert "the style 'own'" in problem.what and "U+65E5" in problem.what


def test_names_of_students_become_names_of_files_that_stay_where_they_are() -> None:
    names = file_names(STRINGS)
    assert len(set(names)) == len(STRINGS)
    assert all(re.fullmatch(r"[^\W_]+(-[^\W_]+)*", name) and len(name) < 70 for name in names)
    assert not {"con", "nul", "aux"} & set(names)


def test_a_sheet_prints_its_title_and_its_name_as_they_are(tmp_path: Path) -> None:
    folder = book_of(tmp_path, [])
    for piece in list(groups(tuple(text for text in printable() if len(text) < 40), longest=60))[::4]:
        made = make_sheet(folder, SheetOrder(("first",), title=piece, name=piece), Run())
        assert read_back(made.pdf).count(packed(piece)) >= 1
        assert "/" not in made.name


@pytest.mark.parametrize("name", ["日本", "a\x1b[31m", "\ud800", "W" * 200, "W" * 2_000])
def test_a_sheet_for_a_name_that_cannot_be_printed_is_refused(tmp_path: Path, name: str) -> None:
    folder = book_of(tmp_path, [])
    with pytest.raises((BookError, NotThere)):
        make_sheet(folder, SheetOrder(("first",), name=name), Run())


def test_a_roster_prints_every_name_as_it_is(tmp_path: Path) -> None:
    from typeset.handouts import make_roster

    names = [text for text in printable() if len(text) < 30 and "\n" not in text][::20]
    rows = io.StringIO()
    csv.writer(rows).writerows([["name", "exercises"], *([name, "first"] for name in names)])
    roster = tmp_path / "students.csv"
    roster.write_text(rows.getvalue())
    made = make_roster(book_of(tmp_path, []), SheetOrder(()), roster, Run())
    printed = read_back(made.built[-1].pdf)
    assert made.problems == () and [name for name in names if packed(name) not in printed] == []
