"""Reading a curriculum: the books it names, the terms they make up, and every problem at once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from typing import Annotated, Any

from pydantic import PlainValidator

from ..book_files import BOOK_FILE
from ..nearest import meant
from ..pattern.sound import SOUNDS
from ..problem import Mark, Problem
from ..text_file import FileTrouble
from .marked import Marked
from .models import Manuscript, prose_keys
from .plain import Told, Wrong, as_list, read_from_one, read_line, read_number
from .read import Reader, Reading, read
from .reads import TEXT, Listed, Reads, by_type, or_several, whole, words
from .values import Date, Language, Line, Paragraphs, Word
from .written import KEY, UNREADABLE, WrittenMap, mark_in, shown

CURRICULUM_FILE = "curriculum.yaml"
MOST_BOOKS = 12
"""More columns than that are too narrow to tell apart on a map of one page."""

MOST_WEEKS = 53
MOST_MINUTES = 600
_ALL = "all"


def _number(least: int, most: int, what: str) -> Reads:
    """A reader for a whole number of something, within bounds."""

    def check(value: Any) -> int:
        said = read_number(value)
        if not least <= said <= most:
            raise Wrong(f"{said} {what} are not offered; from {least} to {most} are")
        return said

    return Reads(check, whole(least, most))


Weeks = Annotated[int, _number(1, MOST_WEEKS, "weeks")]
Minutes = Annotated[int, _number(5, MOST_MINUTES, "minutes a day")]
Days = Annotated[int, _number(1, 7, "days a week")]
AtOnce = Annotated[int, _number(1, 20, "new ideas at once")]


@dataclass(frozen=True)
class Stretch:
    """Chapters of one book that a term takes up, in their order; None: all of them. `way` leads to it."""

    book: str
    chapters: tuple[int, ...] | None
    way: tuple[int | str, ...]


def _stretches(value: Any) -> tuple[Stretch, ...]:
    """Read `[small-rooms, quiet-doors: [1, 2]]`; a bare name means all chapters of that book."""
    found: list[Stretch] = []
    for index, entry in enumerate(as_list(value)):
        if entry is UNREADABLE:
            raise Told
        if isinstance(entry, dict):
            found += [Stretch(book, _chapters(book, said, index), (index, book)) for book, said in entry.items()]
        elif isinstance(entry, str):
            found.append(Stretch(entry, None, (index,)))
        else:
            raise Wrong(f"a book is expected here, as in small-rooms: [1, 2], not {shown(entry)}", index)
    if not found:
        raise Wrong("this is empty; name the books and chapters of this term")
    return tuple(found)


def _chapters(book: str, said: Any, index: int) -> tuple[int, ...] | None:
    if said == _ALL:
        return None
    try:
        return tuple(read_from_one(number) for number in as_list(said))
    except Wrong as error:
        raise Wrong(f"{error}; write chapters by their numbers, or all", index, book) from None


_CHAPTERS = {"anyOf": [words([_ALL]), or_several(whole(1))]}
_STRETCH = by_type("object", {"minProperties": 1, "additionalProperties": _CHAPTERS}, TEXT)
_STRETCHES = or_several(_STRETCH)


class TermText(Marked):
    """A term as written. `minutes` are a day's and `days` a week's, None where the curriculum says them."""

    term: Line
    """its title"""
    weeks: Weeks
    """how many weeks it has"""
    minutes: Minutes | None = None
    """of practice a day"""
    days: Days | None = None
    """of practice a week"""
    intro: Paragraphs = ""
    """paragraphs under its title"""
    chapters: Annotated[tuple[Stretch, ...], Reads(_stretches, _STRETCHES)]
    """books with chapters by their numbers, as in small-rooms: [1, 2]"""


class _AboutCurriculum(Marked):
    """What a curriculum says about itself."""

    title: Line
    """the title of the curriculum"""
    subtitle: Line | None = None
    """a line under the title"""
    author: Line | None = None
    """who wrote it"""
    date: Date | None = None
    """as 2026-09-01"""
    language: Language = "en"
    """of everything that the program prints"""
    style: Word = "a4-workbook"
    """a style by its name"""
    minutes: Minutes = 20
    """of practice a day"""
    days: Days = 5
    """of practice a week"""
    at_once: AtOnce = 4
    """how many new ideas one exercise may bring"""
    leave_out: Annotated[tuple[Word, ...], Listed(as_list)] = ()
    """sounds and shared sequences that it need not cover"""


class CurriculumKeys(_AboutCurriculum):
    """The keys of a curriculum's file; books and terms are read piece by piece."""

    books: Any
    """paths of books, beside this file or in its folder"""
    terms: Any
    """in their order"""


