"""Reading a book: its files, its models, and every problem in them at once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, TypeVar

from pydantic import ValidationError

from ..book_files import BOOK_FILE
from ..pattern.order import Order, SequenceError, read_order
from ..problem import Mark, Problem
from ..text_file import FileTrouble, text_of
from .exercise import MUSIC, ExerciseText, Settings, TextBlock
from .files import inside
from .marked import Marked
from .messages import problems_in
from .models import BookText, Chapter, ChapterHead, Item, Manuscript, Sequence, prose_keys
from .parse import parse
from .plain import Wrong, as_list, read_name, read_text
from .series import Each, SeriesText
from .tasks import TaskText
from .written import KEY, UNREADABLE, Step, Written, WrittenMap, mark_in, shown

LARGEST_BOOK = 16 * 1024 * 1024
"""The most characters that the files of a book may have together."""

MOST_CHAPTERS = 200
MOST_ENTRIES = 10_000
"""The most exercises, series, tasks and texts that a book may have."""

_ITEMS: dict[str, type[ExerciseText] | type[SeriesText] | type[TaskText] | type[TextBlock]] = {
    "id": ExerciseText,
    "series": SeriesText,
    "task": TaskText,
    "text": TextBlock,
}
_PROSE = prose_keys(BookText, ChapterHead, *_ITEMS.values())

_CHAPTER_KEYS = {"chapter", "exercises", "sequences"}

M = TypeVar("M", bound=Marked)


class _TooMuch(Exception):
    """A book is larger than anyone writes; there is no reading on."""

    def __init__(self, mark: Mark, what: str) -> None:
        self.problem = Problem(mark, what)
        super().__init__(what)


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
    reader = Reader()
    try:
        manuscript = reader.read_path(path)
    except _TooMuch as trouble:
        return Reading(None, (*reader.problems, trouble.problem), tuple(reader.files))
    if manuscript is not None:
        reader.refuse_doubles(manuscript)
    order = {file: number for number, file in enumerate(reader.files)}
    problems = sorted(
        dict.fromkeys(reader.problems),
        key=lambda one: (order.get(one.mark.file, len(order)), one.mark.line, one.mark.column),
    )
    return Reading(manuscript, tuple(problems), tuple(reader.files))


@dataclass
class Reader:
    """Collects problems while a book is read."""

    problems: list[Problem] = field(default_factory=list)
    files: list[Path] = field(default_factory=list)
    broken_lines: set[tuple[Path, int]] = field(default_factory=set)
    size: int = 0
    entries: int = 0

    def read_path(self, path: Path) -> Manuscript | None:
        """Read whatever the path names."""
        file = path / BOOK_FILE if path.is_dir() else path
        if path.is_dir() and not file.exists():
            self.problems.append(Problem(Mark(path), f"this folder has no {BOOK_FILE}"))
            return None
        root = self.read_file(file)
        if root is None:
            return None
        if file.name != BOOK_FILE and "chapters" not in root and _CHAPTER_KEYS & set(root):
            chapter = self.read_chapter(root)
            return Manuscript.model_construct(
                title=chapter.title, path=file, name=file.stem, chapters=(chapter,)
            ).placed(root)
        return self.read_book(root)

    def read_file(
        self, file: Path, asked_at: Mark | None = None, prose: frozenset[str] = _PROSE
    ) -> WrittenMap | None:
        """What a file says; None where it cannot be read at all. `prose` names its keys of running text."""
        self.files.append(file)
        try:
            text = text_of(file, asked_at)
            self._refuse_too_large(len(text), asked_at or Mark(file))
        except FileTrouble as trouble:
            self.problems.append(trouble.problem)
            return None
        parsed = parse(text, file, prose)
        self.problems += parsed.problems
        self.broken_lines |= {(file, line) for line in parsed.broken_lines}
        return parsed.root

    def _refuse_too_large(self, size: int, mark: Mark) -> None:
        """Raise _TooMuch where the files of a book come to more than anyone writes."""
        self.size += size
        if self.size > LARGEST_BOOK:
            most = LARGEST_BOOK // 1024 // 1024
            raise _TooMuch(mark, f"with this file the book has more than {most} MiB; divide it into several")

    def part(self, model: type[M], written: Any, root: Written, *way: Step, **stand_ins: Any) -> M:
        """A part by its model, without the keys that have errors, which are noted.

        `way` leads to it from `root`; `stand_ins` take the place of values that it has to have.
        """
        wrong: set[str] = set()
        disagrees = False
        try:
            made = model.model_validate(written)
        except ValidationError as error:
            # What is wrong with no key alone is wrong with all of them together.
            disagrees = any(not line["loc"] for line in error.errors(include_url=False))
            self.problems += (
                problem
                for problem in problems_in(error, root, way)
                if (problem.mark.file, problem.mark.line) not in self.broken_lines
            )
            made, wrong = _salvaged(model, written, stand_ins)
        if not isinstance(written, WrittenMap):
            return made
        vital = MUSIC if model is ExerciseText else {*written.keys(), *model.required_keys()}
        lacking = vital & model.required_keys() - written.keys()
        broken = written.cut or any(key in wrong or getattr(written.get(key), "broken", False) for key in vital)
        return made.placed(written, broken or bool(lacking) or disagrees)

    def read_book(self, root: WrittenMap) -> Manuscript:
        """A book by its book.yaml."""
        file = root.file
        about = self.part(BookText, root, root, title="?", chapters="?")
        named = tuple(_chapters_named(root))
        if len(named) > MOST_CHAPTERS:
            what = f"this book has {len(named):,} chapters, and {MOST_CHAPTERS} is the most; divide it into several"
            raise _TooMuch(mark_in(root, ["chapters"]), what)
        chapters = [self.read_named_chapter(name, mark) for name, mark in named]
        name = file.stem if file.name != BOOK_FILE else file.parent.resolve().name
        whole = {
            **about.__dict__,
            "path": file,
            "name": name,
            "chapters": tuple(chapter for chapter in chapters if chapter),
        }
        return Manuscript.model_construct(**whole).placed(root)

    def read_named_chapter(self, name: str, mark: Mark) -> Chapter | None:
        """A chapter by its name in book.yaml and where that stands."""
        try:
            file = inside(mark.file.parent, name, mark)
        except FileTrouble as trouble:
            self.problems.append(trouble.problem)
            return None
        root = self.read_file(file, mark)
        return None if root is None else self.read_chapter(root)

    def read_chapter(self, root: WrittenMap) -> Chapter:
        """A chapter, piece by piece, so that an error in one piece hides no other."""
        head = self.part(ChapterHead, root, root, chapter=root.file.stem)
        settings = Settings()
        if "set" in root and root["set"] is not UNREADABLE:
            settings = self.part(Settings, root["set"], root, "set")
        return Chapter(
            head,
            tuple(self.read_sequences(root)),
            settings,
            tuple(self.read_items(root)),
            root.file,
            root.mark,
        )

    def read_sequences(self, root: WrittenMap) -> Iterator[Sequence]:
        """The named orders of a chapter."""
        named = root.get("sequences", UNREADABLE)
        if named is UNREADABLE:
            return
        if not isinstance(named, WrittenMap):
            what = f"names with sequences are expected here, as in stairs: R L R K L, not {shown(named)}"
            self.problems.append(Problem(mark_in(root, ["sequences"]), what))
            return
        for name, text in named.items():
            mark = mark_in(named, [name, KEY])
            try:
                read_name(name)
            except Wrong as error:
                self.problems.append(Problem(mark, str(error)))
            yield Sequence(name, str(text), self.read_sequence(named, name), mark)

    def read_sequence(self, named: WrittenMap, name: str) -> Order | None:
        """One order; None where it cannot be read, which is noted."""
        text = named[name]
        if text is UNREADABLE:
            return None
        try:
            return read_order(read_text(text))
        except (SequenceError, Wrong) as error:
            self.problems.append(Problem(mark_in(named, [name], getattr(error, "offset", 0)), str(error)))
            return None

    def read_items(self, root: WrittenMap) -> Iterator[Item]:
        """The exercises of a chapter, and what stands between them, each by itself."""
        items = root.get("exercises", UNREADABLE)
        if items is UNREADABLE:
            return
        for index, written in enumerate(as_list(items)):
            self.entries += 1
            if self.entries > MOST_ENTRIES:
                what = f"a book has at most {MOST_ENTRIES:,} entries under exercises; divide it into several"
                raise _TooMuch(mark_in(root, ["exercises", index]), what)
            if written is UNREADABLE:
                continue
            item = self.read_item(written, root, "exercises", index)
            if item is not None:
                yield item

    def read_item(self, written: Any, root: WrittenMap, *way: Step) -> Item | None:
        """One exercise or text, as much of it as can be read."""
        model = _model_of(written)
        if model is None:
            if not (isinstance(written, WrittenMap) and written.cut):
                what = f"an entry begins with {_listed(_ITEMS)}, not with {_first(written)}"
                self.problems.append(Problem(mark_in(root, way), what))
            return None
        if model is TextBlock:
            return self.part(TextBlock, written, root, *way, text="")
        if model is TaskText:
            return self.part(TaskText, written, root, *way, task="", of=())
        if model is SeriesText:
            return self.part(SeriesText, written, root, *way, series="", start="", each=Each.model_construct())
        return self.part(ExerciseText, written, root, *way, id="", start="")

    def refuse_doubles(self, manuscript: Manuscript) -> None:
        """Note each id and sequence's name that stands in the book a second time."""
        first: dict[str, Mark] = {}
        for name, mark in _names_in(manuscript):
            if name in first:
                self.problems.append(Problem(mark, f"the name '{name}' is taken already, at {first[name]}"))
            first.setdefault(name, mark)


def _salvaged(model: type[M], written: Any, stand_ins: dict[str, Any]) -> tuple[M, set[str]]:
    """What can be read of a part that has errors, and the keys that cannot."""
    values: dict[str, Any] = dict(stand_ins)
    wrong: set[str] = set()
    given = written if isinstance(written, WrittenMap) else {}
    for key, (name, reader) in model.readers().items():
        if key in given:
            try:
                values[name] = reader.validate_python(given[key])
            except ValidationError:
                wrong.add(key)
    return model.model_construct(**values), wrong


def _model_of(written: Any) -> type[Item] | None:
    """What an entry under `exercises` is, by its keys."""
    if not isinstance(written, WrittenMap):
        return None
    found = next((model for key, model in _ITEMS.items() if key in written), None)
    return found or (ExerciseText if {"title", "start", "phrase", "steps"} & set(written) else None)


def _listed(keys: Iterable[str]) -> str:
    return " or ".join(f"{key}:" for key in keys)


def _first(written: Any) -> str:
    return f"'{next(iter(written), '')}'" if isinstance(written, WrittenMap) else shown(written)


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
