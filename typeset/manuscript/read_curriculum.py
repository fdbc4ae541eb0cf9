"""Reading a curriculum: its file, its terms, the books that they name, and every problem at once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from ..book_files import BOOK_FILE, CURRICULUM_FILE
from ..nearest import meant
from ..pattern.sound import SOUNDS
from ..problem import Mark, Problem
from ..text_file import FileTrouble
from .curriculum import (
    CurriculumKeys,
    CurriculumText,
    NamedBook,
    Stretch,
    TermText,
    chapters_of,
    mark_of_stretch,
)
from .models import prose_keys
from .plain import Wrong, as_list, read_line
from .read import read
from .reader import Reader
from .written import KEY, UNREADABLE, WrittenMap, mark_in

MOST_BOOKS = 12
"""More columns than that are too narrow to tell apart on a map of one page."""


@dataclass(frozen=True)
class CurriculumReading:
    """What was read, and what is wrong with it, books included. None where there is nothing to speak of."""

    text: CurriculumText | None
    problems: tuple[Problem, ...]


_PROSE = prose_keys(CurriculumKeys, TermText)


def read_curriculum(path: Path) -> CurriculumReading:
    """Read a curriculum's file, or the one in a folder, and every book that it names.

    A book's path is relative to the file's folder; it may lie inside that folder, or beside it with one
    `../` in front. Reading goes on after an error, so `problems` holds all of them.
    """
    file = path / CURRICULUM_FILE if path.is_dir() else path
    reader = Reader(_PROSE)
    root = reader.read_file(file)
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