@dataclass(frozen=True)
class NamedBook:
    """A book of a curriculum: what its terms call it, and what was read of it."""

    name: str
    path: Path
    reading: Reading

    @property
    def manuscript(self) -> Manuscript | None:
        """The book as far as it could be read."""
        return self.reading.manuscript


class CurriculumText(_AboutCurriculum):
    """A whole curriculum as written. `name` is what its PDF is called after."""

    path: Path
    name: str
    books: Annotated[tuple[NamedBook, ...], PlainValidator(tuple)]
    terms: Annotated[tuple[TermText, ...], PlainValidator(tuple)]

    def minutes_of(self, term: TermText) -> int:
        """How long a day's practice is in a term."""
        return term.minutes or self.minutes

    def days_of(self, term: TermText) -> int:
        """On how many days of the week there is practice in a term."""
        return term.days or self.days


@dataclass(frozen=True)
class CurriculumReading:
    """What was read, and what is wrong with it, books included. None where there is nothing to speak of."""

    text: CurriculumText | None
    problems: tuple[Problem, ...]


_PROSE = prose_keys(_AboutCurriculum, TermText)


def read_curriculum(path: Path) -> CurriculumReading:
    """Read a curriculum's file, or the one in a folder, and every book that it names.

    A book's path is relative to the file's folder; it may lie inside that folder, or beside it with one
    `../` in front. Reading goes on after an error, so `problems` holds all of them.
    """
    file = path / CURRICULUM_FILE if path.is_dir() else path
    reader = Reader()
    root = reader.read_file(file, prose=_PROSE)
    if root is None:
        return CurriculumReading(None, tuple(reader.problems))
    about = reader.part(CurriculumKeys, root, root, title="?", books=(), terms=())
    books = tuple(_books(root, reader))
    terms = tuple(_terms(root, reader))
    whole = {**about.__dict__, "path": file, "name": file.stem, "books": books, "terms": terms}
    text = CurriculumText.model_construct(**whole).placed(root)
    reader.problems += _unknown(text)
    reader.problems += [problem for book in books for problem in book.reading.problems]
    return CurriculumReading(text, tuple(dict.fromkeys(reader.problems)))


def _books(root: WrittenMap, reader: Reader) -> Iterator[NamedBook]:
    """The books that are named, each read."""
    named = [one for one in as_list(root.get("books", [])) if one is not UNREADABLE]
    if len(named) > MOST_BOOKS:
        what = f"{len(named)} books are more than a map has room for; {MOST_BOOKS} is the most"
        reader.problems.append(Problem(mark_in(root, ["books"]), what))
        return
    if "books" in root and not named:
        reader.problems.append(Problem(mark_in(root, ["books"]), "name at least one book"))
    seen: set[str] = set()
    for index, written in enumerate(named):
        mark = mark_in(root, ["books", index])
        try:
            path = _beside(root.file.parent, read_line(written), mark)
        except Wrong as error:
            reader.problems.append(Problem(mark, str(error)))
        except FileTrouble as trouble:
            reader.problems.append(trouble.problem)
        else:
            name = (path.parent if path.name == BOOK_FILE else path).name.removesuffix(".yaml")
            if name in seen:
                reader.problems.append(Problem(mark, f"a book called '{name}' stands here already"))
                continue
            seen.add(name)
            yield NamedBook(name, path, read(path))


