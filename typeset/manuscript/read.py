"""Reading a book: its files, its models, and every problem in them at once."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from ..book_files import BOOK_FILE, book_file
from ..problem import Mark, Problem
from ..text_file import FileTrouble
from .chapters import ITEMS, read_chapter
from .exercise import ExerciseText
from .files import inside
from .models import BookText, Chapter, ChapterHead, Manuscript, prose_keys
from .plain import as_list
from .reader import Reader, TooMuch
from .series import SeriesText
from .written import WrittenMap, mark_in

MOST_CHAPTERS = 200

_PROSE = prose_keys(BookText, ChapterHead, *ITEMS.values())

_CHAPTER_KEYS = {"chapter", "exercises", "sequences"}


@dataclass(frozen=True)
class Reading:
    """What was read, and what is wrong with it. None where there is no book to speak of.

    `files` are those that were looked for, also where one could not be read.
    """

    manuscript: Manuscript | None
    problems: tuple[Problem, ...]
    files: tuple[Path, ...] = ()


def read(path: Path) -> Reading:
    """Read a book: its folder, its book.yaml, or a single chapter's file.

    Reading goes on after an error, so `problems` holds all of them, in the order of the files. Parts that
    have errors are in the manuscript too, marked as broken where they say less than was meant.
    """
    reader = Reader(_PROSE)
    try:
        manuscript = _read_path(reader, path)
    except TooMuch as trouble:
        return Reading(None, (*reader.problems, trouble.problem), tuple(reader.files))
    if manuscript is not None:
        _refuse_doubles(reader, manuscript)
    order = {file: number for number, file in enumerate(reader.files)}
    problems = sorted(
        dict.fromkeys(reader.problems),
        key=lambda one: (order.get(one.mark.file, len(order)), one.mark.line, one.mark.column),
    )
    return Reading(manuscript, tuple(problems), tuple(reader.files))


def _read_path(reader: Reader, path: Path) -> Manuscript | None:
    """Read whatever the path names."""
    file = book_file(path)
    if path.is_dir() and not file.exists():
        reader.problems.append(Problem(Mark(path), f"this folder has no {BOOK_FILE}"))
        return None
    root = reader.read_file(file)
    if root is None:
        return None
    if file.name != BOOK_FILE and "chapters" not in root and _CHAPTER_KEYS & set(root):
        chapter = read_chapter(reader, root)
        return Manuscript.model_construct(
            title=chapter.title, path=file, name=file.stem, chapters=(chapter,)
        ).placed(root)
    return _read_book(reader, root)


def _read_book(reader: Reader, root: WrittenMap) -> Manuscript:
    """A book by its book.yaml."""
    file = root.file
    about = reader.part(BookText, root, root, title="?", chapters="?")
    named = tuple(_chapters_named(root))
    if len(named) > MOST_CHAPTERS:
        what = f"this book has {len(named):,} chapters, and {MOST_CHAPTERS} is the most; divide it into several"
        raise TooMuch(mark_in(root, ["chapters"]), what)
    chapters = [_read_named_chapter(reader, name, mark) for name, mark in named]
    name = file.stem if file.name != BOOK_FILE else file.parent.resolve().name
    whole = {
        **about.__dict__,
        "path": file,
        "name": name,
        "chapters": tuple(chapter for chapter in chapters if chapter),
    }
    return Manuscript.model_construct(**whole).placed(root, broken=None in chapters)


def _read_named_chapter(reader: Reader, name: str, mark: Mark) -> Chapter | None:
    """A chapter by its name in book.yaml and where that stands."""
    try:
        file = inside(mark.file.parent, name, mark)
    except FileTrouble as trouble:
        reader.problems.append(trouble.problem)
        return None
    root = reader.read_file(file, mark)
    return None if root is None else read_chapter(reader, root)


def _refuse_doubles(reader: Reader, manuscript: Manuscript) -> None:
    """Note each id and sequence's name that stands in the book a second time."""
    first: dict[str, Mark] = {}
    for name, mark in _names_in(manuscript):
        if name in first:
            reader.problems.append(Problem(mark, f"the name '{name}' is taken already, at {first[name]}"))
        first.setdefault(name, mark)


def _chapters_named(root: WrittenMap) -> Iterator[tuple[str, Mark]]:
    """The names of a book's chapters and where they stand, each once."""
    names = as_list(root.get("chapters", []))
    seen: set[str] = set()
    for index, name in enumerate(names):
        if isinstance(name, str) and name not in seen:
            seen.add(name)
            yield name, mark_in(root, ["chapters", index])


def _names_in(manuscript: Manuscript) -> Iterator[tuple[str, Mark]]:
    """Every name that `start` could mean, and where it stands, in the order of the book."""
    for chapter in manuscript.chapters:
        for sequence in chapter.sequences:
            yield sequence.name, sequence.mark
        for item in chapter.items:
            if isinstance(item, ExerciseText) and item.id:
                yield item.id, item.marks("id")
            elif isinstance(item, SeriesText) and item.id:
                yield item.id, item.marks("series")