def _beside(folder: Path, name: str, mark: Mark) -> Path:
    """The path of a book that a curriculum names.

    Raises FileTrouble where it leads anywhere but into the curriculum's folder or a folder beside that
    one, or where nothing is there.
    """
    parts = PurePosixPath(name).parts
    inner = parts[1:] if parts[:1] == ("..",) else parts
    if not inner or "\\" in name or ":" in name or name.startswith("/") or ".." in inner:
        what = f"'{name}' is no path of a book: a folder or a chapter here, or with ../ in front beside this folder"
        raise FileTrouble(mark, what)
    path = folder.joinpath(*parts)
    allowed = folder.resolve().parent if len(inner) < len(parts) else folder.resolve()
    if not path.resolve().is_relative_to(allowed):
        what = f"'{name}' leads elsewhere; the books of a curriculum lie in its folder or beside it"
        raise FileTrouble(mark, what)
    if not path.exists():
        near = path.parent.iterdir() if path.parent.is_dir() else ()
        raise FileTrouble(mark, f"there is no book '{name}'{meant(path.name, (one.name for one in near))}")
    return path


def _terms(root: WrittenMap, reader: Reader) -> Iterator[TermText]:
    """The terms, each by itself, so that an error in one hides no other."""
    written = as_list(root.get("terms", []))
    if "terms" in root and not written:
        reader.problems.append(Problem(mark_in(root, ["terms"]), "a curriculum has at least one term"))
    for index, term in enumerate(written):
        if term is not UNREADABLE:
            yield reader.part(TermText, term, root, "terms", index, term="?", weeks=1, chapters=())


def _unknown(text: CurriculumText) -> Iterator[Problem]:
    """Books, chapters and things left out that there are not, and chapters that stand there twice."""
    books = {book.name: book for book in text.books}
    taken: dict[tuple[str, int], Mark] = {}
    for term in text.terms:
        for stretch in term.chapters:
            if stretch.book not in books:
                if text.books:
                    yield Problem(mark_of_stretch(term, stretch, KEY), _no_book(stretch.book, books))
                continue
            yield from _unknown_chapters(term, stretch, books[stretch.book])
            for place, number in enumerate(chapters_of(stretch, books[stretch.book])):
                at = mark_of_stretch(term, stretch, place)
                first = taken.setdefault((stretch.book, number), at)
                if first != at:
                    yield Problem(at, f"chapter {number} of '{stretch.book}' has its place already, at {first}")
    known = set(SOUNDS).union(*(_sequences(book) for book in text.books))
    for index, name in enumerate(text.leave_out):
        if name not in known:
            remedy = meant(name, known) or "; name a sound, or a sequence as book/sequence"
            yield Problem(text.marks("leave_out", index), f"there is no '{name}' to leave out{remedy}")


def mark_of_stretch(term: TermText, stretch: Stretch, *step: int | str) -> Mark:
    """Where a term names a book, or what a further step leads to: a chapter's place there, or its key."""
    further = step if len(stretch.way) > 1 else ()
    return mark_in(term.written, ["chapters", *stretch.way, *further])


def chapters_of(stretch: Stretch, book: NamedBook) -> tuple[int, ...]:
    """The numbers of the chapters that are meant, those that the book has."""
    count = len(book.manuscript.chapters) if book.manuscript else 0
    numbers: Iterable[int] = range(1, count + 1) if stretch.chapters is None else stretch.chapters
    return tuple(number for number in numbers if number <= count)


def _unknown_chapters(term: TermText, stretch: Stretch, book: NamedBook) -> Iterator[Problem]:
    # A chapter whose file cannot be read is missing from the book; that has been told.
    if book.manuscript is None or book.reading.problems:
        return
    count = len(book.manuscript.chapters)
    has = "1 chapter" if count == 1 else f"{count} chapters"
    for place, number in enumerate(stretch.chapters or ()):
        if number > count:
            what = f"'{stretch.book}' has {has}, and no chapter {number}"
            yield Problem(mark_of_stretch(term, stretch, place), what)


def _no_book(name: str, books: Iterable[str]) -> str:
    known = tuple(books)
    return f"this curriculum names no book '{name}'{meant(name, known) or '; it has ' + ', '.join(known)}"


def _sequences(book: NamedBook) -> set[str]:
    chapters = book.manuscript.chapters if book.manuscript else ()
    return {f"{book.name}/{sequence.name}" for chapter in chapters for sequence in chapter.sequences}
